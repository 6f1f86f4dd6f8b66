"""Wearers with one result each: log-normal mean, spread and low percentile, with what so few wearers leave open."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence

from scipy.special import chdtri, nctdtrit, ndtri, stdtrit

from generator.scoring.percentile_bound import MOST_WEARERS, PercentileBound
from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_different,
    require_positive,
)


def geometric_mean(factors: Sequence[float]) -> float:
    """Return the geometric mean of factors.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each wearer, or those of one wearer. [1]

    Returns
    -------
    float
        Geometric mean. [1]

    Raises
    ------
    OutsideRange
        There is no factor, or one is not above zero.

    Notes
    -----
    GM = exp(sum(ln FF_i) / n), for n >= 1 and FF_i > 0.

    References
    ----------
    .. [1] Aitchison J, Brown JAC. The Lognormal Distribution. 1957 (from memory).
    """
    require_at_least_items("factors", factors, 1)
    for factor in factors:
        require_positive("factor", factor)
    return math.exp(math.fsum(math.log(factor) for factor in factors) / len(factors))


def geometric_standard_deviation(factors: Sequence[float]) -> float:
    """Return the geometric standard deviation of factors.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each wearer. [1]

    Returns
    -------
    float
        Geometric standard deviation, 1 or more. [1]

    Raises
    ------
    OutsideRange
        There are no two different factors, or one is not above zero.

    Notes
    -----
    GSD = exp(sqrt(sum((ln FF_i - ln GM)^2) / (n - 1))), for n >= 2 and FF_i > 0.

    References
    ----------
    .. [1] Aitchison J, Brown JAC. The Lognormal Distribution. 1957 (from memory).
    """
    require_different("factors", factors)
    mean = math.log(geometric_mean(factors))
    squares = math.fsum((math.log(factor) - mean) ** 2 for factor in factors)
    return math.exp(math.sqrt(squares / (len(factors) - 1)))


def geometric_mean_limits(factors: Sequence[float], coverage: float) -> tuple[float, float]:
    """Return the limits of the geometric mean over all wearers like those tested.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each wearer. [1]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit. [1]

    Raises
    ------
    OutsideRange
        There are no two different factors, one is not above zero, or the coverage is not between 0 and 1.

    Notes
    -----
    GM / GSD^(t/sqrt(n)) to GM GSD^(t/sqrt(n)), t = t((1 + p)/2; n - 1), for n >= 2.

    References
    ----------
    .. [1] Student's interval of a mean, on the logarithms; JCGM 100:2008 (GUM) G.3.
    """
    require_coverage(coverage)
    deviation = math.log(geometric_standard_deviation(factors))
    half = stdtrit(len(factors) - 1, (1 + coverage) / 2) * deviation / math.sqrt(len(factors))
    mean = geometric_mean(factors)
    return mean * math.exp(-half), mean * math.exp(half)


def geometric_standard_deviation_limits(factors: Sequence[float], coverage: float) -> tuple[float, float]:
    """Return the limits of the geometric standard deviation over all wearers like those tested.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each wearer. [1]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit. [1]

    Raises
    ------
    OutsideRange
        There are no two different factors, one is not above zero, or the coverage is not between 0 and 1.

    Notes
    -----
    GSD^sqrt((n - 1)/chi2(1 - alpha/2)) to GSD^sqrt((n - 1)/chi2(alpha/2)), chi2 with n - 1 degrees of freedom,
    alpha = 1 - p, for n >= 2.

    References
    ----------
    .. [1] The chi-squared interval of a normal variance, on the logarithms.
    """
    require_coverage(coverage)
    deviation = math.log(geometric_standard_deviation(factors))
    degrees, tail = len(factors) - 1, (1 - coverage) / 2
    # chdtri inverts the upper tail of the chi-squared distribution.
    low, high = (deviation * math.sqrt(degrees / float(chdtri(degrees, each))) for each in (tail, 1 - tail))
    return math.exp(low), math.exp(high)


def tolerance_factor(wearers: int, share: float, confidence: float) -> float:
    """Return how many standard deviations below the mean a one-sided tolerance bound lies.

    Parameters
    ----------
    wearers : int
        Wearers with one result each. [count]
    share : float
        Share of all results that is to lie above the bound. [1]
    confidence : float
        Confidence, one-sided. [1]

    Returns
    -------
    float
        Tolerance factor. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, or the share or the confidence are not between 0 and 1.

    Notes
    -----
    k = t'(c; n - 1, z sqrt(n)) / sqrt(n), with t' the quantile of the noncentral t distribution and z the normal
    quantile of the share; exact for n >= 2 normal values.

    References
    ----------
    .. [1] Johnson NL, Welch BL. Applications of the non-central t-distribution. Biometrika 1940;31:362-389 (from
       memory).
    """
    require_positive("wearers beyond the first", wearers - 1)
    require_coverage(share)
    require_coverage(confidence)
    root = math.sqrt(wearers)
    return float(nctdtrit(wearers - 1, ndtri(share) * root, confidence)) / root


def low_percentile(factors: Sequence[float], share: float) -> float:
    """Return the factor that a share of wearers is estimated to exceed.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each wearer. [1]
    share : float
        Share above it; 0.95 gives the 5th percentile. [1]

    Returns
    -------
    float
        Estimate of the percentile. [1]

    Raises
    ------
    OutsideRange
        There are no two different factors, one is not above zero, or the share is not between 0 and 1.

    Notes
    -----
    FF_share = GM / GSD^z, z the normal quantile of the share, for n >= 2. Half of all such estimates are too high.

    References
    ----------
    .. [1] Aitchison J, Brown JAC. The Lognormal Distribution. 1957 (from memory).
    """
    require_coverage(share)
    deviation = math.log(geometric_standard_deviation(factors))
    return geometric_mean(factors) * math.exp(-ndtri(share) * deviation)


def low_percentile_bound(factors: Sequence[float], share: float, confidence: float) -> float:
    """Return the factor that at least a share of wearers exceeds, with confidence.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each wearer. [1]
    share : float
        Share above it; 0.95 bounds the 5th percentile. [1]
    confidence : float
        Confidence, one-sided. [1]

    Returns
    -------
    float
        Lower bound of the percentile. [1]

    Raises
    ------
    OutsideRange
        There are no two different factors, one is not above zero, or the share or confidence are not between 0 and 1.

    Notes
    -----
    L = GM / GSD^k, with the one-sided tolerance factor k, for n >= 2 wearers with one log-normal result each.

    References
    ----------
    .. [1] USEPA. Statistical Analysis of Groundwater Monitoring Data at RCRA Facilities: Unified Guidance. 2009, 17.2
       (as carried by a help page; there for an upper limit).
    """
    deviation = math.log(geometric_standard_deviation(factors))
    return geometric_mean(factors) * math.exp(-tolerance_factor(len(factors), share, confidence) * deviation)


def wearers_needed(mean: float, deviation: float, share: float, confidence: float, least: float) -> int | None:
    """Return how many wearers with this mean and spread would bring the bound up to a level.

    Parameters
    ----------
    mean : float
        Geometric mean. [1]
    deviation : float
        Geometric standard deviation. [1]
    share : float
        Share of results above the bound. [1]
    confidence : float
        Confidence, one-sided. [1]
    least : float
        The level that the bound is to reach. [1]

    Returns
    -------
    int | None
        Wearers with one result each; None where a thousand would not do. [count]

    Raises
    ------
    OutsideRange
        The mean or the level are not above zero, the deviation is not above 1, or the share or confidence are not
        between 0 and 1.

    Notes
    -----
    The smallest n >= 2 with GM / GSD^k(n) >= level. Further wearers will not have just this mean and spread, so it is a
    guide to planning.

    References
    ----------
    .. [1] Own rule, from the tolerance factor.
    """
    require_positive("geometric mean", mean)
    require_positive("logarithm of the geometric standard deviation", math.log(deviation))
    require_positive("level", least)
    room = math.log(mean / least) / math.log(deviation)
    numbers = range(2, MOST_WEARERS + 1)
    # The tolerance factor falls with every wearer.
    place = bisect_left(numbers, -room, key=lambda number: -tolerance_factor(number, share, confidence))
    return numbers[place] if place < len(numbers) else None


def bounded_low_percentile(factors: Sequence[float], share: float, confidence: float, least: float) -> PercentileBound:
    """Return the low percentile with its bound, or with the number of wearers that would give one.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each wearer. [1]
    share : float
        Share above it. [1]
    confidence : float
        Confidence, one-sided. [1]
    least : float
        A bound below this says nothing; 1 is no protection at all. [1]

    Returns
    -------
    PercentileBound
        Estimate and bound; no bound where it lies below the least. [1]

    Raises
    ------
    OutsideRange
        There are no two different factors, one is not above zero, or the share or confidence are not between 0 and 1.

    Notes
    -----
    The bound is given where L >= level, else the number of wearers that would bring it there.

    References
    ----------
    .. [1] Own rule, from the tolerance factor.
    """
    bound = low_percentile_bound(factors, share, confidence)
    mean, deviation = geometric_mean(factors), geometric_standard_deviation(factors)
    return PercentileBound(
        estimate=low_percentile(factors, share),
        bound=bound if bound >= least else None,
        wearers=len(factors),
        wearers_needed=len(factors) if bound >= least else wearers_needed(mean, deviation, share, confidence, least),
    )
