"""The diagram of an air path: every way drawn once, solid or broken as recorded, and no label on another."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.presenting.design_notes import air_path_chart
from generator.presenting.design_views import AirPathChart, Way
from generator.rendering.air_path_drawing import draw_air_path
from generator.rendering.drawing import text_width
from tests.rendering.charts import Drawing, box, meet

if TYPE_CHECKING:
    from generator.model.catalogue import Catalogue

OUTLINES = ("mask", "half", "full", "visor", "hood")
WORDS = st.lists(st.sampled_from(["behind", "the", "nape", "Wärmetauscherschacht", "i", "Ventil,", "$x$"]), min_size=1)
TEXTS = WORDS.map(" ".join) | st.text(min_size=1, max_size=200)
WAYS = st.lists(st.builds(Way, TEXTS, st.booleans()), min_size=1, max_size=6).map(tuple)


def a_chart(
    inlets: tuple[Way, ...] = (Way("front", True),), outlets: tuple[Way, ...] = (), **changes: Any
) -> AirPathChart:
    chart = AirPathChart(
        id="air-path",
        title="T",
        description="D",
        caption="C",
        outline="hood",
        blower=True,
        inlets=inlets,
        outlets=outlets,
        exhaust=None,
        beside_inlet=False,
        seals="hem",
    )
    return replace(chart, **changes)


def holds_its_texts(chart: AirPathChart, narrow: bool) -> None:
    drawing = Drawing(draw_air_path(chart, narrow))
    boxes = [box(text) for text in drawing.texts() if text.text.strip()]
    assert not [pair for pair in itertools.combinations(boxes, 2) if meet(*pair)]
    for left, top, right, bottom in boxes:
        assert left >= -1
        assert right <= drawing.width + 1
        assert top >= 0
        assert bottom <= drawing.height
    for x, y in drawing.all_points():
        assert -0.02 <= x <= drawing.width
        assert -0.02 <= y <= drawing.height


@pytest.mark.parametrize("narrow", [False, True])
def test_no_label_of_the_demo_meets_another_or_leaves_the_sheet(demo: Catalogue, narrow: bool) -> None:
    for device in demo.devices.values():
        holds_its_texts(air_path_chart(device), narrow)


@settings(max_examples=40, deadline=None)
@given(
    inlets=WAYS,
    outlets=WAYS | st.just(()),
    outline=st.sampled_from(OUTLINES),
    blower=st.booleans(),
    exhaust=st.none() | TEXTS,
    seals=TEXTS,
    narrow=st.booleans(),
)
def test_no_label_meets_another_whatever_is_recorded(
    inlets: tuple[Way, ...],
    outlets: tuple[Way, ...],
    outline: str,
    blower: bool,
    exhaust: str | None,
    seals: str,
    narrow: bool,
) -> None:
    beside = exhaust is not None
    parts = {"outline": outline, "blower": blower, "exhaust": exhaust, "beside_inlet": beside, "seals": seals}
    holds_its_texts(a_chart(inlets, outlets, **parts), narrow)


def drawn(drawing: Drawing, identity: str) -> ElementTree.Element:
    (group,) = (element for element in drawing.root.iter() if element.get("id") == identity)
    return group


@pytest.mark.parametrize("narrow", [False, True])
def test_every_way_is_drawn_solid_where_it_is_filtered_and_broken_where_not(narrow: bool) -> None:
    chart = a_chart((Way("front", True), Way("a hole", False)), (Way("valve", False),), exhaust="nape")
    drawing = Drawing(draw_air_path(chart, narrow))
    prefix = "air-path-n" if narrow else "air-path"
    names = ("inlet-1", "inlet-2", "outlet-1", "exhaust", "outline")
    groups = {name: drawn(drawing, f"{prefix}-{name}") for name in names}
    dashed = {name: any(path.get("stroke-dasharray") for path in group.iter("path")) for name, group in groups.items()}
    assert dashed == {"inlet-1": False, "inlet-2": True, "outlet-1": True, "exhaust": True, "outline": False}
    ids = {element.get("id") for element in drawing.root.iter()}
    assert {f"{prefix}-blower", f"{prefix}-fan"} <= ids
    unpowered = Drawing(draw_air_path(a_chart(blower=False), narrow))
    assert f"{prefix}-blower" not in {element.get("id") for element in unpowered.root.iter()}


def test_a_filter_is_drawn_only_where_there_is_one() -> None:
    with_filter, without = (
        len(Drawing(draw_air_path(a_chart((Way("front", filtered),), blower=False))).all_points())
        for filtered in (True, False)
    )
    assert with_filter > without


def test_a_long_label_is_cut_and_a_short_one_stands_whole() -> None:
    texts = [
        text.text for text in Drawing(draw_air_path(a_chart((Way("front", True), Way("very " * 80, False))))).texts()
    ]
    assert "front" in texts
    assert any(text.endswith("…") for text in texts)
    assert all(text_width(text) <= 700 for text in texts)
