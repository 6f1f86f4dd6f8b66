"""Filters as a reader sees them: every figure once by its id, its working, the points it began with, short charts."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.model.catalogue import Catalogue
from generator.model.filter_result import FilterResult
from generator.model.series import Series
from generator.presenting.filter_charts import thinned
from generator.presenting.views import Table, TopicSection
from tests.presenting.small_sites import a_whole_catalogue, context_of, shown
from tests.scoring.builders import Data, a_device, a_run, a_session, a_test, readings
from tests.scoring.test_filter_topic import SHA, breathing, drops, of_room, penetration

TIGHT = "tight_powered_half_facepiece"
FILTER: Data = {"stated_class": "P3", "media_area": "300 cm2", "count": 2}
LOG = Series(
    file="logs/dust.csv",
    sha256=SHA,
    time_s=tuple(float(second) for second in range(0, 24_000, 60)),
    flow_l_per_min=tuple(130.0 - minute / 20 for minute in range(400)),
    pressure_pa=tuple(200.0 + minute / 2 for minute in range(400)),
)


def everything() -> Catalogue:
    """Return a tight-fitting powered device with all that a record can say of a filter, and an earlier record of it."""
    log: Data = {"file": LOG.file, "sha256": SHA, "time": "time"}
    log |= {"flow": {"heading": "flow", "unit": "L/min"}, "pressure": {"heading": "pressure", "unit": "Pa"}}
    test = a_test(
        [a_session(readings(1000, 1010, 990), blower="off")],
        [a_run([130.0, 131.0, 130.5])],
        pressure_drops=[
            drops((30, 42), (85, 118), (120, 172), id="one"),
            breathing((60, 400.0), (95, 650.0), id="in", blower="off"),
            drops((85, 20), id="hose", of="hose"),
        ],
        filter_test={
            "media_charge": "not_charged",
            "penetrations": [penetration(), of_room(id="worn")],
            "loading": [{"id": "dust", "what": "quartz", "log": log}],
        },
    )
    days = {"received": "2025-04-01", "performed": "2025-04-01", "issued": "2025-04-01"}
    earlier = a_test(flow=[a_run([128.0, 129.0])], id="earlier", dates=days)
    catalogue = a_whole_catalogue(test, earlier, device=a_device(TIGHT, filter=FILTER))
    return replace(catalogue, series={LOG.file: LOG})


def of_filter(sections: tuple[TopicSection, ...]) -> TopicSection:
    (section,) = (each for each in sections if each.topic == "filter")
    return section


def ids(tables: tuple[Table, ...]) -> list[str]:
    return [cell.id for table in tables for row in table.rows for cell in row.cells if cell.id is not None]


SITE = shown(everything())
RECORD = of_filter(next(page for page in SITE.records if page.id == "test").sections)
DEVICE = of_filter(SITE.devices[0].sections)
RESULT = context_of(everything()).result.records["test"].topics["filter"]


def test_every_figure_and_verdict_stands_once_on_its_record_s_page() -> None:
    assert isinstance(RESULT, FilterResult)
    expected = [figure.key for figure in RESULT.figures] + [verdict.key for verdict in RESULT.verdicts]
    assert sorted(ids(RECORD.tables)) == sorted(expected)
    assert len(expected) == 23


def test_every_figure_with_a_value_has_its_working() -> None:
    with_value = {figure.key for figure in RESULT.figures if figure.value is not None}
    assert {view.figure for view in RECORD.workings} == with_value


def test_what_a_working_begins_with_has_a_place_on_the_page() -> None:
    anchors = {block.anchor for block in RECORD.blocks}
    assert {"filter-drops.one", "filter-drops.in", "filter-drops.hose", "filter-penetrations.pen"} <= anchors
    led = {
        item.href.split("#")[1]
        for view in RECORD.workings
        for item in view.value.inputs
        if item.href is not None and "#filter-" in item.href
    }
    assert {"filter-drops.one", "filter-drops.in", "filter-penetrations.pen", "filter-loading.dust"} <= led <= anchors


def test_a_device_s_page_names_the_record_and_leads_to_its_working() -> None:
    of_first = {identity.removeprefix("test-") for identity in ids(DEVICE.tables) if identity.startswith("test-")}
    # What follows from the area alone is told by the newest record.
    assert of_first == set(ids(RECORD.tables))
    earlier = {identity for identity in ids(DEVICE.tables) if identity.startswith("earlier-")}
    assert earlier == {"earlier-filter.high.velocity"}
    cells = {cell.id: cell for table in DEVICE.tables for row in table.rows for cell in row.cells}
    assert cells["test-filter.one.resistance"].href == "records/test.html#working.filter.one.resistance"


def test_a_resistance_above_its_limit_opens_the_page_of_its_device() -> None:
    # source: 42 CFR 84.172(c), 50 mm of water = 490.3 Pa; between 400 and 650 Pa at 85 L/min lie 578.6 Pa
    thin = "\N{NARROW NO-BREAK SPACE}"
    said = (
        f"Breathing in through it with its blower off costs 578.6{thin}Pa at 85 L/min, more than the limit of "
        f"490{thin}Pa (42 CFR 84.172)."
    )
    assert DEVICE.answer == (said,)
    assert [each.text for each in SITE.devices[0].brief].count(DEVICE.answer[0]) == 1


def test_points_without_a_line_are_hollow_and_named_at_the_last() -> None:
    points = drops((30, 42), (85, 118), id="one"), breathing((30, 50.0), (85, 180.0), id="on", blower="on")
    test = a_test(flow=[a_run([130.0, 131.0])], pressure_drops=list(points))
    site = shown(a_whole_catalogue(test, device=a_device(TIGHT, filter=FILTER)))
    (chart,) = of_filter(site.records[0].sections).curves
    (panel,) = chart.panels
    assert [(mark.key, mark.text, mark.hollow) for mark in panel.marks] == [
        ("one-1", "", False),
        ("one-2", "", False),
        ("on-1", "", True),
        ("on-2", "breathing in, new filter, blower on", True),
    ]
    assert [curve.key for curve in panel.curves] == ["one"]
    assert (
        " Hollow diamonds have no line: the blower was running, so that the pressure is not lost in proportion to the "
        "flow."
    ) in chart.caption
    assert "Hollow" not in RECORD.curves[0].caption


def test_charts_hold_the_points_and_few_of_a_long_log() -> None:
    pressure, flow, loading = RECORD.curves
    assert [chart.id for chart in RECORD.curves] == [
        "filter-pressure",
        "filter-loading-dust-flow",
        "filter-loading-dust-pressure",
    ]
    (panel,) = pressure.panels
    assert [(mark.x, mark.y, mark.y_low, mark.y_high) for mark in panel.marks][:2] == [
        (30, 42, 39, 45),
        (85, 118, 115, 121),
    ]
    assert [curve.key for curve in panel.curves] == ["one", "in"]
    # A line goes from nothing to the last point that was measured.
    (start, end) = panel.curves[1].points
    assert (start, end[0]) == ((0, 0), 95)
    assert [event.value for event in panel.events] == [85]
    assert [level.value for level in flow.panels[0].levels] == [115]
    for chart in (flow, loading):
        assert 100 < len(chart.panels[0].curves[0].points) <= 200
    assert [chart.id for chart in DEVICE.curves] == [f"test-{chart.id}" for chart in RECORD.curves]


def test_thinning_keeps_the_lowest_and_the_highest() -> None:
    points = tuple((float(place), 5.0) for place in range(1000))
    spiked = (*points[:500], (500.0, 9.0), (501.0, 1.0), *points[502:])
    found = thinned(spiked)
    assert len(found) <= 200
    assert {(500.0, 9.0), (501.0, 1.0), points[0], points[-1]} <= set(found)
    assert list(found) == sorted(found)
    assert thinned(points[:200]) == points[:200]


@pytest.mark.parametrize("parts", [{}, {"pressure_drops": [drops((85, 20), of="hose")]}], ids=["nothing", "a hose"])
def test_a_device_of_whose_filter_nothing_is_known_has_no_section(parts: Any) -> None:
    (page,) = shown(a_whole_catalogue(a_test(flow=[a_run([130.0])], **parts), device=a_device(TIGHT))).devices
    assert "filter" not in [section.topic for section in page.sections]
