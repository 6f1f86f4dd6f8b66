"""The interval of a figure that rests on several uncertain numbers, from what each of them alone does to it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.scoring.valid_range import require_ordered, require_same_length


def combined_ends(value: float, lows: Sequence[float], highs: Sequence[float]) -> tuple[float, float]:
    """Return the ends of the interval of a figure that rests on several independent numbers.

    Parameters
    ----------
    value : float
        The figure. [any]
    lows : Sequence[float]
        The least that it becomes where one number takes either end of its interval and the others stay. [as value]
    highs : Sequence[float]
        The most that it becomes likewise; infinity where there is no most. [as value]

    Returns
    -------
    tuple[float, float]
        Lower and upper end. [as value]

    Raises
    ------
    OutsideRange
        The lists differ in length, or a low lies above the figure or a high below it.

    Notes
    -----
    low = y - sqrt(sum((y - l)^2)), high = y + sqrt(sum((h - y)^2)): the law of propagation of uncertainty with finite
    steps in place of derivatives. Where the figure is a linear function of the numbers it is that law itself.

    References
    ----------
    .. [1] JCGM 100:2008 5.1.3, note 2 (derivatives by finite steps; from memory).
    """
    require_same_length("lows and highs", lows, highs)
    for low, high in zip(lows, highs, strict=True):
        require_ordered("low and figure", low, value)
        require_ordered("figure and high", value, high)
    return value - math.hypot(*(value - low for low in lows)), value + math.hypot(*(high - value for high in highs))
