"""Shorter drawings say the same: held against fontTools, which reads paths, and against how each element looked."""

from __future__ import annotations

import itertools
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.rendering.svg_compacting import compact, named_by, short_path, to_a_tenth, written
from tests.rendering.charts import pieces_of, with_what_groups_say

PLACES = st.floats(min_value=-2000, max_value=2000).map(lambda place: f"{place:.6f}".rstrip("0").rstrip("."))
CORNERS = st.lists(st.tuples(PLACES, PLACES), min_size=1, max_size=9)


def long_path(corners: list[tuple[str, str]], closed: bool) -> str:
    """Return a path as matplotlib writes it."""
    return "M " + " \nL ".join(f"{x} {y}" for x, y in corners) + (" \nz" if closed else "") + " "


@given(pieces=st.lists(st.tuples(CORNERS, st.booleans()), min_size=1, max_size=4))
def test_every_corner_stays_within_half_a_tenth(pieces: list[tuple[list[tuple[str, str]], bool]]) -> None:
    """No error adds up, however long the path; corners that fall on the one before are left out."""
    path = "".join(long_path(corners, closed) for corners, closed in pieces)
    read = pieces_of(short_path(path))
    assert len(read) == len(pieces)
    for (corners, _), piece in zip(pieces, read, strict=True):
        # source: rounding to a tenth is off by at most half a tenth; 1e-9 for binary fractions
        near = [min(max(abs(float(x) - px), abs(float(y) - py)) for px, py in piece) for x, y in corners]
        assert max(near) <= 0.05 + 1e-9
        assert all(one != other for one, other in itertools.pairwise(piece))


@pytest.mark.parametrize(
    ("path", "short"),
    [
        # source: by hand, from the grammar of paths in SVG 1.1, 8.3
        ("M 512.69 40.5  L 515.89 37.3  L 519.09 40.5  L 515.89 43.7  z", "M512.7 40.5l3.2-3.2 3.2 3.2-3.2 3.2z"),
        ("M 0 52 L 676 52", "M0 52h676"),
        ("M 1 2 L 1 9 L 4 9 L 9 9", "M1 2v7h3 5"),
        ("M 10 0 L 10 5 M 20.5 0 L 20.5 5", "M10 0v5M20.5 0v5"),
        ("M 510.4 300 L 510.4 305 M 512.6 300 L 512.6 305", "M510.4 300v5m2.2-5v5"),
        ("M 100.5 100.5 L 104 104 L 97 104 z M 101.5 102.5 L 102.5 102.5", "M100.5 100.5l3.5 3.5h-7zm1 2h1"),
        ("M 0.04 -0.04 L 0.5 -0.5", "M0 0l.5-.5"),
        ("M 1 1 C 2.26 2 3 3 4 4", "M 1 1 C 2.3 2 3 3 4 4"),
    ],
)
def test_short_paths(path: str, short: str) -> None:
    assert short_path(path) == short


def test_a_tenth() -> None:
    assert to_a_tenth("rotate(-90 12.345 0.04) 7 -0.06") == "rotate(-90 12.3 0) 7 -.1"


def test_what_groups_share_is_said_once_and_nothing_looks_different() -> None:
    texts = [("a", "start", "currentColor"), ("1", "middle", "currentColor"), ("2", "middle", "#123456")]
    lines = [("currentColor", "0.5"), ("currentColor", "0.5"), ("currentColor", "2"), ("#123456", "1")]
    root = ElementTree.Element("svg", {"fill": "none"})
    for number, (stroke, width) in enumerate(lines):
        group = ElementTree.SubElement(ElementTree.SubElement(root, "g"), "g", {"id": f"line-{number}"})
        looks = {"d": f"M{number} 0v1", "stroke": stroke, "stroke-width": width, "fill": "none", "opacity": "0.5"}
        ElementTree.SubElement(group, "path", looks)
    for text, anchor, fill in texts:
        looks = {"text-anchor": anchor, "fill": fill, "font-size": "12", "font-family": "F"}
        ElementTree.SubElement(root, "text", looks).text = text
    compact(root)
    # source: by hand, from the rules in the module's docstring
    assert written(root) == (
        '<svg fill="none" font-family="F" font-size="12"><g stroke="currentColor" stroke-width="0.5">'
        '<path id="line-0" d="M0 0v1" opacity="0.5"/><path id="line-1" d="M1 0v1" opacity="0.5"/>'
        '<path id="line-2" d="M2 0v1" opacity="0.5" stroke-width="2"/></g>'
        '<path id="line-3" d="M3 0v1" opacity="0.5" stroke="#123456"/>'
        '<text fill="#123456" text-anchor="middle">2</text><text fill="currentColor">a</text>'
        '<text fill="currentColor" text-anchor="middle">1</text></svg>'
    )
    with_what_groups_say(root)
    found = [(path.get("stroke"), path.get("stroke-width", "1")) for path in root.iter("path")]
    assert found == lines
    assert {(text.text, text.get("text-anchor", "start"), text.get("fill")) for text in root.iter("text")} == set(texts)


def test_the_second_drawing_is_named_by_the_first_and_has_no_ids() -> None:
    drawing = (
        '<svg aria-labelledby="a-n-title a-n-desc" xmlns="http://www.w3.org/2000/svg">'
        '<title id="a-n-title">T id="x"</title><desc id="a-n-desc"/>'
    )
    second = named_by(drawing + '<g id="a-n-x"><text> id="x" &gt; &amp;</text></g></svg>', "a-title a-desc")
    assert second == (
        '<svg aria-labelledby="a-title a-desc" xmlns="http://www.w3.org/2000/svg">'
        '<g><text> id="x" &gt; &amp;</text></g></svg>'
    )
