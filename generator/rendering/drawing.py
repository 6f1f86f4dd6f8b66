"""Draws with matplotlib in pixels of 1/72 inch, once for page, paper and picture; what all charts share."""

from __future__ import annotations

import io
import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from xml.etree.ElementTree import Element

from matplotlib import font_manager
from matplotlib.backend_bases import GraphicsContextBase, RendererBase
from matplotlib.backends.backend_svg import RendererSVG
from matplotlib.colors import to_rgba
from matplotlib.path import Path
from matplotlib.transforms import Affine2D
from matplotlib.typing import JoinStyleType, RGBAColorType

from generator.rendering.fonts import SANS, chart_font
from generator.rendering.svg_cleaning import INK, cleaned, own_id
from generator.rendering.svg_compacting import to_a_tenth

ACCENT = "#0b5a6b"
LIMIT = "#9a3b1f"
FAINT = "#8d8779"
TEXT_SIZE = 12
LINE = 15
"""Height of a line of text. [px]"""


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


_Drawn = tuple[str, Callable[[RendererBase], None]]
"""The name of a thing, and what draws it."""
_FACE = f"'{SANS}', sans-serif"
_NO_METADATA = {"Creator": None, "Date": None, "Format": None, "Type": None}


@cache
def _look(colour: str, width: float, join: JoinStyleType, dashes: tuple[float, float] | None) -> GraphicsContextBase:
    look = GraphicsContextBase()
    look.set_foreground(colour)
    look.set_linewidth(width)
    look.set_joinstyle(join)
    if dashes is not None:
        look.set_dashes(0, dashes)
    return look


@cache
def _look_of_tint(opacity: float) -> GraphicsContextBase:
    look = GraphicsContextBase()
    look.set_linewidth(0)
    look.set_alpha(opacity)
    return look


class Pen:
    """Draws on a sheet measured in pixels from its top left corner.

    matplotlib's own writer of SVG is handed paths as they are: a figure with axes, and an artist for each of
    them, cost ten times what is drawn.
    """

    def __init__(self, width: float, height: float) -> None:
        self._width, self._height = width, height
        self._upright = Affine2D().scale(1, -1).translate(0, height)
        """From the sheet to what matplotlib draws on, which begins at the foot."""
        self._shapes: list[_Drawn] = []
        self._lines: list[_Drawn] = []
        self._texts: list[Element] = []

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
        path, look = Path(list(zip(x, y, strict=True))), _look(colour, width, "round", dashes)
        self._lines.append((name, lambda sheet: sheet.draw_path(look, path, self._upright)))

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
        self._fill(corners, _look(colour, 1.3, "miter", None), to_rgba(colour), name)

    def tint(self, corners: list[tuple[float, float]], colour: str, opacity: float, name: str) -> None:
        """Fill a shape so lightly that lines and texts on it stay legible; `name` becomes its id."""
        self._fill(corners, _look_of_tint(opacity), to_rgba(colour), name)

    def _fill(
        self, corners: list[tuple[float, float]], look: GraphicsContextBase, colour: RGBAColorType, name: str
    ) -> None:
        last = [] if corners[0] == corners[-1] else [corners[0]]
        path = Path([*corners, *last], closed=True)
        self._shapes.append((name, lambda sheet: sheet.draw_path(look, path, self._upright, colour)))

    def text(self, x: float, y: float, text: str, anchor: str = "start", colour: str = INK) -> None:
        """Write a text with its baseline at y; anchor is start, middle or end."""
        if text:
            # It stays a text, for which matplotlib's writer has nothing to do but to look up its face again.
            look = {"fill": "currentColor" if colour == INK else colour, "font-size": f"{TEXT_SIZE}"}
            place = {"x": to_a_tenth(f"{x:.6f}"), "y": to_a_tenth(f"{y:.6f}")}
            written = Element("text", {**place, **look, "font-family": _FACE, "text-anchor": anchor})
            written.text = text
            self._texts.append(written)

    def inline_svg(self, identity: str, title: str, description: str, *, narrow: bool) -> str:
        """Return what was drawn as inline SVG; its ids start with the identity, `-n` behind it where it is narrow."""
        drawing = io.StringIO()
        # matplotlib says what types its renderers have, but not this one.
        sheet = RendererSVG(self._width, self._height, drawing, metadata=_NO_METADATA)  # type: ignore[no-untyped-call]
        self._draw_on(sheet)
        sheet.finalize()  # type: ignore[no-untyped-call]
        css_class = "scale narrow" if narrow else "scale wide"
        prefix = f"{identity}-n" if narrow else identity
        return cleaned(drawing.getvalue(), self._texts, prefix, title, description, css_class)

    def _draw_on(self, sheet: RendererBase) -> None:
        # Lines lie on shapes, whatever was drawn first.
        for name, draw in (*self._shapes, *self._lines):
            sheet.open_group("drawn", own_id(name) if name else None)
            draw(sheet)
            sheet.close_group("drawn")
