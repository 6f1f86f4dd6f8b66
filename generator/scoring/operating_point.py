"""Where a blower's curve meets what filter and hose take: the flow that is predicted, and how well it is known."""

from __future__ import annotations

from collections.abc import Sequence

from generator.scoring.blower_curve import pressure_at
from generator.scoring.flow_statistics import combined_uncertainty, coverage_factor, effective_degrees_of_freedom
from generator.scoring.valid_range import (
    require_coverage,
    require_not_negative,
    require_ordered,
    require_positive,
)


def operating_flow(
    coefficients: Sequence[float], resistance: float, least_measured: float, most_measured: float
) -> float | None:
    """Return the flow at which a blower holds exactly the pressure that filter and hose take.

    Parameters
    ----------
    coefficients : Sequence[float]
        Coefficients of the blower's curve, the constant first. [Pa, Pa/(L/min), Pa/(L/min)^2]
    resistance : float
        Resistance of filter and hose. [Pa/(L/min)]
    least_measured : float
        Least flow at which the blower's pressure was measured. [L/min]
    most_measured : float
        Greatest flow at which it was measured. [L/min]

    Returns
    -------
    float | None
        Predicted flow; None where it lies outside the measured flows. [L/min]

    Raises
    ------
    OutsideRange
        The resistance is below zero, or the measured flows are the wrong way round.

    Notes
    -----
    a + b Q + c Q^2 = R Q, for a curve that falls; for a line p0 (1 - Q / Qmax) this is Q = p0 / (p0 / Qmax + R).

    References
    ----------
    .. [1] Own derivation: the pressure that the blower holds is the pressure that the flow loses.
    """
    require_not_negative("resistance [Pa/(L/min)]", resistance)
    require_ordered("measured flows [L/min]", least_measured, most_measured)

    def spare(flow: float) -> float:
        return pressure_at(coefficients, flow) - resistance * flow

    # Imported here: it takes as long as scoring a dozen records, and few records need it.
    from scipy.optimize import brentq

    if spare(least_measured) < 0 or spare(most_measured) > 0:
        return None
    return float(brentq(spare, least_measured, most_measured))


def pressure_as_flow(pressure: float, slope: float, resistance: float) -> float:
    """Return what an uncertain pressure at the operating point makes of the predicted flow.

    Parameters
    ----------
    pressure : float
        Standard uncertainty of the blower's pressure, or of what filter and hose take, at that flow. [Pa]
    slope : float
        Slope of the blower's curve there, below zero. [Pa/(L/min)]
    resistance : float
        Resistance of filter and hose. [Pa/(L/min)]

    Returns
    -------
    float
        Standard uncertainty of the flow. [L/min]

    Raises
    ------
    OutsideRange
        The uncertainty is below zero, or the blower's curve is not the flatter one.

    Notes
    -----
    u(Q) = u(p) / (R - p'(Q)), to first order, for R > p'(Q).

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 5.1.3, sensitivity coefficients (from memory); derivative of an implicit function.
    """
    require_not_negative("standard uncertainty of a pressure [Pa]", pressure)
    require_positive("resistance less slope [Pa/(L/min)]", resistance - slope)
    return pressure / (resistance - slope)


def crossing_limits(
    flow: float,
    slope: float,
    resistance: float,
    pressures: Sequence[float],
    degrees: Sequence[float | None],
    coverage: float,
) -> tuple[float, float]:
    """Return the limits of a predicted flow from independent standard uncertainties of the pressures there.

    Parameters
    ----------
    flow : float
        Predicted flow. [L/min]
    slope : float
        Slope of the blower's curve there, below zero. [Pa/(L/min)]
    resistance : float
        Resistance of filter and hose. [Pa/(L/min)]
    pressures : Sequence[float]
        Standard uncertainties of the blower's pressure, and of what filter and hose take, at that flow. [Pa]
    degrees : Sequence[float | None]
        Degrees of freedom of each; None where they are infinite. [1]
    coverage : float
        Coverage probability. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit. [L/min]

    Raises
    ------
    OutsideRange
        As for a pressure as a flow, and for limits about an estimate.

    Notes
    -----
    Q - k u and Q + k u, u = sqrt(sum(u_i^2)) / (R - p'(Q)), k = t((1 + p) / 2; nu), nu = u^4 / sum(u_i^4 / nu_i).

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 5.1.2, 5.1.3, G.4.1 and Table G.2.
    """
    parts = [pressure_as_flow(pressure, slope, resistance) for pressure in pressures]
    return limits_about(flow, parts, degrees, coverage)


def limits_about(
    estimate: float, parts: Sequence[float], degrees: Sequence[float | None], coverage: float
) -> tuple[float, float]:
    """Return the limits of an estimate from independent standard uncertainties.

    Parameters
    ----------
    estimate : float
        The estimate. [any]
    parts : Sequence[float]
        Standard uncertainties, each as what it makes of the estimate. [as the estimate]
    degrees : Sequence[float | None]
        Degrees of freedom of each; None where they are infinite. [1]
    coverage : float
        Coverage probability. [1]

    Returns
    -------
    tuple[float, float]
        Lower and upper limit. [as the estimate]

    Raises
    ------
    OutsideRange
        A part is below zero, the lists differ in length, or the coverage is not between 0 and 1.

    Notes
    -----
    x - k u and x + k u, u = sqrt(sum(u_i^2)), k = t((1 + p) / 2; nu), nu = u^4 / sum(u_i^4 / nu_i), for u_i >= 0.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 5.1.2, G.4.1 and Table G.2.
    """
    require_coverage(coverage)
    freedom = effective_degrees_of_freedom(parts, degrees)
    half_width = coverage_factor(freedom, coverage) * combined_uncertainty(parts)
    return estimate - half_width, estimate + half_width


def predicted_less_measured(predicted: float, measured: float) -> float:
    """Return by how much a predicted flow lies above the measured one.

    Parameters
    ----------
    predicted : float
        Predicted flow. [L/min]
    measured : float
        Measured flow. [L/min]

    Returns
    -------
    float
        Difference, below zero where more was measured. [L/min]

    Raises
    ------
    OutsideRange
        A flow is below zero.

    Notes
    -----
    d = Q_p - Q_m, for flows >= 0.

    References
    ----------
    .. [1] Definition of a difference.
    """
    require_not_negative("predicted flow [L/min]", predicted)
    require_not_negative("measured flow [L/min]", measured)
    return predicted - measured
