"""Draws donnings wearer by wearer on the fit factor scale, and below a line what they say together."""

from __future__ import annotations

from collections.abc import Sequence

from generator.presenting.views import ScaleMark
from generator.presenting.wearer_views import WearerChart, WearerRow
from generator.rendering.drawing import ACCENT, FAINT, LINE, Pen, fitted
from generator.rendering.scale_drawing import (
    WIDE,
    Stretch,
    draw_landmarks,
    draw_lines,
    draw_mark,
    extent_of,
    head_height,
    placed_labels,
    room_above,
)
from generator.rendering.scale_rule import BELOW, RULES, Layout, draw_rule, place_on
from generator.rendering.scale_values import ABOVE, DrawnMark, Room, placed_values
from generator.rendering.svg_cleaning import INK

NARROW = Layout(width=350, left=34, right=326, label_above=False, row_height=0)
"""Letters stand beside their lines on a phone too: 25 wearers with a label above each would fill three screens."""
LANE = 10
"""From one donning of a wearer to the next. [px]"""
BETWEEN = 8
"""Room that a wearer's lines share, above and below. [px]"""
LETTER = 26
"""Room for the letters. [px]"""
_SUMMARY = 30
_SUMMARY_NARROW = 44
_RULE = RULES["fit"]


def draw_wearers(chart: WearerChart, narrow: bool = False) -> str:
    """Draw wearers and their donnings as inline SVG, wide or narrow.

    Ids in the drawing start with the chart's id, `-n` behind it where it is narrow: `<id>-<record>-<figure key>` for
    each donning, `<id>-<figure key>` for the geometric mean and the lower bound.
    """
    layout = NARROW if narrow else WIDE
    labels = placed_labels(chart.landmarks, _RULE, layout)
    head = head_height(labels)
    tops, end = _tops(chart.rows, head + 4)
    below = [mark for mark in (chart.mean, chart.bound) if mark is not None]
    step = _SUMMARY_NARROW if narrow else _SUMMARY
    foot = end + step * len(below) + 6
    pen = Pen(layout.width, foot + BELOW)
    draw_landmarks(pen, labels, _RULE, layout, _stretches(end, foot, step, len(below), narrow))
    apart = [top + _height(row) for row, top in zip(chart.rows, tops, strict=True)]
    pen.lines([((0, y), (layout.right, y)) for y in apart], FAINT, 0.4)
    draw_lines(pen, [end + step * number - 11 for number in range(1, len(below) + 1)], layout)
    for row, top in zip(chart.rows, tops, strict=True):
        _draw_row(pen, row, layout, top, narrow)
    if below:
        pen.line((0, layout.right), (end, end), INK, 0.8)
    room = room_above(chart.landmarks, _RULE, layout)
    for number, mark in enumerate(below, start=1):
        _draw_summary(pen, mark, mark is chart.bound, layout, end + step * number - 11, narrow, room)
    draw_rule(pen, _RULE, layout, foot)
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)


def heights_of_wearers(chart: WearerChart) -> tuple[float, list[float]]:
    """Return the height of a wide drawing without its wearers, and that of each wearer's lines. [px]"""
    head = head_height(placed_labels(chart.landmarks, _RULE, WIDE)) + 4
    below = _SUMMARY * sum(mark is not None for mark in (chart.mean, chart.bound))
    return head + below + 6 + BELOW, [_height(row) for row in chart.rows]


def _height(row: WearerRow) -> float:
    return max(len(row.marks) * LANE, LINE) + BETWEEN


def _tops(rows: Sequence[WearerRow], start: float) -> tuple[list[float], float]:
    """Return where each wearer's lines begin, and where all of them end."""
    tops, end = [], start
    for row in rows:
        tops.append(end)
        end += _height(row)
    return tops, end


def _stretches(end: float, foot: float, step: float, summaries: int, narrow: bool) -> list[Stretch]:
    """Return along which stretches verticals are drawn: not through the labels above the last lines of a phone."""
    if not (narrow and summaries):
        return [Stretch(0.0, foot)]
    lines = [end + step * number - 11 for number in range(1, summaries + 1)]
    return [Stretch(0.0, end), *(Stretch(line - 12, line + 8) for line in lines), Stretch(foot - 6, foot)]


def _draw_row(pen: Pen, row: WearerRow, layout: Layout, top: float, narrow: bool) -> None:
    height = _height(row)
    middle = top + height / 2
    pen.text(0, middle + 4, row.letter)
    if not narrow:
        pen.text(LETTER, middle + 4, fitted(row.text, layout.left - LETTER - 10))
    first = middle - (len(row.marks) - 1) / 2 * LANE
    for number, mark in enumerate(row.marks):
        draw_mark(pen, mark, _RULE, layout, first + number * LANE, small=not mark.at_least)


def _draw_summary(
    pen: Pen, mark: ScaleMark, is_bound: bool, layout: Layout, y: float, narrow: bool, room: Room
) -> None:
    words = "5th percentile, lower bound" if is_bound else "Geometric mean"
    ends = _bracket_ends(mark, layout) if is_bound else extent_of(mark, _RULE, layout)
    values = None if narrow else placed_values([DrawnMark(mark, *ends)], room)
    if values is None:
        words = f"{words}: {mark.text}"
    pen.text(0, y - 17 if narrow else y + 4, words)
    if is_bound:
        # A bracket that opens to where nearly all donnings lie.
        x, end = ends
        pen.line((end, x, x, end), (y - 7, y - 7, y + 7, y + 7), ACCENT, 2, mark.key)
    else:
        draw_mark(pen, mark, _RULE, layout, y, small=False)
    for value in values or ():
        pen.text(value.x, y - ABOVE - (3 if is_bound else 0), value.text)


def _bracket_ends(mark: ScaleMark, layout: Layout) -> tuple[float, float]:
    x = place_on(mark.value, _RULE, layout)
    return x, x + 7
