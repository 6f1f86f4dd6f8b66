"""The density of the room's air, dry or damp."""

from __future__ import annotations

import math

from generator.scoring.valid_range import require_between, require_positive

# J/(mol K): exact since 2019, CODATA. kg/mol: dry air with 0.04 % carbon dioxide, and water (CIPM-2007).
GAS_CONSTANT = 8.314462618
MOLAR_MASS_OF_DRY_AIR = 0.02896546
MOLAR_MASS_OF_WATER = 0.01801528
# Of the saturation pressure of water vapour in Pa, for temperatures in K (CIPM-2007).
SATURATION_A = 1.2378847e-5
SATURATION_B = -1.9121316e-2
SATURATION_C = 33.93711047
SATURATION_D = -6.3431645e3


def saturation_pressure(temperature: float) -> float:
    """Return the pressure of water vapour in saturated air.

    Parameters
    ----------
    temperature : float
        Temperature of the air. [K]

    Returns
    -------
    float
        Saturation pressure of water vapour. [Pa]

    Raises
    ------
    OutsideRange
        The temperature is not from 233.15 K to 353.15 K.

    Notes
    -----
    p_s = exp(A T^2 + B T + C + D / T), with T from 233.15 K to 353.15 K; made for 15 degC to 27 degC.

    References
    ----------
    .. [1] Picard A et al., Metrologia 45 (2008) 149-155, CIPM-2007 (constants from memory).
    """
    require_between("temperature of the air [K]", temperature, 233.15, 353.15)
    exponent = SATURATION_A * temperature**2 + SATURATION_B * temperature + SATURATION_C + SATURATION_D / temperature
    return math.exp(exponent)


def moist_air_density(temperature: float, pressure: float, relative_humidity: float) -> float:
    """Return the density of air from its temperature, pressure and humidity.

    Parameters
    ----------
    temperature : float
        Temperature of the air. [K]
    pressure : float
        Absolute pressure of the air. [Pa]
    relative_humidity : float
        Relative humidity, 0 for dry air. [1]

    Returns
    -------
    float
        Density. [kg/m3]

    Raises
    ------
    OutsideRange
        The temperature is not from 233.15 K to 353.15 K, the pressure not above zero, the humidity not from 0 to 1.

    Notes
    -----
    rho = (p M_a / (R T)) (1 - x (1 - M_v / M_a)), x = h p_s / p, an ideal gas: 0.05 % low near 20 degC and 100 kPa,
    which falls out of the ratio of two such densities.

    References
    ----------
    .. [1] Picard A et al., Metrologia 45 (2008) 149-155, CIPM-2007, without its factors Z and f (from memory).
    """
    require_between("temperature of the air [K]", temperature, 233.15, 353.15)
    require_positive("pressure of the air [Pa]", pressure)
    require_between("relative humidity [1]", relative_humidity, 0, 1)
    vapour = relative_humidity * saturation_pressure(temperature) / pressure
    dry = pressure * MOLAR_MASS_OF_DRY_AIR / (GAS_CONSTANT * temperature)
    return dry * (1 - vapour * (1 - MOLAR_MASS_OF_WATER / MOLAR_MASS_OF_DRY_AIR))
