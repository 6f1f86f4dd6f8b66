"""The pressure that a blower holds at a flow: a falling curve through measured points, and how well it is known."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.polynomial import polynomial
from scipy.special import betainc

from generator.scoring.valid_range import (
    require_at_least_items,
    require_not_negative,
    require_same_length,
)

LEAST_FOR_A_BEND = 5
"""Fewer points are never given a bent curve."""
CHANCE_OF_A_LINE = 0.05
"""A bent curve is taken only where points from a straight line would seem as bent less often than this."""


def fitted_coefficients(flows: Sequence[float], pressures: Sequence[float], degree: int) -> tuple[float, ...]:
    """Return the least-squares line or parabola through a blower's points.

    Parameters
    ----------
    flows : Sequence[float]
        Flows. [L/min]
    pressures : Sequence[float]
        Pressure held at each. [Pa]
    degree : int
        1 for a straight line, 2 for a parabola. [1]

    Returns
    -------
    tuple[float, ...]
        Coefficients of the powers of the flow, the constant first. [Pa, Pa/(L/min), Pa/(L/min)^2]

    Raises
    ------
    OutsideRange
        The lists differ in length, or there are too few points for the curve.

    Notes
    -----
    p = a + b Q + c Q^2 with the least sum((p_i - p(Q_i))^2), c = 0 for a line. A line through two points is
    p = p0 (1 - Q / Qmax), with a = p0 and b = -p0 / Qmax.

    References
    ----------
    .. [1] Least squares: NIST/SEMATECH e-Handbook of Statistical Methods, 4.4.3.1 (from memory).
    .. [2] That a blower's pressure falls with its flow along a line or a parabola: common practice, no source.
    """
    require_same_length("flows and pressures", flows, pressures)
    require_at_least_items("points of a blower curve", flows, degree + 1)
    return tuple(float(each) for each in polynomial.polyfit(np.asarray(flows), np.asarray(pressures), degree))


def pressure_at(coefficients: Sequence[float], flow: float) -> float:
    """Return the pressure that a fitted curve gives at a flow.

    Parameters
    ----------
    coefficients : Sequence[float]
        Coefficients of the powers of the flow, the constant first. [Pa, Pa/(L/min), Pa/(L/min)^2]
    flow : float
        Flow. [L/min]

    Returns
    -------
    float
        Pressure. [Pa]

    Raises
    ------
    OutsideRange
        There is no coefficient, or the flow is below zero.

    Notes
    -----
    p = a + b Q + c Q^2, for Q >= 0 within the flows that were measured.

    References
    ----------
    .. [1] Definition of a polynomial.
    """
    require_at_least_items("coefficients", coefficients, 1)
    require_not_negative("flow [L/min]", flow)
    return math.fsum(coefficient * flow**power for power, coefficient in enumerate(coefficients))


def slope_at(coefficients: Sequence[float], flow: float) -> float:
    """Return by how much a fitted curve's pressure changes with the flow, at a flow.

    Parameters
    ----------
    coefficients : Sequence[float]
        Coefficients of the powers of the flow, the constant first. [Pa, Pa/(L/min), Pa/(L/min)^2]
    flow : float
        Flow. [L/min]

    Returns
    -------
    float
        Slope, below zero where the curve falls. [Pa/(L/min)]

    Raises
    ------
    OutsideRange
        There is no coefficient, or the flow is below zero.

    Notes
    -----
    dp/dQ = b + 2 c Q, for Q >= 0.

    References
    ----------
    .. [1] Derivative of a polynomial.
    """
    require_at_least_items("coefficients", coefficients, 1)
    require_not_negative("flow [L/min]", flow)
    return math.fsum(power * coefficients[power] * flow ** (power - 1) for power in range(1, len(coefficients)))


def chance_of_line(flows: Sequence[float], pressures: Sequence[float]) -> float:
    """Return how often points that scatter about a straight line would seem at least as bent as these.

    Parameters
    ----------
    flows : Sequence[float]
        Flows. [L/min]
    pressures : Sequence[float]
        Pressure held at each. [Pa]

    Returns
    -------
    float
        Probability of the F test of the parabola against the line. [1]

    Raises
    ------
    OutsideRange
        There are fewer than four points.

    Notes
    -----
    P = I_x((n - 3) / 2, 1 / 2) with x = S_2 / S_1, the sums of squared distances from parabola and line, for n >= 4;
    1 for points that are exactly on a line. It is the upper tail of F = (S_1 - S_2) / (S_2 / (n - 3)) with 1 and n - 3
    degrees of freedom.

    References
    ----------
    .. [1] F test of nested models and its incomplete beta function: Abramowitz and Stegun 26.6.2 (from memory).
    """
    require_at_least_items("points of a blower curve", flows, 4)
    line, parabola = (_squares(flows, pressures, degree) for degree in (1, 2))
    if not line:
        return 1.0
    return float(betainc((len(flows) - 3) / 2, 1 / 2, parabola / line))


def curve_scatter(flows: Sequence[float], pressures: Sequence[float], degree: int, flow: float) -> float:
    """Return the standard uncertainty of a fitted pressure from the scatter of the points about the curve.

    Parameters
    ----------
    flows : Sequence[float]
        Flows. [L/min]
    pressures : Sequence[float]
        Pressure held at each. [Pa]
    degree : int
        1 for a straight line, 2 for a parabola. [1]
    flow : float
        The flow at which the curve is read. [L/min]

    Returns
    -------
    float
        Standard uncertainty of the curve there. [Pa]

    Raises
    ------
    OutsideRange
        There are not more points than coefficients.

    Notes
    -----
    s(Q) = s sqrt(x^T (X^T X)^-1 x), s^2 = sum((p_i - p(Q_i))^2) / (n - d - 1), x = (1, Q, ... Q^d), for n > d + 1.

    References
    ----------
    .. [1] NIST/SEMATECH e-Handbook of Statistical Methods, 4.5.1.2, uncertainty of an estimated mean (from memory).
    """
    require_at_least_items("points of a blower curve", flows, degree + 2)
    variance = _squares(flows, pressures, degree) / (len(flows) - degree - 1)
    # Powers of flows in hundreds of litres a minute would lose digits: both are measured by the greatest flow.
    scaled = np.asarray(flows) / max(flows)
    powers = polynomial.polyvander(scaled, degree)
    here = polynomial.polyvander(flow / max(flows), degree).ravel()
    return math.sqrt(variance * float(here @ np.linalg.solve(powers.T @ powers, here)))


def _squares(flows: Sequence[float], pressures: Sequence[float], degree: int) -> float:
    """Return the sum of squared distances of the points from their least-squares curve."""
    coefficients = fitted_coefficients(flows, pressures, degree)
    points = zip(flows, pressures, strict=True)
    return math.fsum((pressure - pressure_at(coefficients, flow)) ** 2 for flow, pressure in points)


def chosen_degree(flows: Sequence[float], pressures: Sequence[float]) -> int:
    """Return whether a blower's points are told by a line or by a parabola.

    Parameters
    ----------
    flows : Sequence[float]
        Flows. [L/min]
    pressures : Sequence[float]
        Pressure held at each. [Pa]

    Returns
    -------
    int
        1 for a straight line, 2 for a parabola. [1]

    Raises
    ------
    OutsideRange
        As for the fit itself.

    Notes
    -----
    2 where n >= 5 and the chance of a line is < 0.05, else 1.

    References
    ----------
    .. [1] Own rule.
    """
    bent = len(flows) >= LEAST_FOR_A_BEND and chance_of_line(flows, pressures) < CHANCE_OF_A_LINE
    return 2 if bent else 1
