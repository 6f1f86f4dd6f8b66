"""The pressure inside over time: lowest reading, mean, and the share of the time below a level."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.scoring.valid_range import require_at_least_items, require_positive, require_same_length


def lowest_pressure(pressures: Sequence[float]) -> float:
    """Return the lowest reading of a trace.

    Parameters
    ----------
    pressures : Sequence[float]
        Pressures against the room. [Pa]

    Returns
    -------
    float
        The lowest of them. [Pa]

    Raises
    ------
    OutsideRange
        There is no reading.

    Notes
    -----
    p_low = min(p_i), for n >= 1. A logger that reads rarely misses what lies between its readings.

    References
    ----------
    .. [1] By definition of a least value.
    """
    require_at_least_items("pressures", pressures, 1)
    return min(pressures)


def mean_pressure(durations: Sequence[float], pressures: Sequence[float]) -> float:
    """Return the mean pressure over time.

    Parameters
    ----------
    durations : Sequence[float]
        How long each reading is held, until the next one. [s]
    pressures : Sequence[float]
        Pressures against the room. [Pa]

    Returns
    -------
    float
        Mean over time. [Pa]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, or a duration is not above zero.

    Notes
    -----
    p_mean = sum(p_i d_i) / sum(d_i), for d_i > 0.

    References
    ----------
    .. [1] Mean of a step function.
    """
    _require_held("durations and pressures", durations, pressures)
    held = math.fsum(pressure * duration for pressure, duration in zip(pressures, durations, strict=True))
    return held / math.fsum(durations)


def share_of_time_below(durations: Sequence[float], pressures: Sequence[float], level: float) -> float:
    """Return the share of the time in which the pressure is below a level.

    Parameters
    ----------
    durations : Sequence[float]
        How long each reading is held, until the next one. [s]
    pressures : Sequence[float]
        Pressures against the room. [Pa]
    level : float
        The level; zero is the pressure of the room. [Pa]

    Returns
    -------
    float
        Share of the time; a reading on the level is not below it. [%]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, or a duration is not above zero.

    Notes
    -----
    s = 100 sum(d_i where p_i < level) / sum(d_i), for d_i > 0.

    References
    ----------
    .. [1] By definition of a share of time.
    """
    _require_held("durations and pressures", durations, pressures)
    below = math.fsum(duration for pressure, duration in zip(pressures, durations, strict=True) if pressure < level)
    return 100 * below / math.fsum(durations)


def _require_held(names: str, durations: Sequence[float], pressures: Sequence[float]) -> None:
    require_same_length(names, durations, pressures)
    for duration in durations:
        require_positive("time that a reading is held [s]", duration)
