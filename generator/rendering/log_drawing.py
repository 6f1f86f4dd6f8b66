"""Draws a raw log: concentration against time, with bars below that say whose air it was and what the wearer did."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.presenting.views import LogChart, LogExercise, LogStretch
from generator.rendering.curve_axes import without_needless
from generator.rendering.drawing import ACCENT, FAINT, LINE, TEXT_SIZE, Pen, fitted, text_width
from generator.rendering.svg_cleaning import INK

LEFT = 62
HEAD = 24
PLOT_HEIGHT = 196
_BELOW_SCALE = 14
"""How far below the scale's lower end the line for readings of zero lies. [px]"""
_MOST_DECADES = 9
_LANES = (
    ("second", "channel 2", INK, 0.7),
    ("side-by-side", "both out", ACCENT, 1.2),
    ("ambient", "outside", INK, 1.7),
    ("purge", "purge", FAINT, 1.0),
    ("in-mask", "inside", ACCENT, 1.2),
)
"""Kinds of air from top to bottom: as in the log, as a reader sees it, colour and width of its line."""
_TIME_STEPS = (1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 14_400, 36_000, 86_400)


@dataclass(frozen=True)
class _Axes:
    """Where time and concentration lie on the sheet."""

    left: float
    right: float
    start: float
    end: float
    low_decade: int
    high_decade: int

    def x(self, time: float) -> float:
        span = self.end - self.start
        return self.left + (self.right - self.left) * ((time - self.start) / span if span > 0 else 0.5)

    def y(self, concentration: float) -> float:
        """Return the height of a reading; zero and all that lies below the scale stands on the floor line."""
        if concentration < 10.0**self.low_decade:
            return self.floor
        share = (math.log10(concentration) - self.low_decade) / (self.high_decade - self.low_decade)
        return HEAD + PLOT_HEIGHT * (1 - share)

    @property
    def bottom(self) -> float:
        return HEAD + PLOT_HEIGHT

    @property
    def floor(self) -> float:
        return self.bottom + _BELOW_SCALE


def _axes(chart: LogChart, width: float) -> _Axes:
    times = [time for stretch in chart.stretches for time, _ in stretch.points]
    values = [value for stretch in chart.stretches for _, value in stretch.points if value > 0]
    high = math.ceil(math.log10(max(values, default=1)))
    low = max(math.floor(math.log10(min(values, default=1))), high - _MOST_DECADES)
    return _Axes(LEFT, width - 12, times[0], times[-1], low, high if high > low else low + 1)


def thinned(stretches: Sequence[LogStretch], axes: _Axes) -> dict[str, list[list[tuple[float, float]]]]:
    """Return polylines in pixels by kind of air, with at most the least and greatest reading of each pixel column.

    However long the log, no spike is lost and the drawing stays small. A line breaks where the counter drew other air
    for longer than a pixel.
    """
    columns: dict[str, dict[int, list[tuple[float, float]]]] = {}
    breaks: dict[str, set[int]] = {}
    last_column: dict[str, int] = {}
    for stretch in stretches:
        of_air = columns.setdefault(stretch.air, {})
        first = round(axes.x(stretch.points[0][0]))
        if first - last_column.get(stretch.air, first - 2) > 1:
            breaks.setdefault(stretch.air, set()).add(first)
        for point in stretch.points:
            column = round(axes.x(point[0]))
            kept = of_air.setdefault(column, [])
            of_air[column] = sorted({min([*kept, point], key=_value), max([*kept, point], key=_value)})
        last_column[stretch.air] = round(axes.x(stretch.points[-1][0]))
    lines: dict[str, list[list[tuple[float, float]]]] = {}
    for air, of_air in columns.items():
        for column, points in of_air.items():
            if column in breaks[air]:
                lines.setdefault(air, []).append([])
            lines[air][-1] += [(axes.x(time), axes.y(value)) for time, value in points]
    return lines


def _value(point: tuple[float, float]) -> float:
    return point[1]


def _decade_label(decade: int) -> str:
    if decade < 0:
        return f"0.{'0' * (-decade - 1)}1"
    return f"{10**decade:,}".replace(",", "\u202f") if decade > 3 else str(10**decade)


def _draw_frame(pen: Pen, axes: _Axes) -> None:
    pen.text(0, TEXT_SIZE, "particles per cm³, logarithmic scale")
    pen.line((axes.left, axes.left), (HEAD, axes.bottom), INK, 1)
    for decade in range(axes.low_decade, axes.high_decade + 1):
        y = axes.y(10.0**decade)
        pen.line((axes.left - 8, axes.left), (y, y), INK, 0.8, f"tick-{10.0**decade:g}")
        pen.text(axes.left - 11, y + 4, _decade_label(decade), "end")
    decades = range(axes.low_decade, axes.high_decade)
    finer = [(step, axes.y(step * 10.0**decade)) for decade in decades for step in range(2, 10)]
    pen.lines([((axes.left - (5 if step == 5 else 3), y), (axes.left, y)) for step, y in finer], INK, 0.5)


def _draw_floor(pen: Pen, axes: _Axes, chart: LogChart) -> None:
    """Mark where readings of zero lie, which a logarithmic axis has no place for."""
    if any(value <= 0 for stretch in chart.stretches for _, value in stretch.points):
        pen.line((axes.left, axes.right), (axes.floor, axes.floor), FAINT, 0.5, "floor")
        pen.text(axes.left - 11, axes.floor + 5, "0", "end")


def _draw_time(pen: Pen, axes: _Axes, y: float) -> None:
    span = axes.end - axes.start
    # As many ticks as their labels leave room for.
    step = next((step for step in _TIME_STEPS if span / step * 48 <= axes.right - axes.left), _TIME_STEPS[-1])
    unit, seconds = ("s", 1) if step < 60 else ("min", 60) if step < 3600 else ("h", 3600)
    pen.line((axes.left, axes.right), (y, y), INK, 1)
    for number in range(math.ceil(axes.start / step), math.floor(axes.end / step) + 1):
        x = axes.x(number * step)
        pen.line((x, x), (y, y + 6), INK, 0.7, f"time-{number * step}")
        pen.text(x, y + 7 + TEXT_SIZE, f"{number * step / seconds:g}", "middle")
    pen.text(0, y + 7 + TEXT_SIZE, f"time, {unit}")


def _bars(lines: Sequence[Sequence[tuple[float, float]]]) -> list[tuple[float, float]]:
    return [(line[0][0], max(line[-1][0], line[0][0] + 1)) for line in lines]


@dataclass(frozen=True)
class _Placed:
    """An exercise's bar and name, each on one of the lines below the drawing. [px]"""

    name: str
    start: float
    end: float
    line: int
    text_x: float
    anchor: str
    text_line: int


def _free_line(taken: list[list[tuple[float, float]]], low: float, high: float, first: int = 0) -> int:
    """Return the first line, not before `first`, that has room from low to high, and take it."""
    free = (at for at, used in enumerate(taken) if all(low > right + 8 or high < left - 8 for left, right in used))
    line = next((at for at in free if at >= first), len(taken))
    if line == len(taken):
        taken.append([])
    taken[line].append((low, high))
    return line


def _placed(exercises: Sequence[LogExercise], axes: _Axes) -> list[_Placed]:
    """Give each exercise a line where it meets no other: its name right or left of its bar, else on a line below."""
    # The first line begins with the word for the air of all of them.
    taken: list[list[tuple[float, float]]] = [[(0, text_width(_LANES[-1][1]))]]
    placed = []
    for exercise in exercises:
        start = axes.x(exercise.start)
        end = max(axes.x(exercise.end), start + 1)
        edge = axes.right + 10
        name = fitted(exercise.name, edge)
        width = text_width(name)
        if end + 5 + width <= edge:
            line = _free_line(taken, start, end + 5 + width)
            placed.append(_Placed(name, start, end, line, end + 5, "start", line))
        elif width <= start - 5:
            line = _free_line(taken, start - 5 - width, end)
            placed.append(_Placed(name, start, end, line, start - 5, "end", line))
        else:
            line, text_x = _free_line(taken, start, end), min(start, edge - width)
            below = _free_line(taken, text_x, text_x + width, line + 1)
            placed.append(_Placed(name, start, end, line, text_x, "start", below))
    return placed


def draw_log(chart: LogChart, narrow: bool = False) -> str:
    """Draw a log as inline SVG, wide or narrow.

    Ids start with the chart's id, `-n` behind it where it is narrow: `<id>-tick-100` and `<id>-time-60` for ticks,
    `<id>-floor` for the line of zero readings, `<id>-in-mask-0` and so on for the lines.
    """
    width = 350 if narrow else 700
    axes = _axes(chart, width)
    lines = thinned(chart.stretches, axes)
    lanes = [lane for lane in _LANES if lane[0] in lines]
    exercises = _placed(chart.exercises, axes)
    time_y = axes.floor + 10
    lane_y = time_y + 7 + TEXT_SIZE + 18
    rows = len(lanes) + max((max(exercise.line, exercise.text_line) for exercise in exercises), default=0)
    pen = Pen(width, lane_y + rows * LINE)
    _draw_frame(pen, axes)
    _draw_floor(pen, axes, chart)
    _draw_time(pen, axes, time_y)
    for row, (air, label, colour, weight) in enumerate(lanes):
        y = lane_y + row * LINE
        pen.text(0, y + 4, label)
        for number, line in enumerate(map(without_needless, lines[air])):
            # A single reading would be a line without length.
            points = line if len(line) > 1 else [line[0], (line[0][0] + 1, line[0][1])]
            pen.line(tuple(x for x, _ in points), tuple(y for _, y in points), colour, weight, f"{air}-{number}")
        if air != "in-mask":
            for start, end in _bars(lines[air]):
                pen.line((start, end), (y, y), colour, 4 if air in ("ambient", "side-by-side") else 1.5)
            continue
        for exercise in exercises:
            at = y + exercise.line * LINE
            pen.line((exercise.start, exercise.end), (at, at), colour, 4)
            pen.text(exercise.text_x, y + exercise.text_line * LINE + 4, exercise.name, exercise.anchor)
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)
