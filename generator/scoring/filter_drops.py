"""Pressure drops of a record: the line through them, the drop at 85 L/min, and how it stands to its limit."""

from __future__ import annotations

from generator.errors import OutsideRange
from generator.model.base import NotRecorded
from generator.model.device import Device
from generator.model.filter_result import PressureDropResult
from generator.model.pressure_flow import DropOf, PressureDrops
from generator.model.published import PublishedCatalogue
from generator.model.reference import Criterion, CriterionQuantity
from generator.model.result import Figure, Finding, Input, Interval, Outcome, Verdict, Working
from generator.model.session import BLOWER_OFF
from generator.scoring.counting import COVERAGE
from generator.scoring.face_velocity import resistance_together
from generator.scoring.filter_drop_points import METHOD as AT_FLOW
from generator.scoring.filter_drop_points import MeasuredDrop, drop_at_flow, half_width
from generator.scoring.filter_velocities import TEST_FLOW, device_filter
from generator.scoring.flow_statistics import coverage_factor
from generator.scoring.pressure_drop_lines import resistance_of_points, share_off_line
from generator.scoring.requirements import Spread, criteria_for, not_applicable, strictest, verdict_on
from generator.scoring.unscored import unscored_figure

FLOW_TOLERANCE = 2.0
"""How far a measured flow may lie from 85 L/min by 42 CFR 84.172(a). [L/min]"""
NO_UNCERTAINTY = "the uncertainty of the pressure is not on record"
_QUANTITY = {
    DropOf.INHALATION: CriterionQuantity.INHALATION_RESISTANCE,
    DropOf.EXHALATION: CriterionQuantity.EXHALATION_RESISTANCE,
}
_LINE, _OFF_LINE, _TOGETHER = "resistance-of-points", "share-off-line", "resistance-together"


def drop_result(drops: PressureDrops, device: Device, catalogue: PublishedCatalogue) -> PressureDropResult:
    """Return what follows from one list of pressure drops."""
    resistance = _resistance(drops)
    at_test_flow, verdict = None, None
    if drops.of in _QUANTITY:
        measured = drop_at_flow(drops, TEST_FLOW / drops.filters_at_once, FLOW_TOLERANCE / drops.filters_at_once)
        at_test_flow = _at_test_flow(drops, measured)
        verdict = _verdict(drops, at_test_flow, measured, device, catalogue)
    return PressureDropResult(
        drops=drops.id,
        of=drops.of.value,
        filter=drops.filter.value,
        blower=drops.blower,
        resistance=resistance,
        off_line=_off_line(drops, resistance),
        together=_together(drops, resistance, device),
        at_test_flow=at_test_flow,
        verdict=verdict,
    )


def _points(drops: PressureDrops) -> tuple[list[float], list[float], tuple[Input, ...]]:
    flows = [point.flow.to("L/min") for point in drops.points]
    pressures = [point.pressure.to("Pa") for point in drops.points]
    where = f"pressure_drops[{drops.id}].points"
    inputs = [
        part
        for number, (flow, pressure) in enumerate(zip(flows, pressures, strict=True), start=1)
        for part in (
            Input(symbol=f"Q_{{{number}}}", meaning="flow", value=flow, unit="L/min", where=where),
            Input(symbol=f"p_{{{number}}}", meaning="pressure drop at it", value=pressure, unit="Pa", where=where),
        )
    ]
    return flows, pressures, tuple(inputs)


def _resistance(drops: PressureDrops) -> Figure:
    key, name = f"filter.{drops.id}.resistance", "resistance"
    if drops.blower not in (None, BLOWER_OFF):
        reason = "the blower was running, so that the pressure is not lost in proportion to the flow"
        return unscored_figure(key, name, "Pa/(L/s)", _LINE, reason)
    flows, pressures, inputs = _points(drops)
    try:
        value = resistance_of_points(flows, pressures)
    except OutsideRange:
        return unscored_figure(key, name, "Pa/(L/s)", _LINE, "it was measured at one flow only, and a line takes two")
    halves = [half_width(drops, pressure) for pressure in pressures]
    known = [half for half in halves if half is not None]
    interval = None
    if len(known) == len(pressures):
        # One gauge read all points, so that its error moves them the same way.
        low = [max(pressure - half, 0.0) for pressure, half in zip(pressures, known, strict=True)]
        high = [pressure + half for pressure, half in zip(pressures, known, strict=True)]
        interval = Interval(
            low=resistance_of_points(flows, low),
            high=resistance_of_points(flows, high),
            coverage=COVERAGE,
            method=_LINE,
            covers="the stated uncertainty of the pressure, the same at every point; not that of the flow",
        )
    return Figure(
        key=key,
        name=name,
        value=value,
        unit="Pa/(L/s)",
        interval=interval,
        no_interval=None if interval is not None else NO_UNCERTAINTY,
        sample_size=len(flows),
        sample_of="points",
        method=_LINE,
        working=Working(method=_LINE, inputs=inputs),
    )


def _off_line(drops: PressureDrops, resistance: Figure) -> Figure:
    key, name = f"filter.{drops.id}.off-line", "left over by the straight line"
    flows, pressures, inputs = _points(drops)
    if resistance.value is None:
        return unscored_figure(key, name, "%", _OFF_LINE, "there is no line")
    try:
        share = share_off_line(flows, pressures, resistance.value)
    except OutsideRange:
        return unscored_figure(key, name, "%", _OFF_LINE, "it takes three points with different pressures")
    slope = Input(
        symbol="R",
        meaning="resistance",
        value=resistance.value,
        unit="Pa/(L/s)",
        where=f"pressure_drops[{drops.id}]: {resistance.key}",
    )
    mean = Input(
        symbol=r"\bar{p}",
        meaning="mean of the pressure drops",
        value=sum(pressures) / len(pressures),
        unit="Pa",
        where=f"pressure_drops[{drops.id}].points",
    )
    return Figure(
        key=key,
        name=name,
        value=100 * share,
        unit="%",
        no_interval="not computed for a share of variation",
        sample_size=len(flows),
        sample_of="points",
        method=_OFF_LINE,
        working=Working(method=_OFF_LINE, inputs=(slope, mean, *inputs)),
    )


def _together(drops: PressureDrops, resistance: Figure, device: Device) -> Figure | None:
    described = device_filter(device)
    of_own_filter = drops.of is DropOf.FILTER and not drops.alternative
    if not of_own_filter or described is None or described.count == drops.filters_at_once or not resistance.value:
        return None
    each = resistance.value * drops.filters_at_once
    where = f"pressure_drops[{drops.id}]: {resistance.key}"
    inputs = tuple(
        Input(
            symbol=f"R_{{{number}}}", meaning=f"resistance of filter {number}", value=each, unit="Pa/(L/s)", where=where
        )
        for number in range(1, described.count + 1)
    )
    interval, share = resistance.interval, drops.filters_at_once / described.count
    if interval is not None and interval.low is not None and interval.high is not None:
        ends = {"low": interval.low * share, "high": interval.high * share, "method": _TOGETHER}
        interval = interval.model_copy(update=ends)
    return Figure(
        key=f"filter.{drops.id}.resistance-together",
        name=f"resistance of {described.count} such filters side by side",
        value=resistance_together([each] * described.count),
        unit="Pa/(L/s)",
        interval=interval,
        no_interval=None if interval is not None else NO_UNCERTAINTY,
        sample_size=resistance.sample_size,
        sample_of=resistance.sample_of,
        method=_TOGETHER,
        working=Working(method=_TOGETHER, inputs=inputs),
    )


def _at_test_flow(drops: PressureDrops, measured: MeasuredDrop | None) -> Figure:
    key, name = f"filter.{drops.id}.at-85", f"pressure drop at {TEST_FLOW:g} L/min"
    if measured is None:
        reason = f"it was not measured on both sides of {TEST_FLOW:g} L/min, nor within {FLOW_TOLERANCE:g} L/min of it"
        return unscored_figure(key, name, "Pa", AT_FLOW, reason)
    interval = None
    if measured.low is not None and measured.high is not None:
        interval = Interval(
            low=measured.low,
            high=measured.high,
            coverage=COVERAGE,
            method=AT_FLOW,
            covers="the stated uncertainty of the pressure; not that of the flow, nor differences between items",
        )
    as_it_stands = (measured.as_input("p").model_copy(update={"meaning": "pressure drop as read"}),)
    return Figure(
        key=key,
        name=name,
        value=measured.value,
        unit="Pa",
        interval=interval,
        no_interval=None if interval is not None else NO_UNCERTAINTY,
        sample_size=1 if measured.working is None else 2,
        sample_of="point" if measured.working is None else "points",
        method=AT_FLOW,
        working=measured.working or Working(method=AT_FLOW, inputs=as_it_stands),
    )


def _verdict(
    drops: PressureDrops,
    figure: Figure,
    measured: MeasuredDrop | None,
    device: Device,
    catalogue: PublishedCatalogue,
) -> Verdict:
    key = f"filter.{drops.id}.verdict"
    fitting = _criteria(drops, device, catalogue)
    if not fitting:
        return not_applicable(key, figure, _why_no_limit(drops, device, catalogue))
    if figure.value is None:
        return not_applicable(key, figure, f"there is no figure to compare: {figure.not_scored}")
    if drops.blower not in (None, BLOWER_OFF):
        reason = "the blower was running, and what was seen of the clause names a device with its blower off"
        return not_applicable(key, figure, reason)
    if isinstance(drops.uncertainty, NotRecorded) or measured is None or measured.high is None:
        spread = None
    else:
        spread = Spread((measured.high - measured.value) / coverage_factor(None, COVERAGE), None)
    return verdict_on(key, figure, strictest(fitting), spread, benchmark_only=device.home_built)


def _criteria(drops: PressureDrops, device: Device, catalogue: PublishedCatalogue) -> list[Criterion]:
    of_kind = criteria_for(_QUANTITY[drops.of], device, catalogue)
    return [criterion for criterion in of_kind if criterion.filter in (None, drops.filter)]


def _why_no_limit(drops: PressureDrops, device: Device, catalogue: PublishedCatalogue) -> str:
    if criteria_for(_QUANTITY[drops.of], device, catalogue):
        return f"no limit is on record for a {drops.filter.value} filter of this kind of device"
    return "no limit of this resistance is on record for this kind of device"


def resistance_findings(result: PressureDropResult) -> list[Finding]:
    """Return a finding where breathing through a device costs more than its limit allows."""
    verdict = result.verdict
    if verdict is None or verdict.outcome is not Outcome.DOES_NOT_MEET or verdict.limit is None:
        return []
    facts: dict[str, str | int | float] = {"of": result.of, "filter": result.filter, "limit_pa": verdict.limit}
    return [Finding(rule="resistance-above-limit", where=f"pressure_drops[{result.drops}]", facts=facts)]
