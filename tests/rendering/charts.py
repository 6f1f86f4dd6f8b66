"""Small charts, and what can be read off a drawing without the code that drew it."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from xml.etree import ElementTree

from generator.presenting.views import Landmark, ScaleChart, ScaleMark, ScaleRow
from generator.rendering.drawing import text_width

SPANS = (
    Landmark("mask", "surgical mask, usually 2 to 4", 2, 4),
    Landmark("hood", "good powered hood, thousands", 1000, 10_000),
)
LEVEL = Landmark("level", "100: fit-test level, half facepiece", 100)
_POINT = re.compile(r"[ML] (-?[\d.]+) (-?[\d.]+)")


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
        self.width, self.height = float(self.root.attrib["width"]), float(self.root.attrib["height"])

    def points(self, identity: str) -> list[tuple[float, float]]:
        """Return the corners of the one path of the element with an id."""
        (group,) = (element for element in self.root.iter() if element.get("id") == identity)
        (path,) = group.iter("path")
        return [(float(x), float(y)) for x, y in _POINT.findall(path.attrib["d"])]

    def all_points(self) -> list[tuple[float, float]]:
        return [(float(x), float(y)) for path in self.root.iter("path") for x, y in _POINT.findall(path.attrib["d"])]

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
