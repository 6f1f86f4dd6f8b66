"""Volume flows of air in other conditions: by a float meter's scale, and in the air that a clause states."""

from __future__ import annotations

import math

from generator.scoring.valid_range import require_not_negative, require_positive


def flow_from_scale_reading(reading: float, scale_density: float, air_density: float) -> float:
    """Return the volume flow that a variable-area meter reads in other air than its scale was made for.

    Parameters
    ----------
    reading : float
        Flow as read on the scale. [L/min]
    scale_density : float
        Density of the air that the scale was made for. [kg/m3]
    air_density : float
        Density of the air that flowed. [kg/m3]

    Returns
    -------
    float
        Volume flow of the air that flowed. [L/min]

    Raises
    ------
    OutsideRange
        The reading is below zero, or a density is not above zero.

    Notes
    -----
    Q = R sqrt(rho_s / rho), for a float much denser than air in turbulent flow.

    References
    ----------
    .. [1] Technical notes on variable-area meters, correction for gas density (seen in secondary sources).
    """
    require_not_negative("flow as read [L/min]", reading)
    require_positive("density that the scale was made for [kg/m3]", scale_density)
    require_positive("density of the air [kg/m3]", air_density)
    return reading * math.sqrt(scale_density / air_density)


def flow_at_stated_conditions(
    flow: float,
    room_temperature: float,
    room_pressure: float,
    stated_temperature: float,
    stated_pressure: float,
) -> float:
    """Return the volume that a flow of the room's air would have at conditions that a requirement states.

    Parameters
    ----------
    flow : float
        Flow in the air of the room. [L/min]
    room_temperature : float
        Temperature of the room. [K]
    room_pressure : float
        Absolute pressure of the room. [Pa]
    stated_temperature : float
        Temperature that the requirement states. [K]
    stated_pressure : float
        Absolute pressure that the requirement states. [Pa]

    Returns
    -------
    float
        Flow at the stated conditions. [L/min]

    Raises
    ------
    OutsideRange
        A temperature or pressure is not above zero.

    Notes
    -----
    Q_s = Q (T_s / T) (p / p_s), for air as an ideal gas: within 0.1 % from 233 K to 353 K near 100 kPa.

    References
    ----------
    .. [1] Ideal gas law.
    """
    require_positive("room temperature [K]", room_temperature)
    require_positive("room pressure [Pa]", room_pressure)
    require_positive("stated temperature [K]", stated_temperature)
    require_positive("stated pressure [Pa]", stated_pressure)
    return flow * (stated_temperature / room_temperature) * (room_pressure / stated_pressure)
