"""What a sound level comes to over a day, by the rule of the United States for noise at work."""

from __future__ import annotations

import math

from generator.scoring.valid_range import require_between, require_not_negative, require_positive

LOWEST_TABLED = 80.0
"""The level that the table of reference durations begins with. [dB(A)] 29 CFR 1910.95, Table G-16A."""
HIGHEST_TABLED = 130.0
"""The level that it ends with. [dB(A)]"""


def reference_duration(level: float) -> float:
    """Return for how long a level may last until the day's allowance is used up.

    Parameters
    ----------
    level : float
        A-weighted level. [dB(A)]

    Returns
    -------
    float
        Reference duration. [h]

    Raises
    ------
    OutsideRange
        The level is below 80 dB(A) or above 130 dB(A), where the rule's table begins and ends.

    Notes
    -----
    T = 8 / 2^((L - 90)/5), for 80 <= L <= 130.

    References
    ----------
    .. [1] 29 CFR 1910.95, Appendix A, Table G-16A and the formula below it.
    """
    require_between("level [dB(A)]", level, LOWEST_TABLED, HIGHEST_TABLED)
    return float(8 / 2 ** ((level - 90) / 5))


def noise_dose(hours: float, allowed_hours: float) -> float:
    """Return which share of a day's allowance a level uses up.

    Parameters
    ----------
    hours : float
        Time at the level in a day. [h]
    allowed_hours : float
        Reference duration of the level. [h]

    Returns
    -------
    float
        Dose; above 100 the allowance is exceeded. [%]

    Raises
    ------
    OutsideRange
        The time is below zero, or the reference duration is not above zero.

    Notes
    -----
    D = 100 C / T, for one level all the time.

    References
    ----------
    .. [1] 29 CFR 1910.95, Appendix A, I(1).
    """
    require_not_negative("time at the level [h]", hours)
    require_positive("reference duration [h]", allowed_hours)
    return 100 * hours / allowed_hours


def eight_hour_level(dose: float) -> float:
    """Return the level that would use up the same share of a day's allowance in eight hours.

    Parameters
    ----------
    dose : float
        Dose. [%]

    Returns
    -------
    float
        Time-weighted average over eight hours. [dB(A)]

    Raises
    ------
    OutsideRange
        The dose is not above zero.

    Notes
    -----
    TWA = 16.61 log10(D / 100) + 90, for D > 0.

    References
    ----------
    .. [1] 29 CFR 1910.95, Appendix A, II.
    """
    require_positive("dose [%]", dose)
    return 16.61 * math.log10(dose / 100) + 90
