"""Draws control charts: time along the rule, readings above it, each limit labelled at its end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.presenting.instrument_views import ControlChart, ControlLine, ControlMark, Tick
from generator.rendering.drawing import ACCENT, FAINT, LIMIT, LINE, TEXT_SIZE, Pen, fitted, text_width
from generator.rendering.svg_cleaning import INK

TOP = 26
"""Where the plot begins, below the unit. [px]"""
PLOT_HEIGHT = 232
GAP = 6
"""Between a line's end and its label, and around labels. [px]"""
SIZE = 3.4
"""Half the width of a small diamond. [px]"""
LARGE = 6.0
"""Half the width of the shapes beyond limits. [px]"""

Box = tuple[float, float, float, float]
"""Left, top, right, bottom. [px]"""


@dataclass(frozen=True)
class Plane:
    """Where days and values lie on the sheet. [px]"""

    chart: ControlChart
    width: int
    left: int
    right: int
    inset: int = 12

    @property
    def bottom(self) -> float:
        """The lower edge of the plot, where the rule of time lies."""
        return TOP + PLOT_HEIGHT

    def x(self, day: float) -> float:
        """Return where a day lies; a single one in the middle."""
        first, last = self.left + self.inset, self.right - self.inset
        if self.chart.last == self.chart.first:
            return (first + last) / 2
        return first + (last - first) * (day - self.chart.first) / (self.chart.last - self.chart.first)

    def y(self, value: float) -> float:
        """Return where a value lies, held within the plot."""
        held = min(max(value, self.chart.low), self.chart.high)
        return self.bottom - PLOT_HEIGHT * (held - self.chart.low) / (self.chart.high - self.chart.low)


def _plane(chart: ControlChart, narrow: bool) -> Plane:
    width = 350 if narrow else 700
    labels = max(text_width(line.text) for line in chart.lines)
    ticks = max((text_width(tick.text) for tick in chart.value_ticks), default=0)
    # A label may take a third of a narrow sheet; past that it is cut, and the table beside the chart holds it.
    right = width - min(labels + GAP + 4, width * (0.36 if narrow else 0.25))
    return Plane(chart, width, left=round(min(ticks, width * 0.2) + 16), right=round(right))


def _draw_value_axis(pen: Pen, plane: Plane) -> None:
    pen.text(0, TEXT_SIZE, fitted(plane.chart.unit, plane.width))
    pen.line((plane.left, plane.left), (TOP, plane.bottom), INK, 1)
    for tick in plane.chart.value_ticks:
        y = plane.y(tick.at)
        pen.line((plane.left - 7, plane.left), (y, y), INK, 0.8)
        pen.text(plane.left - 11, y + 4, fitted(tick.text, plane.left - 11), "end")


def _draw_day_axis(pen: Pen, plane: Plane, ticks: tuple[Tick, ...]) -> None:
    pen.line((plane.left, plane.right), (plane.bottom, plane.bottom), INK, 1)
    for tick in ticks:
        x, length = plane.x(tick.at), 11 if tick.text else 5
        pen.line((x, x), (plane.bottom, plane.bottom + length), INK, 0.8 if tick.text else 0.5)
        half = text_width(tick.text) / 2
        middle = min(max(x, half), plane.width - half)
        if tick.text:
            pen.text(middle, plane.bottom + 11 + TEXT_SIZE, tick.text, "middle")


def _draw_line(pen: Pen, plane: Plane, line: ControlLine) -> None:
    y = plane.y(line.value)
    colour, width = (INK, 0.8) if line.is_centre else (LIMIT, 1.5 if line.is_action else 0.9)
    pen.line((plane.left, plane.right), (y, y), colour, width, line.key)
    label = fitted(line.text, plane.width - plane.right - GAP)
    pen.text(plane.right + GAP, y + 4, label, colour=INK if line.is_centre else LIMIT)


def _draw_mark(pen: Pen, plane: Plane, mark: ControlMark) -> None:
    x, y = plane.x(mark.day), plane.y(mark.value)
    if mark.beyond_action:
        # Its tip points away from the centre, the more so where it stands at the edge for a value past it.
        way = 1 if mark.value > (plane.chart.low + plane.chart.high) / 2 else -1
        pen.shape([(x - LARGE, y + way * LARGE), (x, y - way * LARGE), (x + LARGE, y + way * LARGE)], LIMIT, mark.key)
    elif mark.beyond_warning:
        pen.line((x - LARGE, x, x + LARGE, x, x - LARGE), (y, y - LARGE, y, y + LARGE, y), LIMIT, 1.5, mark.key)
    else:
        pen.shape([(x - SIZE, y), (x, y - SIZE), (x + SIZE, y), (x, y + SIZE)], ACCENT, mark.key)


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _places(mark: ControlMark, plane: Plane) -> Iterator[tuple[float, float, str, Box]]:
    """Yield where a mark's label may stand: x, baseline, anchor and the box that it would take."""
    x, y, width = plane.x(mark.day), plane.y(mark.value), text_width(mark.text)
    reach = LARGE + 4
    beside = min(max(y + 4, 10), plane.bottom - 4)
    for anchor, start, baseline in (
        ("start", x + reach, beside),
        ("end", x - reach, beside),
        ("middle", x, y - reach),
        ("middle", x, y + reach + 9),
    ):
        left = start - {"start": 0, "middle": width / 2, "end": width}[anchor]
        yield start, baseline, anchor, (left, baseline - 10, left + width, baseline + 3)


def _draw_labels(pen: Pen, plane: Plane) -> None:
    """Label the readings beyond limits, the worst first, each where it meets no mark, no other label and no line.

    One for which there is no room stays without; the table beside the chart holds its value.
    """
    marks = plane.chart.marks
    taken = []
    for mark in marks:
        x, y, half = plane.x(mark.day), plane.y(mark.value), LARGE if mark.text else SIZE
        taken.append((x - half, y - half, x + half, y + half))
    lines = [plane.y(line.value) for line in plane.chart.lines]
    for mark in sorted((mark for mark in marks if mark.text), key=lambda mark: not mark.beyond_action):
        free = [
            place
            for place in _places(mark, plane)
            if place[3][0] >= plane.left + 2
            and place[3][2] <= plane.right
            and place[3][1] >= 0
            and place[3][3] <= plane.bottom
            and not any(_meet(place[3], box) for box in taken)
        ]
        clear = [place for place in free if not any(place[3][1] < y < place[3][3] for y in lines)]
        if free:
            x, baseline, anchor, box = (clear or free)[0]
            pen.text(x, baseline, mark.text, anchor)
            taken.append(box)


def draw_control_chart(chart: ControlChart, narrow: bool = False) -> str:
    """Draw a control chart as inline SVG, wide or narrow.

    Ids in the drawing start with the chart's id, `-n` behind it where it is narrow: `<id>-centre`, `<id>-action_high`
    and so on for the lines, `<id>-reading-3` for the third reading.
    """
    plane = _plane(chart, narrow)
    pen = Pen(plane.width, plane.bottom + 11 + LINE + 6)
    _draw_value_axis(pen, plane)
    _draw_day_axis(pen, plane, chart.narrow_day_ticks if narrow else chart.day_ticks)
    for line in chart.lines:
        _draw_line(pen, plane, line)
    if len(chart.marks) > 1:
        path = [(plane.x(mark.day), plane.y(mark.value)) for mark in chart.marks]
        pen.line(tuple(x for x, _ in path), tuple(y for _, y in path), FAINT, 0.6, "path")
    for mark in chart.marks:
        _draw_mark(pen, plane, mark)
    _draw_labels(pen, plane)
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)
