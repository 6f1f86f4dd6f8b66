"""Small charts, and what can be read off a drawing without the code that drew it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from xml.etree import ElementTree

from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path.parser import parse_path

from generator.presenting.views import Landmark, ScaleChart, ScaleMark, ScaleRow
from generator.rendering.drawing import text_width

SPANS = (
    Landmark("mask", "surgical mask, usually 2 to 4", 2, 4),
    Landmark("hood", "good powered hood, thousands", 1000, 10_000),
)
LEVEL = Landmark("level", "100: fit-test level, half facepiece", 100)
_NOT_HANDED_ON = ("id", "d", "x", "y", "opacity", "class", "viewBox", "width", "height", "role", "aria-labelledby")


def pieces_of(path: str) -> list[list[tuple[float, float]]]:
    """Return the corners of each polyline of a path, as fontTools reads it. [px]"""
    pen = RecordingPen()
    parse_path(path, pen)
    pieces: list[list[tuple[float, float]]] = []
    for step, places in pen.value:
        if step == "moveTo":
            pieces.append([])
        pieces[-1] += [(float(x), float(y)) for x, y in places]
    return pieces


def with_what_groups_say(element: ElementTree.Element) -> None:
    """Give each element what its groups say for it, as a browser does."""
    for child in element:
        child.attrib = {name: value for name, value in element.items() if name not in _NOT_HANDED_ON} | child.attrib
        with_what_groups_say(child)


def a_chart(
    *marks: ScaleMark,
    kind: str = "fit",
    label: str = "A, donning 1",
    landmarks: tuple[Landmark, ...] = (*SPANS, LEVEL),
    small: bool = False,
    rows: tuple[ScaleRow, ...] | None = None,
) -> ScaleChart:
    return ScaleChart(
        id="fit-scale",
        kind=kind,
        title="A scale",
        description="What it shows",
        rows=rows if rows is not None else (ScaleRow(label, marks),),
        landmarks=landmarks,
        small=small,
    )


@dataclass(frozen=True)
class Written:
    """A text of a drawing and where it stands. [px]"""

    text: str
    x: float
    y: float
    anchor: str
    size: float


class Drawing:
    """A drawing as a reader of its markup sees it."""

    def __init__(self, markup: str) -> None:
        """Parse it; it must be well-formed by itself."""
        self.root = ElementTree.fromstring(markup.replace(' xmlns="http://www.w3.org/2000/svg"', "", 1))
        with_what_groups_say(self.root)
        self.width, self.height = float(self.root.attrib["width"]), float(self.root.attrib["height"])

    def points(self, identity: str) -> list[tuple[float, float]]:
        """Return the corners of the one path of the element with an id."""
        return [corner for piece in pieces_of(self.path(identity).attrib["d"]) for corner in piece]

    def path(self, identity: str) -> ElementTree.Element:
        """Return the one path of the element with an id, with what its groups say for it."""
        (element,) = (element for element in self.root.iter() if element.get("id") == identity)
        (path,) = element.iter("path")
        return path

    def all_points(self) -> list[tuple[float, float]]:
        paths = [path.attrib["d"] for path in self.root.iter("path")]
        return [corner for path in paths for piece in pieces_of(path) for corner in piece]

    def middle(self, identity: str) -> float:
        """Return the middle of a symmetric shape or a vertical, from left to right."""
        xs = [x for x, _ in self.points(identity)]
        return (min(xs) + max(xs)) / 2

    def tick(self, value: int, prefix: str = "fit-scale") -> float:
        return self.points(f"{prefix}-tick-{value}")[0][0]

    def texts(self) -> list[Written]:
        return [
            Written(
                element.text or "",
                float(element.attrib["x"]),
                float(element.attrib["y"]),
                element.get("text-anchor", "start"),
                float(element.attrib["font-size"]),
            )
            for element in self.root.iter("text")
        ]


def between_ticks(drawing: Drawing, value: float, low: int, high: int, prefix: str = "fit-scale") -> float:
    """Return where a value belongs between two ticks of a logarithmic rule, from the drawing itself."""
    share = math.log10(value / low) / math.log10(high / low)
    return drawing.tick(low, prefix) + share * (drawing.tick(high, prefix) - drawing.tick(low, prefix))


def box(written: Written) -> tuple[float, float, float, float]:
    """Return left, top, right, bottom of a text; letters rise and hang no further than a face's usual measures."""
    width = text_width(written.text, written.size)
    left = {"start": written.x, "middle": written.x - width / 2, "end": written.x - width}[written.anchor]
    return left, written.y - 0.75 * written.size, left + width, written.y + 0.22 * written.size


def meet(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
