"""Small scales of a table's rows: the same rule and marks as in large, few bytes, and texts that stay texts."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from generator.presenting.views import ScaleMark, ScaleRow
from generator.rendering.drawing import ACCENT
from generator.rendering.pages import page_markup
from generator.rendering.scale_drawing import draw_scale
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.rendering.charts import Drawing, a_chart, between_ticks
from tests.scoring.builders import a_test

MARK = "fit-scale-a"
ROUNDING = 0.02
"""Coordinates are written to a hundredth of a pixel, and a place is read off between two of them. [px]"""


def drawn(*marks: ScaleMark) -> str:
    return draw_scale(a_chart(*marks, small=True, landmarks=()))


def looks(drawing: Drawing, width: str) -> list[str]:
    """Return the paths of lines of one width in the colour of what is measured."""
    groups = [group for group in drawing.root.iter("g") if (group.get("stroke"), group.get("fill")) == (ACCENT, "none")]
    return [path.attrib["d"] for group in groups if group.get("stroke-width") == width for path in group]


@pytest.mark.parametrize("value", [1.0, 7.3, 100.0, 54_321.0, 100_000.0])
def test_a_mark_stands_where_the_ticks_say(value: float) -> None:
    drawing = Drawing(drawn(ScaleMark("a", value)))
    # source: interpolation of logarithms between the ends of the same drawing
    assert drawing.middle(MARK) == pytest.approx(between_ticks(drawing, value, 1, 100_000), abs=ROUNDING)


def test_a_bar_spans_the_interval_and_bars_share_a_path() -> None:
    drawing = Drawing(drawn(ScaleMark("a", 20.0, 10.0, 100.0), ScaleMark("b", 5000.0, 1000.0, 10_000.0)))
    (bars,) = looks(drawing, "2.4")
    xs = [float(x) for x in re.findall(r"[ML] ([\d.]+) ", bars)]
    assert xs == pytest.approx([drawing.tick(value) for value in (10, 100, 1000, 10_000)], abs=ROUNDING)


def test_at_least_is_an_open_arrow_to_the_right() -> None:
    drawing = Drawing(drawn(ScaleMark("a", 200.0, 200.0, at_least=True)))
    (x, _), (again, _) = drawing.points(MARK)
    assert x == again == pytest.approx(between_ticks(drawing, 200.0, 1, 100_000), abs=ROUNDING)
    (arrow,) = looks(drawing, "1.3")
    assert arrow.count("M") == 2
    tip = max(float(x) for x in re.findall(r"[ML] ([\d.]+) ", arrow))
    assert tip > x + 5


def test_it_has_a_title_first_and_attributes_only() -> None:
    markup = draw_scale(a_chart(ScaleMark("a", 20.0), small=True, landmarks=()))
    root = Drawing(markup).root
    assert [(child.tag, child.text) for child in root][:2] == [("title", "A scale"), ("desc", "What it shows")]
    assert (root.get("role"), root.get("aria-labelledby")) == ("img", "fit-scale-title fit-scale-desc")
    assert {name for element in root.iter() for name in element.attrib} == {
        "class",
        "viewBox",
        "width",
        "height",
        "role",
        "aria-labelledby",
        "id",
        "d",
        "stroke",
        "stroke-width",
        "fill",
    }


@pytest.mark.parametrize("text", ['</title><script>alert(1)</script> "&amp;', "]]><!-- -->"])
def test_a_hostile_name_stays_a_text(text: str) -> None:
    chart = a_chart(rows=(ScaleRow("", ()),), small=True, landmarks=())
    root = Drawing(draw_scale(replace(chart, title=text))).root
    assert root[0].text == text
    assert {element.tag for element in root.iter()} == {"svg", "title", "desc", "g", "path"}


def test_a_thousand_rows_stay_small() -> None:
    """A page of 1,000 devices is to stay near 3 MB: so many bytes for the drawing of a device of a few sessions."""
    marks = [ScaleMark(f"device-2025-06-fit.a{number}.overall", 90.0 * number, 80.0, 100.0) for number in range(1, 5)]
    assert len(drawn(*marks)) < 1900


def test_the_first_page_has_one_for_each_device_with_a_factor() -> None:
    site = shown(a_whole_catalogue(a_test([given(150.0)])))
    page = page_markup("index.html", site.index, site.letterhead)
    assert page.count('class="scale small"') == 1
