"""How many wearers a statement takes: with some who fail, for narrow limits of a mean, for pairs of two devices."""

from __future__ import annotations

import math
from bisect import bisect_left

from scipy.special import bdtr, stdtrit

from generator.scoring.percentile_bound import MOST_WEARERS
from generator.scoring.valid_range import require_coverage, require_not_negative, require_positive


def wearers_with_failures(failures: int, share: float, confidence: float) -> int:
    """Return how many wearers show, with confidence, that a share reaches a level, where some of them do not.

    Parameters
    ----------
    failures : int
        Wearers tested who do not reach the level. [count]
    share : float
        The share to be shown. [1]
    confidence : float
        Confidence, one-sided. [1]

    Returns
    -------
    int
        Wearers in all, those who do not reach it among them. [count]

    Raises
    ------
    OutsideRange
        There are fewer failures than none, or the share or the confidence are not between 0 and 1.

    Notes
    -----
    The smallest n > k for which at most k of n wearers fail with a probability of 1 - c at most, if the share is just
    q: sum over i <= k of C(n, i) (1 - q)^i q^(n - i) <= 1 - c. Without failures, q^n <= 1 - c.

    References
    ----------
    .. [1] Clopper CJ, Pearson ES. Biometrika 1934;26:404-413, one-sided.
    """
    require_not_negative("wearers who do not reach the level", failures)
    require_coverage(share)
    require_coverage(confidence)
    wearers = failures + 1
    while chance_of_so_few_failures(failures, wearers, share) > 1 - confidence:
        wearers += 1
    return wearers


def chance_of_so_few_failures(failures: int, wearers: int, share: float) -> float:
    """Return how often so many wearers would have so few failures, if just the share named reached the level.

    Parameters
    ----------
    failures : int
        Wearers tested who do not reach the level. [count]
    wearers : int
        Wearers tested. [count]
    share : float
        Share of all wearers who reach it. [1]

    Returns
    -------
    float
        Probability of so few failures, or fewer. [1]

    Raises
    ------
    OutsideRange
        There is no wearer, there are fewer failures than none, or the share is not between 0 and 1.

    Notes
    -----
    P = sum over i <= k of C(n, i) (1 - q)^i q^(n - i).

    References
    ----------
    .. [1] The binomial distribution; Clopper CJ, Pearson ES. Biometrika 1934;26:404-413.
    """
    require_not_negative("wearers who do not reach the level", failures)
    require_positive("wearers", wearers)
    require_coverage(share)
    return float(bdtr(failures, wearers, 1 - share))


def wearers_for_limits(deviation: float, coverage: float, times: float) -> int | None:
    """Return how many wearers with this spread would bring the limits of a geometric mean within a factor of it.

    Parameters
    ----------
    deviation : float
        Geometric standard deviation from wearer to wearer. [1]
    coverage : float
        Coverage probability of the limits, two-sided. [1]
    times : float
        The factor by which the limits may lie below and above the mean. [1]

    Returns
    -------
    int | None
        Wearers with one result each; None where a thousand would not do. [count]

    Raises
    ------
    OutsideRange
        The deviation or the factor are not above 1, or the coverage is not between 0 and 1.

    Notes
    -----
    The smallest n >= 2 with GSD^(t/sqrt(n)) <= factor, t = t((1 + p)/2; n - 1). Further wearers will not have just this
    spread, so it is a guide to planning.

    References
    ----------
    .. [1] Own rule, from Student's interval of a mean, on the logarithms.
    """
    require_positive("logarithm of the geometric standard deviation", math.log(deviation))
    require_positive("logarithm of the factor", math.log(times))
    require_coverage(coverage)
    room = math.log(times) / math.log(deviation)
    numbers = range(2, MOST_WEARERS + 1)
    # The half width falls with every wearer.
    place = bisect_left(
        numbers, -room, key=lambda number: -float(stdtrit(number - 1, (1 + coverage) / 2)) / math.sqrt(number)
    )
    return numbers[place] if place < len(numbers) else None


def pairs_to_tell_apart(differences: int, level: float) -> int:
    """Return how many wearers must have worn both of two devices before the exact test can tell the two apart.

    Parameters
    ----------
    differences : int
        Differences that stand together, this one among them. [count]
    level : float
        The most that the adjusted probability may be. [1]

    Returns
    -------
    int
        Wearers who wore both. [count]

    Raises
    ------
    OutsideRange
        There is no difference, or the level is not between 0 and 1.

    Notes
    -----
    The smallest n with m 2/2^n <= alpha, the smallest probability that n pairs can give, adjusted for m differences
    where it is the least of them. Every wearer's factor must then be the higher one with the same device.

    References
    ----------
    .. [1] Own rule, from the exact test of pairs (Fisher 1935, section 21) and Holm's adjustment (1979).
    """
    require_positive("differences", differences)
    require_coverage(level)
    return math.ceil(math.log2(2 * differences / level))
