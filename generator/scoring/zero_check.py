"""What a counter counts by itself: the zero check, taken off a concentration with its uncertainty."""

from __future__ import annotations

import math

from generator.scoring.valid_range import require_not_negative, require_positive


def zero_corrected_concentration(count: int, volume: float, zero_count: int, zero_volume: float) -> tuple[float, float]:
    """Return a concentration without what the counter counts by itself, and its standard uncertainty from counting.

    Parameters
    ----------
    count : int
        Particles counted. [count]
    volume : float
        Volume in which they were counted. [cm3]
    zero_count : int
        Particles counted in the zero check. [count]
    zero_volume : float
        Volume counted in the zero check. [cm3]

    Returns
    -------
    tuple[float, float]
        Concentration, which chance may bring below zero, and its standard uncertainty. [/cm3]

    Raises
    ------
    OutsideRange
        A count is below zero, or a volume is not above zero.

    Notes
    -----
    c = n / V - z / Z, u^2 = max(n, 1) / V^2 + max(z, 1) / Z^2. The variance of a Poisson count is taken as the count;
    a count of zero is not free of uncertainty, and is given that of one particle.

    References
    ----------
    .. [1] JCGM 100:2008, 5.1.2, for a difference of two independent quantities.
    .. [2] Own rule for counts of zero.
    """
    require_not_negative("particles counted", count)
    require_positive("counted volume [cm3]", volume)
    require_not_negative("particles counted in the zero check", zero_count)
    require_positive("volume counted in the zero check [cm3]", zero_volume)
    variance = max(count, 1) / volume**2 + max(zero_count, 1) / zero_volume**2
    return count / volume - zero_count / zero_volume, math.sqrt(variance)


def concentration_above_zero(concentration: float, zero_count: int, zero_volume: float) -> float:
    """Return a concentration as read, without what the counter counts by itself.

    Parameters
    ----------
    concentration : float
        Concentration as read. [/cm3]
    zero_count : int
        Particles counted in the zero check. [count]
    zero_volume : float
        Volume counted in the zero check. [cm3]

    Returns
    -------
    float
        Concentration, which chance may bring to zero or below. [/cm3]

    Raises
    ------
    OutsideRange
        The concentration or the count is below zero, or the volume is not above zero.

    Notes
    -----
    c = c_read - z / Z.

    References
    ----------
    .. [1] Own rule, as `zero_corrected_concentration`; the reading is used as it stands, not its rounded count.
    """
    require_not_negative("concentration as read [/cm3]", concentration)
    require_not_negative("particles counted in the zero check", zero_count)
    require_positive("volume counted in the zero check [cm3]", zero_volume)
    return concentration - zero_count / zero_volume
