"""What a blower takes from its battery while it delivers air, from voltage and current over time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from generator.scoring.valid_range import (
    require_between,
    require_increasing,
    require_not_negative,
    require_positive,
    require_same_length,
)

SECONDS_PER_HOUR = 3600.0
SECONDS_PER_MINUTE = 60.0
LITRES_PER_CUBIC_METRE = 1000.0
PERCENT = 100.0


def integral_until(times: Sequence[float], values: Sequence[float], end: float) -> float:
    """Return the integral of a quantity over time, by trapezoids, from the first line of a log to a time within it.

    Parameters
    ----------
    times : Sequence[float]
        Times of the lines. [s]
    values : Sequence[float]
        The quantity at each of them, in any unit. [any]
    end : float
        Where the integral ends; between two lines the quantity is taken as a straight line. [s]

    Returns
    -------
    float
        The integral. [s times any]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, the times do not go up, or the end lies outside of them.

    Notes
    -----
    I = sum((x_i + x_{i+1}) / 2 (t_{i+1} - t_i)), with the last trapezoid cut at the end.

    References
    ----------
    .. [1] Trapezoidal rule, exact for a quantity that goes in straight lines from reading to reading.
    """
    require_same_length("times and values", times, values)
    require_increasing("times [s]", times)
    require_between("end [s]", end, times[0], times[-1])
    parts = []
    for (time, value), (next_time, next_value) in pairwise(zip(times, values, strict=True)):
        last = max(time, min(next_time, end))
        at_last = value + (next_value - value) * (last - time) / (next_time - time)
        parts.append((value + at_last) / 2 * (last - time))
    return math.fsum(parts)


def electrical_energy(
    times: Sequence[float], voltages: Sequence[float], currents: Sequence[float], end: float
) -> float:
    """Return the energy that a battery gave from the first line of a log to a time within it.

    Parameters
    ----------
    times : Sequence[float]
        Times of the lines. [s]
    voltages : Sequence[float]
        Voltage of the battery. [V]
    currents : Sequence[float]
        Current that the battery gives. [A]
    end : float
        Where the energy is counted to. [s]

    Returns
    -------
    float
        Energy. [Wh]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, the times do not go up, or the end lies outside of them.

    Notes
    -----
    E = sum((U_i I_i + U_{i+1} I_{i+1}) / 2 (t_{i+1} - t_i)) / 3600, for power that goes in straight lines from line to
    line of the log.

    References
    ----------
    .. [1] Electrical work is the integral of voltage times current; trapezoidal rule.
    """
    require_same_length("voltages and currents", voltages, currents)
    powers = [voltage * current for voltage, current in zip(voltages, currents, strict=True)]
    return integral_until(times, powers, end) / SECONDS_PER_HOUR


def delivered_volume(times: Sequence[float], flows: Sequence[float], end: float) -> float:
    """Return the air that a blower delivered from the first line of a log to a time within it.

    Parameters
    ----------
    times : Sequence[float]
        Times of the lines. [s]
    flows : Sequence[float]
        Flow at each of them. [L/min]
    end : float
        Where the air is counted to. [s]

    Returns
    -------
    float
        Volume of air. [L]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, the times do not go up, or the end lies outside of them.

    Notes
    -----
    V = sum((Q_i + Q_{i+1}) / 2 (t_{i+1} - t_i)) / 60.

    References
    ----------
    .. [1] A volume is the integral of a flow; trapezoidal rule.
    """
    return integral_until(times, flows, end) / SECONDS_PER_MINUTE


def energy_for_cubic_metre(energy: float, volume: float) -> float:
    """Return the energy that a blower took for 1000 L of air.

    Parameters
    ----------
    energy : float
        Energy from the battery. [Wh]
    volume : float
        Air delivered in the same time. [L]

    Returns
    -------
    float
        Energy for 1000 L. [Wh]

    Raises
    ------
    OutsideRange
        The energy is below zero, or the volume is not above zero.

    Notes
    -----
    e = 1000 E / V, for E >= 0 and V > 0.

    References
    ----------
    .. [1] By definition.
    """
    require_not_negative("energy [Wh]", energy)
    require_positive("volume of air [L]", volume)
    return LITRES_PER_CUBIC_METRE * energy / volume


def share_of_stated_energy(energy: float, stated: float) -> float:
    """Return the energy that a battery gave as a share of what its maker states.

    Parameters
    ----------
    energy : float
        Energy that it gave. [Wh]
    stated : float
        Energy of a full battery by its maker's statement. [Wh]

    Returns
    -------
    float
        Share. [%]

    Raises
    ------
    OutsideRange
        The energy is below zero, or the stated one is not above zero.

    Notes
    -----
    s = 100 E / E_s, for E >= 0 and E_s > 0.

    References
    ----------
    .. [1] By definition.
    """
    require_not_negative("energy [Wh]", energy)
    require_positive("stated energy [Wh]", stated)
    return PERCENT * energy / stated
