"""What is left of a protection where the device is not worn all the time: a what-if, never a figure of the device."""

from __future__ import annotations

from generator.scoring.valid_range import require_not_negative, require_positive


def hypothetical_protection(protection: float, share_off: float) -> float:
    """Return the hypothetical protection over the whole time, where a device is off for a share of it.

    Parameters
    ----------
    protection : float
        Protection while it is worn, assumed. [1]
    share_off : float
        Share of the time during which it is not worn. [1]

    Returns
    -------
    float
        Hypothetical protection over the whole time. [1]

    Raises
    ------
    OutsideRange
        The protection is not above zero, or the share is not 0 to 1.

    Notes
    -----
    P = 1 / (f + (1 - f) / PF), for 0 <= f <= 1 and PF > 0: the mean concentration breathed, with the same air around
    the wearer all the time. Hypothetical: nobody measured it.

    References
    ----------
    .. [1] Hinds WC. Aerosol Technology. 2nd ed., 1999: a time-weighted mean (from memory).
    """
    require_positive("protection while worn", protection)
    require_not_negative("share of time off", share_off)
    require_not_negative("share of time on", 1 - share_off)
    return 1 / (share_off + (1 - share_off) / protection)
