"""The pressure drop of a filter or a whole device at one flow, as it was measured there or between two points."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.base import NotRecorded
from generator.model.pressure_flow import PressureAtFlow, PressureDrops
from generator.model.result import Input, Working
from generator.model.units import find_unit
from generator.scoring.pressure_drop_lines import drop_between

METHOD = "drop-between-points"


@dataclass(frozen=True)
class MeasuredDrop:
    """A pressure drop at one flow, with the ends of its interval where its uncertainty is on record."""

    value: float
    """In Pa."""
    low: float | None
    high: float | None
    where: str
    working: Working | None
    """How it lies between two points; None where it is a point itself."""
    flow: float
    """The flow that it stands for, through all filters that were measured at once. [L/min]"""

    def as_input(self, symbol: str) -> Input:
        """Return it as an input of a working."""
        meaning = "pressure drop at that flow"
        return Input(
            symbol=symbol, meaning=meaning, value=self.value, unit="Pa", where=self.where, working=self.working
        )


def half_width(drops: PressureDrops, pressure: float) -> float | None:
    """Return the expanded uncertainty of a pressure in Pa, or None where it is not on record."""
    if isinstance(drops.uncertainty, NotRecorded):
        return None
    unit = find_unit(drops.uncertainty.unit)
    as_share = unit is not None and unit.dimension == "ratio"
    return drops.uncertainty.to("1") * pressure if as_share else drops.uncertainty.to("Pa")


def drop_at_flow(drops: PressureDrops, flow_each: float, tolerance_each: float) -> MeasuredDrop | None:
    """Return the drop at a flow through one filter, or None where it was not measured on both sides or near it.

    A point within the tolerance is taken as it stands, but only where there are no points on both sides. Nothing is
    extrapolated.
    """
    flow, tolerance = flow_each * drops.filters_at_once, tolerance_each * drops.filters_at_once
    points = [(point.flow.to("L/min"), point) for point in drops.points]
    at_it = [(there, point) for there, point in points if abs(there - flow) <= 1e-9 * flow]
    below = [(there, point) for there, point in points if there < flow]
    above = [(there, point) for there, point in points if there > flow]
    if at_it:
        return _as_it_stands(drops, *at_it[0])
    if below and above:
        return _between(drops, flow, below[-1], above[0])
    near = [(there, point) for there, point in points if abs(there - flow) <= tolerance * (1 + 1e-9)]
    return _as_it_stands(drops, *min(near, key=lambda item: abs(item[0] - flow))) if near else None


def _as_it_stands(drops: PressureDrops, flow: float, point: PressureAtFlow) -> MeasuredDrop:
    pressure, where = point.pressure.to("Pa"), f"pressure_drops[{drops.id}].points"
    half = half_width(drops, pressure)
    low, high = (None, None) if half is None else (max(pressure - half, 0.0), pressure + half)
    return MeasuredDrop(pressure, low, high, where, None, flow)


def _between(
    drops: PressureDrops, flow: float, below: tuple[float, PressureAtFlow], above: tuple[float, PressureAtFlow]
) -> MeasuredDrop:
    (low_flow, low_point), (high_flow, high_point) = below, above
    first, second = low_point.pressure.to("Pa"), high_point.pressure.to("Pa")
    where = f"pressure_drops[{drops.id}].points"
    inputs = (
        Input(symbol="Q", meaning="flow asked for", value=flow, unit="L/min", where=where),
        Input(symbol="Q_{1}", meaning="measured flow below it", value=low_flow, unit="L/min", where=where),
        Input(symbol="p_{1}", meaning="pressure drop at it", value=first, unit="Pa", where=where),
        Input(symbol="Q_{2}", meaning="measured flow above it", value=high_flow, unit="L/min", where=where),
        Input(symbol="p_{2}", meaning="pressure drop at it", value=second, unit="Pa", where=where),
    )
    value = drop_between(flow, low_flow, first, high_flow, second)
    low, high = None, None
    halves = (half_width(drops, first), half_width(drops, second))
    if halves[0] is not None and halves[1] is not None:
        # One gauge read both points, so that its error moves them the same way.
        low = max(drop_between(flow, low_flow, first - halves[0], high_flow, second - halves[1]), 0.0)
        high = drop_between(flow, low_flow, first + halves[0], high_flow, second + halves[1])
    return MeasuredDrop(value, low, high, where, Working(method=METHOD, inputs=inputs), flow)
