"""Wearers who donned a device several times: log-normal mean, spread between wearers and spread within one wearer."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import chdtri, ndtri, stdtrit

from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_positive,
    require_same_length,
)

Array = npt.NDArray[np.float64]

SHARES = 200
"""Steps in which the likelihood is first looked over, since it may have two peaks."""


@dataclass(frozen=True)
class GroupedLogs:
    """The logarithms of factors, summed up by wearer."""

    means: Array
    """Mean of each wearer."""
    donnings: Array
    """Donnings of each wearer."""
    within_squares: float
    """Sum of squares about the wearers' own means."""
    degrees_within: int
    """Donnings beyond the first of each wearer."""
    mean: float
    """Mean of the wearers' means."""
    between_squares: float
    """Sum of squares of the wearers' means about their mean."""
    inverse_donnings: float
    """Mean over wearers of 1 over the donnings."""


def grouped_logs(factors: Sequence[float], wearers: Sequence[str]) -> GroupedLogs:
    """Sum up the logarithms of factors by wearer.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each donning. [1]
    wearers : Sequence[str]
        The wearer of each. [-]

    Returns
    -------
    GroupedLogs
        Means and sums of squares of the logarithms. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, the lists differ in length, or a factor is not above zero.

    Notes
    -----
    m_i = sum_j(ln FF_ij) / n_i; SS_w = sum_ij((ln FF_ij - m_i)^2); m = sum(m_i) / a; SS_b = sum((m_i - m)^2);
    h = sum(1 / n_i) / a.

    References
    ----------
    .. [1] Searle SR, Casella G, McCulloch CE. Variance Components. 1992, chapter 3 (from memory).
    """
    require_same_length("factors and wearers", factors, [0.0] * len(wearers))
    for factor in factors:
        require_positive("factor", factor)
    names = sorted(set(wearers))
    require_at_least_items("wearers", [0.0] * len(names), 2)
    groups = [
        np.log([factor for factor, wearer in zip(factors, wearers, strict=True) if wearer == name]) for name in names
    ]
    means = np.array([np.mean(group) for group in groups])
    donnings = np.array([float(len(group)) for group in groups])
    mean = float(np.mean(means))
    return GroupedLogs(
        means=means,
        donnings=donnings,
        within_squares=math.fsum(float(np.sum((group - np.mean(group)) ** 2)) for group in groups),
        degrees_within=len(factors) - len(names),
        mean=mean,
        between_squares=float(np.sum((means - mean) ** 2)),
        inverse_donnings=float(np.mean(1 / donnings)),
    )


def _restricted_fit(share: float, logs: GroupedLogs) -> tuple[float, float, float]:
    """Return the restricted deviance, the mean and the total variance for one share of variance between wearers."""
    weights = 1 / (share + (1 - share) / logs.donnings)
    mean = float(np.sum(weights * logs.means) / np.sum(weights))
    degrees = float(np.sum(logs.donnings)) - 1
    squares = logs.within_squares / (1 - share) + float(np.sum(weights * (logs.means - mean) ** 2))
    variance = squares / degrees
    deviance = degrees * math.log(variance) + logs.degrees_within * math.log(1 - share)
    deviance = deviance + math.log(float(np.sum(weights))) - float(np.sum(np.log(weights)))
    return deviance, mean, variance


def _restricted_deviances(shares: Array, logs: GroupedLogs) -> Array:
    """Return the restricted deviance for each of several shares of variance between wearers, all at once."""
    column = shares[:, None]
    weights = 1 / (column + (1 - column) / logs.donnings)
    sums = np.sum(weights, axis=1)
    means = np.sum(weights * logs.means, axis=1) / sums
    degrees = float(np.sum(logs.donnings)) - 1
    squares = logs.within_squares / (1 - shares) + np.sum(weights * (logs.means - means[:, None]) ** 2, axis=1)
    deviances: Array = degrees * np.log(squares / degrees) + logs.degrees_within * np.log(1 - shares)
    deviances += np.log(sums) - np.sum(np.log(weights), axis=1)
    return deviances


def _most_likely_share(logs: GroupedLogs) -> float:
    """Return the share of variance between wearers, 0 or more and below 1, with the least restricted deviance."""
    # Imported here: it takes as long as scoring a dozen records, and few records need it.
    from scipy.optimize import minimize_scalar

    shares = [step / SHARES for step in range(SHARES)]
    best = shares[int(np.argmin(_restricted_deviances(np.array(shares), logs)))]
    around = (max(best - 1 / SHARES, 0.0), min(best + 1 / SHARES, 1 - 1e-9))
    found = minimize_scalar(
        lambda share: _restricted_fit(share, logs)[0], bounds=around, method="bounded", options={"xatol": 1e-12}
    )
    return best if _restricted_fit(best, logs)[0] <= found.fun else float(found.x)


def between_and_within_wearers(factors: Sequence[float], wearers: Sequence[str]) -> tuple[float, float, float]:
    """Return the geometric mean with the geometric standard deviations between and within wearers.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each donning. [1]
    wearers : Sequence[str]
        The wearer of each. [-]

    Returns
    -------
    tuple[float, float, float]
        Geometric mean, geometric standard deviation between wearers, and within one wearer. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, no wearer has two different results, or a factor is not above zero.

    Notes
    -----
    ln FF_ij = mu + A_i + E_ij, A_i ~ N(0, sigma_b^2), E_ij ~ N(0, sigma_w^2). The variances are those that make the
    restricted likelihood greatest (REML), sigma_b^2 >= 0; the donnings of wearers may differ in number.

    References
    ----------
    .. [1] Patterson HD, Thompson R. Recovery of inter-block information when block sizes are unequal. Biometrika
       1971;58:545-554 (from memory).
    """
    logs = grouped_logs(factors, wearers)
    require_positive("spread of one wearer's donnings", logs.within_squares)
    share = _most_likely_share(logs)
    _, mean, variance = _restricted_fit(share, logs)
    between, within = math.sqrt(share * variance), math.sqrt((1 - share) * variance)
    return math.exp(mean), math.exp(between), math.exp(within)


def nested_mean_limits(factors: Sequence[float], wearers: Sequence[str], coverage: float) -> tuple[float, float]:
    """Return the limits of the geometric mean over all wearers like those tested, who donned it several times.

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
        Lower and upper limit. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, a factor is not above zero, or the coverage is not between 0 and 1.

    Notes
    -----
    exp(m -/+ max(t_b sqrt(SS_b / (a (a - 1))), t_w sqrt(h SS_w / (a (N - a))))), t_b = t((1 + p)/2; a - 1), t_w =
    t((1 + p)/2; N - a), with m and SS_b of the a wearers' mean logarithms. The first is exact where all donned it
    equally often; the second keeps wearers who are alike by chance from making the limits closer than their own
    donnings allow.

    References
    ----------
    .. [1] Searle SR, Casella G, McCulloch CE. Variance Components. 1992, chapter 3 (from memory).
    """
    require_coverage(coverage)
    logs = grouped_logs(factors, wearers)
    number = len(logs.means)
    half = stdtrit(number - 1, (1 + coverage) / 2) * math.sqrt(logs.between_squares / (number * (number - 1)))
    if logs.degrees_within:
        squares = logs.inverse_donnings * logs.within_squares / (number * logs.degrees_within)
        half = max(half, stdtrit(logs.degrees_within, (1 + coverage) / 2) * math.sqrt(squares))
    return math.exp(logs.mean - half), math.exp(logs.mean + half)


def within_wearer_limits(factors: Sequence[float], wearers: Sequence[str], coverage: float) -> tuple[float, float]:
    """Return the limits of the geometric standard deviation within one wearer.

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
        Lower and upper limit. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, no wearer has two different results, a factor is not above zero, or the
        coverage is not between 0 and 1.

    Notes
    -----
    exp(sqrt(SS_w / chi2)), chi2 the 1 - alpha/2 and alpha/2 quantiles with N - a degrees of freedom, alpha = 1 - p.

    References
    ----------
    .. [1] Searle SR, Casella G, McCulloch CE. Variance Components. 1992, chapter 3 (from memory).
    """
    require_coverage(coverage)
    logs = grouped_logs(factors, wearers)
    require_positive("spread of one wearer's donnings", logs.within_squares)
    tail = (1 - coverage) / 2
    # chdtri inverts the upper tail of the chi-squared distribution.
    low, high = (logs.within_squares / float(chdtri(logs.degrees_within, each)) for each in (tail, 1 - tail))
    return math.exp(math.sqrt(low)), math.exp(math.sqrt(high))


def new_donning_percentile(factors: Sequence[float], wearers: Sequence[str], share: float) -> float:
    """Return the factor that a share of donnings of new wearers is estimated to exceed.

    Parameters
    ----------
    factors : Sequence[float]
        Fit factors, one of each donning. [1]
    wearers : Sequence[str]
        The wearer of each. [-]
    share : float
        Share above it; 0.95 gives the 5th percentile. [1]

    Returns
    -------
    float
        Estimate of the percentile. [1]

    Raises
    ------
    OutsideRange
        There are fewer than two wearers, no wearer has two different results, a factor is not above zero, or the share
        is not between 0 and 1.

    Notes
    -----
    FF_share = GM exp(-z sqrt(sigma_b^2 + sigma_w^2)), z the normal quantile of the share.

    References
    ----------
    .. [1] Krishnamoorthy K, Mathew T. Technometrics 2004;46:44-52 (from memory).
    """
    require_coverage(share)
    mean, between, within = between_and_within_wearers(factors, wearers)
    total = math.hypot(math.log(between), math.log(within))
    return mean * math.exp(-ndtri(share) * total)
