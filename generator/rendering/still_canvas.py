"""A canvas for stills: texts in their faces, lines and shapes by pixels, and the picture as PNG."""

from __future__ import annotations

import io
from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import as_file, files
from pathlib import Path

from matplotlib import font_manager
from matplotlib.artist import Artist
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon

WIDTH, HEIGHT = 1920, 1080
LEFT, RIGHT = 96, 1824
TOP, BOTTOM = 54, 1026
"""Nine tenths of the picture each way: what lies beyond may be cut off on a screen."""
LEAST_TEXT = 28
"""The smallest text, to be read where a video is shown on a phone. [px]"""
SANS, SERIF, SANS_BOLD = "SourceSans3-Regular", "Literata-SemiBold", "SourceSans3-SemiBold"
_BOX = "\u25a1"


@dataclass(frozen=True)
class Palette:
    """The colours of a page by day or by night, as the style sheet has them."""

    paper: str
    ink: str
    quiet: str
    faint: str
    accent: str
    limit: str


LIGHT = Palette("#fbf9f4", "#1c1a17", "#5f594e", "#8d8779", "#0b5a6b", "#9a3b1f")
NIGHT = Palette("#15191d", "#e9e4d8", "#aaa598", "#7d8288", "#7cc7d6", "#e8a27f")


@dataclass(frozen=True)
class PlacedText:
    """A text and the room that it takes. [px]"""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    size: float
    colour: str


@cache
def _face(name: str) -> Path:
    with as_file(files("site_templates") / "fonts" / f"{name}.ttf") as path:
        return path


def shown(text: str, face: str) -> str:
    """Return a text on one line, with a box for what the face lacks."""
    font = font_manager.get_font(str(_face(face)))
    return "".join(
        " " if character < " " else character if font.get_char_index(ord(character)) else _BOX for character in text
    )


@lru_cache(maxsize=4096)
def width_of(text: str, size: float, face: str) -> float:
    """Return the width of a text. [px]"""
    font = font_manager.get_font(str(_face(face)))
    font.set_size(size, 72)
    font.set_text(shown(text, face))
    return float(font.get_width_height()[0]) / 64


def fitted(text: str, width: float, size: float, face: str) -> str:
    """Return a text, cut where it is wider than it may be."""
    if width_of(text, size, face) <= width:
        return text

    def cut(length: int) -> str:
        return f"{text[:length].rstrip()}…"

    return cut(_most(len(text), width, lambda length: width_of(cut(length), size, face)))


def _most(most: int, width: float, width_at: Callable[[int], float]) -> int:
    """Return how many of something, at most so many, are no wider than that together."""
    return max(bisect_right(range(most + 1), width, key=width_at) - 1, 0)


def wrapped(text: str, width: float, size: float, face: str, most: int) -> list[str]:
    """Break a text into at most so many lines; the last one is cut where more is left."""
    lines: list[str] = []
    words = text.split(" ")
    while words and len(lines) < most - 1:
        count = max(_words_abreast(words, width, size, face), 1)
        lines.append(fitted(" ".join(words[:count]), width, size, face))
        words = words[count:]
    return [*lines, fitted(" ".join(words), width, size, face)] if words else lines


def _words_abreast(words: Sequence[str], width: float, size: float, face: str) -> int:
    return _most(len(words), width, lambda number: width_of(" ".join(words[:number]), size, face))


class Canvas:
    """Draws by pixels from the top left corner and remembers where each text stands."""

    def __init__(self, palette: Palette) -> None:
        self.palette = palette
        self.texts: list[PlacedText] = []
        self._layer = 0
        self._figure = Figure(figsize=(WIDTH / 72, HEIGHT / 72), dpi=72, facecolor=palette.paper)
        self._axes = self._figure.add_axes((0, 0, 1, 1))
        self._axes.set_xlim(0, WIDTH)
        self._axes.set_ylim(HEIGHT, 0)
        self._axes.set_axis_off()

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float = LEAST_TEXT,
        colour: str = "",
        face: str = SANS,
        anchor: str = "left",
    ) -> None:
        """Write a text with its baseline at y; anchor is left, center or right."""
        words, width = shown(text, face), width_of(text, size, face)
        left = {"left": x, "center": x - width / 2, "right": x - width}[anchor]
        colour = colour or self.palette.ink
        self.texts.append(PlacedText(words, left, y - 0.78 * size, left + width, y + 0.24 * size, size, colour))
        font = font_manager.FontProperties(fname=str(_face(face)), size=size)
        # A dollar sign would start mathematics; the texts come from records.
        plain = words.replace("$", r"\$")
        self._axes.text(x, y, plain, ha=anchor, va="baseline", color=colour, fontproperties=font, clip_on=False)

    def line(self, x: Sequence[float], y: Sequence[float], colour: str, width: float) -> None:
        """Draw a polyline."""
        drawn = Line2D(x, y, color=colour, linewidth=width, solid_capstyle="butt", clip_on=False)
        self._add(drawn)

    def shape(self, corners: Sequence[tuple[float, float]], colour: str) -> None:
        """Draw a filled shape."""
        self._add(Polygon(corners, closed=True, facecolor=colour, edgecolor=colour, clip_on=False))

    def _add(self, drawn: Artist) -> None:
        # What is drawn later lies on top; by itself matplotlib lays every line over every shape.
        self._layer += 1
        drawn.set_zorder(2 + self._layer / 1000)
        self._axes.add_artist(drawn)

    def png(self) -> bytes:
        """Return the picture; it names neither a program nor a day."""
        sheet = io.BytesIO()
        self._figure.savefig(sheet, format="png", dpi=72, metadata={"Software": None})
        return sheet.getvalue()
