"""Draws a device's air path as a diagram: ways in on the left, the covered head between them, ways out on the right."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.presenting.design_views import AirPathChart
from generator.rendering.drawing import ACCENT, FAINT, LINE, TEXT_SIZE, Pen, fitted, one_line, text_width
from generator.rendering.svg_cleaning import INK

Point = tuple[float, float]

DASHES = (4.0, 3.0)
MOST_LINES = 6
"""Lines of a label at most; the list below the diagram holds the whole."""
BETWEEN = 12
"""From one label to the next. [px]"""
HEAD = 150
"""The least height of the part with the head. [px]"""
ARROW = 6
FILTER = 7
"""How wide the sign for a filter is. [px]"""
FILTER_HALF = 9
"""Half its height. [px]"""
TOGETHER = "this fan and an inlet draw on the same air"


@dataclass(frozen=True)
class _Sheet:
    """The measures of one drawing: its width, that of a column of labels, and how large the head is. [px]"""

    width: int
    column: int
    scale: float
    fan: float
    """The radius of the sign for a fan."""
    run: float
    """From the end of a label's line to where lines meet or bend."""

    @property
    def middle(self) -> float:
        return self.width / 2


_WIDE = _Sheet(width=700, column=210, scale=1.0, fan=8, run=24)
_NARROW = _Sheet(width=350, column=98, scale=0.62, fan=6, run=14)

_ROUND = tuple(number * math.tau / 32 for number in range(33))
_ROUND = tuple(number * math.tau / 32 for number in range(33))
_HEAD: tuple[Point, ...] = tuple((0.68 * math.sin(angle), -0.92 * math.cos(angle)) for angle in _ROUND)
"""A head from the front, in units of half its height."""
_NECK_LEFT: tuple[Point, ...] = ((-0.28, 0.84), (-0.3, 1.15), (-0.95, 1.42))
_OUTLINES: dict[str, tuple[Point, ...]] = {
    "mask": ((-0.62, -0.02), (0, -0.14), (0.62, -0.02), (0.56, 0.55), (0.24, 0.98), (-0.24, 0.98), (-0.56, 0.55)),
    "half": ((-0.15, -0.04), (0.15, -0.04), (0.52, 0.5), (0.36, 0.96), (-0.36, 0.96), (-0.52, 0.5)),
    "full": tuple((0.8 * math.sin(angle), 0.1 - 0.94 * math.cos(angle)) for angle in _ROUND),
    "visor": ((-0.84, -0.62), (0, -0.8), (0.84, -0.62), (0.84, 0.55), (0.42, 1.06), (-0.42, 1.06), (-0.84, 0.55)),
    "hood": (
        (-1.2, 1.36),
        *((1.02 * math.sin(a), -0.2 - 1.0 * math.cos(a)) for a in (n * math.pi / 20 for n in range(-11, 12))),
        (1.2, 1.36),
    ),
}
"""What covers the wearer, in the same units."""


def wrapped(text: str, width: float) -> tuple[str, ...]:
    """Break a text into lines of a width, six at most; what does not fit is cut."""
    lines: list[str] = []
    words = one_line(text).split()
    while words and len(lines) < MOST_LINES - 1:
        count = 1
        while count < len(words) and text_width(" ".join(words[: count + 1])) <= width:
            count += 1
        lines.append(fitted(" ".join(words[:count]), width))
        words = words[count:]
    return (*lines, fitted(" ".join(words), width)) if words else tuple(lines)


@dataclass(frozen=True)
class _Label:
    """A way of the air with its label, and where it lies. [px]"""

    key: str
    lines: tuple[str, ...]
    filtered: bool
    fan: bool
    y: float
    """The middle of its label."""


def _labels(ways: Sequence[tuple[str, str, bool, bool]], width: float, top: float, bottom: float) -> list[_Label]:
    """Give each way its label and a place, spread evenly between top and bottom."""
    broken = [wrapped(text, width) for _, text, _, _ in ways]
    heights = [len(lines) * LINE for lines in broken]
    free = max((bottom - top - sum(heights)) / (len(ways) + 1), BETWEEN) if ways else 0.0
    labels, y = [], top
    for (key, _, filtered, fan), lines, height in zip(ways, broken, heights, strict=True):
        y += free
        labels.append(_Label(key, lines, filtered, fan, y + height / 2))
        y += height
    return labels


def _ways_in(chart: AirPathChart) -> list[tuple[str, str, bool, bool]]:
    """Return the ways in, filtered ones first, so that their lines can meet before a blower."""
    ways = [(f"inlet-{number}", way.text, way.filtered, False) for number, way in enumerate(chart.inlets, start=1)]
    return sorted(ways, key=lambda way: not way[2])


def _ways_out(chart: AirPathChart) -> list[tuple[str, str, bool, bool]]:
    ways = [(f"outlet-{number}", way.text, way.filtered, False) for number, way in enumerate(chart.outlets, start=1)]
    if chart.exhaust is not None:
        note = f"; {TOGETHER}" if chart.beside_inlet else ""
        ways.append(("exhaust", f"{chart.exhaust}{note}", False, True))
    return ways


def _needed(ways: Sequence[tuple[str, str, bool, bool]], width: float) -> float:
    return sum(len(wrapped(text, width)) * LINE + BETWEEN for _, text, _, _ in ways) + BETWEEN


def draw_air_path(chart: AirPathChart, narrow: bool = False) -> str:
    """Draw the diagram as inline SVG, wide or narrow.

    Ids in the drawing start with the chart's id, `-n` behind it where it is narrow: `<id>-outline`, `<id>-inlet-1`,
    `<id>-outlet-1`, `<id>-exhaust` and `<id>-blower`.
    """
    sheet = _NARROW if narrow else _WIDE
    ways_in, ways_out = _ways_in(chart), _ways_out(chart)
    head = max(_needed(ways_in, sheet.column), _needed(ways_out, sheet.column), HEAD * sheet.scale + 2 * LINE)
    top = LINE + 4.0
    seals = wrapped(f"Seals: {chart.seals}", sheet.width - 20.0)
    foot = top + head + 16
    pen = Pen(sheet.width, foot + len(seals) * LINE + 6)
    pen.text(sheet.column, TEXT_SIZE, "Air gets in", "end")
    pen.text(sheet.width - sheet.column, TEXT_SIZE, "Air gets out")
    centre = top + head / 2 - 6
    outline = _outline(chart.outline, sheet, centre)
    _draw_wearer(pen, outline, sheet, centre)
    _draw_ways_in(pen, _labels(ways_in, sheet.column, top, top + head), outline, sheet, chart.blower)
    _draw_ways_out(pen, _labels(ways_out, sheet.column, top, top + head), outline, sheet)
    lowest = max(y for _, y in outline)
    pen.line((sheet.middle, sheet.middle), (lowest + 4, foot - 2), FAINT, 0.8)
    for number, line in enumerate(seals, start=1):
        pen.text(sheet.middle, foot + number * LINE - 4, line, "middle")
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)


def _outline(name: str, sheet: _Sheet, centre: float) -> list[Point]:
    return [_placed(point, sheet, centre) for point in _OUTLINES[name]]


def _placed(point: Point, sheet: _Sheet, centre: float) -> Point:
    size = 52 * sheet.scale
    return sheet.middle + point[0] * size, centre + point[1] * size


def _draw_wearer(pen: Pen, outline: list[Point], sheet: _Sheet, centre: float) -> None:
    mirrored = tuple((-x, y) for x, y in _NECK_LEFT)
    for part in (_HEAD, _NECK_LEFT, mirrored):
        points = [_placed(point, sheet, centre) for point in part]
        pen.line(tuple(x for x, _ in points), tuple(y for _, y in points), FAINT, 1)
    closed = [*outline, outline[0]]
    pen.tint(outline, ACCENT, 0.08, "")
    pen.line(tuple(x for x, _ in closed), tuple(y for _, y in closed), INK, 1.6, "outline")


def _entries(count: int, outline: list[Point]) -> list[float]:
    """Return the heights at which so many lines meet the covering. [px]"""
    top, bottom = min(y for _, y in outline), max(y for _, y in outline)
    return [top + (bottom - top) * (0.3 + 0.6 * (number + 0.5) / count) for number in range(count)]


def _edge(outline: list[Point], y: float, right: bool) -> float:
    """Return where the covering's edge lies at a height. [px]"""
    crossings = []
    for (x0, y0), (x1, y1) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if min(y0, y1) <= y <= max(y0, y1) and y0 != y1:
            crossings.append(x0 + (x1 - x0) * (y - y0) / (y1 - y0))
    return max(crossings) if right else min(crossings)


def _line(pen: Pen, points: Sequence[Point], filtered: bool, name: str = "") -> None:
    xs, ys = tuple(x for x, _ in points), tuple(y for _, y in points)
    pen.line(xs, ys, ACCENT, 1.4, name, None if filtered else DASHES)


def _arrow(pen: Pen, tip: Point, back: Point) -> None:
    angle = math.atan2(tip[1] - back[1], tip[0] - back[0])
    sides = [
        (tip[0] - ARROW * math.cos(angle + turn), tip[1] - ARROW * math.sin(angle + turn)) for turn in (-0.45, 0.45)
    ]
    pen.shape([tip, *sides], ACCENT, "")


def _draw_filter(pen: Pen, x: float, y: float) -> None:
    """Draw the sign for a filter: a slim box with pleats."""
    half = FILTER_HALF
    pen.line((x, x + FILTER, x + FILTER, x, x), (y - half, y - half, y + half, y + half, y - half), INK, 1)
    steps = [y - half + 3 * number for number in range(7)]
    pen.line(tuple(x + (FILTER if n % 2 else 0) for n in range(len(steps))), tuple(steps), INK, 0.7)


def _draw_fan(pen: Pen, x: float, y: float, radius: float, name: str) -> None:
    """Draw the sign for a fan: a circle with three blades."""
    circle = [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in (n * math.tau / 24 for n in range(25))]
    pen.line(tuple(px for px, _ in circle), tuple(py for _, py in circle), INK, 1.2, name)
    for number in range(3):
        angle = math.tau * number / 3 - math.pi / 2
        pen.line((x, x + radius * math.cos(angle)), (y, y + radius * math.sin(angle)), INK, 1.2)


def _write(pen: Pen, label: _Label, x: float, anchor: str) -> None:
    top = label.y - len(label.lines) * LINE / 2
    for number, line in enumerate(label.lines, start=1):
        pen.text(x, top + number * LINE - 4, line, anchor)


def _draw_ways_in(pen: Pen, labels: list[_Label], outline: list[Point], sheet: _Sheet, blower: bool) -> None:
    start = sheet.column + 6.0
    pumped = [label for label in labels if blower and label.filtered]
    entries = _entries(len(labels) - max(len(pumped) - 1, 0), outline)
    meeting = start + sheet.run
    for label in labels:
        _write(pen, label, sheet.column, "end")
    if pumped:
        entry = entries.pop(0)
        for label in pumped:
            _line(pen, [(start, label.y), (meeting, label.y), (meeting, entry)], True, label.key)
            _draw_filter(pen, start + 3, label.y)
        _into(pen, [(meeting, entry)], entry, outline, True, "")
        edge = _edge(outline, entry, right=False)
        _draw_fan(pen, max(meeting + sheet.fan + 1, (meeting + edge) / 2), entry, sheet.fan, "blower")
    for label, entry in zip([label for label in labels if label not in pumped], entries, strict=True):
        _into(pen, [(start, label.y), (meeting, label.y)], entry, outline, label.filtered, label.key)
        if label.filtered:
            _draw_filter(pen, start + 3, label.y)


def _into(pen: Pen, points: list[Point], entry: float, outline: list[Point], filtered: bool, name: str) -> None:
    """Draw a line that ends with its arrow inside the covering."""
    tip = (_edge(outline, entry, right=False) + ARROW + 2, entry)
    _line(pen, [*points, tip], filtered, name)
    _arrow(pen, tip, points[-1])


def _draw_ways_out(pen: Pen, labels: list[_Label], outline: list[Point], sheet: _Sheet) -> None:
    end = sheet.width - sheet.column - 6.0
    turn = end - sheet.run
    for label, entry in zip(labels, _entries(len(labels), outline), strict=True):
        _write(pen, label, sheet.width - sheet.column, "start")
        start = (_edge(outline, entry, right=True) - 4, entry)
        _line(pen, [start, (turn, label.y), (end, label.y)], label.filtered, label.key)
        _arrow(pen, (end, label.y), (turn, label.y))
        if label.filtered:
            _draw_filter(pen, turn, label.y)
        if label.fan:
            _draw_fan(pen, turn, label.y, sheet.fan, "fan")
