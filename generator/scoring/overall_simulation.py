"""The interval of an overall fit factor by a seeded Monte Carlo: counts, zero check, ambient samples and their drift.

Each ambient sample is one draw, used by every exercise beside it. The seed comes from the caller, who takes it from a
hash of the record, so that the same record gives the same interval anywhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_not_negative,
    require_positive,
    require_same_length,
)

# Many C libraries hand larger pieces of memory back as soon as they are let go; asking for them anew took a third of
# each simulation. They keep pieces that are no larger than the largest one that was let go so far; it is never filled.
np.empty(30_000_000, dtype=np.uint8)

DRAWS = 20_000
"""Draws of one interval. A limit then stands within about a hundredth of the interval's half width."""

Draws = npt.NDArray[np.float64]
"""A row for each exercise or sample, and the draws along it: sums over few exercises are quick that way round only."""


def simulated_fit_factor_limits(
    counts: Sequence[int],
    volumes: Sequence[float],
    stretches: Sequence[int],
    ambient_counts: Sequence[int],
    ambient_volumes: Sequence[float],
    zero_count: int,
    zero_volume: float | None,
    coverage: float,
    seed: int,
    draws: int = DRAWS,
) -> tuple[float, float | None]:
    """Return the limits of an overall fit factor, with counting, shared ambient samples and their drift in it.

    Parameters
    ----------
    counts : Sequence[int]
        Particles counted inside the mask, per exercise. [count]
    volumes : Sequence[float]
        Volumes counted inside the mask, per exercise. [cm3]
    stretches : Sequence[int]
        Which stretch between two ambient samples each exercise lies in; 0 is the stretch from the first sample to the
        second. Exercises of the same stretch follow each other in equal parts of it. [-]
    ambient_counts : Sequence[int]
        Particles counted outside, per ambient sample in order of time. [count]
    ambient_volumes : Sequence[float]
        Volumes counted outside, per ambient sample. [cm3]
    zero_count : int
        Particles counted in the zero check; 0 without one. [count]
    zero_volume : float | None
        Volume counted in the zero check; None without one. [cm3]
    coverage : float
        Coverage probability, two-sided. [1]
    seed : int
        Seed of the draws. [-]
    draws : int
        How many draws. [count]

    Returns
    -------
    tuple[float, float | None]
        Lower and upper limit of the overall fit factor; None where there is no upper limit. Where no particle was
        counted inside, the lower limit is one-sided with the same coverage. [1]

    Raises
    ------
    OutsideRange
        Lists that belong together differ in length, there are fewer than two ambient samples, a stretch is not between
        two of them, nothing was counted in one of them, a volume is not above zero, a count is below zero, the coverage
        is not between 0 and 1, there are no draws, or the zero check takes away all that was counted inside.

    Notes
    -----
    1 / FF = (1/N) sum((n_i / V_i - b) / C_i). A count n is drawn as Gamma(n) for the limit that few particles set and
    as Gamma(n + 1) for the other, so that one count gives the exact limits; of the weighted counts inside, only the one
    of largest weight gets the additional particle, as Fay and Feuer have it. C_i = (C_a + f_i (C_b - C_a)) exp(d_i)
    with f_i the middle of the exercise's part of the stretch. d_i is what a random walk between the two samples adds to
    the straight line; the variance of its steps is known from the ambient samples alone,
    s^2 = sum(ln(C_(j+1) / C_j)^2) / chi2(J), J steps, as for Student's t.

    References
    ----------
    .. [1] JCGM 101:2008, Propagation of distributions using a Monte Carlo method, 5.9 and 7.
    .. [2] Fay MP, Feuer EJ. Stat Med 1997;16:791-801, the limits that this gives without drift.
    .. [3] The random walk between the samples is derived here; see `walk_covariance`.
    """
    _require_inputs(counts, volumes, stretches, ambient_counts, ambient_volumes, zero_count, zero_volume)
    require_coverage(coverage)
    require_positive("draws", draws)
    random = np.random.Generator(np.random.PCG64(seed))
    fewest_outside, most_outside = expected_counts(random, ambient_counts, draws)
    wander = _wander(random, stretches, np.divide(ambient_counts, ambient_volumes), draws)
    np.exp(wander, out=wander)
    fewest_outside /= _column(ambient_volumes)
    most_outside /= _column(ambient_volumes)
    least_outside = _during(fewest_outside, stretches)
    greatest_outside = _during(most_outside, stretches)
    least_outside *= wander
    greatest_outside *= wander
    return leakage_limits(random, counts, volumes, least_outside, greatest_outside, zero_count, zero_volume, coverage)


def leakage_limits(
    random: np.random.Generator,
    counts: Sequence[int],
    volumes: Sequence[float],
    least_outside: Draws,
    greatest_outside: Draws,
    zero_count: int,
    zero_volume: float | None,
    coverage: float,
) -> tuple[float, float | None]:
    """Return the limits of an overall fit factor from draws of what was outside during each exercise.

    Parameters
    ----------
    random : np.random.Generator
        What draws the counts inside and of the zero check. [-]
    counts : Sequence[int]
        Particles counted inside the mask, per exercise. [count]
    volumes : Sequence[float]
        Volumes counted inside the mask, per exercise. [cm3]
    least_outside : Draws
        Concentrations outside for the limit that few particles set, a row for each exercise and a column for each
        draw. [/cm3]
    greatest_outside : Draws
        The same for the other limit. [/cm3]
    zero_count : int
        Particles counted in the zero check; 0 without one. [count]
    zero_volume : float | None
        Volume counted in the zero check; None without one. [cm3]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float | None]
        Lower and upper limit of the overall fit factor; None where there is no upper limit. [1]

    Raises
    ------
    OutsideRange
        The zero check takes away all that was counted inside.

    Notes
    -----
    1 / FF = (1/N) sum((n_i / V_i - b) / C_i); how counts are drawn stands at `simulated_fit_factor_limits`.

    References
    ----------
    .. [1] JCGM 101:2008, 5.9 and 7; Fay MP, Feuer EJ. Stat Med 1997;16:791-801.
    """
    draws = least_outside.shape[1]
    fewest_inside = _by_row(random.standard_gamma(counts, (draws, len(counts))))
    extra = random.standard_exponential(draws)
    fewest_zero, most_zero = _zero_rates(random, zero_count, zero_volume, draws)
    whole = len(counts) * _column(volumes)
    of_one_particle = np.reciprocal(whole * least_outside)
    most_leakage = _weighted(fewest_inside, fewest_zero, volumes, of_one_particle)
    most_leakage += np.max(of_one_particle, axis=0) * extra
    least_leakage = _weighted(fewest_inside, most_zero, volumes, np.reciprocal(whole * greatest_outside))
    tail = (1 - coverage) / 2 if any(counts) else 1 - coverage
    high = float(np.quantile(most_leakage, 1 - tail))
    require_positive("leakage left after the zero check", high)
    low = float(np.quantile(least_leakage, tail))
    return _same_anywhere(1 / high), _same_anywhere(1 / low) if low > 0 else None


def _weighted(inside: Draws, zero: Any, volumes: Sequence[float], of_one_particle: Draws) -> Draws:
    """Return the leakage of each draw: counts inside, less what the counter counts by itself, times their weights."""
    above_zero = inside if zero is None else inside - _column(volumes) * zero
    leakage: Draws = np.einsum("ed,ed->d", above_zero, of_one_particle)
    return leakage


def _column(values: Sequence[float] | Draws) -> Draws:
    """Return one value for each row."""
    return np.asarray(values, dtype=np.float64)[:, None]


def _by_row(drawn: Draws) -> Draws:
    """Turn round what was drawn one draw after the other; the order of drawing decides which numbers come out."""
    return np.ascontiguousarray(drawn.T)


def walk_covariance(stretches: Sequence[int]) -> npt.NDArray[np.float64]:
    """Return how far a random walk, tied to the ambient samples at both ends, is off the straight line in between.

    Parameters
    ----------
    stretches : Sequence[int]
        Which stretch between two ambient samples each exercise lies in. [-]

    Returns
    -------
    npt.NDArray[np.float64]
        Covariance of the mean deviations during the exercises, for steps of variance 1 from sample to sample. [1]

    Raises
    ------
    OutsideRange
        There is no exercise.

    Notes
    -----
    A Brownian bridge B on [0, 1] has cov(B(s), B(t)) = s (1 - t) for s <= t. Its means over equal parts of length h
    with the middles m_i have cov = m_i (1 - m_j) for i < j and var = m_i (1 - m_i) - h / 6; 1/12 for one part.

    References
    ----------
    .. [1] Derived here by integration of the covariance of the Brownian bridge.
    """
    require_at_least_items("exercises", stretches, 1)
    middles, parts = _middles(stretches)
    first, second = np.minimum.outer(middles, middles), np.maximum.outer(middles, middles)
    same = np.equal.outer(np.asarray(stretches), np.asarray(stretches))
    return np.where(same, first * (1 - second), 0.0) - np.diag(parts / 6)


def _middles(stretches: Sequence[int]) -> tuple[Draws, Draws]:
    """Return the middle and the length of each exercise's part of its stretch, as shares of the stretch."""
    parts = np.array([1 / stretches.count(stretch) for stretch in stretches])
    places = np.array([stretches[:at].count(stretch) for at, stretch in enumerate(stretches)])
    return (places + 1 / 2) * parts, parts


def _wander(random: np.random.Generator, stretches: Sequence[int], concentrations: Draws, draws: int) -> Draws:
    """Draw the logarithms of what the ambient concentration is off the straight line during each exercise."""
    steps = np.diff(np.log(concentrations))
    size = np.sqrt(np.sum(steps**2) / random.chisquare(len(steps), draws))
    root = np.linalg.cholesky(walk_covariance(stretches))
    normal = _by_row(random.standard_normal((draws, len(stretches))))
    # Not by a matrix product, whose threads cost ten times the rest where other work keeps the processors busy. Most of
    # the root is zero: exercises of different stretches wander by themselves.
    bridges = np.zeros_like(normal)
    for bridge, row in zip(bridges, root, strict=True):
        for at in np.flatnonzero(row):
            bridge += row[at] * normal[at]
    return bounded(size * bridges)


def _same_anywhere(limit: float) -> float:
    """Leave out the digits in which processors differ; the scatter of the draws is a thousand times larger."""
    return float(f"{limit:.6g}")


def bounded(logarithms: Draws) -> Draws:
    """Return logarithms within the range of numbers, which samples far apart would leave.

    Parameters
    ----------
    logarithms : Draws
        Logarithms as they were drawn. [1]

    Returns
    -------
    Draws
        The same, between -100 and 100. [1]

    Raises
    ------
    OutsideRange
        Never.

    Notes
    -----
    y = min(max(y, -100), 100): to e^100 either way.

    References
    ----------
    .. [1] Own rule.
    """
    return np.clip(logarithms, -100.0, 100.0)


def _during(samples: Draws, stretches: Sequence[int]) -> Draws:
    """Return the concentrations on the straight line between the two samples beside each exercise."""
    middles, _ = _middles(stretches)
    # In place, here and below: room that is asked for anew is what such sums take most of their time for.
    during: Draws = samples[np.asarray(stretches)]
    during *= _column(1 - middles)
    after = samples[np.asarray(stretches) + 1]
    after *= _column(middles)
    during += after
    return during


def expected_counts(random: np.random.Generator, counts: Sequence[int], draws: int) -> tuple[Draws, Draws]:
    """Return draws of expected counts: for the limit that fewer particles set, and for the one that more set.

    Parameters
    ----------
    random : np.random.Generator
        What draws them. [-]
    counts : Sequence[int]
        Particles counted. [count]
    draws : int
        How many draws. [count]

    Returns
    -------
    tuple[Draws, Draws]
        A row for each count and a column for each draw, twice. [count]

    Raises
    ------
    OutsideRange
        There are no draws.

    Notes
    -----
    Gamma(n) and Gamma(n + 1) = Gamma(n) + Exp(1), whose quantiles are the exact limits of a Poisson count.

    References
    ----------
    .. [1] Garwood F. Biometrika 1936;28:437-442.
    """
    require_positive("draws", draws)
    fewest = _by_row(random.standard_gamma(counts, (draws, len(counts))))
    most = _by_row(random.standard_exponential((draws, len(counts))))
    most += fewest
    return fewest, most


def _zero_rates(random: np.random.Generator, count: int, volume: float | None, draws: int) -> tuple[Any, Any]:
    """Draw what the counter counts by itself, per volume; None without a zero check."""
    if volume is None:
        return None, None
    fewest, most = expected_counts(random, [count], draws)
    return fewest / volume, most / volume


def _require_inputs(
    counts: Sequence[int],
    volumes: Sequence[float],
    stretches: Sequence[int],
    ambient_counts: Sequence[int],
    ambient_volumes: Sequence[float],
    zero_count: int,
    zero_volume: float | None,
) -> None:
    require_same_length("counts, volumes and stretches", counts, volumes, stretches)
    require_same_length("ambient counts and volumes", ambient_counts, ambient_volumes)
    require_at_least_items("ambient samples", ambient_counts, 2)
    for count, volume in zip(counts, volumes, strict=True):
        require_not_negative("particles counted inside", count)
        require_positive("volume counted inside [cm3]", volume)
    for stretch in stretches:
        require_not_negative("stretch between two ambient samples", stretch)
        require_positive("ambient samples after a stretch", len(ambient_counts) - 1 - stretch)
    for count, volume in zip(ambient_counts, ambient_volumes, strict=True):
        require_positive("particles counted outside", count)
        require_positive("volume counted outside [cm3]", volume)
    require_not_negative("particles counted in the zero check", zero_count)
    if zero_volume is not None:
        require_positive("volume counted in the zero check [cm3]", zero_volume)
