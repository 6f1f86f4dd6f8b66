"""Does the bound for new wearers hold as often as it says? Simulated for the very donnings at hand; else refused."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from functools import cache
from itertools import cycle, islice

import numpy as np
from scipy.special import ndtri

from generator.scoring.nested_bounds import NODES, chance_below, new_donning_bound, shift_and_scale
from generator.scoring.nested_lognormal import (
    Array,
    GroupedLogs,
    between_and_within_wearers,
    grouped_logs,
    new_donning_percentile,
)
from generator.scoring.percentile_bound import MOST_WEARERS, PercentileBound
from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_not_negative,
    require_positive,
)

RUNS = 10_000
"""Simulated data sets for each share of variance between wearers."""
SHARES_BETWEEN = (0.0, 0.5, 0.9)
"""Shares of the variance that lie between wearers; with all of it there the bound is exact."""
SIMULATION_NODES = 24
"""Places at which each chi-squared distribution is taken; enough to tell whether a bound holds."""
PLACES = 65
"""Shares of the squares within wearers for which it is found from where on a bound holds; else interpolated."""
FARTHEST = 1e5
"""No such place is farther from the mean, in roots of the sums of squares."""
HALVINGS = 34
"""How often the search for one is halved; it is then known to five decimals."""
SEED = 20240703


def simulated_coverage(
    donnings: Sequence[int], between: float, share: float, confidence: float, runs: int, seed: int
) -> float:
    """Return how often the bound lies at or below the percentile that it bounds, in simulated data.

    Parameters
    ----------
    donnings : Sequence[int]
        Donnings of each wearer. [count]
    between : float
        Share of the variance of the logarithms that lies between wearers. [1]
    share : float
        Share of donnings above the percentile. [1]
    confidence : float
        Confidence that the bound states, one-sided. [1]
    runs : int
        Simulated data sets. [count]
    seed : int
        Seed of the random numbers. [-]

    Returns
    -------
    float
        Share of data sets in which the bound holds. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, one has no donning, the share between is not 0 to 1, there is no run, or the
        share or confidence are not between 0 and 1.

    Notes
    -----
    The bound holds where P(G <= percentile) >= 1 - c, so that it need not be computed. Mean and total variance of the
    logarithms are 0 and 1: neither matters for how often it holds.

    References
    ----------
    .. [1] Own simulation of the model in Krishnamoorthy K, Mathew T. Technometrics 2004;46:44-52 (from memory).
    """
    require_at_least_items("wearers", donnings, 2)
    for number in donnings:
        require_positive("donnings of a wearer", number)
    require_not_negative("share of variance between wearers", between)
    require_not_negative("share of variance within wearers", 1 - between)
    require_positive("runs", runs)
    require_coverage(share)
    require_coverage(confidence)
    random = np.random.default_rng(seed)
    deviations = np.sqrt(between + (1 - between) / np.array([float(number) for number in donnings]))
    degrees_within = sum(donnings) - len(donnings)
    means = random.normal(0.0, deviations, (runs, len(donnings)))
    own = (1 - between) * random.chisquare(degrees_within, runs) if degrees_within else np.zeros(runs)
    middle = np.mean(means, axis=1)
    squares = np.sum((means - middle[:, None]) ** 2, axis=1)
    ratios, places = _holds_from(tuple(donnings), share, confidence)
    together = squares + own
    least = np.interp(own / together, ratios, places)
    held = (-float(ndtri(share)) - middle) / np.sqrt(together) >= least
    return float(np.mean(held))


@cache
def _holds_from(donnings: tuple[int, ...], share: float, confidence: float) -> tuple[Array, Array]:
    """Return from where on a bound holds, by how much of the squares lies within wearers.

    Nothing else of a data set matters for it, once its mean is 0 and its sums of squares together are 1.
    """
    sizes, quantile = [float(number) for number in donnings], float(ndtri(share))
    # Close to one another at both ends, where the place changes fastest.
    within = np.sin(np.linspace(0.0, np.pi / 2, PLACES)) ** 2
    within[-1] = 1 - 1e-9
    low, high = np.full(PLACES, -FARTHEST), np.full(PLACES, FARTHEST)
    parts = shift_and_scale(1 - within, within, sizes, quantile, SIMULATION_NODES)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        chances = chance_below(0.0, -middle, parts, SIMULATION_NODES)
        holds = chances >= 1 - confidence
        low, high = np.where(holds, low, middle), np.where(holds, middle, high)
    return within, high


@cache
def bound_holds(donnings: tuple[int, ...], share: float, confidence: float) -> bool:
    """Say whether the bound holds as often as it says, whatever share of the variance lies between wearers.

    Parameters
    ----------
    donnings : tuple[int, ...]
        Donnings of each wearer. [count]
    share : float
        Share of donnings above the percentile. [1]
    confidence : float
        Confidence that the bound states, one-sided. [1]

    Returns
    -------
    bool
        Whether it holds. [-]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, one has no donning, or the share or confidence are not between 0 and 1.

    Notes
    -----
    It does where the simulated share >= c - 3 sqrt(c (1 - c) / runs), for shares of 0, 0.5 and 0.9 between wearers.
    With one donning of each it is exact, and nothing is simulated.

    References
    ----------
    .. [1] Own rule.
    """
    require_at_least_items("wearers", donnings, 2)
    require_coverage(share)
    require_coverage(confidence)
    if max(donnings) == 1:
        return True
    least = confidence - 3 * math.sqrt(confidence * (1 - confidence) / RUNS)
    return all(
        simulated_coverage(donnings, between, share, confidence, RUNS, SEED) >= least for between in SHARES_BETWEEN
    )


def bounded_new_donnings(
    factors: Sequence[float], wearers: Sequence[str], share: float, confidence: float, least: float
) -> PercentileBound:
    """Return the low percentile of new wearers' donnings with its bound, or the number of wearers that would give one.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each donning. [1]
    wearers : Sequence[str]
        The wearer of each. [-]
    share : float
        Share above it. [1]
    confidence : float
        Confidence, one-sided. [1]
    least : float
        A bound below this says nothing; 1 is no protection at all. [1]

    Returns
    -------
    PercentileBound
        Estimate and bound; no bound where it lies below the least, or where it would not hold as often as it says. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, their means are all the same, no wearer has two different results, a factor or
        the level is not above zero, or the share or confidence are not between 0 and 1.

    Notes
    -----
    The bound is given where L >= level and its simulated coverage is not short; else the number of wearers that would
    bring it there, with the same spread and donned as often in turn.

    References
    ----------
    .. [1] Own rule, from the bound for donnings of new wearers.
    """
    require_positive("level", least)
    logs = grouped_logs(factors, wearers)
    bound = new_donning_bound(factors, wearers, share, confidence)
    sizes = tuple(sorted((int(number) for number in logs.donnings), reverse=True))
    estimate = new_donning_percentile(factors, wearers, share)
    if bound >= least and bound_holds(sizes, share, confidence):
        return PercentileBound(estimate, bound, len(sizes), len(sizes))
    _, between, within = between_and_within_wearers(factors, wearers)
    needed = _wearers_needed(logs.mean, math.log(between), math.log(within), sizes, (share, confidence, least))
    return PercentileBound(estimate, None, len(sizes), needed)


def _wearers_needed(
    mean: float, between: float, within: float, sizes: tuple[int, ...], wanted: tuple[float, float, float]
) -> int | None:
    """Return how many wearers, donning in the same pattern and with this spread, would give a bound that holds."""
    share, confidence, least = wanted
    quantile, level = float(ndtri(share)), math.log(least)

    def enough(number: int) -> bool:
        # The bound lies at or above the level where the quantity that it is a quantile of seldom lies below.
        expected = _expected_logs(mean, between, within, _pattern(sizes, number))
        squares = np.array([expected.between_squares]), np.array([expected.within_squares])
        donnings = [float(size) for size in expected.donnings]
        below = chance_below(level, np.array([mean]), shift_and_scale(*squares, donnings, quantile, NODES), NODES)
        return float(below[0]) <= 1 - confidence

    numbers = range(len(sizes) + 1, MOST_WEARERS + 1)
    place = bisect_left(numbers, True, key=enough)
    candidates = [number for number in numbers[place:] if number % numbers[place] == 0] if place < len(numbers) else []
    return next((number for number in candidates if bound_holds(_pattern(sizes, number), share, confidence)), None)


def _pattern(sizes: tuple[int, ...], number: int) -> tuple[int, ...]:
    """Return the donnings of so many wearers, taking the sizes in turn."""
    return tuple(sorted(islice(cycle(sizes), number), reverse=True))


def _expected_logs(mean: float, between: float, within: float, sizes: tuple[int, ...]) -> GroupedLogs:
    """Return the sums that data with this mean and these standard deviations would have in the mean."""
    inverse = sum(1 / number for number in sizes) / len(sizes)
    degrees_within = sum(sizes) - len(sizes)
    return GroupedLogs(
        means=np.full(len(sizes), mean),
        donnings=np.array([float(number) for number in sizes]),
        within_squares=within**2 * degrees_within,
        degrees_within=degrees_within,
        mean=mean,
        between_squares=(between**2 + inverse * within**2) * (len(sizes) - 1),
        inverse_donnings=inverse,
    )
