"""Fit factors: what the wearer's side of the mask is worth, from particle concentrations or counts."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from generator.scoring.valid_range import (
    require_at_least_items,
    require_not_negative,
    require_positive,
    require_same_length,
)

SECONDS_PER_MINUTE = 60


def counted_volume(counted_flow: float, time: float) -> float:
    """Return the volume of air in which a counter counted every particle.

    Parameters
    ----------
    counted_flow : float
        Air flow that is counted, which may be less than the flow drawn. [cm3/min]
    time : float
        Time of counting. [s]

    Returns
    -------
    float
        Volume. [cm3]

    Raises
    ------
    OutsideRange
        Flow or time is not above zero.

    Notes
    -----
    V = Q t / 60, for Q > 0 and t > 0.

    References
    ----------
    .. [1] Hinds WC, Aerosol Technology, 2nd ed. 1999, chapter on optical counting: number concentration is count over
       sampled volume (from memory).
    """
    require_positive("counted flow [cm3/min]", counted_flow)
    require_positive("time of counting [s]", time)
    return counted_flow * time / SECONDS_PER_MINUTE


def concentration_from_count(count: float, counted_flow: float, time: float) -> float:
    """Return the number concentration that a count of particles means.

    Parameters
    ----------
    count : float
        Particles counted. [count]
    counted_flow : float
        Air flow that is counted. [cm3/min]
    time : float
        Time of counting. [s]

    Returns
    -------
    float
        Concentration. [/cm3]

    Raises
    ------
    OutsideRange
        The count is below zero, or flow or time is not above zero.

    Notes
    -----
    c = 60 n / (Q t), for n >= 0, Q > 0 and t > 0; without correction for coincidence.

    References
    ----------
    .. [1] Hinds WC, Aerosol Technology, 2nd ed. 1999 (from memory), as for `counted_volume`.
    """
    require_not_negative("particles counted", count)
    require_positive("counted flow [cm3/min]", counted_flow)
    require_positive("time of counting [s]", time)
    return SECONDS_PER_MINUTE * count / (counted_flow * time)


def count_from_concentration(concentration: float, volume: float) -> int:
    """Return the whole number of particles behind a concentration read from a counter of single particles.

    Parameters
    ----------
    concentration : float
        Concentration as read. [/cm3]
    volume : float
        Counted volume. [cm3]

    Returns
    -------
    int
        Particles counted: the nearest whole number, and at least one where the concentration is not zero. [count]

    Raises
    ------
    OutsideRange
        The concentration is below zero, or the volume is not above zero.

    Notes
    -----
    n = round(c V), for c >= 0 and V > 0. A reading above zero cannot come from no particle at all, hence at least one.

    References
    ----------
    .. [1] Own rule; the inverse of `concentration_from_count`.
    """
    require_not_negative("concentration [/cm3]", concentration)
    require_positive("counted volume [cm3]", volume)
    if concentration == 0:
        return 0
    return max(1, round(concentration * volume))


def ambient_mean(before: float, after: float) -> float:
    """Return the ambient concentration that an in-mask concentration is compared with.

    Parameters
    ----------
    before : float
        Ambient concentration before the exercise, or the first one. [/cm3]
    after : float
        Ambient concentration after the exercise, or the last one. [/cm3]

    Returns
    -------
    float
        Mean ambient concentration. [/cm3]

    Raises
    ------
    OutsideRange
        A concentration is not above zero.

    Notes
    -----
    C = (C_before + C_after) / 2, for concentrations above zero.

    References
    ----------
    .. [1] 29 CFR 1910.134 Appendix A, Part I.C.2(b)(8)(ii), the arithmetic mean of before and after (from memory).
    """
    require_positive("ambient concentration before [/cm3]", before)
    require_positive("ambient concentration after [/cm3]", after)
    return (before + after) / 2


def exercise_fit_factor(ambient: float, in_mask: float) -> float:
    """Return the fit factor of one exercise.

    Parameters
    ----------
    ambient : float
        Mean ambient concentration. [/cm3]
    in_mask : float
        Mean concentration inside the mask. [/cm3]

    Returns
    -------
    float
        Fit factor. [1]

    Raises
    ------
    OutsideRange
        A concentration is not above zero; for no particles inside see `at_least_fit_factor`.

    Notes
    -----
    FF = C / c, for C > 0 and c > 0.

    References
    ----------
    .. [1] 29 CFR 1910.134 Appendix A, Part I.C.2(b)(8) (from memory).
    """
    require_positive("ambient concentration [/cm3]", ambient)
    require_positive("in-mask concentration [/cm3]", in_mask)
    return ambient / in_mask


def overall_fit_factor(fit_factors: Sequence[float]) -> float:
    """Return the overall fit factor: the harmonic mean over the counted exercises.

    Parameters
    ----------
    fit_factors : Sequence[float]
        Fit factors of the exercises that count. [1]

    Returns
    -------
    float
        Overall fit factor. [1]

    Raises
    ------
    OutsideRange
        There is no fit factor, or one is not above zero.

    Notes
    -----
    FF = N / sum(1 / FF_i), for N >= 1 and every FF_i > 0. The worst exercise weighs most.

    References
    ----------
    .. [1] Lee S-A et al., J Healthc Eng 2016:8572493, eq. 1.
    .. [2] 29 CFR 1910.134 Appendix A, Part I.C.2(b)(9) (from memory).
    """
    require_at_least_items("fit factors", fit_factors, 1)
    for fit_factor in fit_factors:
        require_positive("fit factor of an exercise", fit_factor)
    # In exact fractions: with rounded reciprocals, seven times 100 gave 99.99999999999999 and missed a level of 100.
    return float(len(fit_factors) / sum(1 / Fraction(fit_factor) for fit_factor in fit_factors))


def pooled_fit_factor(counts: Sequence[float], volumes: Sequence[float], ambients: Sequence[float]) -> float:
    """Return the overall fit factor from counts, where an exercise may have counted no particle.

    Parameters
    ----------
    counts : Sequence[float]
        Particles counted inside the mask, per exercise. [count]
    volumes : Sequence[float]
        Counted volumes, per exercise. [cm3]
    ambients : Sequence[float]
        Mean ambient concentrations, per exercise. [/cm3]

    Returns
    -------
    float
        Overall fit factor. [1]

    Raises
    ------
    OutsideRange
        The lists differ in length, a volume or ambient concentration is not above zero, or no particle was counted.

    Notes
    -----
    FF = 1 / sum(w_i n_i) with w_i = 1 / (N V_i C_i); for sum(n_i) > 0. With every n_i > 0 this is the harmonic mean.

    References
    ----------
    .. [1] Derived here from [2]_ with c_i = n_i / V_i.
    .. [2] Lee S-A et al., J Healthc Eng 2016:8572493, eq. 1.
    """
    weights = exercise_weights(volumes, ambients)
    require_same_length("counts and volumes", counts, volumes)
    for count in counts:
        require_not_negative("particles counted", count)
    require_positive("particles counted in all exercises", sum(counts))
    return 1 / sum(weight * count for weight, count in zip(weights, counts, strict=True))


def exercise_weights(volumes: Sequence[float], ambients: Sequence[float]) -> tuple[float, ...]:
    """Return what one particle counted in each exercise adds to the overall penetration.

    Parameters
    ----------
    volumes : Sequence[float]
        Counted volumes, per exercise. [cm3]
    ambients : Sequence[float]
        Ambient concentrations, per exercise. [/cm3]

    Returns
    -------
    tuple[float, ...]
        Weights. [1/count]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, or a value is not above zero.

    Notes
    -----
    w_i = 1 / (N V_i C_i), so that 1 / FF = sum(w_i n_i).

    References
    ----------
    .. [1] Derived here from the harmonic mean of `overall_fit_factor`.
    """
    require_same_length("volumes and ambient concentrations", volumes, ambients)
    for volume, ambient in zip(volumes, ambients, strict=True):
        require_positive("counted volume [cm3]", volume)
        require_positive("ambient concentration [/cm3]", ambient)
    exercises = len(volumes)
    return tuple(1 / (exercises * volume * ambient) for volume, ambient in zip(volumes, ambients, strict=True))


def inward_leakage(fit_factor: float) -> float:
    """Return the inward leakage that a fit factor means for that counter's particles.

    Parameters
    ----------
    fit_factor : float
        Overall fit factor. [1]

    Returns
    -------
    float
        Inward leakage: the concentration inside as a share of the one outside. [%]

    Raises
    ------
    OutsideRange
        The fit factor is not above zero.

    Notes
    -----
    IL = 100 / FF, for FF > 0. It includes what came through the filter and the leaks, and nothing of gases.

    References
    ----------
    .. [1] EN 12941 classes: leakage 10, 2, 0.2 % beside nominal protection factors 10, 50, 500 (secondary pages).
    """
    require_positive("fit factor", fit_factor)
    return 100 / fit_factor
