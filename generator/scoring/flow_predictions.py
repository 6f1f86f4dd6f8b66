"""Flows that a blower's curve predicts with one filter or another in its way: predictions, never measurements."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.model.base import NotRecorded
from generator.model.blower_result import WhatIf
from generator.model.device import Device
from generator.model.flow_run import FilterState
from generator.model.pressure_flow import DropOf
from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.blower_curve import slope_at
from generator.scoring.blower_figures import (
    NOTHING_KNOWN,
    RESISTANCE_UNIT,
    Doubt,
    FittedCurve,
    FittedPart,
    covered,
    doubt_inputs,
)
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_resistance import system_resistance
from generator.scoring.flow_statistics import combined_uncertainty, effective_degrees_of_freedom
from generator.scoring.operating_point import crossing_limits, operating_flow, pressure_as_flow
from generator.scoring.requirements import Spread

BREATH_RESPONSIVE = "the blower follows the wearer's breath, so that no one curve holds"
OUTSIDE_CURVE = "the operating point lies outside the measured flows of the blower"
NAME = "predicted flow, not measured"
_STATE = {FilterState.NEW: "new", FilterState.LOADED: "loaded"}


@dataclass(frozen=True)
class Way:
    """What the air goes through in one case: filters side by side, then a hose; or why that is not known."""

    what_if: WhatIf
    state: FilterState
    filters: FittedPart | None = None
    side_by_side: int = 1
    hose: FittedPart | None = None
    not_known: str | None = None
    other: FittedPart | None = None

    @property
    def case(self) -> str:
        """Its name, with which the figure's key ends."""
        return self.what_if.value if self.other is None else f"{self.what_if.value}-{self.other.drops.id}"

    @property
    def hose_known(self) -> bool:
        """Whether what a hose takes is in it."""
        return self.hose is not None or _is_whole(self.filters)

    @property
    def resistance(self) -> float | None:
        """The resistance of the whole way, or None where it is not known."""
        if self.filters is None or self.filters.resistance is None:
            return None
        hose = self.hose.resistance if self.hose is not None else 0.0
        if hose is None:
            return None
        return system_resistance(self.filters.resistance, self.filters.drops.filters_at_once, self.side_by_side, hose)

    @property
    def parts(self) -> tuple[tuple[FittedPart, float], ...]:
        """Each part, and the share of its measured resistance that counts here."""
        filters = self.filters
        of_filters = () if filters is None else ((filters, filters.drops.filters_at_once / self.side_by_side),)
        return of_filters if self.hose is None else (*of_filters, (self.hose, 1.0))


def ways(parts: Sequence[FittedPart], device: Device) -> tuple[Way, ...]:
    """Return the cases that are predicted: its own filter new and loaded, twice as many, then every other part."""
    count = None if isinstance(device.filter, NotRecorded) else device.filter.count
    new = _own(parts, FilterState.NEW, count)
    others = (_other(part, parts, new) for part in parts if part.drops.alternative)
    return (new, _own(parts, FilterState.LOADED, count), _twice_as_many(parts, count), *others)


def predicted_flow(
    fitted: FittedCurve, way: Way, device: Device, told_by: str | None = None
) -> tuple[Figure, Spread | None]:
    """Return the flow that a curve predicts for a way of the air, or why it predicts none, and its uncertainty.

    `told_by` is the key of the figure that tells how the curve was fitted; None where this one does.
    """
    path = f"blower_curves[{fitted.curve.id}]"
    key = f"blower.{fitted.curve.id}.{way.case}"
    resistance = way.resistance
    reason = BREATH_RESPONSIVE if device.breath_responsive else fitted.not_used or way.not_known
    flow = None
    if reason is None and resistance is not None:
        flow = operating_flow(fitted.coefficients, resistance, fitted.flows[0], fitted.flows[-1])
        reason = OUTSIDE_CURVE if flow is None else _beyond(way, flow)
    if flow is None or resistance is None or reason is not None:
        unknown = Figure(
            key=key,
            name=NAME,
            value=None,
            unit="L/min",
            sample_size=len(fitted.flows),
            sample_of="points of the blower's curve",
            method="operating-flow",
            not_scored=reason or "the pressure drop of a part has no flow",
        )
        return unknown, None
    of_way = _way_input(way, resistance, path)
    interval: Interval | None = None
    no_interval: str | None = NOTHING_KNOWN
    spread = None
    if fitted.doubts_at(flow) and all(part.doubts for part, _ in way.parts):
        pressures = _pressures(fitted, way, flow)
        if any(pressure.value for pressure in pressures):
            interval, no_interval = _interval(fitted, way, flow, pressures, of_way), None
            spread = _spread(fitted, flow, pressures, resistance)
    figure = Figure(
        key=key,
        name=NAME,
        value=flow,
        unit="L/min",
        interval=interval,
        no_interval=no_interval,
        sample_size=len(fitted.flows),
        sample_of="points of the blower's curve",
        method="operating-flow",
        working=Working(method="operating-flow", inputs=(*fitted.coefficient_inputs(told_by), of_way)),
    )
    return figure, spread


def _is_whole(part: FittedPart | None) -> bool:
    return part is not None and part.drops.of is DropOf.FILTER_AND_HOSE


def _greatest(parts: Sequence[FittedPart]) -> FittedPart | None:
    """Return the part that takes most, filter for filter: where several were measured, it gives the least flow."""
    return max(parts, key=lambda part: (part.resistance or 0.0) * part.drops.filters_at_once, default=None)


def _own_part(parts: Sequence[FittedPart], of: DropOf, state: FilterState | None = None) -> FittedPart | None:
    return _greatest(
        [
            part
            for part in parts
            if part.drops.of is of and not part.drops.alternative and state in (None, part.drops.filter)
        ]
    )


def _own(parts: Sequence[FittedPart], state: FilterState, count: int | None) -> Way:
    """Return the way through the device's own filters: filter and hose as measured apart, else as measured together."""
    what_if = WhatIf(state.value)
    filters = _own_part(parts, DropOf.FILTER, state)
    if filters is not None:
        at_once = count or filters.drops.filters_at_once
        return Way(what_if, state, filters, at_once, _own_part(parts, DropOf.HOSE))
    whole = _own_part(parts, DropOf.FILTER_AND_HOSE, state)
    if whole is None:
        return Way(what_if, state, not_known=f"what its {_STATE[state]} filter takes was not measured")
    measured = whole.drops.filters_at_once
    if count not in (None, measured):
        reason = f"filter and hose were measured with {measured} at once, and the device has {count}"
        return Way(what_if, state, not_known=reason)
    return Way(what_if, state, whole, measured)


def _twice_as_many(parts: Sequence[FittedPart], count: int | None) -> Way:
    filters = _own_part(parts, DropOf.FILTER, FilterState.NEW)
    if filters is None:
        reason = "what its new filter takes by itself, without a hose, was not measured"
        return Way(WhatIf.TWO, FilterState.NEW, not_known=reason)
    at_once = 2 * (count or filters.drops.filters_at_once)
    return Way(WhatIf.TWO, FilterState.NEW, filters, at_once, _own_part(parts, DropOf.HOSE))


def _other(part: FittedPart, parts: Sequence[FittedPart], new: Way) -> Way:
    """Return the way with another part in the place of the device's own."""
    drops = part.drops
    if drops.of is DropOf.HOSE:
        if new.filters is None or _is_whole(new.filters):
            reason = "what its new filter takes by itself, without a hose, was not measured"
            return Way(WhatIf.OTHER, FilterState.NEW, not_known=reason, other=part)
        return replace(new, what_if=WhatIf.OTHER, hose=part, other=part)
    hose = _own_part(parts, DropOf.HOSE) if drops.of is DropOf.FILTER else None
    return Way(WhatIf.OTHER, drops.filter, part, drops.filters_at_once, hose, other=part)


def _beyond(way: Way, flow: float) -> str | None:
    for part, share in way.parts:
        # Filters side by side share the flow, so that more of them reach farther.
        if flow * share > part.most_flow:
            what = part.drops.of.value.replace("_", " ")
            return f"the operating point lies beyond the flows at which the {what} was measured"
    return None


def _way_input(way: Way, resistance: float, path: str) -> Input:
    filters = way.filters
    assert filters is not None
    inputs = [_of_part(r"R_{\mathrm{f}}", "resistance of the filters as they were measured", filters)]
    where = f"pressure_drops[{filters.drops.id}].filters_at_once"
    inputs.append(_count("m", "filters side by side when that was measured", filters.drops.filters_at_once, where))
    inputs.append(_count("n", "filters side by side here", way.side_by_side, "fixed here"))
    if way.hose is not None:
        inputs.append(_of_part(r"R_{\mathrm{h}}", "resistance of the hose", way.hose))
    working = Working(method="system-resistance", inputs=tuple(inputs))
    return _resistance_input("R", "resistance of the whole way", resistance, path, working)


def _of_part(symbol: str, meaning: str, part: FittedPart) -> Input:
    assert part.resistance is not None
    where = f"pressure_drops[{part.drops.id}]: {part.figure.key}"
    return _resistance_input(symbol, meaning, part.resistance, where)


def _resistance_input(symbol: str, meaning: str, value: float, where: str, working: Working | None = None) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=RESISTANCE_UNIT, where=where, working=working)


def _count(symbol: str, meaning: str, value: int, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit="count", where=where)


def _pressures(fitted: FittedCurve, way: Way, flow: float) -> list[Doubt]:
    """Return everything that blurs the pressures at the operating point. [Pa]"""
    pressures = list(fitted.doubts_at(flow))
    for part, share in way.parts:
        what = part.drops.of.value.replace("_", " ")
        pressures += [
            replace(
                doubt,
                value=doubt.value * share * flow,
                meaning=f"of what the {what} takes, {doubt.meaning}",
                where=f"pressure_drops[{part.drops.id}]: {part.figure.key}",
                working=None,
            )
            for doubt in part.doubts
        ]
    return pressures


def _spread(fitted: FittedCurve, flow: float, pressures: Sequence[Doubt], resistance: float) -> Spread:
    slope = slope_at(fitted.coefficients, flow)
    parts = [pressure_as_flow(pressure.value, slope, resistance) for pressure in pressures]
    degrees = effective_degrees_of_freedom(parts, [pressure.degrees for pressure in pressures])
    return Spread(combined_uncertainty(parts), degrees)


def _interval(fitted: FittedCurve, way: Way, flow: float, pressures: Sequence[Doubt], of_way: Input) -> Interval:
    slope, method = slope_at(fitted.coefficients, flow), "limits-of-a-crossing"
    low, high = crossing_limits(
        flow,
        slope,
        of_way.value,
        [pressure.value for pressure in pressures],
        [pressure.degrees for pressure in pressures],
        COVERAGE,
    )
    path = f"blower_curves[{fitted.curve.id}]"
    inputs = (
        Input(symbol="Q", meaning="predicted flow", value=flow, unit="L/min", where=path),
        of_way.model_copy(update={"working": None}),
        _resistance_input("p'", "slope of the blower's curve there", slope, fitted.path),
        *doubt_inputs(pressures, "Pa"),
    )
    return Interval(
        low=max(low, 0.0),
        high=high,
        coverage=COVERAGE,
        method=method,
        covers=covered([fitted.known, *(part.known for part, _ in way.parts)]),
        working=Working(method=method, inputs=inputs),
    )
