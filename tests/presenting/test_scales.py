"""What goes onto a scale: marks, labels, landmarks, and the words for readers who do not see it."""

from __future__ import annotations

from generator.presenting.fit_sessions import landmarks
from generator.presenting.views import ScaleChart, ScaleMark
from tests.presenting.small_sites import (
    a_whole_catalogue,
    context_of,
    device_page,
    given,
    index_row,
    record_page,
    shown,
)
from tests.scoring.builders import Data, a_device, a_run, a_session, a_test, readings

NARROW = "\N{NARROW NO-BREAK SPACE}"
LOOSE = "loose_powered_hood"
FIT_NOTE = ". Short strokes below a line are single exercises; bars are 95 % intervals."


def fit_chart(*sessions: Data, kind: str = "filtering_facepiece") -> ScaleChart:
    chart = record_page(a_test(sessions), device=a_device(kind)).sections[0].chart
    assert chart is not None
    return chart


def flow_chart(*runs: Data) -> ScaleChart:
    chart = record_page(a_test(flow=runs), device=a_device(LOOSE)).sections[0].chart
    assert chart is not None
    return chart


def test_a_session_is_a_diamond_with_a_stroke_for_each_exercise() -> None:
    (row,) = fit_chart(given(100.0, 200.0, 400.0)).rows
    # source: the harmonic mean by hand, 171.43 to two places
    assert [(mark.key, round(mark.value, 2), mark.minor, mark.text) for mark in row.marks] == [
        ("fit.am.standing", 100, True, ""),
        ("fit.am.talking", 200, True, ""),
        ("fit.am.bending", 400, True, ""),
        ("fit.am.overall", 171.43, False, "170"),
    ]
    assert (row.label, row.note) == ("A, donning 1", "")


def test_a_counted_session_has_a_bar_and_a_count_of_zero_an_arrow() -> None:
    counted, zero = (
        fit_chart(a_session(readings(40, 40, 40))).rows[0].marks[-1],
        fit_chart(a_session(readings(0, 0, 0))).rows[0].marks[-1],
    )
    assert counted.low is not None
    assert counted.high is not None
    assert counted.low < counted.value < counted.high
    assert not counted.at_least
    assert zero.at_least
    assert zero.high is None


def test_attempts_stand_on_a_line_of_their_own() -> None:
    chart = fit_chart(given(150.0), a_session(id="stop", donning=2, outcome="voided", reason="x"))
    assert [(row.label, bool(row.marks), row.note) for row in chart.rows] == [
        ("A, donning 1", True, ""),
        ("A, donning 2", False, "voided"),
    ]
    assert chart.description == f"A, donning 1: 150; A, donning 2: voided{FIT_NOTE}"


def test_the_blower_is_named_where_there_is_one() -> None:
    chart = fit_chart(given(150.0, blower="off"), given(200.0, id="pm", blower="high"), kind=LOOSE)
    assert [row.label for row in chart.rows] == ["A, donning 1, blower off", "A, donning 1, blower at high"]
    (register,) = record_page(a_test([given(150.0, blower="off")]), device=a_device(LOOSE)).sections[0].tables
    assert [column.head for column in register.columns][:2] == ["Wearer, donning", "Blower"]


def test_landmarks_are_spans_and_the_levels_of_the_kind() -> None:
    def levels(kind: str) -> list[tuple[str, float]]:
        session = given(9.0, protocol="eight-standard-exercises")
        return [(mark.text, mark.low) for mark in fit_chart(session, kind=kind).landmarks if mark.high is None]

    # source: 29 CFR 1910.134(f)(7): 100 and 500
    assert levels("filtering_facepiece") == [("100: fit-test level, filtering facepiece", 100)]
    assert levels("elastomeric_full_facepiece") == [("500: fit-test level, full facepiece", 500)]
    assert levels("surgical_mask") == []
    spans = [(mark.low, mark.high) for mark in fit_chart(given(9.0)).landmarks if mark.high is not None]
    # source: the spans as the reference data name them
    assert spans == [(2, 4), (1000, 10_000)]


def test_a_level_stands_only_where_a_session_was_held_against_it() -> None:
    held, other = given(90.0, protocol="eight-standard-exercises"), given(95.0, id="pm", donning=2)
    chart, alone = fit_chart(held, other), fit_chart(other)
    assert [mark.low for mark in chart.landmarks if mark.high is None] == [100]
    assert [(row.label, row.held_against) for row in chart.rows] == [("A, donning 1", (100.0,)), ("A, donning 2", ())]
    assert chart.caption.endswith(" A vertical is dashed beside lines to which its level does not apply.")
    assert [mark for mark in alone.landmarks if mark.high is None] == []
    assert "vertical" not in alone.caption


def test_levels_with_one_limit_are_one_landmark_that_names_all_kinds() -> None:
    context = context_of(a_whole_catalogue())
    filtering, half, full = (
        context.catalogue.criteria[f"fit-test-pass-{kind}-facepiece"] for kind in ("filtering", "half", "full")
    )
    named = [mark for mark in landmarks(context, [full, half, None, filtering, half]) if mark.high is None]
    assert [(mark.text, mark.low) for mark in named] == [
        ("100: fit-test level, filtering facepiece and half facepiece", 100),
        ("500: fit-test level, full facepiece", 500),
    ]
    own = half.model_copy(update={"id": "own", "label": "a level of the reviewer's own"})
    assert (
        landmarks(context, [own, half])[-1].text == "100: fit-test level, half facepiece; a level of the reviewer's own"
    )


def test_a_device_shows_all_records_with_keys_that_differ() -> None:
    taped = {"state": "modified", "description": "taped seam", "changes": ["tape"]}
    page = device_page(a_test([given(150.0)], id="first"), a_test([given(50.0)], id="second", configuration=taped))
    chart = page.sections[0].chart
    assert chart is not None
    keys = [mark.key for row in chart.rows for mark in row.marks]
    assert len(keys) == len(set(keys)) == 8
    assert keys[-1] == "second-fit.am.overall"
    assert [row.label for row in chart.rows] == ["A, donning 1", "A, donning 1; modified: taped seam"]


def test_the_scale_of_flow() -> None:
    chart = flow_chart(
        a_run([169.0, 170.0, 171.0]),
        a_run([10.0], id="low", setting="low", battery="mains", filter="loaded"),
    )
    assert [(row.label, row.marks[0].text) for row in chart.rows] == [
        ("high, fresh, new", f"170.0{NARROW}L/min"),
        ("low, on mains, loaded", f"10.0{NARROW}L/min"),
    ]
    first, second = chart.rows[0].marks[0], chart.rows[1].marks[0]
    assert first.low is not None
    assert first.high is not None
    # source: at the limit the interval holds the mean in its middle
    assert first.low < 170 < first.high
    assert second == ScaleMark("flow.low.mean", 10.0, text=f"10.0{NARROW}L/min")
    assert [(mark.text, mark.low) for mark in chart.landmarks] == [("170: flow at which such filters are tested", 170)]
    assert chart.description.endswith(f"low, on mains, loaded filter: 10.0{NARROW}L/min. Bars are 95 % intervals.")


def test_the_small_scale_of_the_index_holds_every_overall_factor() -> None:
    tests = a_test([given(150.0), given(50.0, id="pm")], id="first"), a_test([given(70.0)], id="second")
    chart = index_row(*tests).cells[0].chart
    assert chart is not None
    assert chart.small
    (row,) = chart.rows
    assert [(mark.key, round(mark.value, 6)) for mark in row.marks] == [
        ("first-fit.am.overall", 150),
        ("first-fit.pm.overall", 50),
        ("second-fit.am.overall", 70),
    ]
    assert chart.description == "50 to 150, one wearer"


def test_the_key_scale_of_the_index_has_spans_and_no_marks() -> None:
    scale = shown(a_whole_catalogue()).index.scale
    assert scale.rows == ()
    assert len(scale.landmarks) == 2
