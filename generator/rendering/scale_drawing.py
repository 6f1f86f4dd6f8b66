"""Draws the engraved scales: a rule with its ticks, named levels and spans, and lines of marks above it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.presenting.views import Landmark, ScaleChart, ScaleMark, ScaleRow
from generator.rendering.drawing import ACCENT, FAINT, LIMIT, LINE, TEXT_SIZE, Pen, fitted, in_two_lines, text_width
from generator.rendering.small_pen import SmallPen
from generator.rendering.svg_cleaning import INK

_SECOND_LINE = 6
"""What a row is higher whose label takes two lines, so that it is told from the next one. [px]"""
HEADING = 27
"""Height of a heading above a group of rows. [px]"""


@dataclass(frozen=True)
class Rule:
    """A scale: its ends, its ticks (value, length in px, label) and whether it is logarithmic."""

    low: float
    high: float
    logarithmic: bool
    ticks: tuple[tuple[float, int, str], ...]
    caption: str

    def share(self, value: float) -> float:
        """Return how far along the rule a value lies, 0 to 1, held within the ends."""
        held = min(max(value, self.low), self.high)
        if self.logarithmic:
            return math.log(held / self.low) / math.log(self.high / self.low)
        return (held - self.low) / (self.high - self.low)


def _decade_ticks() -> tuple[tuple[float, int, str], ...]:
    labels = {1: "1", 10: "10", 100: "100", 1000: "1000", 10_000: "10\u202f000", 100_000: "100\u202f000"}
    ticks: list[tuple[float, int, str]] = []
    for decade in range(5):
        for step in range(1, 10):
            value = step * 10**decade
            ticks.append((value, 11 if step == 1 else 8 if step == 5 else 5, labels.get(value, "")))
    return (*ticks, (100_000, 11, labels[100_000]))


def _flow_ticks() -> tuple[tuple[float, int, str], ...]:
    return tuple(
        (value, 11 if value % 100 == 0 else 8 if value % 50 == 0 else 5, str(value) if value % 100 == 0 else "")
        for value in range(0, 401, 10)
    )


RULES = {
    "fit": Rule(1, 100_000, True, _decade_ticks(), "fit factor: times fewer particles inside than outside"),
    "flow": Rule(0, 400, False, _flow_ticks(), "air delivered, L/min"),
}


@dataclass(frozen=True)
class Layout:
    """The measures of one drawing. [px]"""

    width: int
    left: int
    right: int
    label_above: bool
    row_height: int


WIDE = Layout(width=700, left=176, right=676, label_above=False, row_height=26)
NARROW = Layout(width=350, left=10, right=326, label_above=True, row_height=48)
SMALL = Layout(width=230, left=6, right=224, label_above=False, row_height=12)


@dataclass(frozen=True)
class PlacedLabel:
    """A landmark's label, the line it stands on and where it begins. [px]"""

    landmark: Landmark
    text: str
    x: float
    line: int


def placed_labels(landmarks: tuple[Landmark, ...], rule: Rule, layout: Layout) -> list[PlacedLabel]:
    """Give each landmark's label a line and a place, so that no label meets another or a level's vertical.

    Spans come first, at the top, packed side by side. Levels follow from the left, each on a line of its own: a
    vertical then only passes lines whose labels start further right.
    """
    placed: list[PlacedLabel] = []
    ends: list[float] = []
    for landmark in landmarks:
        if landmark.high is None:
            continue
        text = fitted(landmark.text, layout.width - 4)
        x = max(min(place_on(landmark.low, rule, layout), layout.width - text_width(text) - 2), 2)
        line = next((number for number, end in enumerate(ends) if end + 8 < x), len(ends))
        if line == len(ends):
            ends.append(0)
        ends[line] = x + text_width(text)
        placed.append(PlacedLabel(landmark, text, x, line))
    levels = sorted((mark for mark in landmarks if mark.high is None), key=lambda mark: mark.low)
    for number, landmark in enumerate(levels):
        x = place_on(landmark.low, rule, layout) + 4
        placed.append(PlacedLabel(landmark, fitted(landmark.text, layout.width - x), x, len(ends) + number))
    return placed


def place_on(value: float, rule: Rule, layout: Layout) -> float:
    """Return where a value lies on the sheet, from left to right. [px]"""
    return layout.left + (layout.right - layout.left) * rule.share(value)


def head_height(labels: list[PlacedLabel]) -> float:
    """Return how much room the labels take above the first row. [px]"""
    return (1 + max((label.line for label in labels), default=-1)) * LINE + (10 if labels else 0)


def draw_landmarks(
    pen: Pen, labels: list[PlacedLabel], rule: Rule, layout: Layout, stretches: list[tuple[float, float]]
) -> None:
    """Write the labels, bracket the spans and draw the levels' verticals along the given stretches of y."""
    for label in labels:
        landmark, top = label.landmark, label.line * LINE + (0 if label.landmark.high else 4)
        start = place_on(landmark.low, rule, layout)
        if landmark.high is None:
            pen.text(label.x, top + TEXT_SIZE, label.text, colour=LIMIT)
            for number, (upper, lower) in enumerate([(top + 2, stretches[0][1]), *stretches[1:]]):
                name = f"landmark-{landmark.key}" if number == 0 else ""
                pen.line((start, start), (upper, lower), LIMIT, 0.9, name)
        else:
            end, below = place_on(landmark.high, rule, layout), top + LINE + 1
            pen.line(
                (start, start, end, end), (below + 3, below, below, below + 3), INK, 0.8, f"landmark-{landmark.key}"
            )
            pen.text(label.x, top + TEXT_SIZE, label.text)


def draw_mark(pen: Pen | SmallPen, mark: ScaleMark, rule: Rule, layout: Layout, y: float, small: bool) -> float:
    """Draw one mark and return where its right end lies."""
    x = place_on(mark.value, rule, layout)
    reach = 3.5 if small else 5
    if mark.minor:
        # Strokes hang below the line, so that none is taken for the end of an interval.
        pen.line((x, x), (y + 1, y + reach + 1), ACCENT, 1, mark.key)
        return x
    ends = [x]
    if mark.at_least and mark.high is not None:
        end = place_on(mark.high, rule, layout)
        pen.line((x, end), (y, y), ACCENT, 1.3)
        pen.line((end, end), (y - reach, y + reach), ACCENT, 2)
        pen.line((x, x), (y - reach, y + reach), ACCENT, 2, mark.key)
        return end
    if mark.at_least:
        tip = x + (6 if small else 22)
        pen.line((x, tip), (y, y), ACCENT, 1.3)
        pen.line((tip - 5, tip, tip - 5), (y - 4, y, y + 4), ACCENT, 1.3)
        pen.line((x, x), (y - reach, y + reach), ACCENT, 2, mark.key)
        return tip
    if mark.value > rule.high or mark.value < rule.low:
        # Past the end of the rule: an arrow head that points on, never a point at the end.
        way = 1 if mark.value > rule.high else -1
        tip = x + way * (5 if small else 9)
        pen.shape([(x, y - reach), (tip, y), (x, y + reach)], ACCENT, mark.key)
        return max(x, tip)
    if mark.low is not None and mark.high is not None:
        low, high = place_on(mark.low, rule, layout), place_on(mark.high, rule, layout)
        pen.line((low, high), (y, y), ACCENT, 2.4 if small else 3.2)
        ends += [low, high]
    size = 3.2 if small else 4.6
    pen.shape([(x - size, y), (x, y - size), (x + size, y), (x, y + size)], ACCENT, mark.key)
    return max(ends) + size


def _draw_row(pen: Pen, row: ScaleRow, rule: Rule, layout: Layout, y: float, verticals: Sequence[float]) -> None:
    label = ": ".join(part for part in (row.label, row.note if layout.label_above else "") if part)
    if layout.label_above:
        pen.text(layout.left, y - 21, fitted(label, layout.width - layout.left))
    else:
        lines = _label_lines(row, layout)
        for number, line in enumerate(lines):
            pen.text(0, y + 4 + (number - (len(lines) - 1) / 2) * 13, line)
    pen.line((layout.left, layout.right), (y, y), FAINT, 0.4)
    if row.note and not layout.label_above:
        pen.text(layout.left + 4, y - 4, fitted(row.note, layout.width - layout.left - 4))
    for mark in row.marks:
        end = draw_mark(pen, mark, rule, layout, y, small=False)
        if mark.text:
            draw_value(pen, mark, end, rule, layout, y, verticals)


def verticals_of(landmarks: Sequence[Landmark], rule: Rule, layout: Layout) -> list[float]:
    """Return where the verticals of levels lie, from left to right. [px]"""
    return sorted(place_on(landmark.low, rule, layout) for landmark in landmarks if landmark.high is None)


def draw_value(
    pen: Pen, mark: ScaleMark, end: float, rule: Rule, layout: Layout, y: float, verticals: Sequence[float]
) -> None:
    """Write a mark's value above its line, where no level's vertical runs through it.

    On the right, from where the mark ends, else on the left: a value beyond a level that its mark lies before would be
    misread. Beyond it only where there is no other room.
    """
    width = text_width(mark.text)
    left = place_on(mark.low if mark.low is not None else mark.value, rule, layout) - 8 - width
    spans = [(end + 6, end), (left, left - 3), *((vertical + 4, vertical) for vertical in verticals if vertical > end)]
    free = [(place, start) for place, start in spans if layout.left <= place <= layout.width - width]
    clear = [place for place, start in free if not any(start < vertical < place + width + 3 for vertical in verticals)]
    pen.text((clear or [place for place, _ in free] or [left])[0], y - 5, mark.text)


def _label_lines(row: ScaleRow, layout: Layout) -> list[str]:
    return in_two_lines(row.label, layout.left - 8)


def _row_lines(rows: tuple[ScaleRow, ...], layout: Layout, head: float) -> tuple[list[float], float]:
    """Return where each row's marks lie, and where the rows end."""
    lines, end = [], head
    for row in rows:
        second = 0 if layout.label_above else _SECOND_LINE * (len(_label_lines(row, layout)) - 1)
        end += layout.row_height + (HEADING if row.heading else 0) + second
        lines.append(end - 11 - second / 2)
    return lines, end


def _draw_heading(pen: Pen, heading: str, layout: Layout, y: float) -> None:
    top = y + 11 - layout.row_height - HEADING
    pen.line((0, layout.right), (top + 6, top + 6), FAINT, 0.8)
    pen.text(0, top + 21, fitted(heading, min(310, layout.width)))


def draw_rule(pen: Pen, rule: Rule, layout: Layout, y: float) -> None:
    """Draw the rule with its ticks, their numbers and its caption."""
    pen.line((layout.left, layout.right), (y, y), INK, 1)
    for long in (5, 8):
        places = [place_on(value, rule, layout) for value, length, _ in rule.ticks if length == long]
        pen.lines([((x, y), (x, y + long)) for x in places], INK, 0.8 if long > 5 else 0.5)
    for value, length, label in rule.ticks:
        if length <= 8:
            continue
        x = place_on(value, rule, layout)
        pen.line((x, x), (y, y + length), INK, 0.8, f"tick-{value:g}")
        if label:
            pen.text(x, y + length + TEXT_SIZE, label, "middle")
    pen.text(layout.left, y + 11 + TEXT_SIZE + LINE, rule.caption)


def _draw_small(chart: ScaleChart) -> str:
    """Draw a scale for a row of a table: marks above a rule with its main ticks, without a text."""
    rule, foot = RULES[chart.kind], SMALL.row_height * len(chart.rows) + 2
    pen = SmallPen(SMALL.width, foot + 6)
    for number, row in enumerate(chart.rows, start=1):
        for mark in row.marks:
            draw_mark(pen, mark, rule, SMALL, SMALL.row_height * number - 6, small=True)
    pen.line((SMALL.left, SMALL.right), (foot, foot))
    for value, length, _ in rule.ticks:
        if length >= 8:
            x = place_on(value, rule, SMALL)
            pen.line((x, x), (foot, foot + length * 0.45), INK, 0.8, f"tick-{value:g}" if length > 8 else "")
    return pen.inline_svg(chart.id, chart.title, chart.description)


def draw_scale(chart: ScaleChart, narrow: bool = False) -> str:
    """Draw a scale as inline SVG: wide or narrow, or small for a row of a table.

    Ids in the drawing start with the chart's id, `-n` behind it where it is narrow: `<id>-tick-100` for the rule's
    ticks and `<id>-<key>` for each mark, where key is the figure's own.
    """
    if chart.small:
        return _draw_small(chart)
    rule, layout = RULES[chart.kind], NARROW if narrow else WIDE
    labels = placed_labels(chart.landmarks, rule, layout)
    head = head_height(labels)
    lines, end = _row_lines(chart.rows, layout, head)
    foot = end + 6
    pen = Pen(layout.width, foot + 11 + TEXT_SIZE + LINE + 5)
    if layout.label_above and lines:
        # Where labels stand above their row, verticals stop short of them.
        stretches = [(0.0, head), *((line - 12, line + 8) for line in lines), (foot - 6, foot)]
    else:
        stretches = [(0.0, foot)]
    draw_landmarks(pen, labels, rule, layout, stretches)
    verticals = verticals_of(chart.landmarks, rule, layout)
    for row, line in zip(chart.rows, lines, strict=True):
        if row.heading:
            _draw_heading(pen, row.heading, layout, line)
        _draw_row(pen, row, rule, layout, line, verticals)
    draw_rule(pen, rule, layout, foot)
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)
