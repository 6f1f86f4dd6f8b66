"""What a flow meter in the air path takes of the flow that it reads, by the blower's own curve."""

from __future__ import annotations

from typing import Any

from generator.scoring.valid_range import require_not_negative, require_positive


def system_resistance(
    flow: float,
    drop: float,
    flow_before: float,
    pressure_before: float,
    flow_after: float,
    pressure_after: float,
) -> float:
    """Return the resistance of filter, hose and hood, without the meter, from where on its curve the blower ran.

    Parameters
    ----------
    flow : float
        Flow with the meter in place. [L/min]
    drop : float
        Pressure lost across the meter at that flow. [Pa]
    flow_before : float
        Flow of the point of the blower's curve before it. [L/min]
    pressure_before : float
        Pressure at that point. [Pa]
    flow_after : float
        Flow of the point of the blower's curve after it. [L/min]
    pressure_after : float
        Pressure at that point. [Pa]

    Returns
    -------
    float
        Resistance without the meter. [Pa.min/L]

    Raises
    ------
    OutsideRange
        A flow difference or the flow is not above zero, or the drop is below zero.

    Notes
    -----
    R = (p_1 + s (Q - Q_1) - d) / Q, s = (p_2 - p_1) / (Q_2 - Q_1), for Q > 0 and Q_2 > Q_1; d is the meter's drop.

    References
    ----------
    .. [1] Own derivation: the blower's pressure is what filter, hose, hood and meter lose together.
    """
    require_positive("flow [L/min]", flow)
    require_not_negative("pressure lost across the meter [Pa]", drop)
    require_positive("step of flow on the curve [L/min]", flow_after - flow_before)
    return float(resistance(flow, drop, flow_before, pressure_before, flow_after, pressure_after))


def flow_without_meter(
    system: float, flow_before: float, pressure_before: float, flow_after: float, pressure_after: float
) -> float:
    """Return the flow at which the blower holds just what filter, hose and hood lose, without a meter.

    Parameters
    ----------
    system : float
        Resistance of filter, hose and hood together. [Pa.min/L]
    flow_before : float
        Flow of the point of the blower's curve before it. [L/min]
    pressure_before : float
        Pressure at that point. [Pa]
    flow_after : float
        Flow of the point of the blower's curve after it. [L/min]
    pressure_after : float
        Pressure at that point. [Pa]

    Returns
    -------
    float
        Flow without the meter. [L/min]

    Raises
    ------
    OutsideRange
        The flow difference is not above zero, or the line of the curve does not fall below the system's.

    Notes
    -----
    Q_0 = (p_1 - s Q_1) / (R - s), s = (p_2 - p_1) / (Q_2 - Q_1), for Q_2 > Q_1 and R > s: a pressure lost in
    proportion to flow.

    References
    ----------
    .. [1] Own derivation from Q = p_0 / (p_0 / Q_max + R + R_m), shared reference on measuring blower flow.
    """
    require_positive("step of flow on the curve [L/min]", flow_after - flow_before)
    require_positive(
        "pressure by which the curve falls below the system's [Pa]",
        system * (flow_after - flow_before) - (pressure_after - pressure_before),
    )
    return float(crossing(system, flow_before, pressure_before, flow_after, pressure_after))


def resistance(
    flow: Any, drop: Any, flow_before: float, pressure_before: Any, flow_after: float, pressure_after: Any
) -> Any:
    """Return the system's resistance, of plain or of uncertain numbers.

    Parameters
    ----------
    flow : Any
        Flow with the meter in place. [L/min]
    drop : Any
        Pressure lost across the meter. [Pa]
    flow_before : float
        Flow of the point before it. [L/min]
    pressure_before : Any
        Pressure at that point. [Pa]
    flow_after : float
        Flow of the point after it. [L/min]
    pressure_after : Any
        Pressure at that point. [Pa]

    Returns
    -------
    Any
        Resistance without the meter. [Pa.min/L]

    Raises
    ------
    OutsideRange
        Never by itself: what it is given was held to the range.

    Notes
    -----
    R = (p_1 + s (Q - Q_1) - d) / Q.

    References
    ----------
    .. [1] As `system_resistance`.
    """
    slope = (pressure_after - pressure_before) / (flow_after - flow_before)
    return (pressure_before + slope * (flow - flow_before) - drop) / flow


def crossing(system: Any, flow_before: float, pressure_before: Any, flow_after: float, pressure_after: Any) -> Any:
    """Return where the blower's curve meets the system's line, of plain or of uncertain numbers.

    Parameters
    ----------
    system : Any
        Resistance of the system. [Pa.min/L]
    flow_before : float
        Flow of the point before it. [L/min]
    pressure_before : Any
        Pressure at that point. [Pa]
    flow_after : float
        Flow of the point after it. [L/min]
    pressure_after : Any
        Pressure at that point. [Pa]

    Returns
    -------
    Any
        Flow. [L/min]

    Raises
    ------
    OutsideRange
        Never by itself: what it is given was held to the range.

    Notes
    -----
    Q_0 = (p_1 - s Q_1) / (R - s).

    References
    ----------
    .. [1] As `flow_without_meter`.
    """
    slope = (pressure_after - pressure_before) / (flow_after - flow_before)
    return (pressure_before - slope * flow_before) / (system - slope)
