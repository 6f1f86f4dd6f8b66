"""Draws with matplotlib in pixels of 1/72 inch, once for page, paper and picture; what all charts share."""

from __future__ import annotations

import io
import math
import warnings
from bisect import bisect_right
from collections.abc import Sequence
from functools import cache, lru_cache

import matplotlib
from matplotlib import font_manager
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon

from generator.rendering.fonts import SANS, chart_font
from generator.rendering.svg_cleaning import INK, cleaned, own_id

ACCENT = "#0b5a6b"
LIMIT = "#9a3b1f"
FAINT = "#8d8779"
TEXT_SIZE = 12
LINE = 15
"""Height of a line of text. [px]"""


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


def in_lines(text: str, width: float, most: int) -> list[str]:
    """Break a text between words into as many lines as it needs; what is wider or longer than that is cut."""
    lines: list[str] = []
    for word in one_line(text).split():
        if lines and text_width(f"{lines[-1]} {word}") <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    kept = lines if len(lines) <= most else [*lines[: most - 1], f"{lines[most - 1]}…"]
    return [fitted(line, width) for line in kept]


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

    def lines(
        self,
        pieces: Sequence[Sequence[tuple[float, float]]],
        colour: str = INK,
        width: float = 1,
        name: str = "",
        dashes: tuple[float, float] | None = None,
    ) -> None:
        """Draw polylines as one thing, which keeps a drawing of many small; `name` becomes its id."""
        corners = [corner for piece in pieces for corner in (*piece, (math.nan, math.nan))]
        if corners:
            x, y = zip(*corners[:-1], strict=True)
            self.line(x, y, colour, width, name, dashes)

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
