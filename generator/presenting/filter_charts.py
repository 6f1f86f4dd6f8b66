"""Charts of a filter: pressure drop against flow, and flow and pressure while it was loaded."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.filter_result import FilterResult, PressureDropResult
from generator.model.pressure_flow import PressureDrops
from generator.model.published import PublishedTest
from generator.presenting.context import Context
from generator.presenting.curve_views import Axis, Curve, CurveChart, Event, Level, Mark, Panel
from generator.presenting.digits import figure_text, quantity_text
from generator.presenting.filter_words import LINEAR, drop_words
from generator.presenting.wording import shortened
from generator.scoring.filter_drop_points import half_width
from generator.scoring.filter_velocities import TEST_FLOW, required_flow

MOST_POINTS = 200
_S_PER_MIN = 60
_ROOM_ABOVE = 1.15


def filter_charts(test: PublishedTest, result: FilterResult, context: Context, prefix: str) -> tuple[CurveChart, ...]:
    """Return the charts of one record; `prefix` tells them from those of other records on the same page."""
    drops = {item.id: item for item in test.pressure_drops}
    lines = [(drops[item.drops], item) for item in result.drops]
    charts = [_pressure_chart(lines, f"{prefix}filter-pressure")] if lines else []
    for item in test.filter_test.loading if test.filter_test is not None else ():
        series, device = context.catalogue.series[item.log.file], context.catalogue.devices[test.device]
        identity, required = f"{prefix}filter-loading-{item.id}", required_flow(device, context.catalogue)
        if series.flow_l_per_min is not None:
            level = () if required is None else (Level("required", f"required {required.limit:g}", required.limit),)
            readings = series.flow_l_per_min
            title = "Air delivered while the filter was loaded"
            charts.append(_loading_chart(f"{identity}-flow", title, series.time_s, readings, "Flow", "L/min", level))
        if series.pressure_pa is not None:
            readings, title = series.pressure_pa, "Pressure while the filter was loaded"
            charts.append(_loading_chart(f"{identity}-pressure", title, series.time_s, readings, "Pressure", "Pa", ()))
    return tuple(charts)


def _pressure_chart(lines: Sequence[tuple[PressureDrops, PressureDropResult]], identity: str) -> CurveChart:
    highest_flow = max(point.flow.to("L/min") for drops, _ in lines for point in drops.points)
    highest_drop = max(
        point.pressure.to("Pa") + (half_width(drops, point.pressure.to("Pa")) or 0.0)
        for drops, _ in lines
        for point in drops.points
    )
    whole = any(item.at_test_flow is not None for _, item in lines)
    panel = Panel(
        heading="",
        curves=tuple(curve for drops, item in lines for curve in _line(drops, item)),
        marks=tuple(mark for drops, item in lines for mark in _marks(drops, item)),
        events=(Event("test-flow", f"{TEST_FLOW:g} L/min", TEST_FLOW),) if whole else (),
    )
    said = "; ".join(f"{_words(item)}: {figure_text(item.resistance)}" for _, item in lines)
    return CurveChart(
        id=identity,
        title="Pressure lost, against the flow",
        description=f"{said}. Each line goes from no flow and no pressure up to the highest measured flow.",
        caption="Diamonds are the points as measured, bars their 95 % intervals where the gauge's uncertainty is on "
        f"record; lines go through no flow and no pressure, and end where the measuring ended.{_without_line(lines)} "
        f"{LINEAR}",
        x=Axis("Flow", "L/min", 0.0, highest_flow * _ROOM_ABOVE),
        y=Axis("Pressure lost", "Pa", 0.0, highest_drop * _ROOM_ABOVE or 1.0),
        panels=(panel,),
        table="filter-resistance",
    )


def _words(item: PressureDropResult) -> str:
    return drop_words(item.of, item.filter, item.blower)


def _line(drops: PressureDrops, item: PressureDropResult) -> tuple[Curve, ...]:
    if item.resistance.value is None:
        return ()
    end = drops.points[-1].flow.to("L/min")
    points = ((0.0, 0.0), (end, item.resistance.value * end / _S_PER_MIN))
    return (Curve(drops.id, _words(item), points, dashed=item.filter == "loaded", accent=item.of != "exhalation"),)


def _without_line(lines: Sequence[tuple[PressureDrops, PressureDropResult]]) -> str:
    """Say why some points have no line through them, where there are such."""
    reasons = dict.fromkeys(item.resistance.not_scored for _, item in lines if item.resistance.value is None)
    return f" Hollow diamonds have no line: {'; '.join(reason for reason in reasons if reason)}." if reasons else ""


def _marks(drops: PressureDrops, item: PressureDropResult) -> tuple[Mark, ...]:
    found = []
    # Points without a line that names them are named at the last of them.
    named = len(drops.points) if item.resistance.value is None else 0
    for number, point in enumerate(drops.points, start=1):
        pressure = point.pressure.to("Pa")
        half = half_width(drops, pressure)
        low, high = (None, None) if half is None else (max(pressure - half, 0.0), pressure + half)
        text = _words(item) if number == named else ""
        found.append(
            Mark(f"{drops.id}-{number}", text, point.flow.to("L/min"), pressure, low, high, hollow=bool(named))
        )
    return tuple(found)


def _loading_chart(
    identity: str,
    title: str,
    times: Sequence[float],
    readings: Sequence[float],
    name: str,
    unit: str,
    levels: tuple[Level, ...],
) -> CurveChart:
    minutes = [(time - times[0]) / _S_PER_MIN for time in times]
    points = thinned(tuple(zip(minutes, readings, strict=True)))
    top = max([*readings, *(level.value for level in levels)])
    first, last = quantity_text(readings[0], unit, 3), quantity_text(readings[-1], unit, 3)
    length = quantity_text(minutes[-1], "min", 3)
    return CurveChart(
        id=identity,
        title=title,
        description=f"{name} from {first} at the beginning to {last} after {length}.",
        caption=f"{name} as logged; of a long log the lowest and the highest reading of each stretch are drawn.",
        x=Axis("Time", "min", 0.0, minutes[-1] * 1.02),
        y=Axis(name, unit, min(0.0, *readings), top * _ROOM_ABOVE),
        panels=(Panel("", (Curve("logged", shortened(name.lower(), 20), points),), levels=levels),),
    )


def thinned(points: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    """Return at most 200 points: the lowest and the highest of each stretch, and the first and the last of all."""
    if len(points) <= MOST_POINTS:
        return points
    stretches = MOST_POINTS // 2 - 1
    kept = {0, len(points) - 1}
    for stretch in range(stretches):
        places = range(stretch * len(points) // stretches, (stretch + 1) * len(points) // stretches)
        kept |= {min(places, key=lambda place: points[place][1]), max(places, key=lambda place: points[place][1])}
    return tuple(points[place] for place in sorted(kept))
