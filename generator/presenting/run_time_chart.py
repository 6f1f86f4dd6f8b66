"""The flow of run-downs against time, as data for a chart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.model.published import PublishedTest
from generator.model.result import Relation
from generator.model.run_down import RunDown
from generator.model.run_time_result import RunDownResult
from generator.presenting.context import Context
from generator.presenting.curve_views import Area, Axis, Curve, CurveChart, Event, Level, Panel
from generator.presenting.digits import quantity_text
from generator.presenting.run_time_words import run_down_state, run_time_words
from generator.presenting.wording import sentence_case
from generator.scoring.run_down import SECONDS_PER_MINUTE
from generator.scoring.run_down_flow import logged_flow

MOST_POINTS = 200
MOST_PANELS = 4
_CAPTION = (
    "The flow on one charge, corrected and in the air of the room; no reading of the log is left out that is the "
    "lowest or highest of its stretch. What lies below the level is not run time."
)


@dataclass(frozen=True)
class Drawn:
    """A run-down that is drawn: its record, the part of the record, its result, and what its panel is called."""

    test: PublishedTest
    run_down: RunDown
    result: RunDownResult
    label: str
    key: str
    """With which the ids of its marks begin."""


def thinned(points: Sequence[tuple[float, float]], most: int = MOST_POINTS) -> tuple[tuple[float, float], ...]:
    """Return at most so many points in order: the first, the last, and of each stretch the lowest and the highest."""
    if len(points) <= most:
        return tuple(points)
    inner, stretches = points[1:-1], (most - 2) // 2
    kept = [0]
    for number in range(stretches):
        places = range(number * len(inner) // stretches, (number + 1) * len(inner) // stretches)
        ends = {min(places, key=lambda place: inner[place][1]), max(places, key=lambda place: inner[place][1])}
        kept += [place + 1 for place in sorted(ends)]
    return tuple(points[place] for place in (*kept, len(points) - 1))


def run_time_chart(drawn: Sequence[Drawn], context: Context, table: str = "") -> CurveChart:
    """Return a chart with a panel for each run-down, all on the same axes; `table` is the id of their table, if any."""
    panels, longest, highest = [], 0.0, 0.0
    for item in drawn[:MOST_PANELS]:
        points = _points(item, context)
        longest = max(longest, points[-1][0])
        highest = max(highest, item.result.required_l_per_min or 0.0, *(flow for _, flow in points))
        panels.append(_panel(item, points))
    left_out = len(drawn) - len(panels)
    more = f" {left_out} more are told in the table and drawn on the pages of their records." if left_out else ""
    return CurveChart(
        id="run-time-curve",
        title="Flow on one charge",
        description=" ".join(run_time_words(item.result) for item in drawn[:MOST_PANELS]) + more,
        caption=_CAPTION + more,
        x=Axis("Time since the log began", "min", 0.0, longest or 1.0),
        y=Axis("Flow", "L/min", 0.0, 1.1 * highest or 1.0),
        panels=tuple(panels),
        table=table,
    )


def _points(item: Drawn, context: Context) -> tuple[tuple[float, float], ...]:
    logged = logged_flow(item.run_down, item.test, context.catalogue)
    start = logged.times[0]
    # A correction can lead a reading of nothing a little below it.
    flows = (max(0.0, flow) for flow in logged.flows)
    return thinned(
        [((time - start) / SECONDS_PER_MINUTE, flow) for time, flow in zip(logged.times, flows, strict=True)]
    )


def _panel(item: Drawn, points: tuple[tuple[float, float], ...]) -> Panel:
    result, required = item.result, item.result.required_l_per_min
    levels: tuple[Level, ...] = ()
    areas: tuple[Area, ...] = ()
    if required is not None:
        what = "benchmark" if result.benchmark_only else "required"
        levels = (Level(f"{item.key}.required", f"{quantity_text(required, 'L/min')} {what}", required),)
        areas = _below(item, points, required)
    return Panel(
        heading=item.label,
        curves=(Curve(f"{item.key}.flow", "flow", points),),
        areas=areas,
        levels=levels,
        events=_events(item),
    )


def _below(item: Drawn, points: tuple[tuple[float, float], ...], required: float) -> tuple[Area, ...]:
    """Return what is missing from the end of the run time on."""
    end = item.result.run_time.value
    if end is None or item.result.run_time.relation is Relation.AT_LEAST:
        return ()
    later = [(time, min(flow, required), required) for time, flow in points if time > end]
    if not later:
        return ()
    return (Area(f"{item.key}.below", "less than is required", ((end, required, required), *later), warning=True),)


def _events(item: Drawn) -> tuple[Event, ...]:
    result = item.result
    found = []
    if result.run_time.value and result.run_time.relation is Relation.EQUAL:
        found.append(Event(f"{item.key}.end", "end of the run time", result.run_time.value))
    start = None
    if result.first_alarm is not None and result.first_alarm.value is not None:
        first = item.run_down.alarms[0].at.to("min")
        start = first - result.first_alarm.value
    for number, alarm in enumerate(item.run_down.alarms, start=1):
        assert start is not None, "a run-down with alarms has a first one"
        found.append(Event(f"{item.key}.alarm-{number}", f"alarm: {alarm.what}", alarm.at.to("min") - start))
    if result.to_stop is not None and result.to_stop.value is not None:
        found.append(Event(f"{item.key}.stop", "blower stopped", result.to_stop.value))
    return tuple(found)


def panel_label(result: RunDownResult) -> str:
    """Name a run-down's panel."""
    return sentence_case(run_down_state(result))
