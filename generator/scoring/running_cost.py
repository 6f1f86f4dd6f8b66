"""What an hour with a device costs: its price over its hours, and what is used up."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.scoring.valid_range import require_not_negative, require_positive, require_same_length


def cost_of_an_hour(
    price: float | None, hours: float, part_prices: Sequence[float], part_hours: Sequence[float]
) -> float:
    """Return what an hour of use costs.

    Parameters
    ----------
    price : float | None
        Price of the device; None where it is not on record, and the result is then a least cost. [currency]
    hours : float
        Hours of use over its life. [h]
    part_prices : Sequence[float]
        Price of one of each part that is used up. [currency]
    part_hours : Sequence[float]
        How long one of each lasts. [h]

    Returns
    -------
    float
        Cost of an hour. [currency/h]

    Raises
    ------
    OutsideRange
        A price is below zero, a time not above zero, or the lists differ in length.

    Notes
    -----
    c = P / H + sum(p_i / t_i), without P / H where P is not on record. Parts are counted by the time they are used, not
    in whole pieces; what comes with the device, or is left of a part at the end, is not taken off. Energy is not in it.

    References
    ----------
    .. [1] Own definition.
    """
    if price is not None:
        require_not_negative("price of the device", price)
    require_positive("hours of use [h]", hours)
    if part_prices or part_hours:
        require_same_length("prices of parts and how long they last", part_prices, part_hours)
    for each in part_prices:
        require_not_negative("price of a part", each)
    for lasts in part_hours:
        require_positive("how long a part lasts [h]", lasts)
    of_device = 0.0 if price is None else price / hours
    return of_device + math.fsum(each / lasts for each, lasts in zip(part_prices, part_hours, strict=True))
