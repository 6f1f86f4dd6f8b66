"""The interval of a fit factor where a second channel counts outside all the time, by a seeded Monte Carlo.

Each exercise has an ambient count of its own, from the very seconds in which it was sampled inside; one ratio of the
two channels, from the lines in which both drew the same air, is common to all exercises.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from generator.scoring.overall_simulation import DRAWS, bounded, expected_counts, leakage_limits
from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_not_negative,
    require_positive,
    require_same_length,
)


def ambient_by_second_channel(ratio: float, second: float) -> float:
    """Return the ambient concentration as the channel that goes inside would have read it.

    Parameters
    ----------
    ratio : float
        Ratio of that channel to the second one in the same air. [1]
    second : float
        Mean of the second channel over the exercise's own seconds. [/cm3]

    Returns
    -------
    float
        Ambient concentration. [/cm3]

    Raises
    ------
    OutsideRange
        The ratio or the concentration is not above zero.

    Notes
    -----
    C = r b, for r > 0 and b > 0.

    References
    ----------
    .. [1] 29 CFR 1910.134 Appendix A, Part I.C.2(b)(8)(ii), the true mean while the sample inside is taken (from
       memory).
    .. [2] The ratio is own rule.
    """
    require_positive("ratio of the two channels", ratio)
    require_positive("concentration of the second channel [/cm3]", second)
    return ratio * second


def two_channel_fit_factor_limits(
    counts: Sequence[int],
    volumes: Sequence[float],
    ambient_counts: Sequence[int],
    ambient_volumes: Sequence[float],
    ratio: float,
    ratio_deviation: float,
    ratio_pairs: int,
    zero_count: int,
    zero_volume: float | None,
    coverage: float,
    seed: int,
    draws: int = DRAWS,
) -> tuple[float, float | None]:
    """Return the limits of the fit factor of one exercise or of several, with both channels' counting in it.

    Parameters
    ----------
    counts : Sequence[int]
        Particles counted inside the mask, per exercise. [count]
    volumes : Sequence[float]
        Volumes counted inside the mask, per exercise. [cm3]
    ambient_counts : Sequence[int]
        Particles counted by the second channel, per exercise. [count]
    ambient_volumes : Sequence[float]
        Volumes counted by the second channel, per exercise. [cm3]
    ratio : float
        Ratio of the channel inside to the second one in the same air. [1]
    ratio_deviation : float
        Standard deviation of the logarithms of the ratios of single pairs. [1]
    ratio_pairs : int
        Pairs from which the ratio comes. [count]
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
        Lower and upper limit of the fit factor; None where there is no upper limit. Where no particle was counted
        inside, the lower limit is one-sided with the same coverage. [1]

    Raises
    ------
    OutsideRange
        Lists that belong together differ in length or are empty, nothing was counted outside in an exercise, a volume
        or the ratio is not above zero, a count or the deviation is below zero, there are fewer than two pairs, the
        coverage is not between 0 and 1, there are no draws, or the zero check takes away all that was counted inside.

    Notes
    -----
    1 / FF = (1/N) sum((n_i / V_i - b) / (r m_i / B_i)), r drawn as r exp(t s / sqrt(K)) with t of Student's
    distribution with K - 1 degrees of freedom, once for all exercises. Counts are drawn as for
    `simulated_fit_factor_limits`.

    References
    ----------
    .. [1] JCGM 101:2008, Propagation of distributions using a Monte Carlo method, 5.9, 6.4.9 and 7.
    .. [2] Fay MP, Feuer EJ. Stat Med 1997;16:791-801, the limits that this gives with a known ambient concentration.
    """
    require_same_length("counts and volumes, inside and outside", counts, volumes, ambient_counts, ambient_volumes)
    require_at_least_items("exercises", counts, 1)
    for count, volume in zip((*counts, *ambient_counts), (*volumes, *ambient_volumes), strict=True):
        require_not_negative("particles counted", count)
        require_positive("counted volume [cm3]", volume)
    for count in ambient_counts:
        require_positive("particles counted outside", count)
    require_positive("ratio of the two channels", ratio)
    require_not_negative("standard deviation of the ratio's logarithm", ratio_deviation)
    require_positive("pairs beyond the first", ratio_pairs - 1)
    require_not_negative("particles counted in the zero check", zero_count)
    if zero_volume is not None:
        require_positive("volume counted in the zero check [cm3]", zero_volume)
    require_coverage(coverage)
    random = np.random.Generator(np.random.PCG64(seed))
    fewest, most = expected_counts(random, ambient_counts, draws)
    uncertainty = ratio_deviation / math.sqrt(ratio_pairs)
    # As likely above as below: dividing by these draws would be the same.
    off = np.exp(bounded(uncertainty * random.standard_t(ratio_pairs - 1, draws)))
    ratios = np.multiply(ratio, off)
    return leakage_limits(
        random,
        counts,
        volumes,
        ratios * fewest / np.asarray(ambient_volumes)[:, None],
        ratios * most / np.asarray(ambient_volumes)[:, None],
        zero_count,
        zero_volume,
        coverage,
    )
