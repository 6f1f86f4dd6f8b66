"""Draws the engraved scales with matplotlib, in pixels of 1/72 inch, once for page, paper and picture."""

from __future__ import annotations

import io
import math
import warnings
from bisect import bisect_right
from dataclasses import dataclass
from functools import cache, lru_cache

import matplotlib
from matplotlib import font_manager
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon

from generator.presenting.views import Landmark, ScaleChart, ScaleMark, ScaleRow
from generator.rendering.fonts import SANS, chart_font
from generator.rendering.small_pen import SmallPen
from generator.rendering.svg_cleaning import INK, cleaned, own_id

ACCENT = "#0b5a6b"
LIMIT = "#9a3b1f"
FAINT = "#8d8779"
TEXT_SIZE = 12
LINE = 15
"""Height of a line of text. [px]"""
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


@cache
def _registered() -> bool:
    font_manager.fontManager.addfont(str(chart_font()))
    matplotlib.rcParams.update(
        {"svg.fonttype": "none", "svg.hashsalt": "inward", "font.family": SANS, "font.size": TEXT_SIZE}
    )
    return True


@lru_cache(maxsize=65_536)
def text_width(text: str, size: float = TEXT_SIZE) -> float:
    """Return the width of a text in the charts' face. [px]

    Remembered, since labels are tried at many places, and the same ones stand in many charts.
    """
    font = font_manager.get_font(str(chart_font()))
    font.set_size(size, 72)
    # A character that the face lacks is set by another where the drawing is shown; here it counts as a box.
    font.set_text("".join(character if font.get_char_index(ord(character)) else "\u25a1" for character in text))
    return float(font.get_width_height()[0]) / 64


def one_line(text: str) -> str:
    """Return a text on one line."""
    return "".join(" " if character < " " else character for character in text)


def fitted(text: str, width: float) -> str:
    """Return a text on one line, cut where it is wider than it may be; the table beside the drawing holds the whole."""
    line = one_line(text)
    if text_width(line) <= width:
        return line

    def cut(length: int) -> str:
        return line[:length].rstrip() + "…"

    longest = bisect_right(range(len(line) + 1), width, key=lambda length: text_width(cut(length))) - 1
    return cut(max(longest, 0))


def in_two_lines(label: str, width: float) -> list[str]:
    """Break a label after a comma where it is too wide for one line."""
    if text_width(label) <= width or ", " not in label:
        return [fitted(label, width)]
    parts = label.split(", ")
    split = max((n for n in range(1, len(parts)) if text_width(", ".join(parts[:n]) + ",") <= width), default=1)
    return [fitted(", ".join(parts[:split]) + ",", width), fitted(", ".join(parts[split:]), width)]


class Pen:
    """Draws on a sheet measured in pixels from its top left corner."""

    def __init__(self, width: float, height: float) -> None:
        _registered()
        self.figure = Figure(figsize=(width / 72, height / 72), dpi=72)
        self.axes: Axes = self.figure.add_axes((0, 0, 1, 1))
        self.axes.set_xlim(0, width)
        self.axes.set_ylim(height, 0)
        self.axes.set_axis_off()
        self.figure.patch.set_visible(False)

    def line(
        self,
        x: tuple[float, ...],
        y: tuple[float, ...],
        colour: str = INK,
        width: float = 1,
        name: str = "",
        dashes: tuple[float, float] | None = None,
    ) -> None:
        """Draw a polyline, broken where a corner is NaN; `name` becomes its id. `dashes` are of ink and of gap. [px]"""
        drawn = Line2D(x, y, color=colour, linewidth=width, solid_capstyle="butt", clip_on=False)
        if dashes is not None:
            # matplotlib counts dashes in widths of the line.
            drawn.set_linestyle((0, (dashes[0] / width, dashes[1] / width)))
        if name:
            drawn.set_gid(own_id(name))
        # Not as a line of data, for which the limits of the axes would be worked out anew each time.
        self.axes.add_artist(drawn)

    def shape(self, corners: list[tuple[float, float]], colour: str, name: str) -> None:
        """Draw a filled shape; `name` becomes its id."""
        drawn = Polygon(corners, closed=True, edgecolor=colour, facecolor=colour, linewidth=1.3, clip_on=False)
        if name:
            drawn.set_gid(own_id(name))
        self.axes.add_patch(drawn)

    def tint(self, corners: list[tuple[float, float]], colour: str, opacity: float, name: str) -> None:
        """Fill a shape so lightly that lines and texts on it stay legible; `name` becomes its id."""
        drawn = Polygon(corners, closed=True, edgecolor="none", facecolor=colour, alpha=opacity, clip_on=False)
        if name:
            drawn.set_gid(own_id(name))
        self.axes.add_patch(drawn)

    def text(self, x: float, y: float, text: str, anchor: str = "start", colour: str = INK) -> None:
        """Write a text with its baseline at y; anchor is start, middle or end."""
        alignment = {"start": "left", "middle": "center", "end": "right"}[anchor]
        # A dollar sign would start mathematics; the texts come from records.
        self.axes.text(x, y, text.replace("$", r"\$"), ha=alignment, va="baseline", color=colour, clip_on=False)

    def inline_svg(self, identity: str, title: str, description: str, *, narrow: bool) -> str:
        """Return what was drawn as inline SVG; its ids start with the identity, `-n` behind it where it is narrow."""
        sheet = io.BytesIO()
        with warnings.catch_warnings():
            # Texts stay texts in the drawing: what the face lacks, another has where the drawing is shown.
            warnings.filterwarnings("ignore", "Glyph .* missing from font", UserWarning)
            self.figure.savefig(sheet, format="svg", metadata={"Date": None, "Creator": None})
        css_class = "scale narrow" if narrow else "scale wide"
        return cleaned(sheet.getvalue(), f"{identity}-n" if narrow else identity, title, description, css_class)


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
        x = max(min(_x(landmark.low, rule, layout), layout.width - text_width(text) - 2), 2)
        line = next((number for number, end in enumerate(ends) if end + 8 < x), len(ends))
        if line == len(ends):
            ends.append(0)
        ends[line] = x + text_width(text)
        placed.append(PlacedLabel(landmark, text, x, line))
    levels = sorted((mark for mark in landmarks if mark.high is None), key=lambda mark: mark.low)
    for number, landmark in enumerate(levels):
        x = _x(landmark.low, rule, layout) + 4
        placed.append(PlacedLabel(landmark, fitted(landmark.text, layout.width - x), x, len(ends) + number))
    return placed


def _x(value: float, rule: Rule, layout: Layout) -> float:
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
        start = _x(landmark.low, rule, layout)
        if landmark.high is None:
            pen.text(label.x, top + TEXT_SIZE, label.text, colour=LIMIT)
            for number, (upper, lower) in enumerate([(top + 2, stretches[0][1]), *stretches[1:]]):
                name = f"landmark-{landmark.key}" if number == 0 else ""
                pen.line((start, start), (upper, lower), LIMIT, 0.9, name)
        else:
            end, below = _x(landmark.high, rule, layout), top + LINE + 1
            pen.line(
                (start, start, end, end), (below + 3, below, below, below + 3), INK, 0.8, f"landmark-{landmark.key}"
            )
            pen.text(label.x, top + TEXT_SIZE, label.text)


def draw_mark(pen: Pen | SmallPen, mark: ScaleMark, rule: Rule, layout: Layout, y: float, small: bool) -> float:
    """Draw one mark and return where its right end lies."""
    x = _x(mark.value, rule, layout)
    reach = 3.5 if small else 5
    if mark.minor:
        # Strokes hang below the line, so that none is taken for the end of an interval.
        pen.line((x, x), (y + 1, y + reach + 1), ACCENT, 1, mark.key)
        return x
    ends = [x]
    if mark.at_least and mark.high is not None:
        end = _x(mark.high, rule, layout)
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
        low, high = _x(mark.low, rule, layout), _x(mark.high, rule, layout)
        pen.line((low, high), (y, y), ACCENT, 2.4 if small else 3.2)
        ends += [low, high]
    size = 3.2 if small else 4.6
    pen.shape([(x - size, y), (x, y - size), (x + size, y), (x, y + size)], ACCENT, mark.key)
    return max(ends) + size


def _draw_row(pen: Pen, row: ScaleRow, rule: Rule, layout: Layout, y: float) -> None:
    label = ": ".join(part for part in (row.label, row.note if layout.label_above else "") if part)
    if layout.label_above:
        pen.text(layout.left, y - 21, fitted(label, layout.width - layout.left))
    else:
        lines = in_two_lines(label, layout.left - 8)
        for number, line in enumerate(lines):
            pen.text(0, y + 4 + (number - (len(lines) - 1) / 2) * 13, line)
    pen.line((layout.left, layout.right), (y, y), FAINT, 0.4)
    if row.note and not layout.label_above:
        pen.text(layout.left + 4, y - 4, fitted(row.note, layout.width - layout.left - 4))
    for mark in row.marks:
        end = draw_mark(pen, mark, rule, layout, y, small=False)
        if mark.text:
            if end + 6 + text_width(mark.text) <= layout.width:
                pen.text(end + 6, y - 5, mark.text)
            else:
                pen.text(_x(mark.low or mark.value, rule, layout) - 8, y - 5, mark.text, "end")


def _row_lines(rows: tuple[ScaleRow, ...], layout: Layout, head: float) -> tuple[list[float], float]:
    """Return where each row's marks lie, and where the rows end."""
    lines, end = [], head
    for row in rows:
        end += layout.row_height + (HEADING if row.heading else 0)
        lines.append(end - 11)
    return lines, end


def _draw_heading(pen: Pen, heading: str, layout: Layout, y: float) -> None:
    top = y + 11 - layout.row_height - HEADING
    pen.line((0, layout.right), (top + 6, top + 6), FAINT, 0.8)
    pen.text(0, top + 21, fitted(heading, min(310, layout.width)))


def draw_rule(pen: Pen, rule: Rule, layout: Layout, y: float) -> None:
    """Draw the rule with its ticks, their numbers and its caption."""
    pen.line((layout.left, layout.right), (y, y), INK, 1)
    for value, length, label in rule.ticks:
        x = _x(value, rule, layout)
        pen.line((x, x), (y, y + length), INK, 0.8 if length > 5 else 0.5, f"tick-{value:g}" if length > 8 else "")
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
            x = _x(value, rule, SMALL)
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
    for row, line in zip(chart.rows, lines, strict=True):
        if row.heading:
            _draw_heading(pen, row.heading, layout, line)
        _draw_row(pen, row, rule, layout, line)
    draw_rule(pen, rule, layout, foot)
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)
