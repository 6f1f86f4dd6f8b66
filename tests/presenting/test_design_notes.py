"""How a device is made: the diagram's data, what bears on design, cost with and without hours of use."""

from __future__ import annotations

import pytest

from generator.presenting.design_notes import air_path_chart
from generator.presenting.design_views import Way
from generator.presenting.views import Link
from tests.presenting.small_sites import device_page, given
from tests.scoring.builders import Data, a_device, a_test

LOOSE = "loose_powered_hood"
FRONT: Data = {"where": "front", "filtered": True}
HOLE: Data = {"where": "a hole", "filtered": False}


def path(**parts: object) -> Data:
    return {"inlets": [FRONT], "outlets": [], "seals": "none", **parts}


@pytest.mark.parametrize(
    ("kind", "outline"),
    [
        ("face_covering", "mask"),
        ("surgical_mask", "mask"),
        ("filtering_facepiece", "mask"),
        ("elastomeric_half_facepiece", "half"),
        ("tight_powered_half_facepiece", "half"),
        ("elastomeric_full_facepiece", "full"),
        ("tight_powered_full_facepiece", "full"),
        ("loose_powered_facepiece", "visor"),
        ("loose_powered_hood", "hood"),
    ],
)
def test_the_kind_decides_the_outline_and_the_blower(kind: str, outline: str) -> None:
    chart = air_path_chart(a_device(kind))
    assert (chart.outline, chart.blower) == (outline, "powered" in kind)


def test_the_diagram_says_the_air_path_in_words() -> None:
    exhaust = {"where": "at the nape", "beside_inlet": True}
    device = a_device(
        LOOSE, air_path=path(inlets=[FRONT, HOLE], outlets=[HOLE], powered_exhaust=exhaust, seals="a hem")
    )
    chart = air_path_chart(device)
    assert chart.description == (
        "Air gets in: front (filtered); a hole (not filtered). A blower moves it. Air gets out: a hole (not filtered). "
        "A fan draws air out: at the nape, beside an inlet. Seals: a hem."
    )
    assert (chart.inlets, chart.outlets) == ((Way("front", True), Way("a hole", False)), (Way("a hole", False),))
    assert (chart.exhaust, chart.beside_inlet, chart.seals) == ("at the nape", True, "a hem")
    assert air_path_chart(a_device()).description == ("Air gets in: front (filtered). Air gets out: none. Seals: none.")


@pytest.mark.parametrize(
    ("parts", "sentences"),
    [
        ({}, ()),
        ({"inlets": [FRONT, HOLE]}, ("By its record, air also gets in past the filter: a hole.",)),
        ({"inlets": [HOLE]}, ("By its record, no way in for air has a filter: a hole.",)),
        (
            {"powered_exhaust": {"where": "top", "beside_inlet": True}},
            ("By its record, the exhaust is so near an inlet that the two draw on the same air.",),
        ),
        ({"powered_exhaust": {"where": "top", "beside_inlet": False}}, ()),
    ],
    ids=["all filtered", "one inlet is not", "no inlet is", "exhaust beside an inlet", "exhaust elsewhere"],
)
def test_what_the_air_path_says_of_design(parts: Data, sentences: tuple[str, ...]) -> None:
    assert device_page(device=a_device(LOOSE, air_path=path(**parts))).design.sentences == sentences


def test_cautions_that_come_from_how_it_is_made_are_led_to() -> None:
    made = path(powered_exhaust={"where": "top", "beside_inlet": False}, low_flow_alarm=False)
    page = device_page(device=a_device(LOOSE, air_path=made))
    assert page.design.cautions == (
        Link("A fan draws air out of this device.", "devices/device.html#caution-powered-exhaust"),
        Link(
            "Nothing in this device tells its wearer that the air flow has become low.",
            "devices/device.html#caution-no-low-flow-alarm",
        ),
    )
    assert device_page(a_test([given(10.0)])).design.cautions == ()


def test_cost_without_hours_of_use() -> None:
    cost = device_page(device=a_device(price="12.00 EUR")).cost
    assert [(fact.term, fact.text) for fact in cost.facts] == [("The device", "12.00 EUR")]
    assert cost.hour is None
    assert cost.sentence == (
        "What an hour of use costs is not worked out: no record says how long the device and its parts are used."
    )
