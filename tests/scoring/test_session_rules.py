"""Which sessions count by a record's rule, and what a device's summary makes of those that do not, or are withdrawn.

Expected values follow from the words of the rules in the record's model; there is no outside source for them.
"""

from __future__ import annotations

import pytest

from generator.model.catalogue_result import DeviceResult
from generator.model.device_test import DeviceTest
from generator.model.fit_result import FitResult, FitSummary
from generator.model.published import published
from generator.scoring.session_rules import counted_sessions
from tests.scoring.builders import Data, a_catalogue, a_device, a_session, a_test, readings, score_all, score_one

HOOD = a_device("loose_powered_hood")


def worn(name: str, wearer: str = "wren", donning: int = 1, blower: str = "high", **changes: object) -> Data:
    return a_session(
        readings("30 /cm3", "30 /cm3", "30 /cm3"), id=name, wearer=wearer, donning=donning, blower=blower, **changes
    )


def rule(choice: str) -> Data:
    return {"choice": choice, "stated": "2025-05-20", "why": "practice"}


def withdrawn(**changes: str) -> Data:
    return {"date": "2025-08-01", "reason": "A leak in the tube."} | changes


SESSIONS = [
    worn("a1"),
    worn("a2", donning=2),
    worn("a3", donning=3),
    # The second protocol of the same donning goes with the first one.
    worn("a3-again", donning=3),
    worn("a-low", donning=2, blower="low"),
    worn("a-old-filter", donning=3, filter="old"),
    worn("b-stopped", "dunlin", outcome="aborted", reason="strap broke"),
    worn("b2", "dunlin", donning=2),
    worn("b3", "dunlin", donning=3),
]
FIRST = {"a1", "a-low", "a-old-filter", "b2"}
EVERY = {"a1", "a2", "a3", "a3-again", "a-low", "a-old-filter", "b2", "b3"}


@pytest.mark.parametrize(
    ("choice", "counted"),
    [
        (None, EVERY),
        ("every_completed", EVERY),
        # A donning that was broken off is not a completed one: the next one is the wearer's first.
        ("first_of_each_wearer", FIRST),
        ("without_first_of_each_wearer", EVERY - FIRST),
    ],
)
def test_sessions_that_count(choice: str | None, counted: set[str]) -> None:
    test = a_test(SESSIONS, session_rule=rule(choice) if choice else None)
    out = published(a_catalogue(test, device=HOOD))
    assert counted_sessions(out.device_tests["test"]) == counted
    result = score_one(test, a_catalogue(test, device=HOOD)).topics["fit"]
    assert isinstance(result, FitResult)
    assert {session.session for session in result.sessions if session.counted} == counted
    # Every completed session keeps its figures, whether it counts or not.
    assert {session.session for session in result.sessions if session.overall is not None} == EVERY


def device_result(*tests: DeviceTest) -> tuple[DeviceResult, FitSummary]:
    result = score_all(a_catalogue(*tests, device=HOOD)).devices["device"]
    summary = result.topics["fit"]
    assert isinstance(summary, FitSummary)
    return result, summary


def test_a_summary_is_made_of_the_sessions_that_count() -> None:
    poor = a_session(readings("300 /cm3", "300 /cm3", "300 /cm3"), blower="high")
    good = [worn("a2", donning=2), worn("a3", donning=3)]
    every = device_result(a_test([poor, *good]))[1]
    chosen = device_result(a_test([poor, *good], session_rule=rule("without_first_of_each_wearer")))[1]
    # source: 3000 / 300 and 3000 / 30 by arithmetic
    assert [round(found.lowest.value or 0, 6) for found in (every, chosen) if found.lowest] == [10, 100]
    assert (every.completed, every.not_counted, every.donnings) == (3, 0, 3)
    assert (chosen.completed, chosen.not_counted, chosen.donnings) == (3, 1, 2)
    (group,) = chosen.groups
    assert group.donnings == 2


def test_findings_are_those_of_the_sessions_that_count() -> None:
    zero = a_session(readings(0, 0, 0), blower="high")
    sessions = [zero, worn("a2", donning=2)]
    without = rule("without_first_of_each_wearer")
    every = {finding.rule for finding in score_of(a_test(sessions)).findings}
    chosen = {finding.rule for finding in score_of(a_test(sessions, session_rule=without)).findings}
    assert (every, chosen) == ({"zero-in-mask-count"}, set())


def score_of(test: DeviceTest) -> FitResult:
    result = score_one(test, a_catalogue(test, device=HOOD)).topics["fit"]
    assert isinstance(result, FitResult)
    return result


def test_attempts_are_counted_by_how_they_ended() -> None:
    sessions = [
        worn("a1"),
        worn("a2", donning=2),
        worn("stop", donning=3, outcome="aborted", reason="x"),
        worn("void", donning=4, outcome="voided", reason="x"),
    ]
    gone = a_test([worn("x"), worn("y", donning=2, outcome="aborted", reason="x")], id="gone", withdrawn=withdrawn())
    result, found = device_result(a_test(sessions, session_rule=rule("first_of_each_wearer")), gone)
    assert (found.completed, found.not_counted, found.aborted, found.voided, found.withdrawn) == (2, 1, 1, 1, 2)
    assert (result.records, result.withdrawn_records) == (("test",), ("gone",))


def test_a_withdrawn_record_makes_no_result() -> None:
    better = a_session(readings("3 /cm3", "3 /cm3", "3 /cm3"), blower="high", wearer="dunlin")
    gone = a_test([better], id="gone", withdrawn=withdrawn())
    with_it = device_result(a_test([worn("a1")]), a_test([better], id="gone"))[1]
    result, found = device_result(a_test([worn("a1")]), gone)
    # source: 3000 / 3 and 3000 / 30 by arithmetic
    assert [round(each.highest.value or 0, 6) for each in (with_it, found) if each.highest] == [1000, 100]
    assert (with_it.wearers, found.wearers) == (("A", "B"), ("B",))
    # The letters are given over all records, so that a withdrawn one moves none of them.
    assert {finding.rule: finding.facts for finding in result.findings} == {
        "record-withdrawn": {"record": "gone", "date": "2025-08-01"}
    }


def test_a_withdrawn_record_is_still_scored() -> None:
    gone = a_test([worn("a1")], withdrawn=withdrawn())
    assert len(score_of(gone).figures) == 5


@pytest.mark.parametrize(
    "test",
    [
        a_test([worn("a1")], session_rule=rule("without_first_of_each_wearer")),
        a_test([worn("a1")], withdrawn=withdrawn()),
    ],
    ids=["by the rule", "with its record"],
)
def test_where_no_completed_session_counts_that_is_told(test: DeviceTest) -> None:
    _, found = device_result(test)
    assert [finding.rule for finding in found.findings] == ["no-session-counts"]
    assert (found.wearers, found.lowest, found.groups) == ((), None, ())


def test_where_nobody_completed_one_that_is_told_instead() -> None:
    gone = a_test([worn("a1", outcome="aborted", reason="x")], withdrawn=withdrawn())
    assert [finding.rule for finding in device_result(gone)[1].findings] == ["no-wearer"]
