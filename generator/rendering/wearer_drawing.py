"""Draws donnings wearer by wearer on the fit factor scale, and below a line what they say together."""

from __future__ import annotations

from collections.abc import Sequence

from generator.presenting.views import ScaleMark
from generator.presenting.wearer_views import WearerChart, WearerRow
from generator.rendering.drawing import ACCENT, FAINT, LINE, TEXT_SIZE, Pen, fitted
from generator.rendering.scale_drawing import (
    RULES,
    WIDE,
    Layout,
    draw_landmarks,
    draw_mark,
    draw_rule,
    draw_value,
    head_height,
    place_on,
    placed_labels,
    verticals_of,
)
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
    pen = Pen(layout.width, foot + 11 + TEXT_SIZE + LINE + 5)
    draw_landmarks(pen, labels, _RULE, layout, _stretches(head, end, foot, step, len(below), narrow))
    for row, top in zip(chart.rows, tops, strict=True):
        _draw_row(pen, row, layout, top, narrow)
    if below:
        pen.line((0, layout.right), (end, end), INK, 0.8)
    verticals = verticals_of(chart.landmarks, _RULE, layout)
    for number, mark in enumerate(below, start=1):
        _draw_summary(pen, mark, mark is chart.bound, layout, end + step * number - 11, narrow, verticals)
    draw_rule(pen, _RULE, layout, foot)
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)


def _height(row: WearerRow) -> float:
    return max(len(row.marks) * LANE, LINE) + BETWEEN


def _tops(rows: Sequence[WearerRow], start: float) -> tuple[list[float], float]:
    """Return where each wearer's lines begin, and where all of them end."""
    tops, end = [], start
    for row in rows:
        tops.append(end)
        end += _height(row)
    return tops, end


def _stretches(
    head: float, end: float, foot: float, step: float, summaries: int, narrow: bool
) -> list[tuple[float, float]]:
    """Return along which stretches verticals are drawn: not through the labels above the last lines of a phone."""
    if not (narrow and summaries):
        return [(0.0, foot)]
    lines = [end + step * number - 11 for number in range(1, summaries + 1)]
    return [(0.0, end), *((line - 12, line + 8) for line in lines), (foot - 6, foot)]


def _draw_row(pen: Pen, row: WearerRow, layout: Layout, top: float, narrow: bool) -> None:
    height = _height(row)
    middle = top + height / 2
    pen.text(0, middle + 4, row.letter)
    if not narrow:
        pen.text(LETTER, middle + 4, fitted(row.text, layout.left - LETTER - 10))
    pen.line((0, layout.right), (top + height, top + height), FAINT, 0.4)
    first = middle - (len(row.marks) - 1) / 2 * LANE
    for number, mark in enumerate(row.marks):
        draw_mark(pen, mark, _RULE, layout, first + number * LANE, small=not mark.at_least)


def _draw_summary(
    pen: Pen, mark: ScaleMark, is_bound: bool, layout: Layout, y: float, narrow: bool, verticals: Sequence[float]
) -> None:
    words = "5th percentile, lower bound" if is_bound else "Geometric mean"
    if narrow:
        pen.text(0, y - 17, f"{words}: {mark.text}")
    else:
        pen.text(0, y + 4, words)
    pen.line((layout.left, layout.right), (y, y), FAINT, 0.4)
    end = _draw_bracket(pen, mark, layout, y) if is_bound else draw_mark(pen, mark, _RULE, layout, y, small=False)
    if not narrow:
        draw_value(pen, mark, end, _RULE, layout, y, verticals)


def _draw_bracket(pen: Pen, mark: ScaleMark, layout: Layout, y: float) -> float:
    """Draw a bracket that opens to where nearly all donnings lie, and return where it ends."""
    x = place_on(mark.value, _RULE, layout)
    pen.line((x + 7, x, x, x + 7), (y - 7, y - 7, y + 7, y + 7), ACCENT, 2, mark.key)
    return x + 7
