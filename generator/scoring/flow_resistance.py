"""What a filter or a hose takes of the pressure, as a line through the origin: pressure lost for each flow."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.scoring.valid_range import (
    require_at_least_items,
    require_not_negative,
    require_positive,
    require_same_length,
)


def flow_resistance(flows: Sequence[float], pressures: Sequence[float]) -> float:
    """Return the pressure that a part loses for each flow through it, by least squares.

    Parameters
    ----------
    flows : Sequence[float]
        Flows through the part. [L/min]
    pressures : Sequence[float]
        Pressure lost at each. [Pa]

    Returns
    -------
    float
        Resistance. [Pa/(L/min)]

    Raises
    ------
    OutsideRange
        The lists differ in length or are empty, a flow is not above zero, or a pressure is below zero.

    Notes
    -----
    R = sum(Q_i p_i) / sum(Q_i^2), for Q_i > 0: the line p = R Q through the origin with the least squared distances.

    References
    ----------
    .. [1] NIST/SEMATECH e-Handbook of Statistical Methods, 4.4.3.1, least squares (from memory).
    .. [2] Pushpawela B et al., Physics of Fluids 35(12), 2023, doi 10.1063/5.0177717, abstract: pressure drop of masks
       linear in flow from 5 to 85 L/min (seen).
    """
    require_same_length("flows and pressures", flows, pressures)
    for flow, pressure in zip(flows, pressures, strict=True):
        require_positive("flow [L/min]", flow)
        require_not_negative("pressure lost [Pa]", pressure)
    products = [flow * pressure for flow, pressure in zip(flows, pressures, strict=True)]
    return math.fsum(products) / math.fsum(flow**2 for flow in flows)


def resistance_scatter(flows: Sequence[float], pressures: Sequence[float]) -> float:
    """Return the standard uncertainty of a resistance from the scatter of its points about the line.

    Parameters
    ----------
    flows : Sequence[float]
        Flows through the part. [L/min]
    pressures : Sequence[float]
        Pressure lost at each. [Pa]

    Returns
    -------
    float
        Standard uncertainty. [Pa/(L/min)]

    Raises
    ------
    OutsideRange
        There are fewer than two points, or as for the resistance itself.

    Notes
    -----
    s = sqrt(sum((p_i - R Q_i)^2) / ((n - 1) sum(Q_i^2))), for n >= 2, with n - 1 degrees of freedom.

    References
    ----------
    .. [1] NIST/SEMATECH e-Handbook of Statistical Methods, 4.4.3.1, standard deviation of an estimate (from memory).
    """
    require_at_least_items("flows", flows, 2)
    resistance = flow_resistance(flows, pressures)
    squares = [(pressure - resistance * flow) ** 2 for flow, pressure in zip(flows, pressures, strict=True)]
    return math.sqrt(math.fsum(squares) / ((len(flows) - 1) * math.fsum(flow**2 for flow in flows)))


def resistance_shift(flows: Sequence[float], shift: float) -> float:
    """Return by how much a resistance shifts where every pressure is off by the same amount.

    Parameters
    ----------
    flows : Sequence[float]
        Flows through the part. [L/min]
    shift : float
        By how much each pressure is off; a standard uncertainty gives a standard uncertainty. [Pa]

    Returns
    -------
    float
        Shift of the resistance. [Pa/(L/min)]

    Raises
    ------
    OutsideRange
        There is no flow, a flow is not above zero, or the shift is below zero.

    Notes
    -----
    g = e sum(Q_i) / sum(Q_i^2), for Q_i > 0: the resistance of pressures that are all e.

    References
    ----------
    .. [1] JCGM 100:2008 (GUM) 5.2.2, fully correlated inputs: their contributions add (from memory).
    """
    require_at_least_items("flows", flows, 1)
    for flow in flows:
        require_positive("flow [L/min]", flow)
    require_not_negative("shift of the pressures [Pa]", shift)
    return shift * math.fsum(flows) / math.fsum(flow**2 for flow in flows)


def system_resistance(
    filter_resistance: float, measured_side_by_side: int, used_side_by_side: int, hose_resistance: float
) -> float:
    """Return the resistance of the way that the blower's air goes: filters side by side, then a hose.

    Parameters
    ----------
    filter_resistance : float
        Resistance of the filters as they were measured, together. [Pa/(L/min)]
    measured_side_by_side : int
        How many filters the flow went through side by side when it was measured. [count]
    used_side_by_side : int
        How many filters the flow goes through side by side here. [count]
    hose_resistance : float
        Resistance of what follows on them, or 0. [Pa/(L/min)]

    Returns
    -------
    float
        Resistance of the whole way. [Pa/(L/min)]

    Raises
    ------
    OutsideRange
        A resistance is below zero, or there is no filter.

    Notes
    -----
    R = R_f m / n + R_h, for m, n >= 1: equal resistances side by side, 1/R = sum(1/R_i), and one behind another.

    References
    ----------
    .. [1] Own derivation: side by side the pressure is the same and the flows add; behind one another the flow is the
       same and the pressures add.
    """
    require_not_negative("resistance of the filters [Pa/(L/min)]", filter_resistance)
    require_positive("filters side by side when measured", measured_side_by_side)
    require_positive("filters side by side here", used_side_by_side)
    require_not_negative("resistance of the hose [Pa/(L/min)]", hose_resistance)
    return filter_resistance * measured_side_by_side / used_side_by_side + hose_resistance
