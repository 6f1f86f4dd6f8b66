"""The numbers of charts: every mark in its file as it is, with what it is and how it relates to the truth."""

from __future__ import annotations

from datetime import date

import pytest

from generator.presenting.chart_data import chart_data, chart_numbers, charts_of, csv_path
from generator.presenting.curve_views import Area, Axis, Curve, CurveChart, Event, Level, Mark, Panel
from generator.presenting.instrument_views import ControlChart, ControlLine, ControlMark
from generator.presenting.views import Landmark, LogChart, ScaleChart, ScaleMark, ScaleRow
from generator.presenting.wearer_views import WearerChart, WearerRow
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import a_device, a_run, a_test

LANDMARKS = (Landmark("mask", "usual mask", 2, 4), Landmark("level", "100: level", 100))


def curves(table: str = "", **parts: object) -> CurveChart:
    panel = Panel("High", **parts)  # type: ignore[arg-type]
    return CurveChart("c", "Flow", "", "", Axis("Time", "min", 0, 9), Axis("Flow", "L/min", 0, 9), (panel,), table)


def test_a_scale() -> None:
    rows = (
        ScaleRow("A", (ScaleMark("fit.a", 123.456789, 100.5, 150.25, text="123"),), heading="Hood"),
        ScaleRow("B", (ScaleMark("fit.b.talking", 7.0, minor=True), ScaleMark("fit.b", 20.0, at_least=True))),
        ScaleRow("C", (ScaleMark("fit.c", 20.0, high=40.0, at_least=True),)),
        ScaleRow("D", (), "voided", heading="Mask"),
    )
    data = chart_data(ScaleChart("s", "fit", "", "", rows, LANDMARKS))
    assert data.columns == (
        "what", "group", "line", "key", "fit_factor", "low_95", "high_95", "relation", "at_most",
    )  # fmt: skip
    assert data.rows == (
        ("result", "Hood", "A", "fit.a", 123.456789, 100.5, 150.25, "equal", None),
        ("part", "Hood", "B", "fit.b.talking", 7.0, None, None, "equal", None),
        ("result", "Hood", "B", "fit.b", 20.0, None, None, "at least", None),
        ("result", "Hood", "C", "fit.c", 20.0, None, None, "at least", 40.0),
        ("none", "Mask", "D", "voided", None, None, None, None, None),
        ("span", "", "usual mask", "mask", 2, None, None, "", 4),
        ("level", "", "100: level", "level", 100, None, None, "", None),
    )


def test_a_flow_scale_names_its_unit() -> None:
    data = chart_data(ScaleChart("s", "flow", "", "", (ScaleRow("high", (ScaleMark("m", 180.25),)),), ()))
    assert data.columns[4] == "flow_l_per_min"
    assert data.rows == (("result", "", "high", "m", 180.25, None, None, "equal", None),)


def test_wearers() -> None:
    rows = (WearerRow("A", "", (ScaleMark("a", 10.0, 9.0, 11.0), ScaleMark("b", 5.0, at_least=True))),)
    mean, bound = ScaleMark("m", 7.5, 1.5, 30.0), ScaleMark("l", 2.5)
    data = chart_data(WearerChart("w", "", "", "", rows, mean, bound, LANDMARKS[1:]))
    assert data.columns[:4] == ("what", "wearer", "key", "fit_factor")
    assert data.rows == (
        ("donning", "A", "a", 10.0, 9.0, 11.0, "equal", None),
        ("donning", "A", "b", 5.0, None, None, "at least", None),
        ("geometric mean", "", "m", 7.5, 1.5, 30.0, "equal", None),
        ("lower bound of the 5th percentile", "", "l", 2.5, None, None, "equal", None),
        ("level", "", "level", 100, None, None, "", None),
    )
    assert len(chart_data(WearerChart("w", "", "", "", rows, None, None, ())).rows) == 2


def test_a_control_chart() -> None:
    day = date(2025, 3, 1).toordinal()
    marks = (
        ControlMark("reading-1", day, 10.5),
        ControlMark("reading-2", day + 1, 13.5, beyond_warning=True),
        ControlMark("reading-3", day + 31, 20.5, beyond_action=True),
    )
    chart = ControlChart("k", "", "", "L/min", 0, 9, 1, 2, (ControlLine("centre", 10.0, ""),), marks, (), (), ())
    data = chart_data(chart)
    assert data.columns == ("what", "key", "date", "value [L/min]", "lies")
    assert data.rows == (
        ("reading", "reading-1", "2025-03-01", 10.5, "within the warning limits"),
        ("reading", "reading-2", "2025-03-02", 13.5, "beyond a warning limit"),
        ("reading", "reading-3", "2025-04-01", 20.5, "beyond an action limit"),
        ("line", "centre", "", 10.0, ""),
    )


def test_curves() -> None:
    data = chart_data(
        curves(
            curves=(Curve("f", "flow", ((0.0, 5.123), (1.0, 4.5))),),
            areas=(Area("a", "below", ((0.0, 1.0, 2.0),)),),
            levels=(Level("l", "required", 3.0, 2.5, 3.5),),
            events=(Event("e", "alarm", 7.25),),
            marks=(Mark("m", "point", 1.0, 2.0, 1.5, None, 0.5, 1.5),),
        )
    )
    assert data.columns == (
        "panel", "what", "name", "key", "time [min]", "time, low [min]", "time, high [min]",
        "flow [L/min]", "flow, low [L/min]", "flow, high [L/min]",
    )  # fmt: skip
    assert data.rows == (
        ("High", "point, limits of 95 %", "point", "m", 1.0, 0.5, 1.5, 2.0, 1.5, None),
        ("High", "level, limits of 95 %", "required", "l", None, None, None, 3.0, 2.5, 3.5),
        ("High", "event", "alarm", "e", 7.25, None, None, None, None, None),
        ("High", "curve", "flow", "f", 0.0, None, None, 5.123, None, None),
        ("High", "curve", "flow", "f", 1.0, None, None, 4.5, None, None),
        ("High", "area", "below", "a", 0.0, None, None, None, 1.0, 2.0),
    )


def test_what_is_named_has_a_table_where_the_page_has_none() -> None:
    levels, events = (Level("l", "required", 170.0),), (Event("e", "alarm", 371.25),)
    named = chart_numbers(curves(levels=levels, events=events), "records/a.html").named
    assert named is not None
    assert named.caption == "What is named in the chart; the CSV file holds all its points, in two rows"
    assert [[cell.text for cell in row.cells] for row in named.rows] == [
        ["High", "required", "170\u202fL/min"],
        ["High", "alarm", "371\u202fmin"],
    ]
    assert chart_numbers(curves(table="run-downs", levels=levels, events=events), "records/a.html").named is None
    assert chart_numbers(curves(), "records/a.html").named is None


def test_files_are_named_by_page_and_chart() -> None:
    numbers = chart_numbers(curves(table="run-downs"), "devices/a-hood.html")
    assert (numbers.csv, numbers.anchor) == ("charts/devices/a-hood.c.csv", "run-downs")
    log = LogChart("log-a", "", "", "", (), (), "data/logs/a.csv")
    assert csv_path(log, "records/a.html") == "data/logs/a.csv"
    assert chart_numbers(log, "records/a.html").anchor == ""


def test_the_charts_of_pages_are_found_and_lead_to_tables_of_the_page() -> None:
    sessions = (given(100.0), given(300.0, wearer="plover", id="pm"))
    site = shown(
        a_whole_catalogue(a_test(sessions, flow=[a_run([180.0, 181.0, 182.0])]), device=a_device("loose_powered_hood"))
    )
    for page, ids in (
        (site.devices[0], ["flow-scale", "wearers-1-scale"]),
        (site.records[0], ["fit-scale", "flow-scale"]),
        (site.methods_index, []),
    ):
        charts = list(charts_of(page))
        assert sorted(chart.id for chart in charts) == ids
        assert {chart.table for chart in charts} <= {"fit-register", "flow-runs"}


@pytest.mark.parametrize("at_least", [True, False])
def test_an_interval_is_never_told_of_a_bound(at_least: bool) -> None:
    mark = ScaleMark("m", 20.0, 20.0, None, at_least)
    (row,) = chart_data(ScaleChart("s", "fit", "", "", (ScaleRow("A", (mark,)),), ())).rows
    assert row[5] == (None if at_least else 20.0)
