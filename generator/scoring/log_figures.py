"""Figures from the readings of a log: the chance of repeats, penetrations, and the ratio of two channels."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from scipy.special import stdtrit, xlogy

from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_not_negative,
    require_positive,
    require_same_length,
)


def chance_of_repeats(count: int, step: float, repeats: int, readings: int) -> float:
    """Return how many stretches of equal counts chance would give at most in a log.

    Parameters
    ----------
    count : int
        The count that repeats, in one reading. [count]
    step : float
        How many counts one step of the display stands for, where that is more than one. [count]
    repeats : int
        How many readings in a row have it. [count]
    readings : int
        How many readings the log holds. [count]

    Returns
    -------
    float
        Upper bound of the expected number of such stretches, or longer ones; it may be above 1. [count]

    Raises
    ------
    OutsideRange
        The count or the step is below zero, or there are fewer than one repeat or fewer readings than repeats.

    Notes
    -----
    m <= (N - r + 1) P^(r - 1) with P = min(1, s n^n e^(-n) / n!): the largest probability that a Poisson count can have
    of being n, for each of the s counts that are shown alike, at least one. A count of zero has P = 1: nothing in a
    row of zeros is strange.

    References
    ----------
    .. [1] Derived here from the Poisson distribution.
    """
    require_not_negative("count that repeats", count)
    require_not_negative("counts in one step of the display", step)
    require_positive("readings in a row", repeats)
    require_positive("readings of the log beyond those in a row, and one", readings - repeats + 1)
    largest = math.exp(xlogy(count, count) - count - math.lgamma(count + 1))
    alike = min(1.0, max(1.0, step) * largest)
    return float((readings - repeats + 1) * alike ** (repeats - 1))


def average_penetration(in_mask: Sequence[float], ambient: float) -> float:
    """Return the mean concentration inside as a share of the one outside.

    Parameters
    ----------
    in_mask : Sequence[float]
        Readings inside the mask during one exercise. [/cm3]
    ambient : float
        Mean ambient concentration of the exercise. [/cm3]

    Returns
    -------
    float
        Average penetration. [%]

    Raises
    ------
    OutsideRange
        There are no readings, one is below zero, or the ambient concentration is not above zero.

    Notes
    -----
    P = 100 sum(c_k) / (n C), for C > 0.

    References
    ----------
    .. [1] 29 CFR 1910.134 Appendix A, Part I.C.2(b)(8)(iii) (from memory).
    """
    _require_readings(in_mask, ambient)
    return 100 * math.fsum(in_mask) / (len(in_mask) * ambient)


def peak_penetration(in_mask: Sequence[float], ambient: float) -> float:
    """Return the highest concentration inside as a share of the one outside.

    Parameters
    ----------
    in_mask : Sequence[float]
        Readings inside the mask during one exercise. [/cm3]
    ambient : float
        Mean ambient concentration of the exercise. [/cm3]

    Returns
    -------
    float
        Peak penetration. [%]

    Raises
    ------
    OutsideRange
        There are no readings, one is below zero, or the ambient concentration is not above zero.

    Notes
    -----
    P = 100 max(c_k) / C, for C > 0. What passed within a reading is evened out, so the peak of a breath may be higher.

    References
    ----------
    .. [1] 29 CFR 1910.134 Appendix A, Part I.C.2(b)(4) and (7), which stop a generated aerosol test by peaks.
    """
    _require_readings(in_mask, ambient)
    return 100 * max(in_mask) / ambient


def _require_readings(in_mask: Sequence[float], ambient: float) -> None:
    require_at_least_items("readings inside the mask", in_mask, 1)
    for reading in in_mask:
        require_not_negative("reading inside the mask [/cm3]", reading)
    require_positive("ambient concentration [/cm3]", ambient)


def side_by_side_ratio(first: Sequence[float], second: Sequence[float], coverage: float) -> tuple[float, float, float]:
    """Return how much more one channel reads than another in the same air, with its limits.

    Parameters
    ----------
    first : Sequence[float]
        Readings or block means of one channel. [/cm3]
    second : Sequence[float]
        Those of the other, of the same air at the same times. [/cm3]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float, float]
        Ratio of the first to the second, its lower and its upper limit. [1]

    Raises
    ------
    OutsideRange
        The lists differ in length, there are fewer than two pairs, a reading is not above zero, or the coverage is not
        between 0 and 1.

    Notes
    -----
    With y_k = ln(a_k / b_k): ratio = exp(mean(y)), limits = exp(mean(y) -/+ t(nu = n - 1) s / sqrt(n)), s the
    standard deviation of y. The pairs must be independent: where readings are smoothed, give means of longer blocks.

    References
    ----------
    .. [1] JCGM 100:2008, 4.2 (Type A evaluation), on logarithms.
    """
    require_same_length("readings of two channels", first, second)
    require_at_least_items("pairs of readings", first, 2)
    for reading in (*first, *second):
        require_positive("reading side by side [/cm3]", reading)
    require_coverage(coverage)
    logs = np.log(np.divide(first, second))
    mean, spread = float(np.mean(logs)), float(np.std(logs, ddof=1))
    half = float(stdtrit(len(first) - 1, (1 + coverage) / 2)) * spread / math.sqrt(len(first))
    return math.exp(mean), math.exp(mean - half), math.exp(mean + half)
