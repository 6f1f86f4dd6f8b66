"""What a wearer draws in beyond a constant supply of air: closed forms for an inhalation that follows a half sine."""

from __future__ import annotations

import math

from generator.scoring.valid_range import require_between, require_not_negative, require_positive


def over_breathed_percent(supply: float, peak: float) -> float:
    """Return the share of the air breathed in that the supply does not give.

    Parameters
    ----------
    supply : float
        Constant supply flow Q. [L/min]
    peak : float
        Peak inspiratory flow A. [L/min]

    Returns
    -------
    float
        Over-breathed share F of the inhaled volume. [%]

    Raises
    ------
    OutsideRange
        The supply is below zero, or the peak is not above zero.

    Notes
    -----
    F = 100 (sqrt(1 - r^2) - r arccos r) with r = Q/A, and 0 where r >= 1: the mean of max(A sin(x) - Q, 0) over a half
    sine, divided by the mean of A sin(x). It holds for a half sine of any length.

    References
    ----------
    .. [1] Own derivation by calculus.
    """
    require_not_negative("supply flow [L/min]", supply)
    require_positive("peak inspiratory flow [L/min]", peak)
    ratio = min(1.0, supply / peak)
    # Just below the peak, rounding may leave less than nothing.
    return max(0.0, 100 * (math.sqrt(1 - ratio**2) - ratio * math.acos(ratio)))


def over_breathed_time(supply: float, peak: float) -> float:
    """Return the part of the inhalation during which more is drawn in than supplied.

    Parameters
    ----------
    supply : float
        Constant supply flow Q. [L/min]
    peak : float
        Peak inspiratory flow A. [L/min]

    Returns
    -------
    float
        Part of the time of an inhalation. [%]

    Raises
    ------
    OutsideRange
        The supply is below zero, or the peak is not above zero.

    Notes
    -----
    theta = 100 (1 - 2 arcsin(r) / pi) with r = Q/A, and 0 where r >= 1.

    References
    ----------
    .. [1] Own derivation by calculus.
    """
    require_not_negative("supply flow [L/min]", supply)
    require_positive("peak inspiratory flow [L/min]", peak)
    ratio = min(1.0, supply / peak)
    return 100 * (1 - 2 * math.asin(ratio) / math.pi)


def over_breathed_a_minute(percent: float, minute_volume: float) -> float:
    """Return the volume over-breathed in a minute.

    Parameters
    ----------
    percent : float
        Over-breathed share F. [%]
    minute_volume : float
        Air breathed in a minute. [L/min]

    Returns
    -------
    float
        Over-breathed volume in a minute. [L/min]

    Raises
    ------
    OutsideRange
        The share is not between 0 and 100, or the minute volume is not above zero.

    Notes
    -----
    V_min = F VE / 100.

    References
    ----------
    .. [1] By the definition of the share.
    """
    require_between("over-breathed share [%]", percent, 0, 100)
    require_positive("minute volume [L/min]", minute_volume)
    return percent * minute_volume / 100


def over_breathed_a_breath(percent: float, minute_volume: float, breaths: float) -> float:
    """Return the volume over-breathed in one breath.

    Parameters
    ----------
    percent : float
        Over-breathed share F. [%]
    minute_volume : float
        Air breathed in a minute. [L/min]
    breaths : float
        Breaths a minute. [/min]

    Returns
    -------
    float
        Over-breathed volume of one breath. [L]

    Raises
    ------
    OutsideRange
        The share is not between 0 and 100, or one of the others is not above zero.

    Notes
    -----
    V_ob = F VE / (100 f), since one breath is VE / f.

    References
    ----------
    .. [1] By the definition of the share.
    """
    require_between("over-breathed share [%]", percent, 0, 100)
    require_positive("minute volume [L/min]", minute_volume)
    require_positive("breaths a minute", breaths)
    return percent * minute_volume / (100 * breaths)


def cleaner_at_best(percent: float) -> float:
    """Return how many times cleaner the air breathed in is where over-breathing is the only leak.

    Parameters
    ----------
    percent : float
        Over-breathed share F. [%]

    Returns
    -------
    float
        Concentration outside divided by the mean one breathed in. [1]

    Raises
    ------
    OutsideRange
        The share is not above zero, or above 100.

    Notes
    -----
    P = 100 / F: all of the over-breathed air is from outside and reaches the wearer at once, all other air is clean.

    References
    ----------
    .. [1] Own derivation.
    """
    require_positive("over-breathed share [%]", percent)
    require_between("over-breathed share [%]", percent, 0, 100)
    return 100 / percent


def covered_minute_volume(supply: float, ratio: float) -> float:
    """Return the largest minute volume whose peaks a supply still covers.

    Parameters
    ----------
    supply : float
        Constant supply flow Q. [L/min]
    ratio : float
        Peak inspiratory flow divided by minute volume, k. [1]

    Returns
    -------
    float
        Largest minute volume without over-breathing. [L/min]

    Raises
    ------
    OutsideRange
        The supply is below zero, or the ratio is not above zero.

    Notes
    -----
    VE = Q / k. A sine that takes half of the breath has k = pi.

    References
    ----------
    .. [1] By the definition of the ratio.
    """
    require_not_negative("supply flow [L/min]", supply)
    require_positive("peak over minute volume", ratio)
    return supply / ratio
