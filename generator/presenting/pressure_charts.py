"""Pressure inside against time, one panel for each trace, thinned so that no peak and no dip is lost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from generator.model.series import Series
from generator.presenting.curve_views import Area, Axis, Curve, CurveChart, Level, Panel
from generator.presenting.wording import sentence_case

MOST_POINTS = 200
"""The most points of one curve."""
Points = tuple[tuple[float, float], ...]


def pressure_chart(identity: str, traces: Sequence[tuple[str, str, str, Series]], table: str) -> CurveChart:
    """Return the chart of traces, each given by key, heading, description and log; all panels share their axes.

    `table` is the id of what has their figures as text.
    """
    pressures = [pressure for *_, series in traces for pressure in series.pressure_pa or ()]
    low, high = min(0.0, *pressures), max(0.0, *pressures)
    room = (high - low or 1.0) * 0.08
    length = max(series.time_s[-1] - series.time_s[0] for *_, series in traces)
    return CurveChart(
        id=identity,
        title="Pressure inside against that of the room, over time",
        description=sentence_case("; ".join(description for _, _, description, _ in traces)) + ".",
        caption=(
            "Below the line of the room’s pressure, air can come in through any gap. Of every stretch of time the "
            "lowest and the highest reading are drawn."
        ),
        x=Axis("Time from the first reading", "s", 0.0, length or 1.0),
        y=Axis("Pressure", "Pa", low - room, high + room),
        panels=tuple(_panel(key, heading, series) for key, heading, _, series in traces),
        table=table,
    )


def _panel(key: str, heading: str, series: Series) -> Panel:
    begin = series.time_s[0]
    readings = tuple(
        (time - begin, pressure) for time, pressure in zip(series.time_s, series.pressure_pa or (), strict=True)
    )
    points = thinned(readings, MOST_POINTS)
    below = below_zero(points)
    return Panel(
        heading=heading,
        curves=(Curve(f"{key}-pressure", "inside", points),),
        areas=(Area(f"{key}-below", "below the room", below, warning=True),) if below else (),
        levels=(Level(f"{key}-room", "pressure of the room", 0.0),),
    )


def thinned(points: Points, most: int) -> Points:
    """Return at most so many points: the lowest and the highest of each stretch of readings, in order of time."""
    if len(points) <= most:
        return points
    stretches = most // 2
    kept: list[tuple[float, float]] = []
    for number in range(stretches):
        part = points[number * len(points) // stretches : (number + 1) * len(points) // stretches]
        ends = {min(part, key=lambda point: point[1]), max(part, key=lambda point: point[1])}
        kept += sorted(ends)
    return tuple(kept)


def below_zero(points: Points) -> tuple[tuple[float, float, float], ...]:
    """Return the area between a curve and zero where it lies below, cut where it crosses; nothing where it never does.

    Where the curve lies above zero the area has no height.
    """
    if all(pressure >= 0 for _, pressure in points):
        return ()
    edge = [*_with_crossings(points), points[-1]]
    return tuple((time, min(pressure, 0.0), 0.0) for time, pressure in edge)


def _with_crossings(points: Points) -> Iterator[tuple[float, float]]:
    for (earlier, before), (later, after) in pairwise(points):
        yield earlier, before
        if before * after < 0:
            yield earlier + (later - earlier) * before / (before - after), 0.0
