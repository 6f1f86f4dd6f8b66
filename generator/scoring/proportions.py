"""Shares of wearers who reach a level, one prespecified donning of each: exact and score intervals, zero failures."""

from __future__ import annotations

import math
from collections.abc import Sequence

from scipy.special import betaincinv, chdtri

from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_not_negative,
    require_positive,
)


def number_reaching_level(factors: Sequence[float], level: float) -> int:
    """Return how many wearers reached a level.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, or their lower bounds where no more is known, of one prespecified donning of each wearer. [1]
    level : float
        The level. [1]

    Returns
    -------
    int
        Wearers at the level or above. [count]

    Raises
    ------
    OutsideRange
        There is no wearer, or a factor or the level is not above zero.

    Notes
    -----
    x = number of FF_i >= L.

    References
    ----------
    .. [1] Own definition.
    """
    require_at_least_items("wearers", factors, 1)
    require_positive("level", level)
    for factor in factors:
        require_positive("factor", factor)
    return sum(factor >= level for factor in factors)


def exact_share_limits(reached: int, wearers: int, coverage: float) -> tuple[float, float]:
    """Return the exact limits of a share from how many of so many wearers reached a level.

    Parameters
    ----------
    reached : int
        Wearers who reached it. [count]
    wearers : int
        Wearers tested, one prespecified donning of each. [count]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit. [1]

    Raises
    ------
    OutsideRange
        There is no wearer, more reached it than there are or fewer than none, or the coverage is not between 0 and 1.

    Notes
    -----
    lower = B(alpha/2; x, n - x + 1), 0 for x = 0; upper = B(1 - alpha/2; x + 1, n - x), 1 for x = n; B the quantile of
    the beta distribution, alpha = 1 - p.

    References
    ----------
    .. [1] Clopper CJ, Pearson ES. Biometrika 1934;26:404-413, as restated in NIST/SEMATECH e-Handbook 7.2.4.2 (seen).
    """
    require_positive("wearers", wearers)
    require_not_negative("wearers who reached the level", reached)
    require_not_negative("wearers who did not reach the level", wearers - reached)
    require_coverage(coverage)
    tail = (1 - coverage) / 2
    low = float(betaincinv(reached, wearers - reached + 1, tail)) if reached else 0.0
    high = float(betaincinv(reached + 1, wearers - reached, 1 - tail)) if wearers - reached else 1.0
    return low, high


def score_share_limits(reached: int, wearers: int, coverage: float) -> tuple[float, float]:
    """Return the limits of a share by Wilson's score method, narrower than the exact ones and right on average.

    Parameters
    ----------
    reached : int
        Wearers who reached it. [count]
    wearers : int
        Wearers tested, one prespecified donning of each. [count]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit. [1]

    Raises
    ------
    OutsideRange
        There is no wearer, more reached it than there are or fewer than none, or the coverage is not between 0 and 1.

    Notes
    -----
    low, high = (x + z^2/2 -/+ z sqrt(x (n - x)/n + z^2/4)) / (n + z^2), z the normal quantile of (1 + p)/2.

    References
    ----------
    .. [1] Wilson EB. J Am Stat Assoc 1927;22:209-212, as restated in NIST/SEMATECH e-Handbook 7.2.4.1 (seen).
    """
    require_positive("wearers", wearers)
    require_not_negative("wearers who reached the level", reached)
    require_not_negative("wearers who did not reach the level", wearers - reached)
    require_coverage(coverage)
    # chdtri inverts the upper tail of the chi-squared distribution; with one degree of freedom that is z squared.
    squared = float(chdtri(1, 1 - coverage))
    middle = (reached + squared / 2) / (wearers + squared)
    half = math.sqrt(squared * (reached * (wearers - reached) / wearers + squared / 4)) / (wearers + squared)
    return middle - half, middle + half


def share_without_failures(wearers: int, confidence: float) -> float:
    """Return the share that at least reaches a level, with confidence, where every wearer tested did.

    Parameters
    ----------
    wearers : int
        Wearers tested, all of whom reached it. [count]
    confidence : float
        Confidence, one-sided. [1]

    Returns
    -------
    float
        Lower bound of the share. [1]

    Raises
    ------
    OutsideRange
        There is no wearer, or the confidence is not between 0 and 1.

    Notes
    -----
    p = (1 - c)^(1/n), for n >= 1. It asks nothing of the distribution, so that it holds for capped results too: the
    level may be the lowest result of all.

    References
    ----------
    .. [1] Clopper CJ, Pearson ES. Biometrika 1934;26:404-413, one-sided, with no failure.
    """
    require_positive("wearers", wearers)
    require_coverage(confidence)
    return float((1 - confidence) ** (1 / wearers))


def wearers_without_failures(share: float, confidence: float) -> int:
    """Return how many wearers must all reach a level to show, with confidence, that a share does.

    Parameters
    ----------
    share : float
        The share to be shown. [1]
    confidence : float
        Confidence, one-sided. [1]

    Returns
    -------
    int
        Wearers, all of whom must reach it. [count]

    Raises
    ------
    OutsideRange
        The share or the confidence are not between 0 and 1.

    Notes
    -----
    The smallest whole n with n >= ln(1 - c) / ln(p).

    References
    ----------
    .. [1] Clopper CJ, Pearson ES. Biometrika 1934;26:404-413, one-sided, with no failure.
    """
    require_coverage(share)
    require_coverage(confidence)
    return math.ceil(math.log(1 - confidence) / math.log(share))
