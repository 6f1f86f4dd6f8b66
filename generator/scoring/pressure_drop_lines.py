"""Pressure drop against flow: the line through the points, what it leaves over, and the value between two points."""

from __future__ import annotations

from collections.abc import Sequence

from generator.scoring.valid_range import (
    require_at_least_items,
    require_between,
    require_different,
    require_not_negative,
    require_positive,
    require_same_length,
)

S_PER_MIN = 60


def resistance_of_points(flows: Sequence[float], drops: Sequence[float]) -> float:
    """Return the slope of the line through the origin that fits pressure drops against flow best.

    Parameters
    ----------
    flows : Sequence[float]
        Flows. [L/min]
    drops : Sequence[float]
        Pressure drop at each. [Pa]

    Returns
    -------
    float
        Resistance. [Pa/(L/s)]

    Raises
    ------
    OutsideRange
        The lists differ in length, a value is below zero, or there are not two different flows.

    Notes
    -----
    R = 60 sum(Q p) / sum(Q^2), for Q >= 0 and p >= 0: least squares, with no drop where nothing flows.

    References
    ----------
    .. [1] Least squares through the origin (textbook).
    """
    require_same_length("flows and pressure drops", flows, drops)
    for flow, drop in zip(flows, drops, strict=True):
        require_not_negative("flow [L/min]", flow)
        require_not_negative("pressure drop [Pa]", drop)
    require_different("flows", flows)
    slope = sum(flow * drop for flow, drop in zip(flows, drops, strict=True)) / sum(flow**2 for flow in flows)
    return slope * S_PER_MIN


def share_off_line(flows: Sequence[float], drops: Sequence[float], resistance: float) -> float:
    """Return the share of the variation of pressure drops that a line through the origin does not explain.

    Parameters
    ----------
    flows : Sequence[float]
        Flows. [L/min]
    drops : Sequence[float]
        Pressure drop at each. [Pa]
    resistance : float
        Slope of the line. [Pa/(L/s)]

    Returns
    -------
    float
        Share that the line does not explain, 1 - R^2. [1]

    Raises
    ------
    OutsideRange
        There are fewer than three points, the lists differ in length, all drops are the same, or the resistance is
        below zero.

    Notes
    -----
    1 - R^2 = sum((p - R Q / 60)^2) / sum((p - mean p)^2), for three points or more.

    References
    ----------
    .. [1] Coefficient of determination (textbook).
    """
    require_same_length("flows and pressure drops", flows, drops)
    require_at_least_items("pressure drops", drops, 3)
    require_different("pressure drops", drops)
    require_not_negative("resistance [Pa/(L/s)]", resistance)
    mean = sum(drops) / len(drops)
    left = sum((drop - resistance * flow / S_PER_MIN) ** 2 for flow, drop in zip(flows, drops, strict=True))
    return left / sum((drop - mean) ** 2 for drop in drops)


def drop_between(flow: float, low_flow: float, low_drop: float, high_flow: float, high_drop: float) -> float:
    """Return the pressure drop at a flow between two at which it was measured.

    Parameters
    ----------
    flow : float
        Flow for which it is asked. [L/min]
    low_flow : float
        Lower flow of the two. [L/min]
    low_drop : float
        Pressure drop at it. [Pa]
    high_flow : float
        Higher flow of the two. [L/min]
    high_drop : float
        Pressure drop at it. [Pa]

    Returns
    -------
    float
        Pressure drop. [Pa]

    Raises
    ------
    OutsideRange
        The flow does not lie between the two, or they are the same.

    Notes
    -----
    p = p1 + (p2 - p1) (Q - Q1) / (Q2 - Q1), for Q1 <= Q <= Q2 and Q1 < Q2. Never outside the two.

    References
    ----------
    .. [1] Linear interpolation. Pressure drops of masks were linear from 5 to 85 L/min: Pushpawela B et al., Physics
       of Fluids 35(12), 2023, doi 10.1063/5.0177717.
    """
    require_positive("distance of the two flows [L/min]", high_flow - low_flow)
    require_between("flow [L/min]", flow, low_flow, high_flow)
    return low_drop + (high_drop - low_drop) * (flow - low_flow) / (high_flow - low_flow)
