"""Fit factors without what the counter counts by itself: the pooled factor, and limits of leak and zero combined."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.scoring.counting import poisson_limits
from generator.scoring.fit_factors import exercise_weights
from generator.scoring.valid_range import (
    require_at_least_items,
    require_not_negative,
    require_ordered,
    require_positive,
    require_same_length,
)


def pooled_fit_factor_above_zero(
    counts: Sequence[int], volumes: Sequence[float], ambients: Sequence[float], zero_count: int, zero_volume: float
) -> float | None:
    """Return the overall fit factor from counts, without what the counter counts by itself.

    Parameters
    ----------
    counts : Sequence[int]
        Particles counted inside the mask, per exercise. [count]
    volumes : Sequence[float]
        Counted volumes, per exercise. [cm3]
    ambients : Sequence[float]
        Mean ambient concentrations, per exercise. [/cm3]
    zero_count : int
        Particles counted in the zero check. [count]
    zero_volume : float
        Volume counted in the zero check. [cm3]

    Returns
    -------
    float | None
        Overall fit factor; None where the zero check leaves nothing. [1]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, a count is below zero, or a volume or ambient concentration is not
        above zero.

    Notes
    -----
    1 / FF = (1/N) sum((n_i / V_i - z / Z) / C_i). An exercise in which less was counted than in the zero check takes
    part with its difference below zero; leaving it out, or counting it as zero, would overstate the leak of all.

    References
    ----------
    .. [1] Derived here from `pooled_fit_factor` and `zero_corrected_concentration`.
    """
    weights = exercise_weights(volumes, ambients)
    require_same_length("counts and volumes", counts, volumes)
    for count in counts:
        require_not_negative("particles counted", count)
    require_not_negative("particles counted in the zero check", zero_count)
    require_positive("volume counted in the zero check [cm3]", zero_volume)
    leak = sum(
        weight * (count - volume * zero_count / zero_volume)
        for weight, count, volume in zip(weights, counts, volumes, strict=True)
    )
    return 1 / leak if leak > 0 else None


def fit_factor_limits_above_zero(
    leak: float,
    leak_low: float,
    leak_high: float,
    ambients: Sequence[float],
    zero_count: int,
    zero_volume: float,
    coverage: float,
) -> tuple[float | None, float | None]:
    """Return the limits of a fit factor from those of the leak as counted and of the zero check.

    Parameters
    ----------
    leak : float
        Share of the ambient concentration that was counted inside. [1]
    leak_low : float
        Its lower limit. [1]
    leak_high : float
        Its upper limit. [1]
    ambients : Sequence[float]
        Mean ambient concentrations, per exercise. [/cm3]
    zero_count : int
        Particles counted in the zero check. [count]
    zero_volume : float
        Volume counted in the zero check. [cm3]
    coverage : float
        Coverage probability of the limits of the leak, two-sided; the zero check gets the same. [1]

    Returns
    -------
    tuple[float | None, float | None]
        Lower and upper limit of the fit factor. No upper one where nothing may be left above zero; no lower one where
        the zero check is so far above what was counted inside that the two contradict each other. [1]

    Raises
    ------
    OutsideRange
        The lower limit of the leak is below zero, the leak does not lie between its limits, there is no exercise, an
        ambient concentration or the volume is not above zero, or as for `poisson_limits`.

    Notes
    -----
    zeta = (z / Z) (1/N) sum(1 / C_i), with Garwood's limits of z. With d = leak - zeta, 1/FF lies between
    d - sqrt((leak - leak_low)^2 + (zeta_high - zeta)^2) and d + sqrt((leak_high - leak)^2 + (zeta - zeta_low)^2).

    References
    ----------
    .. [1] Zou GY, Donner A. Stat Med 2008;27:1693-1702: limits of a difference from the limits of its parts.
    """
    require_not_negative("lower limit of the leak", leak_low)
    require_ordered("lower limit of the leak, and the leak", leak_low, leak)
    require_ordered("the leak, and its upper limit", leak, leak_high)
    require_at_least_items("ambient concentrations", ambients, 1)
    for ambient in ambients:
        require_positive("ambient concentration [/cm3]", ambient)
    require_positive("volume counted in the zero check [cm3]", zero_volume)
    fewest, most = poisson_limits(zero_count, coverage)
    of_one = sum(1 / ambient for ambient in ambients) / len(ambients) / zero_volume
    difference = leak - zero_count * of_one
    greatest = difference + math.hypot(leak_high - leak, (zero_count - fewest) * of_one)
    least = difference - math.hypot(leak - leak_low, (most - zero_count) * of_one)
    return 1 / greatest if greatest > 0 else None, 1 / least if least > 0 else None
