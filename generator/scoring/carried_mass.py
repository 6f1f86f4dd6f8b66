"""What a wearer carries: the sum of the parts, and the share of it on the head."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.scoring.valid_range import require_at_least_items, require_not_negative, require_positive


def total_mass(masses: Sequence[float]) -> float:
    """Return the mass of all parts together.

    Parameters
    ----------
    masses : Sequence[float]
        Mass of each part. [g]

    Returns
    -------
    float
        Sum. [g]

    Raises
    ------
    OutsideRange
        There is no part, or a mass is not above zero.

    Notes
    -----
    m = sum(m_i), for one part or more.

    References
    ----------
    .. [1] Own definition.
    """
    require_at_least_items("parts", masses, 1)
    for mass in masses:
        require_positive("mass of a part [g]", mass)
    return math.fsum(masses)


def share_on_head(on_head: float, total: float) -> float:
    """Return the share of what is carried that the head carries.

    Parameters
    ----------
    on_head : float
        Mass of the parts on the head; zero where there is none. [g]
    total : float
        Mass of all parts. [g]

    Returns
    -------
    float
        Share. [%]

    Raises
    ------
    OutsideRange
        The mass on the head is below zero or above that of all parts, or there is none.

    Notes
    -----
    s = 100 m_head / m, exactly 100 where all is on the head.

    References
    ----------
    .. [1] Own definition.
    """
    require_positive("mass of all parts [g]", total)
    require_not_negative("mass on the head [g]", on_head)
    require_not_negative("mass elsewhere [g]", total - on_head)
    return 100 * (on_head / total)
