"""Which sessions count, in words: each situation beside the exact sentence. Regression only: the words are ours."""

from __future__ import annotations

import pytest

from generator.model.fit_result import FitSummary
from generator.presenting.session_counts import attempt_counts, session_sentence
from tests.presenting.small_sites import a_whole_catalogue, device_page, given, index_row, record_page, shown
from tests.scoring.builders import Data, a_test, a_wearer

RULE = {"stated": "2025-05-20", "why": "the first donning is practice"}
WITHDRAWN = {"date": "2025-08-01", "reason": "A leak in the tube."}


def a_summary(**counts: object) -> FitSummary:
    nothing = dict.fromkeys(("lowest", "lowest_record", "highest", "highest_record"))
    empty = {"completed": 0, "aborted": 0, "voided": 0, "not_counted": 0, "withdrawn": 0, "donnings": 0, "wearers": ()}
    return FitSummary.model_validate({"findings": (), **nothing, **empty, **counts})


@pytest.mark.parametrize(
    ("counts", "sentence"),
    [
        ({}, "No sessions completed; no attempts aborted or voided."),
        (
            {"completed": 2, "wearers": ("A",), "donnings": 2, "aborted": 1},
            "Two sessions completed by one wearer (A) in two donnings; one attempt aborted or voided.",
        ),
        (
            {"completed": 3, "not_counted": 1, "wearers": ("A", "B"), "donnings": 2, "voided": 2},
            "Three sessions completed, one of them not counted by the record's rule; those that count are by two "
            "wearers (A and B) in two donnings; two attempts aborted or voided.",
        ),
        (
            {"completed": 1, "not_counted": 1, "withdrawn": 1},
            "One session completed, one of them not counted by the record's rule; no attempts aborted or voided. "
            "Besides, one session withdrawn with its record is listed and does not count.",
        ),
        (
            {"withdrawn": 2},
            "No sessions completed; no attempts aborted or voided. Besides, two sessions withdrawn with their record "
            "are listed and do not count.",
        ),
    ],
)
def test_the_sentence_above_the_register(counts: Data, sentence: str) -> None:
    assert session_sentence(a_summary(**counts)) == sentence


def test_each_count_has_an_id() -> None:
    counts = attempt_counts(a_summary(completed=5, not_counted=1, aborted=2, voided=3, withdrawn=4))
    assert {fact.id: fact.text for fact in counts} == {
        "attempts-completed": "5",
        "attempts-not-counted": "1",
        "attempts-aborted": "2",
        "attempts-voided": "3",
        "attempts-withdrawn": "4",
    }


@pytest.mark.parametrize(
    ("rule", "words"),
    [
        (None, "Every completed session counts; the record states no other rule."),
        (
            {"choice": "every_completed", **RULE},
            "Every completed session counts. Stated on 20 May 2025, tested on 1 June 2025. Reason: the first donning "
            "is practice.",
        ),
        (
            {"choice": "first_of_each_wearer", **RULE},
            "Only the first completed donning of each wearer counts, in each state of blower and filter. Stated on 20 "
            "May 2025, tested on 1 June 2025. Reason: the first donning is practice.",
        ),
        (
            {"choice": "without_first_of_each_wearer", **RULE},
            "The first completed donning of each wearer does not count, in each state of blower and filter. Stated on "
            "20 May 2025, tested on 1 June 2025. Reason: the first donning is practice.",
        ),
    ],
)
def test_the_rule_of_a_record(rule: Data | None, words: str) -> None:
    page = record_page(a_test([given(10.0)], session_rule=rule))
    assert {fact.id: fact.text for fact in page.facts if fact.id}["session-rule"] == words


def register(*tests: Data) -> list[list[str]]:
    page = device_page(*(a_test(**test) for test in tests))
    (table,) = page.sections[0].tables
    return [[row.cells[0].text, row.cells[1].text, row.cells[-1].note or ""] for row in table.rows]


def test_every_session_stands_in_the_register_with_its_reason() -> None:
    sessions = [given(10.0), given(12.0, id="pm", donning=2, adverse_event="a rash")]
    rule = {"choice": "without_first_of_each_wearer", **RULE}
    stopped = given(10.0, id="stop", outcome="aborted", reason="strap broke")
    assert register(
        {"fit": sessions, "session_rule": rule}, {"fit": [given(9.0), stopped], "id": "gone", "withdrawn": WITHDRAWN}
    ) == [
        ["A, donning 1", "completed, not counted by the record's rule", ""],
        ["A, donning 2", "completed", "Adverse event: a rash"],
        ["A, donning 1", "withdrawn with its record; completed", ""],
        ["A, donning 1", "withdrawn with its record; aborted", ""],
    ]


def test_a_session_that_does_not_count_is_shown_and_says_so() -> None:
    rule = {"choice": "without_first_of_each_wearer", **RULE}
    page = record_page(a_test([given(10.0), given(12.0, id="pm", donning=2)], session_rule=rule))
    assert page.sections[0].sentences == ("Two sessions completed, one of them not counted by the record's rule.",)
    first, second = page.sections[0].blocks
    assert first.facts[-1].text == "completed, not counted by the record's rule"
    assert (
        first.note == "This session is shown in full and left out of the device's results by the rule of this record."
    )
    assert (len(first.figures), second.note) == (2, None)
    chart = page.sections[0].chart
    assert chart is not None
    assert [row.label for row in chart.rows] == ["A, donning 1, not counted", "A, donning 2"]


def test_the_index_shows_the_sessions_that_count() -> None:
    rule = {"choice": "without_first_of_each_wearer", **RULE}
    row = index_row(a_test([given(10.0), given(150.0, id="pm", donning=2)], session_rule=rule))
    chart = row.cells[0].chart
    assert chart is not None
    assert [mark.key for mark in chart.rows[0].marks] == ["test-fit.pm.overall"]
    # source: the harmonic mean of equal factors is that factor, by definition
    assert row.cells[0].text == "150"


@pytest.mark.parametrize(
    "parts",
    [{"session_rule": {"choice": "without_first_of_each_wearer", **RULE}}, {"withdrawn": WITHDRAWN}],
    ids=["by the rule", "with its record"],
)
def test_a_device_of_which_no_session_counts(parts: Data) -> None:
    test = a_test([given(10.0)], **parts)
    page, row = device_page(test), index_row(test)
    assert page.answer[0] == (
        "Its one test record was withdrawn, so that no result of the device counts."
        if "withdrawn" in parts
        else "How much cleaner the air inside is has no result that counts; the section “Fit factor” says why."
    )
    assert row.cells[0].text == "no session counts"
    assert [box.id for box in page.cautions.open if box.id == "no-session-counts"] == ["no-session-counts"]
    assert page.sections[0].tables[0].rows != ()
    assert (page.sections[0].chart is None) == ("withdrawn" in parts)
    not_tested = "For someone not tested, the fit factor is not known: no session makes a result."
    assert page.sections[0].sentences[0] == not_tested


@pytest.mark.parametrize(
    ("fit_since", "words"),
    [
        (("2025-01-01", "2025-01-01"), "on record for the wearer of every session, on the day of the test"),
        ((None, None), "not on record for the wearer of any session on the day of the test"),
        (
            ("2025-01-01", None),
            "not on record on the day of the test for the wearer of session pm; on record for the others",
        ),
    ],
)
def test_fitness_to_wear(fit_since: tuple[str | None, str | None], words: str) -> None:
    wearers = {
        "wren": a_wearer("wren", "A", fit_since=fit_since[0]),
        "plover": a_wearer("plover", "B", fit_since=fit_since[1]),
    }
    test = a_test([given(10.0), given(12.0, id="pm", wearer="plover")])
    facts = {fact.id: fact.text for fact in shown(a_whole_catalogue(test, wearers=wearers)).records[0].facts}
    assert facts["fitness"] == words


def test_hygiene_consent_and_what_befell_the_wearers() -> None:
    test = a_test([given(10.0, adverse_event="a rash under the seal")], hygiene="wiped with alcohol")
    facts = {fact.id: fact.text for fact in record_page(test).facts}
    assert facts["hygiene"] == "wiped with alcohol"
    assert facts["consent"] == "on record for every wearer, given on or before the day of the test"
    assert facts["adverse-events"] == "session am, wearer A: a rash under the seal"
    silent = {fact.id: fact.text for fact in record_page(a_test([given(10.0)])).facts}
    assert (silent["hygiene"], silent["adverse-events"]) == ("not recorded", "none recorded")
