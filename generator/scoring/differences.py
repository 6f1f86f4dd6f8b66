"""Which of two devices let in less: exact test of pairs, other wearers, several comparisons, and a new wearer."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from scipy.special import nctdtrinc, ndtr, stdtr, stdtrit

from generator.model.difference_result import Apart
from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_different,
    require_not_negative,
    require_positive,
)

MOST_PAIRS = 30
"""More pairs than this have too many patterns of signs to count them all."""
TIE = 1e-9
"""Sums closer than this share of the greatest one possible are the same: they differ by the order of adding only."""
MOST_STUDENT = 1000.0
"""From here on the limits for a new wearer are 0 or 1 in all digits, and the library no longer ends."""


def sign_flip_probability(differences: Sequence[float]) -> float:
    """Return how often chance alone would give pairs as far apart, by going through every pattern of signs.

    Parameters
    ----------
    differences : Sequence[float]
        Difference of each wearer's logarithms, first device less second. [1]

    Returns
    -------
    float
        Exact two-sided probability. [1]

    Raises
    ------
    OutsideRange
        There is no pair, there are more than 30, or a difference is not finite.

    Notes
    -----
    p = (number of the 2^n patterns of signs with |sum(s_i d_i)| >= |sum(d_i)|) / 2^n, for 1 <= n <= 30.

    References
    ----------
    .. [1] Fisher RA. The Design of Experiments. 1935, section 21 (from memory).
    """
    require_at_least_items("pairs", differences, 1)
    require_not_negative("pairs fewer than the most", MOST_PAIRS - len(differences))
    for difference in differences:
        require_not_negative("size of a difference", abs(difference))
    # A pattern is one of either half. Where the sum of one reaches what the other leaves, so does the whole pattern,
    # and so does its opposite: they are counted without being written out.
    left = _sums(_least_tied(differences), differences[::2])
    right = np.sort(_sums(0.0, differences[1::2]))
    fall_short = int(np.sum(np.searchsorted(right, left)))
    return min(1.0, 2 * (1 - fall_short / float(2 ** len(differences))))


def _sums(start: float, differences: Sequence[float]) -> np.ndarray:
    """Return a number with differences added to it by every pattern of signs."""
    sums = np.array([start])
    for difference in differences:
        sums = np.concatenate((sums + difference, sums - difference))
    return sums


def _least_tied(differences: Sequence[float]) -> float:
    """Return the least sum that is as great as the one found, but for the order of adding."""
    return abs(math.fsum(differences)) - TIE * math.fsum(abs(difference) for difference in differences)


def least_sign_flip_probability(pairs: int) -> float:
    """Return the smallest probability that the exact test can give with so many pairs.

    Parameters
    ----------
    pairs : int
        Wearers who wore both devices. [count]

    Returns
    -------
    float
        Smallest two-sided probability. [1]

    Raises
    ------
    OutsideRange
        There is no pair.

    Notes
    -----
    p_min = 2 / 2^n, for n >= 1. Below six pairs it is above 0.05, so that nothing can be told apart by it.

    References
    ----------
    .. [1] Fisher RA. The Design of Experiments. 1935, section 21 (from memory).
    """
    require_positive("pairs", pairs)
    return float(2 / 2**pairs)


def unpaired_ratio(
    first: Sequence[float], second: Sequence[float], coverage: float
) -> tuple[float, float, float, float]:
    """Return the ratio of two devices' geometric means, worn by different wearers, with its limits and probability.

    Parameters
    ----------
    first : Sequence[float]
        Geometric mean of each wearer of the first device. [1]
    second : Sequence[float]
        Geometric mean of each wearer of the second device. [1]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float, float, float]
        Ratio, its lower and upper limit, and the two-sided probability of one as far from 1 by chance. [1]

    Raises
    ------
    OutsideRange
        A device has no two different results, a result is not above zero, or the coverage is not between 0 and 1.

    Notes
    -----
    ln R = m_1 - m_2, u^2 = s_1^2/n_1 + s_2^2/n_2, limits exp(ln R -/+ t((1 + p)/2; nu) u), nu = u^4 /
    sum((s_i^2/n_i)^2 / (n_i - 1)); n_i >= 2 wearers, of whom none wore both.

    References
    ----------
    .. [1] Welch BL. The generalization of Student's problem. Biometrika 1947;34:28-35 (from memory).
    """
    require_coverage(coverage)
    for name, factors in (("first device", first), ("second device", second)):
        require_different(name, factors)
        for factor in factors:
            require_positive(name, factor)
    logs = [np.log(factors) for factors in (first, second)]
    shares = [float(np.var(each, ddof=1)) / len(each) for each in logs]
    squared = math.fsum(shares)
    degrees = squared**2 / math.fsum(share**2 / (len(each) - 1) for share, each in zip(shares, logs, strict=True))
    ratio, uncertainty = float(np.mean(logs[0]) - np.mean(logs[1])), math.sqrt(squared)
    half = float(stdtrit(degrees, (1 + coverage) / 2)) * uncertainty
    chance = 2 * float(stdtr(degrees, -abs(ratio) / uncertainty))
    return math.exp(ratio), math.exp(ratio - half), math.exp(ratio + half), chance


def adjusted_probabilities(probabilities: Sequence[float]) -> tuple[float, ...]:
    """Return probabilities adjusted for their number, so that a chance find among many is not taken for a difference.

    Parameters
    ----------
    probabilities : Sequence[float]
        Probability of each comparison of a set. [1]

    Returns
    -------
    tuple[float, ...]
        Adjusted probabilities in the same order. [1]

    Raises
    ------
    OutsideRange
        There is no probability, or one is not 0 to 1.

    Notes
    -----
    In rising order p_(i) becomes min(1, max over j <= i of (m - j + 1) p_(j)), for m comparisons.

    References
    ----------
    .. [1] Holm S. A simple sequentially rejective multiple test procedure. Scand J Stat 1979;6:65-70 (from memory).
    """
    require_at_least_items("probabilities", probabilities, 1)
    for probability in probabilities:
        require_not_negative("probability", probability)
        require_not_negative("1 less a probability", 1 - probability)
    adjusted = list(probabilities)
    greatest = 0.0
    for rank, place in enumerate(sorted(range(len(probabilities)), key=lambda place: probabilities[place])):
        greatest = max(greatest, (len(probabilities) - rank) * probabilities[place])
        adjusted[place] = min(greatest, 1.0)
    return tuple(adjusted)


def better_for_a_new_wearer(differences: Sequence[float], coverage: float) -> tuple[float, float, float]:
    """Return the probability that the first device gives a new wearer the higher factor, with its limits.

    Parameters
    ----------
    differences : Sequence[float]
        Difference of each wearer's mean logarithms, first device less second. [1]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float, float]
        Estimate, lower and upper limit. [1]

    Raises
    ------
    OutsideRange
        There are no two different differences, or the coverage is not between 0 and 1.

    Notes
    -----
    P = Phi(m / s); limits Phi(delta / sqrt(n)), where the noncentral t distribution with n - 1 degrees of freedom and
    noncentrality delta gives m sqrt(n) / s with probability (1 + p)/2 and (1 - p)/2; exact for normal differences.

    References
    ----------
    .. [1] Owen DB. A survey of properties and applications of the noncentral t-distribution. Technometrics
       1968;10:445-478 (from memory).
    """
    require_different("differences", differences)
    require_coverage(coverage)
    root = math.sqrt(len(differences))
    standardised = float(np.mean(differences) / np.std(differences, ddof=1))
    low, high = (
        float(nctdtrinc(len(differences) - 1, chance, _computable(standardised * root))) / root
        for chance in ((1 + coverage) / 2, (1 - coverage) / 2)
    )
    return float(ndtr(standardised)), float(ndtr(low)), float(ndtr(high))


def _computable(student: float) -> float:
    """Return a t value, or the largest with which its limits are computed."""
    return math.copysign(min(abs(student), MOST_STUDENT), student)


def told_apart(low: float, high: float, adjusted_probability: float, level: float) -> Apart:
    """Say which of two devices gave the higher factors, or that they cannot be told apart, which is not being equal.

    Parameters
    ----------
    low : float
        Lower limit of the ratio, first device over second. [1]
    high : float
        Upper limit of the ratio. [1]
    adjusted_probability : float
        Probability of such a ratio by chance, adjusted for the number of comparisons. [1]
    level : float
        The most that this probability may be. [1]

    Returns
    -------
    Apart
        Which is higher, or that they cannot be told apart. [-]

    Raises
    ------
    OutsideRange
        A limit is not above zero, or the level is not between 0 and 1.

    Notes
    -----
    The first is higher where low > 1 and p <= level, the second where high < 1 and p <= level.

    References
    ----------
    .. [1] Own rule, from an interval and a test that must both exclude equality.
    """
    require_positive("lower limit", low)
    require_positive("upper limit", high)
    require_coverage(level)
    if adjusted_probability > level:
        return Apart.CANNOT_BE_TOLD_APART
    if low > 1:
        return Apart.FIRST_HIGHER
    return Apart.SECOND_HIGHER if high < 1 else Apart.CANNOT_BE_TOLD_APART
