"""What counting few particles leaves open: exact and gamma intervals of counts, rates and fit factors."""

from __future__ import annotations

from collections.abc import Sequence

from scipy.special import betaincinv, chdtri, gammaincinv

from generator.scoring.fit_factors import exercise_weights
from generator.scoring.valid_range import (
    require_coverage,
    require_not_negative,
    require_positive,
    require_same_length,
)

COVERAGE = 0.95
"""Coverage probability of every interval that is published."""


def poisson_limits(count: int, coverage: float) -> tuple[float, float]:
    """Return the exact limits of the mean of a Poisson count.

    Parameters
    ----------
    count : int
        Particles counted. [count]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit of the expected count. [count]

    Raises
    ------
    OutsideRange
        The count is below zero, or the coverage is not between 0 and 1.

    Notes
    -----
    lower = chi2(alpha/2; 2n) / 2, and 0 for n = 0; upper = chi2(1 - alpha/2; 2n + 2) / 2; alpha = 1 - coverage.

    References
    ----------
    .. [1] Garwood F. Fiducial limits for the Poisson distribution. Biometrika 1936;28:437-442.
    """
    require_not_negative("particles counted", count)
    require_coverage(coverage)
    tail = (1 - coverage) / 2
    # chdtri inverts the upper tail of the chi-squared distribution.
    lower = float(chdtri(2 * count, 1 - tail)) / 2 if count else 0.0
    upper = float(chdtri(2 * count + 2, tail)) / 2
    return lower, upper


def rate_ratio_limits(
    count: int, volume: float, reference_count: int, reference_volume: float, coverage: float
) -> tuple[float, float | None]:
    """Return the exact limits of the ratio of two Poisson rates, given their total count.

    Parameters
    ----------
    count : int
        Particles counted in the first sample, such as inside the mask. [count]
    volume : float
        Volume of the first sample. [cm3]
    reference_count : int
        Particles counted in the second sample, such as outside. [count]
    reference_volume : float
        Volume of the second sample. [cm3]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float | None]
        Lower and upper limit of the first rate over the second; None where there is no upper limit. [1]

    Raises
    ------
    OutsideRange
        A count is below zero, both are zero, a volume is not above zero, or the coverage is not between 0 and 1.

    Notes
    -----
    Given the total, the first count is binomial with p = V theta / (V theta + V_ref). The Clopper-Pearson limits of p
    give theta = (V_ref / V) p / (1 - p) at each end.

    References
    ----------
    .. [1] Fay MP. Testing the Ratio of Two Poisson Rates (vignette of the R package rateratio.test).
    """
    require_not_negative("particles counted in the first sample", count)
    require_not_negative("particles counted in the second sample", reference_count)
    require_positive("particles counted in both samples", count + reference_count)
    require_positive("volume of the first sample [cm3]", volume)
    require_positive("volume of the second sample [cm3]", reference_volume)
    require_coverage(coverage)
    tail = (1 - coverage) / 2
    low_share = float(betaincinv(count, reference_count + 1, tail)) if count else 0.0
    lower = reference_volume / volume * low_share / (1 - low_share)
    if not reference_count:
        return lower, None
    high_share = float(betaincinv(count + 1, reference_count, 1 - tail))
    return lower, reference_volume / volume * high_share / (1 - high_share)


def weighted_count_limits(counts: Sequence[int], weights: Sequence[float], coverage: float) -> tuple[float, float]:
    """Return the limits of a weighted sum of Poisson means, by the gamma method.

    Parameters
    ----------
    counts : Sequence[int]
        Particles counted, per exercise. [count]
    weights : Sequence[float]
        What one particle adds to the sum, per exercise. [1/count]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit of the weighted sum. [1]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, a count is below zero, a weight is not above zero, or the coverage is
        not between 0 and 1.

    Notes
    -----
    y = sum(w_i n_i), v = sum(w_i^2 n_i), W = max(w_i). lower = (v/y) G(alpha/2; y^2/v), and 0 for y = 0;
    upper = ((v + W^2) / (y + W)) G(1 - alpha/2; (y + W)^2 / (v + W^2)), where G(p; a) is the p quantile of the gamma
    distribution of shape a and scale 1. With equal weights these are Garwood's exact limits.

    References
    ----------
    .. [1] Fay MP, Feuer EJ. Confidence intervals for directly standardized rates: a method based on the gamma
       distribution. Stat Med 1997;16:791-801.
    """
    require_same_length("counts and weights", counts, weights)
    for count, weight in zip(counts, weights, strict=True):
        require_not_negative("particles counted", count)
        require_positive("weight of a particle", weight)
    require_coverage(coverage)
    tail = (1 - coverage) / 2
    total = sum(weight * count for weight, count in zip(weights, counts, strict=True))
    variance = sum(weight**2 * count for weight, count in zip(weights, counts, strict=True))
    lower = variance / total * float(gammaincinv(total**2 / variance, tail)) if total else 0.0
    total_above = total + max(weights)
    variance_above = variance + max(weights) ** 2
    upper = variance_above / total_above * float(gammaincinv(total_above**2 / variance_above, 1 - tail))
    return lower, upper


def exercise_fit_factor_limits(
    count: int,
    volume: float,
    ambient_count: int,
    ambient_volume: float,
    ambient_lower: float,
    ambient_higher: float,
    coverage: float,
) -> tuple[float, float | None]:
    """Return the limits of one exercise's fit factor from the counts inside and outside.

    Parameters
    ----------
    count : int
        Particles counted inside the mask. [count]
    volume : float
        Volume counted inside the mask. [cm3]
    ambient_count : int
        Particles counted outside, before and after together. [count]
    ambient_volume : float
        Volume counted outside, before and after together. [cm3]
    ambient_lower : float
        The lower of the ambient concentrations before and after. [/cm3]
    ambient_higher : float
        The higher of the ambient concentrations before and after. [/cm3]
    coverage : float
        Coverage probability of the counting, two-sided. [1]

    Returns
    -------
    tuple[float, float | None]
        Lower and upper limit of the fit factor; None where there is no upper limit. [1]

    Raises
    ------
    OutsideRange
        As for `rate_ratio_limits`; or nothing was counted outside; or an ambient concentration is not above zero.

    Notes
    -----
    With the limits theta of the ambient rate over the in-mask rate and C = ambient_count / ambient_volume:
    lower = theta_lower C_lower / C; upper = theta_upper C_higher / C. So the interval also holds where the ambient
    concentration moved from one of its two samples to the other.

    References
    ----------
    .. [1] Fay MP, as for `rate_ratio_limits`; the widening for ambient change is derived here.
    """
    require_positive("particles counted outside", ambient_count)
    require_positive("lower ambient concentration [/cm3]", ambient_lower)
    require_positive("higher ambient concentration [/cm3]", ambient_higher)
    low_ratio, high_ratio = rate_ratio_limits(ambient_count, ambient_volume, count, volume, coverage)
    ambient = ambient_count / ambient_volume
    lower = low_ratio * ambient_lower / ambient
    return lower, None if high_ratio is None else high_ratio * ambient_higher / ambient


def overall_fit_factor_limits(
    counts: Sequence[int],
    volumes: Sequence[float],
    ambients_lower: Sequence[float],
    ambients_higher: Sequence[float],
    coverage: float,
) -> tuple[float, float | None]:
    """Return the limits of the overall fit factor from the counts inside the mask.

    Parameters
    ----------
    counts : Sequence[int]
        Particles counted inside the mask, per exercise. [count]
    volumes : Sequence[float]
        Volumes counted inside the mask, per exercise. [cm3]
    ambients_lower : Sequence[float]
        The lower of the ambient concentrations before and after, per exercise. [/cm3]
    ambients_higher : Sequence[float]
        The higher of the ambient concentrations before and after, per exercise. [/cm3]
    coverage : float
        Coverage probability of the counting, two-sided. [1]

    Returns
    -------
    tuple[float, float | None]
        Lower and upper limit of the overall fit factor; None where there is no upper limit. [1]

    Raises
    ------
    OutsideRange
        As for `weighted_count_limits` and `exercise_weights`.

    Notes
    -----
    lower = 1 / L_upper with the weights of the lower ambient concentrations; upper = 1 / L_lower with those of the
    higher ones, where L are the limits of sum(w_i n_i). Ambient counting error is taken as small beside ambient change.

    References
    ----------
    .. [1] Fay MP, Feuer EJ, as for `weighted_count_limits`; the widening for ambient change is derived here.
    """
    _, leak_upper = weighted_count_limits(counts, exercise_weights(volumes, ambients_lower), coverage)
    leak_lower, _ = weighted_count_limits(counts, exercise_weights(volumes, ambients_higher), coverage)
    return 1 / leak_upper, 1 / leak_lower if leak_lower else None


def at_least_fit_factor(volumes: Sequence[float], ambients_lower: Sequence[float], coverage: float) -> float:
    """Return what an overall fit factor is at least, where no particle was counted inside in any exercise.

    Parameters
    ----------
    volumes : Sequence[float]
        Volumes counted inside the mask, per exercise. [cm3]
    ambients_lower : Sequence[float]
        The lower of the ambient concentrations before and after, per exercise. [/cm3]
    coverage : float
        Coverage probability, one-sided. [1]

    Returns
    -------
    float
        Lower bound of the fit factor. [1]

    Raises
    ------
    OutsideRange
        As for `exercise_weights`, or the coverage is not between 0.5 and 1.

    Notes
    -----
    FF >= 1 / (m max(w_i)) with w_i = 1 / (N V_i C_i) and m the one-sided upper limit of a count of zero: 2.9957 at
    95 %. The counts are pooled first and then bounded: the harmonic mean of each exercise's own bound
    would be N times too low where the exercises weigh the same.

    References
    ----------
    .. [1] Garwood F. Biometrika 1936;28:437-442, the limit of a count of zero; pooling derived here.
    """
    require_coverage(coverage)
    # One-sided at 95 %: the upper end of the two-sided interval at 90 %.
    _, most_counts = poisson_limits(0, 2 * coverage - 1)
    return 1 / (most_counts * max(exercise_weights(volumes, ambients_lower)))
