"""Sound levels: what a background leaves of a reading, and what several sounds make together."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.scoring.valid_range import require_at_least_items, require_not_negative, require_ordered

LEAST_ABOVE_BACKGROUND = 3.0
"""Nearer to its background than this, a level is more background than source. [dB] Common practice, no source."""


def level_without_background(level: float, background: float) -> float:
    """Return the level that a source makes alone, from the level with it running and with it off.

    Parameters
    ----------
    level : float
        A-weighted level with the source running. [dB(A)]
    background : float
        A-weighted level at the same place with the source off. [dB(A)]

    Returns
    -------
    float
        A-weighted level of the source alone. [dB(A)]

    Raises
    ------
    OutsideRange
        The background is below zero, or less than 3 dB below the level.

    Notes
    -----
    L_s = 10 log10(10^(L/10) - 10^(L_b/10)), for L - L_b >= 3 dB. From 10 dB apart on, less than half a decibel is
    taken off.

    References
    ----------
    .. [1] Energies of sounds that have nothing to do with one another add up; least distance: common practice.
    """
    require_not_negative("background level [dB(A)]", background)
    require_ordered("background, and level less 3 dB [dB(A)]", background, level - LEAST_ABOVE_BACKGROUND)
    return 10 * math.log10(10 ** (level / 10) - 10 ** (background / 10))


def summed_level(levels: Sequence[float]) -> float:
    """Return the level that several sounds make together.

    Parameters
    ----------
    levels : Sequence[float]
        A-weighted levels at one place, each of one source alone. [dB(A)]

    Returns
    -------
    float
        A-weighted level of all of them. [dB(A)]

    Raises
    ------
    OutsideRange
        There is no level, or one is below zero.

    Notes
    -----
    L = 10 log10(sum(10^(L_i/10))), for sounds that have nothing to do with one another.

    References
    ----------
    .. [1] Energies of sounds that have nothing to do with one another add up.
    """
    require_at_least_items("levels", levels, 1)
    for level in levels:
        require_not_negative("level [dB(A)]", level)
    return 10 * math.log10(math.fsum(10 ** (level / 10) for level in levels))
