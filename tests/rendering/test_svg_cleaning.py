"""Cleaned drawings: attributes instead of styles, ids of their own, a title first, and no way out of a text."""

from __future__ import annotations

import html5lib
import pytest
from lxml import etree

from generator.presenting.views import Landmark, ScaleMark, ScaleRow
from generator.rendering.scale_drawing import draw_scale
from generator.rendering.svg_cleaning import cleaned, own_id
from tests.rendering.charts import a_chart

HOSTILE = [
    "</text><script>alert(1)</script>",
    "<b>bold</b> & <i>",
    "$x$ and $y^2$",
    r"\$x$ \alpha {",
    "a & b &amp; c",
    "\u202eright to left\u202c",
    '" onload="alert(1)',
    "]]><!-- -->",
]
SVG = "{http://www.w3.org/2000/svg}"


def drawn(text: str = "A", narrow: bool = False) -> str:
    rows = (ScaleRow(text, (ScaleMark("fit.am.overall", 120.0, 100.0, 140.0, text=text),)),)
    return draw_scale(a_chart(rows=rows, landmarks=(Landmark("l", text, 100), Landmark("s", text, 2, 4))), narrow)


def test_it_is_well_formed_and_holds_nothing_that_a_strict_policy_refuses() -> None:
    root = etree.fromstring(drawn())
    names = {etree.QName(element).localname for element in root.iter()}
    assert names == {"svg", "title", "desc", "g", "path", "text"}
    attributes = {name for element in root.iter() for name in element.attrib}
    assert "style" not in attributes
    assert not any(name.startswith("on") or "href" in name or "clip" in name for name in attributes)
    assert root.attrib["role"] == "img"


def test_the_title_comes_first_and_names_the_drawing() -> None:
    root = etree.fromstring(drawn())
    title, description = root[0], root[1]
    assert (title.tag, title.text) == (f"{SVG}title", "A scale")
    assert (description.tag, description.text) == (f"{SVG}desc", "What it shows")
    assert root.attrib["aria-labelledby"].split() == [title.attrib["id"], description.attrib["id"]]


def test_two_drawings_on_one_page_share_no_id() -> None:
    page = html5lib.parse(f"<!doctype html><title>x</title>{drawn()}{drawn(narrow=True)}", namespaceHTMLElements=False)
    ids = [element.attrib["id"] for element in page.iter() if "id" in element.attrib]
    assert len(ids) == len(set(ids)) > 10
    assert all(identity.startswith("fit-scale-") for identity in ids)


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("text", HOSTILE)
def test_a_hostile_text_stays_a_text(text: str, narrow: bool) -> None:
    markup = drawn(text, narrow)
    root = etree.fromstring(markup)
    assert {etree.QName(element).localname for element in root.iter()} == {"svg", "title", "desc", "g", "path", "text"}
    written = [element.text for element in root.iter(f"{SVG}text")]
    # The row's label may be cut; the value's and the landmarks' texts stand in full.
    assert written.count(text) >= 2
    page = html5lib.parse(f"<!doctype html><title>x</title>{markup}", namespaceHTMLElements=False)
    assert [element.tag for element in page.iter() if "script" in str(element.tag)] == []
    assert [element.text for element in page.iter() if str(element.tag).endswith("}text")] == written


@pytest.mark.parametrize("text", HOSTILE)
def test_a_hostile_title_stays_a_title(text: str) -> None:
    drawing = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><g/></svg>'
    markup = cleaned(drawing, (), "p", text, text, "scale")
    root = etree.fromstring(markup)
    assert [child.text for child in root] == [text, text]
    page = html5lib.parse(f"<!doctype html><p>{markup}", namespaceHTMLElements=False)
    assert [element.tag for element in page.iter() if "script" in str(element.tag)] == []


def test_what_cleaning_removes_and_keeps() -> None:
    drawing = f"""<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x"><svg
      xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 20" width="9in"><metadata>who</metadata><defs><style>*
      {{}}</style></defs><g id="text_1"><title>old</title><text x="1.23456" y="2" style="font: 12px x; font-size: 12px;
      font-family: 'F'; fill: #1c1a17; transition: all" transform="rotate(-0 1 2)">t</text></g><g id="{own_id("kept")}"
      clip-path="url(#a)"><path d="M 1.98765 2.5&#10;L 3 4" style="stroke: #0b5a6b; stroke-width: 2"/></g><g/></svg>"""
    markup = cleaned(drawing.encode(), (), "p", "T", "D", "scale wide")
    # source: by hand, from the rules in the module's docstring
    assert markup == (
        '<svg class="scale wide" viewBox="0 0 10 20" width="10" height="20" role="img" '
        'aria-labelledby="p-title p-desc" fill="none" font-family="\'F\', sans-serif" font-size="12" '
        'xmlns="http://www.w3.org/2000/svg"><title id="p-title">T</title><desc id="p-desc">D</desc>'
        '<path id="p-kept" d="M2 2.5l1 1.5" stroke="#0b5a6b" stroke-width="2"/>'
        '<text x="1.2" y="2" fill="currentColor">t</text></svg>'
    )
