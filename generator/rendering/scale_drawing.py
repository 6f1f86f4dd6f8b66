"""Draws the engraved scales: a rule with its ticks, named levels and spans, and lines of marks above it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.presenting.views import Landmark, ScaleChart, ScaleMark, ScaleRow
from generator.rendering.drawing import ACCENT, FAINT, LIMIT, LINE, TEXT_SIZE, Pen, fitted, in_two_lines, text_width
from generator.rendering.scale_rule import BELOW, RULES, Layout, Rule, draw_rule, place_on
from generator.rendering.scale_values import ABOVE, DrawnMark, PlacedValue, Room, all_values, placed_values
from generator.rendering.small_pen import SmallPen
from generator.rendering.svg_cleaning import INK

HEADING = 27
"""Height of a heading above a group of rows. [px]"""
_LABEL_LINE = 13
"""From one line of a row's label to the next. [px]"""
_SPAN = 23
"""Height of a line with labels of spans and their brackets. [px]"""
_FOOT = 6
"""From the end of the last row to the rule. [px]"""
_DASHES = (4.0, 3.0)
ARROW = 22
"""Length of the arrow of a bound. [px]"""
DIAMOND = 4.6
"""Half the width of a diamond. [px]"""
HEAD = 9
"""Length of the arrow head of a value past the rule. [px]"""


WIDE = Layout(width=700, left=176, right=676, label_above=False, row_height=26)
NARROW = Layout(width=350, left=10, right=326, label_above=True, row_height=48)
SMALL = Layout(width=230, left=6, right=224, label_above=False, row_height=12)


@dataclass(frozen=True)
class PlacedLabel:
    """A landmark's label, the line it stands on and where it begins. [px]"""

    landmark: Landmark
    text: str
    x: float
    top: float


@dataclass(frozen=True)
class Stretch:
    """A stretch of the verticals of levels, from top to bottom [px], and the levels that apply there; None: all."""

    top: float
    bottom: float
    held_against: tuple[float, ...] | None = None


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
        placed.append(PlacedLabel(landmark, text, x, line * _SPAN))
    levels = sorted((mark for mark in landmarks if mark.high is None), key=lambda mark: mark.low)
    for number, landmark in enumerate(levels):
        x = place_on(landmark.low, rule, layout) + 4
        text = fitted(landmark.text, layout.width - x)
        placed.append(PlacedLabel(landmark, text, x, len(ends) * _SPAN + number * LINE))
    return placed


def head_height(labels: list[PlacedLabel]) -> float:
    """Return how much room the labels take above the first row. [px]"""
    return max((label.top + (LINE if label.landmark.high is None else _SPAN) for label in labels), default=-8) + 8


def draw_landmarks(
    pen: Pen, labels: list[PlacedLabel], rule: Rule, layout: Layout, stretches: Sequence[Stretch]
) -> None:
    """Write the labels, bracket the spans and draw the levels' verticals along the given stretches.

    Where a level does not apply, its vertical is dashed.
    """
    for label in labels:
        landmark, top = label.landmark, label.top
        start = place_on(landmark.low, rule, layout)
        if landmark.high is None:
            pen.text(label.x, top + TEXT_SIZE, label.text, colour=LIMIT)
            name = f"landmark-{landmark.key}"
            whole, dashed = _pieces(stretches, landmark.low, top + 2)
            pen.lines([((start, upper), (start, lower)) for upper, lower in whole], LIMIT, 0.9, name)
            pen.lines([((start, upper), (start, lower)) for upper, lower in dashed], LIMIT, 0.6, "", _DASHES)
        else:
            end, below = place_on(landmark.high, rule, layout), top + TEXT_SIZE + 6
            pen.line(
                (start, start, end, end), (below + 4, below, below, below + 4), INK, 0.8, f"landmark-{landmark.key}"
            )
            pen.text(label.x, top + TEXT_SIZE, label.text)


def _pieces(
    stretches: Sequence[Stretch], level: float, top: float
) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """Return where the vertical of a level is drawn from its label on: where the level applies, and where not."""
    pieces: list[tuple[float, float, bool]] = []
    for stretch in stretches:
        applies = stretch.held_against is None or level in stretch.held_against
        if pieces and pieces[-1][1] == stretch.top and pieces[-1][2] == applies:
            pieces[-1] = (pieces[-1][0], stretch.bottom, applies)
        else:
            pieces.append((max(stretch.top, top), stretch.bottom, applies))
    return [piece[:2] for piece in pieces if piece[2]], [piece[:2] for piece in pieces if not piece[2]]


def extent_of(mark: ScaleMark, rule: Rule, layout: Layout) -> tuple[float, float]:
    """Return from where to where a mark is drawn at its full size, without its interval. [px]"""
    x = place_on(mark.value, rule, layout)
    if mark.at_least:
        return x, x + ARROW if mark.high is None else place_on(mark.high, rule, layout)
    if mark.value > rule.high:
        return x, x + HEAD
    return (x - HEAD, x) if mark.value < rule.low else (x - DIAMOND, x + DIAMOND)


def draw_mark(pen: Pen | SmallPen, mark: ScaleMark, rule: Rule, layout: Layout, y: float, small: bool) -> None:
    """Draw one mark."""
    x = place_on(mark.value, rule, layout)
    reach = 3.5 if small else 5
    if mark.minor:
        # Strokes hang below the line, so that none is taken for the end of an interval.
        pen.line((x, x), (y + 1, y + reach + 1), ACCENT, 1, mark.key)
        return
    if mark.at_least:
        bounded = mark.high is not None
        end = extent_of(mark, rule, layout)[1] if bounded or not small else x + 6
        pen.line((x, end), (y, y), ACCENT, 1.3)
        if bounded:
            pen.line((end, end), (y - reach, y + reach), ACCENT, 2)
        else:
            pen.line((end - 5, end, end - 5), (y - 4, y, y + 4), ACCENT, 1.3)
        pen.line((x, x), (y - reach, y + reach), ACCENT, 2, mark.key)
        return
    head = 5 if small else HEAD
    if mark.value > rule.high or mark.value < rule.low:
        # Past the end of the rule: an arrow head that points on, never a point at the end.
        tip = x + math.copysign(head, mark.value - rule.low)
        pen.shape([(x, y - reach), (tip, y), (x, y + reach)], ACCENT, mark.key)
        return
    if mark.low is not None and mark.high is not None:
        low, high = place_on(mark.low, rule, layout), place_on(mark.high, rule, layout)
        pen.line((low, high), (y, y), ACCENT, 2.4 if small else 3.2)
        # An interval that goes on past an end of the rule points on there.
        for end, tip, past in ((low, low - 5, mark.low < rule.low), (high, high + 5, mark.high > rule.high)):
            if past:
                pen.shape([(end, y - reach + 1), (tip, y), (end, y + reach - 1)], ACCENT, "")
    size = 3.2 if small else DIAMOND
    pen.shape([(x - size, y), (x, y - size), (x + size, y), (x, y + size)], ACCENT, mark.key)


@dataclass(frozen=True)
class _Line:
    """A row as it is drawn: its label in lines, and the values above its marks."""

    row: ScaleRow
    label: tuple[str, ...]
    values: tuple[PlacedValue, ...]


def _line_of(row: ScaleRow, rule: Rule, layout: Layout, room: Room) -> _Line:
    drawn = [DrawnMark(mark, *extent_of(mark, rule, layout)) for mark in row.marks if mark.text]
    values = placed_values(drawn, room)
    # Where there is no room above the marks, their values stand behind the row's label.
    beside = all_values(drawn) if values is None else ""
    if layout.label_above:
        label = [_with_note(row.label, beside, row.note, layout.width - layout.left)]
    else:
        label = _label_lines(row.label, beside, layout.left - 8)
    return _Line(row, tuple(label), tuple(values or ()))


def _with_note(label: str, values: str, note: str, width: float) -> str:
    if values:
        return f"{fitted(label, width - text_width(f': {values}'))}: {values}"
    return fitted(": ".join(part for part in (label, note) if part), width)


def _label_lines(label: str, values: str, width: float) -> list[str]:
    if values and text_width(f"{label}: {values}") <= width:
        return [f"{label}: {values}"]
    return [*in_two_lines(label, width), *([fitted(values, width)] if values else [])]


def draw_lines(pen: Pen, places: Sequence[float], layout: Layout) -> None:
    """Draw the lines on which marks lie, as one thing, which keeps a scale of many rows small."""
    pen.lines([((layout.left, y), (layout.right, y)) for y in places], FAINT, 0.4)


def _draw_row(pen: Pen, line: _Line, rule: Rule, layout: Layout, y: float) -> None:
    row = line.row
    if layout.label_above:
        pen.text(layout.left, y - 21, line.label[0])
    else:
        for number, text in enumerate(line.label):
            pen.text(0, y + 4 + (number - (len(line.label) - 1) / 2) * _LABEL_LINE, text)
    if row.note and not layout.label_above:
        pen.text(layout.left + 4, y - 4, fitted(row.note, layout.width - layout.left - 4))
    for mark in row.marks:
        draw_mark(pen, mark, rule, layout, y, small=False)
    for value in line.values:
        pen.text(value.x, y - ABOVE, value.text)


def room_above(landmarks: Sequence[Landmark], rule: Rule, layout: Layout) -> Room:
    """Return the room for values above the lines of a scale."""
    levels = sorted(landmark.low for landmark in landmarks if landmark.high is None)
    verticals = tuple(place_on(level, rule, layout) for level in levels)
    return Room(layout.left, layout.width, tuple(levels), verticals)


def _height_of(line: _Line, layout: Layout) -> float:
    lines = layout.row_height if layout.label_above else max(len(line.label) * _LABEL_LINE + 6, layout.row_height)
    return lines + (HEADING if line.row.heading else 0)


def _place_of(line: _Line, layout: Layout, end: float) -> float:
    """Return where the marks of a line lie that ends there. [px]"""
    higher = _height_of(line, layout) - (HEADING if line.row.heading else 0) - layout.row_height
    return end - 11 - higher / 2


def _draw_heading(pen: Pen, heading: str, layout: Layout, top: float) -> None:
    pen.line((0, layout.right), (top + 6, top + 6), FAINT, 0.8)
    pen.text(0, top + 21, fitted(heading, min(310, layout.width)))


@dataclass(frozen=True)
class _Sheet:
    """A scale before it is drawn: labels of landmarks with their height, and where each line begins and ends. [px]"""

    labels: list[PlacedLabel]
    head: float
    lines: list[tuple[_Line, float, float]]
    end: float


def _laid_out(chart: ScaleChart, layout: Layout) -> _Sheet:
    rule = RULES[chart.kind]
    labels = placed_labels(chart.landmarks, rule, layout)
    room = room_above(chart.landmarks, rule, layout)
    lines, end = [], head_height(labels)
    for row in chart.rows:
        line = _line_of(row, rule, layout, room)
        lines.append((line, end, end := end + _height_of(line, layout)))
    return _Sheet(labels, head_height(labels), lines, end)


def heights_of_scale(chart: ScaleChart) -> tuple[float, list[float]]:
    """Return the height of a wide scale without its rows, and that of each row. [px]"""
    sheet = _laid_out(chart, WIDE)
    return sheet.head + _FOOT + BELOW, [end - top for _, top, end in sheet.lines]


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
    sheet = _laid_out(chart, layout)
    foot = sheet.end + _FOOT
    pen = Pen(layout.width, foot + BELOW)
    stretches = [Stretch(0.0, sheet.head)]
    for line, top, end in sheet.lines:
        place = _place_of(line, layout, end)
        # Where labels stand above their row, verticals stop short of them.
        beside = (place - 12, place + 8) if layout.label_above else (top, end)
        stretches.append(Stretch(*beside, line.row.held_against if line.row.marks else None))
    draw_landmarks(pen, sheet.labels, rule, layout, [*stretches, Stretch(sheet.end, foot)])
    draw_lines(pen, [_place_of(line, layout, end) for line, _, end in sheet.lines], layout)
    for line, top, end in sheet.lines:
        if line.row.heading:
            _draw_heading(pen, line.row.heading, layout, top)
        _draw_row(pen, line, rule, layout, _place_of(line, layout, end))
    draw_rule(pen, rule, layout, foot)
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)
