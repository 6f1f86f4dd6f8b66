"""Says the same drawing in fewer bytes: short paths, no idle groups, and what neighbours share said once.

A page has its drawings within it, twice for wide and narrow screens, so that their size is a page's size.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import groupby
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

SVG = "http://www.w3.org/2000/svg"

# As SVG has them where nothing is said: what equals them need not be said, unless a group says otherwise.
_DEFAULTS = {
    "stroke": "none",
    "stroke-width": "1",
    "stroke-opacity": "1",
    "stroke-dasharray": "none",
    "stroke-linecap": "butt",
    "stroke-linejoin": "miter",
    "fill": "none",
    "fill-opacity": "1",
    "text-anchor": "start",
    "font-size": "12",
    "font-weight": "normal",
    "font-family": "",
}
"""All that a child takes from its group. Not filled, 12 px and the first text's face are what the root says itself."""
_PLACE = re.compile(r"-?\d+(?:\.\d+)?")
_CURVED = re.compile(r"[^\W\d_MLz]")
"""A letter that a path of straight lines does not have."""
# As `written` writes them: neither in a text nor in an attribute stands a bare "<" or ">".
_TAG = re.compile(r"<[a-z]+ [^<>]*+>")
_ID = re.compile(r' id="[^"]*+"')
_NAMES = re.compile(r' aria-labelledby="[^"]*+"')
_TOLD = re.compile(r'<(title|desc)(?: id="[^"]*+")?+(?:/>|>[^<]*+</\1>)')
_NUMBER = re.compile(r"-?(?<!\d)\d++\.\d+")


def _tenths(text: str) -> int:
    return round(float(text) * 10)


@lru_cache(maxsize=65_536)
def _written(tenths: int) -> str:
    sign, whole, rest = "-" if tenths < 0 else "", abs(tenths) // 10, abs(tenths) % 10
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole or ''}.{rest}"


def to_a_tenth(text: str) -> str:
    """Return a text with the numbers in it to a tenth, which is less than an eye can tell on a screen or on paper."""
    return _NUMBER.sub(lambda match: _written(_tenths(match[0])), text)


def _joined(numbers: Sequence[str]) -> str:
    """Return numbers as a path has them: a minus parts two by itself."""
    return " ".join(numbers).replace(" -", "-")


def _steps(corners: Sequence[tuple[int, int]]) -> Iterator[tuple[str, list[str]]]:
    """Yield how to go from each corner to the next: level, upright or both. [0.1 px]"""
    for place in range(1, len(corners)):
        right, down = corners[place][0] - corners[place - 1][0], corners[place][1] - corners[place - 1][1]
        if right and down:
            yield "l", [_written(right), _written(down)]
        elif right:
            yield "h", [_written(right)]
        elif down:
            yield "v", [_written(down)]


def short_path(path: str) -> str:
    """Return a path of straight lines with each corner told from the one before, to a tenth of a pixel.

    Corners are rounded where they lie, and told apart after that, so that no error adds up. A path of anything but
    straight lines is returned with its numbers to a tenth.
    """
    if not path.lstrip().startswith("M") or _CURVED.search(path):
        return to_a_tenth(path)
    pieces: list[tuple[list[tuple[int, int]], bool]] = []
    for piece in path.split("M")[1:]:
        places = [_tenths(place) for place in _PLACE.findall(piece)]
        pieces.append((list(zip(places[::2], places[1::2], strict=True)), "z" in piece))
    said, pen = "", (0, 0)
    for corners, closed in pieces:
        start = corners[0]
        far = "M" + _joined([_written(place) for place in start])
        near = "m" + _joined([_written(start[0] - pen[0]), _written(start[1] - pen[1])])
        said += near if said and len(near) < len(far) else far
        for letter, steps in groupby(_steps(corners), key=lambda step: step[0]):
            said += letter + _joined([number for _, numbers in steps for number in numbers])
        said += "z" if closed else ""
        pen = start if closed else corners[-1]
    return said


def _unwrapped(element: Element) -> Iterator[Element]:
    """Yield what an element holds, without groups that say nothing; the id of a group of one goes to the one."""
    for child in element:
        if child.tag != "g":
            yield child
            continue
        held = list(_unwrapped(child))
        if not child.attrib:
            yield from held
        elif set(child.attrib) == {"id"} and len(held) == 1 and "id" not in held[0].attrib:
            held[0].attrib = {"id": child.attrib["id"], **held[0].attrib}
            yield held[0]
        else:
            child[:] = held
            yield child


def _group(elements: list[Element]) -> Element:
    """Return a group that says what most of its elements say, and they only what is different."""
    group = Element("g")
    for name, default in _DEFAULTS.items():
        values = [element.attrib.pop(name, default) for element in elements]
        common = values[0]
        if values.count(common) < len(values):
            common = Counter(values).most_common(1)[0][0]
            for element, value in zip(elements, values, strict=True):
                if value != common:
                    element.set(name, value)
        if common != default:
            group.set(name, common)
    group[:] = elements
    return group


def _in_groups(elements: Sequence[Element]) -> Iterator[Element]:
    for _, run in groupby(elements, key=_looks):
        together = list(run)
        grouped = _group(together)
        if len(together) > 1:
            yield grouped
        else:
            together[0].attrib |= grouped.attrib
            yield together[0]


def _looks(element: Element) -> tuple[str, ...]:
    anchor = element.get("text-anchor", "start")
    # Words first, then the numbers of the axes.
    return element.tag, element.get("fill", ""), element.get("stroke", ""), "" if anchor == "start" else anchor


def compact(root: Element) -> None:
    """Say in fewer bytes what a drawing holds, and the size and face of its texts at the root.

    Elements have no namespace, attributes instead of styles, and stand in the order in which they are drawn. Texts come
    last, those of one look together: none lies on another.
    """
    elements = list(_unwrapped(root))
    texts = [element for element in elements if element.tag == "text"]
    face = next((text.get("font-family", "") for text in texts), "")
    if face:
        root.attrib |= {"font-family": face, "font-size": _DEFAULTS["font-size"]}
    for text in texts:
        if text.get("font-family") == face:
            del text.attrib["font-family"]
    drawn = [element for element in elements if element.tag != "text"]
    root[:] = [*_in_groups(drawn), *_in_groups(sorted(texts, key=_looks))]


def named_by(drawing: str, names: str) -> str:
    """Return a drawing without ids and names of its own, named by the elements of the ids in `names`.

    For the second drawing of a chart on a page: only one is seen, and all that leads into a chart leads to the first.
    """
    unnamed = _TAG.sub(lambda tag: _ID.sub("", tag[0]), _TOLD.sub("", drawing))
    return _NAMES.sub(lambda told: f' aria-labelledby="{names}"', unnamed, count=1)


def written(root: Element) -> str:
    """Return an element as it stands in a page."""
    # Neither in a text nor in an attribute stands a bare ">".
    return ElementTree.tostring(root, encoding="unicode").replace(" />", "/>")
