"""Breathing demand as readers see it: sentences case by case, the chart, tables, and what stands beside the index."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.catalogue import Catalogue
from generator.model.device_test import DeviceTest
from generator.presenting.breathing_chart import POINTS
from generator.presenting.breathing_words import INDEX, TIGHT, coverage_sentences, measured_sentence
from generator.presenting.views import TopicSection
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import Data, a_device, a_run, a_test
from tests.scoring.oracle_over_breathing import mixed_share_step_by_step, share_by_quadrature

LOOSE, TIGHT_KIND = "loose_powered_hood", "tight_powered_full_facepiece"
HOOD: Data = {"volume": "2.1 L", "how": "filled with rice"}
NARROW = "\N{NARROW NO-BREAK SPACE}"
ALOUD = "breaths while cycling at 50 to 200 W and reading aloud peak at 266 L/min."
NOT_COVERED = f"Speaking at work is not covered: {ALOUD}"
UP_TO_MODERATE = "covered up to “moderate” (climbing hills, shovelling fast), with peaks of 125 L/min."
UP_TO_HEAVY = "covered up to “heavy” (running at 9 to 10 miles an hour, skiing, squash), with peaks of 192 L/min."


def plain(text: str) -> str:
    return text.replace(NARROW, " ")


def with_demands(*tests: DeviceTest, kind: str = LOOSE, **device: Any) -> Catalogue:
    bare = a_whole_catalogue(*tests, device=a_device(kind, **device))
    return replace(bare, work_levels=load_reference().work_levels)


def sections(*runs: Data, fit: Any = (), kind: str = LOOSE, device: Data | None = None, **parts: Any) -> list[Any]:
    """Return the section on the device's page, then that on the record's, then the device's page."""
    site = shown(with_demands(a_test(list(fit), list(runs), **parts), kind=kind, **(device or {})))
    page, record = site.devices[0], site.records[0]
    found: list[Any] = [
        next(section for section in each.sections if section.topic == "breathing") for each in (page, record)
    ]
    return [*found, page]


def on_device(*runs: Data, **parts: Any) -> TopicSection:
    found = sections(*runs, **parts)[0]
    assert isinstance(found, TopicSection)
    return found


@pytest.mark.parametrize(
    ("values", "first"),
    [
        (
            [17.0],
            "Not even “very light” (lying, sitting, reading) is covered: its breaths peak at 31 L/min. "
            "Harder work and speaking ask for more.",
        ),
        (
            [40.0],
            "Of silent work “very light” (lying, sitting, reading) is covered, but not “light” (washing clothes, "
            "walking at 2 miles an hour): its breaths peak at 59 L/min. Harder work and speaking ask for more.",
        ),
        ([130.0], f"{NOT_COVERED} Silent work is {UP_TO_MODERATE}"),
        (
            [168.0, 169.0, 170.0],
            f"{NOT_COVERED} Silent work is {UP_TO_MODERATE} Whether “cycling, silent” (cycling at 50 to 200 W without "
            "a word) is covered cannot be told: its peak of 169 L/min lies within the interval of the supply.",
        ),
        (
            [265.0, 266.0, 267.0],
            f"Whether speaking at work is covered cannot be told: {ALOUD} Silent work is {UP_TO_HEAVY}",
        ),
        ([275.0], f"Speaking at work is covered: {ALOUD} Silent work is {UP_TO_HEAVY}"),
        ([310.0], "No printed demand peaks above this supply, reading aloud at work included."),
    ],
)
def test_what_a_supply_is_enough_for(values: list[float], first: str) -> None:
    assert plain(on_device(a_run(values)).sentences[0]) == first


def test_nothing_is_said_of_speaking_where_no_demand_is_of_it() -> None:
    assert coverage_sentences(()) == ("No printed demand peaks above this supply, reading aloud at work included.",)


@pytest.mark.parametrize(
    ("values", "kind", "answer"),
    [
        (
            [17.0],
            LOOSE,
            "Its 17.0 L/min do not cover even sitting still: breaths peak at 31 L/min by a printed demand, and about "
            "29 % of the air would come from outside.",
        ),
        (
            [40.0],
            LOOSE,
            "Its 40.0 L/min cover sitting still but not light work: breaths peak at 59 L/min by a printed demand, and "
            "about 18 % of the air would come from outside.",
        ),
        (
            [170.0],
            LOOSE,
            "Its 170 L/min cover silent work up to “cycling, silent”, but not speaking at hard work: breaths peak at "
            "266 L/min by a printed demand, and about 21 % of the air would come from outside.",
        ),
        ([275.0], LOOSE, None),
        ([310.0], LOOSE, None),
        ([17.0], TIGHT_KIND, None),
    ],
)
def test_the_opening_answer(values: list[float], kind: str, answer: str | None) -> None:
    # source: the shares are 0.293, 0.182 and 0.208 by scipy 1.17.1, integrate.quad
    assert [round(share_by_quadrature(*pair), 2) for pair in ((17, 31), (40, 59), (170, 266))] == [0.29, 0.18, 0.21]
    section = on_device(a_run(values), kind=kind)
    assert [plain(text) for text in section.answer] == ([answer] if answer else [])


def test_the_index_names_its_conditions_and_stands_beside_measured_fit_factors() -> None:
    worn = [given(40.0, id="a", blower="high"), given(60.0, id="b", wearer="plover", blower="high")]
    text = plain(" ".join(on_device(a_run([170.0]), fit=worn, hood=HOOD).sentences))
    assert "if over-breathing were the only leak and no clean air were stored, the air breathed in would be" in text
    # source: 1 / 0.208335 by scipy 1.17.1, integrate.quad
    assert "at best 4.8 times cleaner than outside; with the air that the hood holds mixed in, between" in text
    # source: scipy 1.17.1, integrate.solve_ivp breath after breath; written to three digits, outwards
    most, least = (1 / mixed_share_step_by_step(170, 45.1, 266, 20, 2.1, returned) for returned in (1.0, 0.0))
    assert f"between {math.floor(10 * most) / 10:.1f} and {math.ceil(10 * least) / 10:.1f} times" in text
    assert "Fit factors measured at this setting, with every leak together: 40 to 60" in text
    assert "on two wearers" in text
    assert INDEX in text


def test_fit_factors_of_another_setting_do_not_stand_beside_it() -> None:
    text = " ".join(on_device(a_run([170.0]), fit=[given(40.0, blower="low")]).sentences)
    assert measured_sentence([]) in text
    assert "40" not in text


def test_a_tight_fitting_device_is_told_apart() -> None:
    device, record, _ = sections(a_run([17.0]), kind=TIGHT_KIND, hood=HOOD)
    for section in (device, record):
        text = " ".join(section.sentences)
        assert TIGHT in text
        assert "cleaner" not in text
        heads = [column.head for table in section.tables for column in table.columns]
        assert "Share beyond the supply" in heads
        assert not any("stored" in head or "outside" in head for head in heads)
    assert "outside" not in device.curves[0].description


@pytest.mark.parametrize(
    ("hood", "words"),
    [
        (None, "for 20 breaths a minute. That is an assumption, since none were counted: the setting of a breathing"),
        (HOOD, "for 20 breaths a minute. That is an assumption"),
        (HOOD | {"breaths_per_minute": 27.0}, "for 27 breaths a minute, as counted on a wearer at work."),
    ],
)
def test_how_often_is_breathed_is_said_with_where_it_is_from(hood: Data | None, words: str) -> None:
    for section in sections(a_run([170.0]), hood=hood)[:2]:
        assert words in " ".join(section.sentences)


def test_a_fan_that_draws_air_out_is_named() -> None:
    path = {"inlets": [{"where": "front", "filtered": True}], "outlets": [], "seals": "none"}
    fan = {"powered_exhaust": {"where": "back", "beside_inlet": False}}
    with_fan = on_device(a_run([170.0]), device={"air_path": path | fan})
    assert any("A fan draws air out" in sentence for sentence in with_fan.sentences)
    assert not any("fan" in sentence for sentence in on_device(a_run([170.0])).sentences)


def test_a_device_that_follows_the_breath_says_why_it_is_not_scored() -> None:
    device, record, _ = sections(a_run([170.0]), device={"breath_responsive": True})
    for section, identity in ((device, "test-breathing.high.demand"), (record, "breathing.high.demand")):
        cells = {cell.id: cell for table in section.tables for row in table.rows for cell in row.cells}
        assert cells[identity].text == "not scored"
        assert (
            cells[identity].note == "the blower follows the wearer's breath, and this reckoning is for a constant flow"
        )
        assert section.curves == ()
        assert section.answer == ()


@pytest.mark.parametrize("hood", [None, HOOD])
def test_every_figure_stands_once_on_its_record_with_its_working(hood: Data | None) -> None:
    runs = (a_run([17.0, 17.2]), a_run([170.0, 171.0], id="boost"))
    site = shown(with_demands(a_test(flow=list(runs), hood=hood)))
    section = next(each for each in site.records[0].sections if each.topic == "breathing")
    ids = [cell.id for table in section.tables for row in table.rows for cell in row.cells if cell.id]
    worked = [view.figure for view in section.workings]
    assert len(ids) == len(set(ids))
    assert set(worked) <= set(ids)
    linked = {
        cell.href.partition("#working.")[2]
        for table in section.tables
        for row in table.rows
        for cell in row.cells
        if cell.href and "#working." in cell.href
    }
    assert linked == set(worked)
    anchors = [table.id for table in section.tables]
    assert len(anchors) == len(set(anchors))
    if hood is None:
        assert "breathing.high.stored" in ids


def test_the_device_shows_the_run_that_governs() -> None:
    section = on_device(a_run([170.0]), a_run([40.0], id="low", setting="low"))
    assert section.tables[0].caption == "Breathing demand against the supply: low, battery fresh, new filter"
    ids = [cell.id for row in section.tables[0].rows for cell in row.cells if cell.id]
    assert ids
    assert all(identity.startswith("test-breathing.low.") for identity in ids)


def test_the_chart_draws_breaths_against_the_supply() -> None:
    (chart,) = on_device(a_run([170.0])).curves
    assert [panel.curves[0].key for panel in chart.panels] == [
        "very-light-demand",
        "light-demand",
        "moderate-demand",
        "cycling-speaking-demand",
    ]
    assert [len(panel.areas) for panel in chart.panels] == [0, 0, 0, 1]
    area, curve = chart.panels[3].areas[0], chart.panels[3].curves[0]
    assert area.warning
    assert area.label == f"21{NARROW}% from outside"
    assert len(area.points) == len(curve.points) == POINTS + 1 <= 200

    def under(points: list[tuple[float, float]]) -> float:
        return sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(points))

    # What is drawn is what is told: the area over the curve's own, against the share by scipy 1.17.1, integrate.quad.
    drawn = under([(x, high - low) for x, low, high in area.points]) / under(list(curve.points))
    assert drawn == pytest.approx(share_by_quadrature(170, 266), rel=3e-3)
    # A breath of 45.1 L/min at 20 a minute is 2.255 L.
    assert under(list(curve.points)) / 60 == pytest.approx(45.1 / 20, rel=2e-3)
    assert max(y for _, y in curve.points) == pytest.approx(266, rel=1e-3)
    assert "peak at 266" in plain(chart.description)
    assert (chart.x.low, chart.x.high) == (0, 3)
    assert math.isclose(chart.y.high, 300)


def test_a_greater_supply_stretches_the_chart() -> None:
    (chart,) = on_device(a_run([400.0])).curves
    assert chart.y.high == pytest.approx(420)
    assert all(not panel.areas for panel in chart.panels)


def test_the_demands_are_listed_with_their_sources() -> None:
    table = shown(with_demands(a_test(flow=[a_run([170.0])]))).requirements.work_levels
    rows = {row.id: [cell.text for cell in row.cells] for row in table.rows}
    assert len(rows) == 7
    # source: Berndtsson 2004, abstract: 45.1 and 266 L/min while reading aloud, 5.90 times
    assert rows["work-level-cycling-speaking"][:5] == ["Cycling, reading aloud", "45.1", "266", "5.9", "yes"]
    assert "abstract (seen in the document)" in rows["work-level-cycling-speaking"][5]


def test_what_is_recorded_of_the_hood_stands_where_workings_lead_to() -> None:
    site = shown(with_demands(a_test(flow=[a_run([170.0])], hood=HOOD | {"breaths_per_minute": 27.0})))
    section = next(each for each in site.records[0].sections if each.topic == "breathing")
    (block,) = section.blocks
    assert block.anchor == "breathing.hood"
    assert [plain(fact.text) for fact in block.facts] == ["2.1 L", "27"]
    inputs = [
        item.href
        for view in section.workings
        for outer in view.value.inputs
        for item in (outer, *(outer.basis.inputs if outer.basis else ()))
        if item.where.startswith("hood.")
    ]
    assert inputs
    assert set(inputs) == {"records/test.html#breathing.hood"}
