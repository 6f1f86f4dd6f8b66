"""What makes WeasyPrint set papers faster without changing a page: the PDF has the same bytes.

Only `sheets` imports this, and late: WeasyPrint needs system libraries that pages do without.
"""

from __future__ import annotations

import atexit
import re
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any

import weasyprint
import weasyprint.svg
from weasyprint.pdf import pydyf
from weasyprint.text.fonts import FontConfiguration

_FOR_EVERY_ELEMENT = re.compile(r"^::(?:footnote|note)-[a-z]+ \{.*\}\n", re.MULTILINE)
_MARKERS = re.compile(r"^::marker \{", re.MULTILINE)


def defaults_without_notes() -> str:
    """Return the library's default style without footnotes and notes, which papers have none of.

    Its rules for them, and that for the markers of lists, hold for every element: each would get six styles more.
    """
    whole = (files("weasyprint") / "css" / "html5_ua.css").read_text(encoding="utf-8")
    return _MARKERS.sub("li::marker {", _FOR_EVERY_ELEMENT.sub("", whole))


@cache
def _defaults() -> weasyprint.CSS:
    return weasyprint.CSS(string=defaults_without_notes())


class PaperMarkup(weasyprint.HTML):  # type: ignore[misc]
    """Markup of a paper, with the default style as far as papers need it."""

    def _ua_stylesheets(self, forms: bool = False) -> list[weasyprint.CSS]:
        return [_defaults()]


@cache
def _typefaces() -> FontConfiguration:
    return FontConfiguration()


def typefaces() -> FontConfiguration:
    """Return the typefaces of papers, as they stand in this process: all papers bring the same.

    Each configuration that the library makes takes time, and memory that it never gives back (0.2 MiB). What it writes
    the faces into is a passing folder, which may be taken away while a process goes on; then there is a new one.
    """
    folder = _typefaces()._folder
    if folder is not None and not folder.is_dir():
        forget_typefaces()
    return _typefaces()


@atexit.register
def forget_typefaces() -> None:
    """Have the next paper bring its typefaces anew; what was written of the old ones goes with the last use."""
    _typefaces.cache_clear()


class _OnePath:
    """Stands for a drawing and its only path: what the library would write into the PDF of it is kept."""

    def __init__(self, d: str) -> None:
        self.stream = pydyf.Stream()
        self.vertices: list[Any] = []
        self._d = d

    def get(self, key: str, default: str | None = None) -> str | None:
        return self._d if key == "d" else default

    @staticmethod
    def point(x: str, y: str, font_size: float) -> tuple[float, float]:
        return float(x), float(y)


_draw_path = weasyprint.svg.TAGS["path"]


@lru_cache(maxsize=2048)
def _written(d: str) -> tuple[bytes, tuple[Any, ...]]:
    path = _OnePath(d)
    _draw_path(path, path, 0)
    return b"\n".join(path.stream.stream), tuple(path.vertices)


def _path(svg: Any, node: Any, font_size: float) -> None:
    """Draw a path: one that was drawn before, as those of equations are on paper after paper, is not read again."""
    written, vertices = _written(node.get("d", ""))
    svg.stream.stream.append(written)
    node.vertices.extend(vertices)


weasyprint.svg.TAGS["path"] = _path
