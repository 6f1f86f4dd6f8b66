"""Predicted flows as pages show them: words for each case, tables, blocks, chart; never as if they were measured."""

from __future__ import annotations

import json
from typing import Any

import pytest

from generator.model.blower_result import BlowerCurveResult, PredictedFlow, WhatIf
from generator.model.pressure_flow import PressureDrops
from generator.model.result import Figure
from generator.presenting.blower_words import (
    agreement_sentence,
    agreement_words,
    case_words,
    curve_state,
    ends_words,
    part_words,
    shape_words,
    short_case,
)
from generator.presenting.views import Cell, Table, TopicSection
from tests.presenting.small_sites import a_whole_catalogue, context_of, device_page, record_page, texts_of
from tests.scoring.builders import NONE, Data, a_device, a_run, a_test
from tests.scoring.test_blower import BENT, HOOD, MODIFIED, ONE_FILTER, a_curve, drops, points, record

DEVICE = a_device(HOOD, filter=ONE_FILTER)
BEFORE = record(
    drops("f", 1.2),
    drops("h", 0.3, "hose"),
    drops("fine", 2.4, alternative=True, what="a finer filter with the same thread"),
    curve=a_curve(*BENT),
    flow=[a_run([212, 213])],
)
AFTER = a_test(flow=[a_run([251, 252])], id="later", configuration=MODIFIED)


def section_of(sections: tuple[TopicSection, ...]) -> TopicSection:
    (found,) = (section for section in sections if section.topic == "blower")
    return found


def on_record(*tests: Any, **parts: Any) -> TopicSection:
    return section_of(record_page(*(tests or (BEFORE,)), **({"device": DEVICE} | parts)).sections)


def on_device(*tests: Any) -> TopicSection:
    return section_of(device_page(*(tests or (BEFORE, AFTER)), device=DEVICE).sections)


def cells(table: Table) -> dict[str, list[Cell]]:
    return {row.cells[0].text: list(row.cells[1:]) for row in table.rows}


def a_prediction(what_if: WhatIf, part: str | None = None) -> PredictedFlow:
    flow = Figure(key="k", name="n", value=None, unit="L/min", sample_size=1, sample_of="points", method="m")
    return PredictedFlow(
        case="c",
        what_if=what_if,
        part=part,
        filter="new",
        resistance_pa_min_per_l=None,
        hose_known=True,
        flow=flow,
        standard_uncertainty=None,
        degrees_of_freedom=None,
        measured=(),
    )


FINE = PressureDrops.model_validate_json(json.dumps(drops("fine", 2.4, what="a finer filter")))


@pytest.mark.parametrize(
    ("what_if", "filters", "words", "short"),
    [
        (WhatIf.NEW, ONE_FILTER, "its own filter, new", "own filter, new"),
        (WhatIf.LOADED, ONE_FILTER, "its own filter, loaded", "own filter, loaded"),
        (WhatIf.TWO, ONE_FILTER, "two of its own filters side by side", "two filters"),
        (WhatIf.TWO, ONE_FILTER | {"count": 2}, "four of its own filters side by side", "four filters"),
        (WhatIf.TWO, NONE, "twice as many of its own filters side by side", "twice as many filters"),
    ],
)
def test_words_of_a_case(what_if: WhatIf, filters: Data, words: str, short: str) -> None:
    device, prediction = a_device(HOOD, filter=filters), a_prediction(what_if)
    assert (case_words(prediction, device, None), short_case(prediction, device, None)) == (words, short)


def test_another_part_is_named_as_the_record_names_it() -> None:
    prediction = a_prediction(WhatIf.OTHER, "fine")
    assert (case_words(prediction, DEVICE, FINE), short_case(prediction, DEVICE, FINE)) == ("a finer filter",) * 2


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "Filter, new"),
        ({"filter": "loaded", "filters_at_once": 2}, "Filter, loaded, two filters side by side"),
        ({"of": "hose"}, "Hose"),
        ({"of": "filter_and_hose", "alternative": True}, "Another filter and hose, new"),
    ],
)
def test_words_of_a_part(changes: Data, words: str) -> None:
    assert part_words(PressureDrops.model_validate_json(json.dumps(drops("f", 1.0) | changes))) == words


@pytest.mark.parametrize(
    ("agrees", "words"),
    [
        (True, "they agree: the difference may be zero"),
        (False, "they disagree: the difference is not zero"),
        (None, "not decided: one of them has no interval"),
    ],
)
def test_words_of_a_comparison(agrees: bool | None, words: str) -> None:
    assert agreement_words(agrees) == words


@pytest.mark.parametrize(
    ("found", "sentence"),
    [
        ([], "No measured flow decides whether the predictions hold: none of the same state has an interval."),
        ([None], "No measured flow decides whether the predictions hold: none of the same state has an interval."),
        (
            [True, None, True],
            "Where the flow was also measured, in two runs, prediction and measurement differ by no more than their "
            "uncertainties allow.",
        ),
        (
            [True, False],
            "In one of two runs in which the flow was also measured, prediction and measurement differ by more than "
            "their uncertainties allow.",
        ),
    ],
)
def test_sentence_of_all_comparisons(found: list[bool | None], sentence: str) -> None:
    assert agreement_sentence(found) == sentence


@pytest.mark.parametrize(
    ("pairs", "shape", "ends"),
    [
        (
            ((0, 600), (300, 0)),
            "straight line through both points",
            "held shut, it held 600 Pa; with nothing in its way, it moved 300 L/min",
        ),
        (
            ((20, 560), (100, 400), (290, 20)),
            "straight line through three points; a bend is looked for from five points on",
            None,
        ),
        (
            BENT,
            "parabola through six points; chance that a straight line seems as bent: below 0.1 %",
            "held shut, it held 612 Pa",
        ),
        (
            ((0, 604), (60, 478), (120, 361), (180, 243), (240, 119)),
            # source: scipy 1.17.1, stats.f.sf of the nested fits: 0.8346
            "straight line through five points; chance that a straight line seems as bent: 83 %",
            "held shut, it held 604 Pa",
        ),
        (((0, 100), (300, 200)), "not used: the fitted curve does not fall throughout the measured flows", None),
    ],
)
def test_words_of_a_curve(pairs: tuple[tuple[float, float], ...], shape: str, ends: str | None) -> None:
    test = record(drops("f", 1.2), curve=a_curve(*pairs))
    (curve,) = test.blower_curves
    (result,) = curve_results(test)
    assert shape_words(result, curve).replace("\N{NARROW NO-BREAK SPACE}", " ") == shape
    said = ends_words(curve)
    if ends is not None:
        assert said is not None
        assert said.replace("\N{NARROW NO-BREAK SPACE}", " ") == ends
    elif pairs[0][0]:
        assert said is None


def curve_results(test: Any) -> tuple[BlowerCurveResult, ...]:
    result = context_of(a_whole_catalogue(test, device=DEVICE)).result.records["test"].topics["blower"]
    return tuple(result.curves)  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("battery", "words"),
    [
        ("fresh", "high, battery fresh"),
        ("at_alarm", "high, battery at its alarm"),
        ("mains", "high, on mains"),
    ],
)
def test_words_of_a_state(battery: str, words: str) -> None:
    assert curve_state("high", battery) == words


def test_every_figure_stands_once_with_its_id_and_its_working() -> None:
    section = on_record()
    result = context_of(a_whole_catalogue(BEFORE, device=DEVICE)).result.records["test"].topics["blower"]
    keys = sorted(figure.key for figure in result.figures)
    shown = [cell.id for table in section.tables for row in table.rows for cell in row.cells if cell.id is not None]
    assert sorted(shown) == keys
    worked = sorted(figure.key for figure in result.figures if figure.value is not None)
    assert sorted(view.figure for view in section.workings) == worked
    device = on_device()
    on_its_page = [cell.id for table in device.tables for row in table.rows for cell in row.cells if cell.id]
    assert sorted(on_its_page) == [f"test-{key}" for key in keys]


def test_a_measured_flow_stands_beside_its_prediction() -> None:
    own = cells(on_record().tables[0])["Its own filter, new"]
    assert own[1].href == "records/test.html#flow.high"
    assert (own[2].note or "").endswith("they agree: the difference may be zero")
    fine = cells(on_record().tables[0])["A finer filter with the same thread"]
    assert [cell.text for cell in fine[1:]] == ["not measured", "none"]


def test_a_change_that_was_made_stands_beside_its_prediction_on_the_devices_page() -> None:
    two = cells(on_device().tables[0])["Two of its own filters side by side"]
    assert two[1].href == "records/later.html#flow.high"
    assert (two[1].note or "").endswith("after the change, in later")
    assert two[2].text == "they agree: the difference may be zero"
    assert [cell.text for cell in cells(on_device(BEFORE).tables[0])["Two of its own filters side by side"][1:]] == [
        "not measured",
        "none",
    ]


def test_a_second_flow_of_the_same_state_has_a_row_without_the_prediction_again() -> None:
    twice = record(drops("f", 2.0), flow=[a_run([150, 151]), a_run([149, 150], id="again")])
    rows = [row.cells for row in on_record(twice).tables[0].rows if row.cells[0].text == "Its own filter, new"]
    assert [row[1].text for row in rows][1] == "as above"
    assert [row[2].href for row in rows] == ["records/test.html#flow.high", "records/test.html#flow.again"]


def test_what_is_not_predicted_says_why() -> None:
    loaded = cells(on_record().tables[0])["Its own filter, loaded"]
    assert (loaded[0].text, loaded[0].note) == ("not scored", "what its loaded filter takes was not measured")


def test_predictions_are_told_as_such_and_promise_nothing() -> None:
    for section in (on_record(), on_device()):
        assert section.heading.endswith("predicted, not measured")
        assert all(table.columns[1].head == "Predicted, not measured" for table in section.tables[:-1])
        assert section.tables_told
        assert section.answer == ()
        words = " ".join(texts_of(section)).lower()
        assert not [word for word in ("safe", "approved", "certified", "meets", "requirement") if word in words]


@pytest.mark.parametrize(("hose", "said"), [([], True), ([drops("h", 0.3, "hose")], False)])
def test_a_hose_that_was_not_measured_is_told(hose: list[Data], said: bool) -> None:
    sentences = on_record(record(drops("f", 1.2), *hose)).sentences
    assert any(sentence.startswith("No loss in a hose is on record.") for sentence in sentences) is said


def test_the_chart_holds_points_curve_band_lines_crossings_and_measured_flows() -> None:
    (chart,) = on_record().curves
    (panel,) = chart.panels
    fitted, *lines = panel.curves
    assert (fitted.label, fitted.points[0][0], fitted.points[-1][0]) == ("blower", 0, 300)
    assert [(line.label, line.dashed, line.named_by_mark) for line in lines] == [
        ("own filter, new", False, True),
        ("two filters", True, False),
        ("a finer filter with the same thread", True, False),
    ]
    crossings = {mark.key: mark for mark in panel.marks if mark.key.startswith("blower.")}
    # Lines of its own filter are named where they end: between them there is no room.
    own, two, other = crossings.values()
    flow = f"{own.x:.1f}\N{NARROW NO-BREAK SPACE}L/min"
    assert (own.text, own.short) == (f"own filter, new: {flow}", f"new: {flow}")
    assert [(mark.text, mark.short) for mark in (two, other)] == [
        (f"{mark.x:.1f}\N{NARROW NO-BREAK SPACE}L/min", "") for mark in (two, other)
    ]
    assert chart.caption.endswith(" A vertical is a flow that the same record measured.")
    (without,) = on_record(record(drops("f", 1.2))).curves
    assert (without.panels[0].events, "vertical" in without.caption) == ((), False)
    # A line ends where it meets the curve: nothing is drawn beyond what is predicted.
    assert [line.points[-1] for line in lines] == [(mark.x, mark.y) for mark in crossings.values()]
    assert list(crossings) == ["blower.curve.new", "blower.curve.two", "blower.curve.other-fine"]
    assert len(panel.marks) == len(BENT) + len(crossings)
    assert [event.value for event in panel.events] == [212.5]
    assert len(panel.areas) == 1
    assert chart.x.high > 300
    assert chart.y.high > 612
    assert on_device(BEFORE).curves[0].id == "blower-curve-test"


def test_a_curve_that_is_not_used_is_not_drawn() -> None:
    section = on_record(record(drops("f", 1.2), curve=a_curve(alone=False)))
    assert section.curves == ()
    unknown = {"not_recorded": "no certificate"}
    bare = on_record(record(drops("f", 1.2), curve=a_curve(uncertainty=unknown)))
    assert bare.curves[0].panels[0].areas == ()


def test_every_point_stands_in_a_block() -> None:
    blocks = {block.anchor: block for block in on_record().blocks}
    assert list(blocks) == ["blower.curve", "blower.f.points", "blower.h.points", "blower.fine.points"]
    table = blocks["blower.curve"].table
    assert table is not None
    assert len(table.rows) == len(BENT)
    assert len(points(*BENT)) == len(BENT)


def test_a_device_without_a_blower_curve_has_no_such_section() -> None:
    plain = a_test(flow=[a_run([212, 213])])
    assert [section.topic for section in device_page(plain, device=DEVICE).sections if section.topic == "blower"] == []
