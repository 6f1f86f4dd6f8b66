"""Comparisons as readers see them: exact sentences, marks by wearer, cautions with the devices that raise them."""

from __future__ import annotations

import pytest

from generator.model.comparison import Comparison
from generator.model.device_test import DeviceTest
from generator.presenting.comparison_views import ComparisonPage
from generator.presenting.digits import THIN
from generator.presenting.page_views import Site
from tests.presenting.small_sites import STANDARD, a_whole_catalogue, shown
from tests.scoring.builders import Data, a_run, a_session, a_test, a_wearer, readings
from tests.scoring.comparison_builders import WEARERS, a_comparison, inside, one_each, several, worn

FIRST = worn("first", one_each("30 /cm3", "10 /cm3", "20 /cm3"))
SECOND = worn("second", one_each("300 /cm3", "200 /cm3", "100 /cm3"))
WITHDRAWN: Data = {"withdrawn": {"date": "2025-11-02", "reason": "It was recalled."}}


def a_site(
    *tests: DeviceTest, devices: dict[str, Data], kind: str = "filtering_facepiece", own: Comparison | None = None
) -> Site:
    wearers = {name: a_wearer(name, letter) for name, letter in zip(WEARERS, "ABCD", strict=True)}
    return shown(several([], devices, kind, [own] if own else [], a_whole_catalogue(*tests, wearers=wearers)))


def the_page(*tests: DeviceTest, devices: dict[str, Data] | None = None) -> ComparisonPage:
    return a_site(*tests, devices=devices or {"first": {}, "second": {}}).comparisons[0]


def differences_of(page: ComparisonPage) -> list[tuple[str, ...]]:
    assert page.differences is not None
    return [
        (
            row.pair,
            *(
                text
                for cell in row.cells
                for line in (*cell.lines, *cell.sure)
                for text in (line.text, line.note)
                if text
            ),
        )
        for row in page.differences.rows
    ]


CONDITIONS = "Three exercises; a condensation particle counter; no blower in either."


def test_a_stated_difference_in_words() -> None:
    # source: the numbers are checked in tests/scoring/test_comparisons.py and test_factor_differences.py; the words are
    # ours, and every one of their forms stands in test_difference_words.py
    page = the_page(FIRST, SECOND)
    assert differences_of(page) == [
        (
            "First, against Second",
            "The two cannot be told apart, which is not the same as equal.",
            "The interval lies on one side of 1, but three wearers are too few to tell anything apart: even where all "
            "differ the same way, chance alone does that too often.",
            "If there were no difference at all, chance alone would set the two this far apart or further with a "
            "probability of 0.25; with three wearers it cannot go below 0.25.",
            "Nothing is said of a new wearer: 3 wore both, and at least 6 are needed.",
            "10 times",
            "95 % interval 1.7 to 56",
            "The same three wearers wore both: A, B and C.",
            CONDITIONS,
        )
    ]
    assert page.not_stated is None


def test_less_than_one_is_said_as_a_share() -> None:
    # source: definition; the factors 100, 300 and 150 against 1000 each, whose ratios have the cube root of 0.0045
    page = the_page(FIRST, worn("second", one_each("3 /cm3", "3 /cm3", "3 /cm3")))
    assert differences_of(page)[0][-3] == "With First it was 17\u202f% of that with Second."


def test_a_ratio_of_one_with_few_wearers() -> None:
    page = the_page(FIRST, worn("second", one_each("10 /cm3", "30 /cm3", "20 /cm3")))
    # source: definition; the ratios are 1/3, 3 and 1, whose geometric mean is 1
    assert differences_of(page)[0][-4] == "1.0 times"
    assert differences_of(page)[0][1] == "The two cannot be told apart, which is not the same as equal."


def test_a_difference_that_is_not_stated_says_why() -> None:
    page = the_page(FIRST, worn("second", one_each("300 /cm3", "200 /cm3")))
    assert page.not_stated is not None
    (row,) = page.not_stated.rows
    assert [(cell.text, cell.id) for cell in row.cells] == [
        ("First, against Second", None),
        (
            "not stated: too few wearers by the same exercises: 2 wore both, 1 only the one and nobody only the "
            "other; needed are 3 who wore both, or 3 others with each",
            "difference-first-second.ratio",
        ),
    ]
    assert row.id == "difference-first-second"
    assert (page.differences, page.workings) == (None, ())


def test_the_row_and_the_working_of_a_pair_have_its_id() -> None:
    page = the_page(FIRST, SECOND)
    assert page.differences is not None
    (row,) = page.differences.rows
    assert row.id == "difference-first-second"
    assert row.cells[1].lines[0].href == f"{page.head.path}#working.difference-first-second"
    (working,) = page.workings
    assert [part.title for part in working.parts] == [
        "Ratio",
        "Probability by chance",
        "The smallest it can be",
        "Adjusted for their number",
        "Told apart or not",
    ]
    ratio = working.parts[0].value
    assert [(item.meaning, item.number) for item in ratio.inputs[:2]] == [
        ("fit factor of wearer A with first", "100"),
        ("fit factor of wearer A with second", "10"),
    ]
    basis = ratio.inputs[0].basis
    assert basis is not None
    assert basis.inputs[0].href == "records/first-test.html#working.fit.s0.overall"


def test_each_group_of_the_scale_lists_the_wearers_in_the_same_order() -> None:
    backwards = worn("second", one_each("300 /cm3", "200 /cm3", "100 /cm3")[::-1])
    chart = the_page(FIRST, backwards).fit_chart
    assert chart is not None
    assert [(row.heading, row.label) for row in chart.rows] == [
        ("First", "A"),
        ("", "B"),
        ("", "C"),
        ("Second", "A"),
        ("", "B"),
        ("", "C"),
    ]
    assert [mark.key for mark in chart.rows[0].marks] == ["first-test-fit.s0.overall"]


def test_a_device_that_nobody_wore_as_supplied_keeps_its_place() -> None:
    page = the_page(FIRST)
    assert page.fit_chart is not None
    assert [(row.heading, row.note) for row in page.fit_chart.rows][-1] == ("Second", "not worn as supplied")
    assert page.flow_chart is None
    assert page.no_flow_chart == "None of these devices has a blower."


def test_other_exercises_are_named_where_they_are_not_the_usual_ones() -> None:
    other = a_session(
        readings(*["300 /cm3"] * 8, names=STANDARD), id="other", wearer="sedge", protocol="eight-standard-exercises"
    )
    chart = the_page(FIRST, worn("second", [*one_each("300 /cm3"), other])).fit_chart
    assert chart is not None
    assert [row.label for row in chart.rows][-2:] == ["A", "C, other exercises"]


@pytest.mark.parametrize(("devices", "rows", "drawn"), [(8, 8, True), (9, 9, True), (41, 0, False)])
def test_many_devices_are_one_line_each_and_then_not_drawn(devices: int, rows: int, drawn: bool) -> None:
    names = [f"device{number}" for number in range(devices)]
    sessions = [a_session(inside("30 /cm3"), wearer="dunlin")]
    page = the_page(worn(names[0], sessions), devices={name: {} for name in names})
    assert (page.fit_chart is not None) == drawn
    if page.fit_chart is not None:
        assert len(page.fit_chart.rows) == rows
        assert {bool(row.heading) for row in page.fit_chart.rows} == {devices <= 8}
    else:
        assert page.no_fit_chart.startswith("With more than 40 devices nothing is drawn here")
    if devices > 8:
        assert page.no_differences == (
            f"No difference is stated: pairs are compared among at most 8 devices, and here are {devices}."
        )


HOODS = {"first": {"kind": "loose_powered_hood"}, "second": {"kind": "tight_powered_half_facepiece"}}


def test_flows_stand_side_by_side_against_their_own_requirements() -> None:
    tests = [
        a_test(flow=[a_run([200.0, 200.0])], id="first-test", device="first"),
        a_test(flow=[a_run([100.0, 100.2])], id="second-test", device="second"),
    ]
    site = a_site(*tests, devices=HOODS, own=a_comparison("first", "second"))
    page = site.comparisons[0]
    assert page.flow_chart is not None
    # source: criteria.yaml, 42 CFR 84: 170 L/min for loose-fitting, 115 L/min for tight-fitting powered devices
    assert [landmark.text for landmark in page.flow_chart.landmarks] == [
        "170, loose: flow at which such filters are tested",
        "115, tight: flow at which such filters are tested",
    ]
    lines = [line for row in page.rows for cell in row.cells if cell.heading == "Air supply" for line in cell.lines]
    assert [(line.id, line.text, line.note) for line in lines] == [
        ("flow-first-test-high", f"200{THIN}L/min", "meets the requirement; high, battery fresh, new filter"),
        (
            "flow-second-test-high",
            f"100.1{THIN}L/min",
            "does not meet the requirement; high, battery fresh, new filter",
        ),
    ]


def test_a_caution_names_the_devices_that_raise_it() -> None:
    cautions = the_page(FIRST).cautions
    by_id = {caution.id: caution for caution in (*cautions.open, *cautions.folded)}
    assert by_id["no-wearer"].text.endswith(" Raised by Second.")
    assert by_id["one-donning"].text.endswith(" Raised by First.")
    assert len(cautions.open) <= 5


def test_what_is_found_in_a_modified_state_is_not_said_of_the_device_as_supplied() -> None:
    modified = a_test(
        one_each("30 /cm3"),
        id="changed",
        device="second",
        configuration={"state": "modified", "description": "d", "changes": ["a strap"]},
    )
    cautions = the_page(FIRST, SECOND, modified).cautions
    assert "modified" not in [caution.id for caution in (*cautions.open, *cautions.folded)]


def test_a_withdrawn_device_is_named_and_left_out() -> None:
    devices: dict[str, Data] = {"first": {}, "second": WITHDRAWN, "third": {}}
    site = a_site(FIRST, SECOND, devices=devices, own=a_comparison("first", "second", "third"))
    page = site.comparisons[0]
    assert page.sentences[1] == "Second was withdrawn on 2 November 2025 and is left out: It was recalled."
    assert [row.link.text for row in page.rows] == ["First", "Third"]
    assert page.fit_chart is not None
    assert [row.heading for row in page.fit_chart.rows if row.heading] == ["First", "Third"]


def test_devices_and_the_first_page_lead_to_their_comparisons() -> None:
    site = a_site(FIRST, SECOND, devices={"first": {}, "second": {}}, own=a_comparison("first", "second"))
    links = [("Own", "comparisons/own.html")]
    links.append(("Filtering facepieces, side by side", "comparisons/kind-filtering-facepiece.html"))
    assert [(link.text, link.href) for link in site.devices[0].comparisons] == links
    assert [(link.text, link.href) for link in site.index.comparisons] == links
    assert [fact.text for fact in site.comparisons_index.own] == ["Which? Two devices."]


def test_the_side_by_side_table() -> None:
    row = the_page(FIRST, SECOND).rows[0]
    assert [(cell.heading, [(line.text, line.note) for line in cell.lines]) for cell in row.cells] == [
        ("Worn by", [("three wearers (A, B and C)", "three donnings"), ("", "which unit was tested is not recorded")]),
        ("Fit factor, lowest to highest", [("100 to 300", "")]),
        ("Air supply", [("no blower", "")]),
        ("Cautions", [("two cautions", "No wearer put this device on twice.")]),
    ]
    assert [line.text for line in row.about] == [
        "Maker. Filtering facepieces",
        "Mass not recorded: not needed in this test",
        "Price not recorded: not needed in this test",
    ]
