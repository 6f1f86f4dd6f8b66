"""Supply flow from a meter's readings: correction, room conditions, mean, scatter and expanded uncertainty."""

from __future__ import annotations

import math
from collections.abc import Sequence

from scipy.special import stdtrit

from generator.scoring.valid_range import (
    require_at_least_items,
    require_coverage,
    require_not_negative,
    require_positive,
    require_same_length,
)


def corrected_flow(reading: float, correction: float, share: float) -> float:
    """Return a meter's reading with the correction of its calibration certificate.

    Parameters
    ----------
    reading : float
        Flow as read. [L/min]
    correction : float
        Correction stated as a flow, or 0. [L/min]
    share : float
        Correction stated as a share of the reading, or 0. [1]

    Returns
    -------
    float
        Corrected flow. [L/min]

    Raises
    ------
    OutsideRange
        The reading is below zero.

    Notes
    -----
    Q = R (1 + b) + a, for R >= 0.

    References
    ----------
    .. [1] JCGM 200:2012 (VIM) 2.53, correction: added to, or multiplied with, the result to compensate a known
       systematic effect (from memory).
    """
    require_not_negative("flow as read [L/min]", reading)
    return reading * (1 + share) + correction


def flow_at_room_conditions(
    flow: float,
    reference_temperature: float,
    reference_pressure: float,
    room_temperature: float,
    room_pressure: float,
) -> float:
    """Return the volume flow in the air of the room that a mass flow meter states at its reference conditions.

    Parameters
    ----------
    flow : float
        Flow stated at reference conditions. [L/min]
    reference_temperature : float
        Temperature that the meter refers to. [K]
    reference_pressure : float
        Absolute pressure that the meter refers to. [Pa]
    room_temperature : float
        Temperature of the room. [K]
    room_pressure : float
        Absolute pressure of the room. [Pa]

    Returns
    -------
    float
        Flow at the room's temperature and pressure. [L/min]

    Raises
    ------
    OutsideRange
        A temperature or pressure is not above zero.

    Notes
    -----
    Q = Q_ref (T / T_ref) (p_ref / p), for air as an ideal gas: within 0.1 % from 233 K to 353 K near 100 kPa.

    References
    ----------
    .. [1] Ideal gas law; reference conditions in use: ISO 13443 (15 degC, 101.325 kPa) and others (secondary pages).
    """
    require_positive("reference temperature [K]", reference_temperature)
    require_positive("reference pressure [Pa]", reference_pressure)
    require_positive("room temperature [K]", room_temperature)
    require_positive("room pressure [Pa]", room_pressure)
    return flow * (room_temperature / reference_temperature) * (reference_pressure / room_pressure)


def mean_flow(flows: Sequence[float]) -> float:
    """Return the arithmetic mean of flows.

    Parameters
    ----------
    flows : Sequence[float]
        Flows. [L/min]

    Returns
    -------
    float
        Mean flow. [L/min]

    Raises
    ------
    OutsideRange
        There is no flow.

    Notes
    -----
    Q = sum(Q_i) / n, for n >= 1.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 4.2.1.
    """
    require_at_least_items("flows", flows, 1)
    return math.fsum(flows) / len(flows)


def standard_deviation(flows: Sequence[float]) -> float:
    """Return the experimental standard deviation of flows.

    Parameters
    ----------
    flows : Sequence[float]
        Flows. [L/min]

    Returns
    -------
    float
        Standard deviation of one flow. [L/min]

    Raises
    ------
    OutsideRange
        There are fewer than two flows.

    Notes
    -----
    s = sqrt(sum((Q_i - mean)^2) / (n - 1)), for n >= 2.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 4.2.2.
    """
    require_at_least_items("flows", flows, 2)
    mean = mean_flow(flows)
    return math.sqrt(math.fsum((flow - mean) ** 2 for flow in flows) / (len(flows) - 1))


def uncertainty_of_mean(deviation: float, readings: int) -> float:
    """Return the standard uncertainty of a mean from the scatter of its readings (Type A).

    Parameters
    ----------
    deviation : float
        Standard deviation of one reading. [L/min]
    readings : int
        Number of readings. [count]

    Returns
    -------
    float
        Standard uncertainty of the mean. [L/min]

    Raises
    ------
    OutsideRange
        The deviation is below zero, or there is no reading.

    Notes
    -----
    u_A = s / sqrt(n), for s >= 0 and n >= 1, with n - 1 degrees of freedom.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 4.2.3.
    """
    require_not_negative("standard deviation [L/min]", deviation)
    require_positive("number of readings", readings)
    return deviation / math.sqrt(readings)


def certificate_uncertainty(expanded: float, coverage_factor: float) -> float:
    """Return the standard uncertainty that a calibration certificate states (Type B).

    Parameters
    ----------
    expanded : float
        Expanded uncertainty on the certificate. [L/min]
    coverage_factor : float
        Coverage factor k on the certificate. [1]

    Returns
    -------
    float
        Standard uncertainty. [L/min]

    Raises
    ------
    OutsideRange
        The uncertainty is below zero, or the coverage factor is not above zero.

    Notes
    -----
    u_B = U / k, for U >= 0 and k > 0; degrees of freedom are taken as infinite.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 4.3.3.
    """
    require_not_negative("expanded uncertainty on the certificate [L/min]", expanded)
    require_positive("coverage factor on the certificate", coverage_factor)
    return expanded / coverage_factor


def combined_uncertainty(components: Sequence[float]) -> float:
    """Return the combined standard uncertainty of independent components.

    Parameters
    ----------
    components : Sequence[float]
        Standard uncertainties, each times its sensitivity coefficient. [L/min]

    Returns
    -------
    float
        Combined standard uncertainty. [L/min]

    Raises
    ------
    OutsideRange
        There is no component, or one is below zero.

    Notes
    -----
    u = sqrt(sum(u_i^2)), for u_i >= 0.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 5.1.2, eq. 10.
    """
    require_at_least_items("standard uncertainties", components, 1)
    for component in components:
        require_not_negative("standard uncertainty", component)
    return math.sqrt(math.fsum(component**2 for component in components))


def effective_degrees_of_freedom(components: Sequence[float], degrees: Sequence[float | None]) -> float | None:
    """Return the effective degrees of freedom of a combined uncertainty, by Welch and Satterthwaite.

    Parameters
    ----------
    components : Sequence[float]
        Standard uncertainties, each times its sensitivity coefficient. [L/min]
    degrees : Sequence[float | None]
        Degrees of freedom of each; None where they are infinite. [1]

    Returns
    -------
    float | None
        Effective degrees of freedom, not cut to a whole number; None where they are infinite. [1]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, a component is below zero, or degrees of freedom are not above zero.

    Notes
    -----
    nu_eff = u^4 / sum(u_i^4 / nu_i), with u the combined uncertainty.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) G.4.1, eq. G.2b. The guide cuts to a whole number; the fraction is kept here.
    """
    known = [known for known in degrees if known is not None]
    require_same_length("components and degrees of freedom", components, [0.0] * len(degrees))
    for nu in known:
        require_positive("degrees of freedom", nu)
    total = combined_uncertainty(components)
    divisor = math.fsum(component**4 / nu for component, nu in zip(components, degrees, strict=True) if nu is not None)
    return total**4 / divisor if divisor else None


def coverage_factor(degrees: float | None, coverage: float) -> float:
    """Return the coverage factor from Student's distribution.

    Parameters
    ----------
    degrees : float | None
        Effective degrees of freedom; None where they are infinite. [1]
    coverage : float
        Coverage probability, two-sided. [1]

    Returns
    -------
    float
        Coverage factor k. [1]

    Raises
    ------
    OutsideRange
        The degrees of freedom are not above zero, or the coverage is not between 0 and 1.

    Notes
    -----
    k = t((1 + p) / 2; nu), the normal quantile where nu is infinite; fractional nu is used as it is.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) G.3 and Table G.2.
    """
    if degrees is not None:
        require_positive("degrees of freedom", degrees)
    require_coverage(coverage)
    return float(stdtrit(math.inf if degrees is None else degrees, (1 + coverage) / 2))


def expanded_uncertainty(standard_uncertainty: float, factor: float) -> float:
    """Return the expanded uncertainty.

    Parameters
    ----------
    standard_uncertainty : float
        Combined standard uncertainty. [L/min]
    factor : float
        Coverage factor k. [1]

    Returns
    -------
    float
        Expanded uncertainty, half the width of the interval. [L/min]

    Raises
    ------
    OutsideRange
        The uncertainty is below zero, or the factor is not above zero.

    Notes
    -----
    U = k u, for u >= 0 and k > 0.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 6.2.1, eq. 18.
    """
    require_not_negative("combined standard uncertainty [L/min]", standard_uncertainty)
    require_positive("coverage factor", factor)
    return factor * standard_uncertainty
