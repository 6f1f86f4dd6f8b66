"""Draws the small scales of a table's rows straight as SVG.

A table of many devices has as many small scales. Lines and shapes are all that stands in one, so they are written here
without the drawing library: in a fifth of the size, since what looks alike shares its attributes, and in a hundredth
of the time.
"""

from __future__ import annotations

from xml.etree import ElementTree

from generator.rendering.svg_cleaning import INK
from generator.rendering.svg_compacting import SVG

_Look = tuple[str, float, str]
"""Colour, width of the line [px] and filling, `none` for lines."""


def _px(number: float) -> str:
    """Write a coordinate to a hundredth of a pixel."""
    return f"{number:.2f}".rstrip("0").rstrip(".")


def _path(points: list[tuple[float, float]]) -> str:
    return "M " + " L ".join(f"{_px(x)} {_px(y)}" for x, y in points)


class SmallPen:
    """Draws on a sheet measured in pixels from its top left corner; what has no name shares a path with its like."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self._drawn: dict[_Look, list[tuple[str, str]]] = {}

    def _draw(self, look: _Look, path: str, name: str) -> None:
        self._drawn.setdefault(look, []).append((path, name))

    def line(
        self,
        x: tuple[float, ...],
        y: tuple[float, ...],
        colour: str = INK,
        width: float = 1,
        name: str = "",
    ) -> None:
        """Draw a polyline; `name` becomes its id."""
        self._draw((colour, width, "none"), _path(list(zip(x, y, strict=True))), name)

    def shape(self, corners: list[tuple[float, float]], colour: str, name: str) -> None:
        """Draw a filled shape; `name` becomes its id."""
        self._draw((colour, 1.3, colour), f"{_path(corners)} z", name)

    def inline_svg(self, identity: str, title: str, description: str) -> str:
        """Return what was drawn as inline SVG; its ids start with the identity."""
        width, height = _px(self.width), _px(self.height)
        root = ElementTree.Element(
            "svg",
            {
                "class": "scale small",
                "viewBox": f"0 0 {width} {height}",
                "width": width,
                "height": height,
                "role": "img",
                "aria-labelledby": f"{identity}-title {identity}-desc",
                "xmlns": SVG,
            },
        )
        for tag, text in (("title", title), ("desc", description)):
            ElementTree.SubElement(root, tag, {"id": f"{identity}-{tag}"}).text = text
        for (colour, line_width, filling), paths in self._drawn.items():
            look = {"stroke": _colour(colour), "stroke-width": f"{line_width:g}", "fill": _colour(filling)}
            alike = ElementTree.SubElement(root, "g", look)
            unnamed = [path for path, name in paths if not name]
            if unnamed:
                ElementTree.SubElement(alike, "path", {"d": " ".join(unnamed)})
            for path, name in paths:
                if name:
                    ElementTree.SubElement(alike, "path", {"id": f"{identity}-{name}", "d": path})
        return ElementTree.tostring(root, encoding="unicode")


def _colour(colour: str) -> str:
    return "currentColor" if colour == INK else colour
