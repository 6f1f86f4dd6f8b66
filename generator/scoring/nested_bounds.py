"""Lower bound of nearly all donnings of new wearers, and limits between wearers, by generalised pivotal quantities."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import cache

import numpy as np
from scipy.special import chdtrc, chdtri, ndtr, ndtri, roots_legendre

from generator.errors import OutsideRange
from generator.scoring.nested_lognormal import Array, GroupedLogs, grouped_logs
from generator.scoring.valid_range import require_coverage, require_positive

NODES = 192
"""Places at which each chi-squared distribution is taken; the bound then has five digits or more."""
WIDENINGS = 40
"""How often a search is widened to twice its width before it gives up."""


@cache
def nodes_and_weights(number: int) -> tuple[Array, Array]:
    """Return probabilities and their weights, by which a mean over a distribution is taken (Gauss and Legendre)."""
    places, weights = roots_legendre(number)
    return (places + 1) / 2, weights / 2


def shift_and_scale(
    between_squares: Array, within_squares: Array, donnings: Sequence[float], quantile: float, number: int
) -> tuple[Array, Array]:
    """Return what of the generalised pivotal quantity of a percentile does not depend on the point it is held against.

    Parameters
    ----------
    between_squares : Array
        Sum of squares of the wearers' means, of each data set of one design. [1]
    within_squares : Array
        Sum of squares about the wearers' own means, of each data set. [1]
    donnings : Sequence[float]
        Donnings of each wearer, the same in every data set. [count]
    quantile : float
        Normal quantile of the share that is to lie above the percentile. [1]
    number : int
        Places at which each chi-squared distribution is taken. [count]

    Returns
    -------
    tuple[Array, Array]
        How far the percentile lies below the mean, and how far the mean scatters, for each data set and each pair of
        places. [1]

    Raises
    ------
    OutsideRange
        Never; the callers have looked at what they were given.

    Notes
    -----
    d = z sqrt(SS_b / U_b + (1 - h) SS_w / U_w) and s = sqrt(SS_b / (a U_b)), so that G = m + Z s - d.

    References
    ----------
    .. [1] Krishnamoorthy K, Mathew T. Technometrics 2004;46:44-52 (from memory).
    """
    probabilities, _ = nodes_and_weights(number)
    wearers = len(donnings)
    inverse = sum(1 / each for each in donnings) / wearers
    degrees_within = sum(donnings) - wearers
    between = between_squares[:, None, None] / chdtri(wearers - 1, probabilities)
    within = within_squares[:, None, None]
    # With one donning of each wearer there is nothing within wearers, and no distribution to take it over.
    within = within / chdtri(degrees_within, probabilities)[:, None] if degrees_within else within
    return quantile * np.sqrt(between + (1 - inverse) * within), np.sqrt(between / wearers)


def chance_below(point: float, means: Array, parts: tuple[Array, Array], number: int) -> Array:
    """Return how probable it is that the generalised pivotal quantity of a percentile lies below a point.

    Parameters
    ----------
    point : float
        The point, a logarithm. [1]
    means : Array
        Mean of the wearers' mean logarithms, of each data set of one design. [1]
    parts : tuple[Array, Array]
        What `shift_and_scale` gives for these data sets: as many points as are looked at, it is the same. [1]
    number : int
        Places at which each chi-squared distribution was taken for that. [count]

    Returns
    -------
    Array
        Probability, for each data set. [1]

    Raises
    ------
    OutsideRange
        Never; the callers have looked at what they were given.

    Notes
    -----
    P(G <= g) = E(Phi((g - m + z sqrt(SS_b / U_b + (1 - h) SS_w / U_w)) / sqrt(SS_b / (a U_b)))), the mean taken over
    U_b and U_w by Gauss-Legendre integration of their quantiles.

    References
    ----------
    .. [1] Krishnamoorthy K, Mathew T. Technometrics 2004;46:44-52 (from memory).
    """
    _, weights = nodes_and_weights(number)
    shift, scale = parts
    chances = (point - means)[:, None, None] + shift
    chances /= scale
    ndtr(chances, out=chances)
    averaged: Array = np.einsum("rwb,w,b->r", chances, weights, weights)
    return averaged


def new_donning_bound(factors: Sequence[float], wearers: Sequence[str], share: float, confidence: float) -> float:
    """Return the factor that at least a share of donnings of new wearers exceeds, with confidence.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each donning. [1]
    wearers : Sequence[str]
        The wearer of each. [-]
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
        There are fewer than two wearers, their means are all the same, a factor is not above zero, or the share or
        confidence are not between 0 and 1.

    Notes
    -----
    L = exp(G_alpha), the alpha = 1 - c quantile of G = m + Z sqrt(SS_b / (a U_b)) - z sqrt(SS_b / U_b +
    (1 - h) SS_w / U_w), with Z normal, U_b chi-squared with a - 1 and U_w with N - a degrees of freedom. Integrated
    numerically, without random numbers. With one donning of each wearer it is the one-sided tolerance bound.

    References
    ----------
    .. [1] Krishnamoorthy K, Mathew T. One-sided tolerance limits in balanced and unbalanced one-way random models based
       on generalized confidence intervals. Technometrics 2004;46:44-52 (from memory).
    """
    require_coverage(share)
    require_coverage(confidence)
    logs = grouped_logs(factors, wearers)
    require_positive("spread of the wearers' means", logs.between_squares)
    return math.exp(percentile_quantile(logs, float(ndtri(share)), 1 - confidence))


def percentile_quantile(logs: GroupedLogs, quantile: float, chance: float) -> float:
    """Return the point below which the generalised pivotal quantity of a percentile lies with a chance.

    Parameters
    ----------
    logs : GroupedLogs
        Means and sums of squares of the logarithms. [1]
    quantile : float
        Normal quantile of the share that is to lie above the percentile. [1]
    chance : float
        The chance. [1]

    Returns
    -------
    float
        The point, a logarithm. [1]

    Raises
    ------
    OutsideRange
        There is no such point within reach.

    Notes
    -----
    The g with P(G <= g) = chance.

    References
    ----------
    .. [1] Krishnamoorthy K, Mathew T. Technometrics 2004;46:44-52 (from memory).
    """
    sizes = [float(size) for size in logs.donnings]
    mean, between, within = (np.array([value]) for value in (logs.mean, logs.between_squares, logs.within_squares))

    parts = shift_and_scale(between, within, sizes, quantile, NODES)

    @cache  # The ends of a search are asked for again by what looks between them.
    def excess(point: float) -> float:
        return float(chance_below(point, mean, parts, NODES)[0]) - chance

    return _root(excess, logs.mean, math.sqrt(logs.between_squares + logs.within_squares))


def _root(rising: Callable[[float], float], start: float, step: float) -> float:
    """Return where a rising function is zero, looking ever farther to both sides of a start."""
    # Imported here: it takes as long as scoring a dozen records, and few records need it.
    from scipy.optimize import brentq

    for width in (step * 2.0**double for double in range(WIDENINGS)):
        if rising(start - width) <= 0 <= rising(start + width):
            return float(brentq(rising, start - width, start + width))
    raise OutsideRange(f"Found no bound within {width:.3g} of {start:.3g}, expected results that differ less.")


def between_wearer_limits(factors: Sequence[float], wearers: Sequence[str], coverage: float) -> tuple[float, float]:
    """Return the limits of the geometric standard deviation between wearers.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each donning. [1]
    wearers : Sequence[str]
        The wearer of each. [-]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit; 1 is no difference between wearers. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, their means are all the same, no wearer has two different results, a factor is
        not above zero, or the coverage is not between 0 and 1.

    Notes
    -----
    exp(sqrt(max(Q, 0))), Q the alpha/2 and 1 - alpha/2 quantiles of SS_b / U_b - h SS_w / U_w, with U_b chi-squared
    with a - 1 and U_w with N - a degrees of freedom, alpha = 1 - p.

    References
    ----------
    .. [1] Weerahandi S. Exact Statistical Methods for Data Analysis. 1995, generalised intervals of variance components
       (from memory).
    """
    require_coverage(coverage)
    logs = grouped_logs(factors, wearers)
    require_positive("spread of the wearers' means", logs.between_squares)
    require_positive("spread of one wearer's donnings", logs.within_squares)
    probabilities, weights = nodes_and_weights(NODES)
    own = logs.inverse_donnings * logs.within_squares / chdtri(logs.degrees_within, probabilities)
    degrees = len(logs.means) - 1

    def chance(variance: float) -> float:
        # U_b above SS_b / (variance + h SS_w / U_w)
        return float(np.sum(weights * chdtrc(degrees, logs.between_squares / (variance + own))))

    tail = (1 - coverage) / 2
    low, high = (_variance_at(chance, each, logs.between_squares) for each in (tail, 1 - tail))
    return math.exp(math.sqrt(low)), math.exp(math.sqrt(high))


def _variance_at(chance: Callable[[float], float], wanted: float, step: float) -> float:
    """Return the variance at which a chance is reached, or zero where it is passed already there."""
    if chance(0.0) >= wanted:
        return 0.0
    return _root(lambda variance: chance(max(variance, 0.0)) - wanted, 0.0, step)
