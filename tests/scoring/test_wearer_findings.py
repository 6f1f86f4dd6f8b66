"""What befell a wearer, and fitness that was not on record: each found by itself and nothing beside it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.model.catalogue import Catalogue
from generator.model.device_test import DeviceTest
from generator.model.result import Finding
from tests.scoring.builders import (
    NOTHING_COUNTED,
    a_catalogue,
    a_session,
    a_test,
    a_wearer,
    readings,
    score_all,
    score_one,
)

READ = readings("3 /cm3", "3 /cm3", "3 /cm3")


def record_findings(test: DeviceTest, catalogue: Catalogue | None = None) -> tuple[Finding, ...]:
    return score_one(test, catalogue or a_catalogue(test)).all_findings


def test_an_adverse_event_is_found_whatever_became_of_the_session() -> None:
    sessions = [
        a_session(READ, adverse_event="a rash under the seal"),
        a_session(id="b", wearer="dunlin", outcome="aborted", reason="dizzy", adverse_event="dizzy for a minute"),
    ]
    found = [finding for finding in record_findings(a_test(sessions)) if finding.rule == "adverse-event"]
    assert [(finding.where, finding.facts) for finding in found] == [
        ("fit[am]", {"wearer": "B", "outcome": "completed", "event": "a rash under the seal"}),
        ("fit[b]", {"wearer": "A", "outcome": "aborted", "event": "dizzy for a minute"}),
    ]


def test_an_adverse_event_alone_raises_nothing_else() -> None:
    (finding,) = record_findings(a_test([a_session(READ, adverse_event="a rash", zero_check=NOTHING_COUNTED)]))
    assert finding.rule == "adverse-event"


def test_an_adverse_event_of_a_withdrawn_record_is_told_of_the_device() -> None:
    gone = a_test([a_session(READ, adverse_event="a rash")], withdrawn={"date": "2025-08-01", "reason": "A leak."})
    result = score_all(a_catalogue(gone)).devices["device"]
    assert [finding.rule for finding in result.findings] == ["record-withdrawn", "adverse-event"]


@pytest.mark.parametrize(
    ("fit_since", "found"),
    # source: by definition, declared on or before the day of the test, 2025-06-01
    [("2025-06-01", []), ("2025-06-02", ["fitness-not-recorded"]), (None, ["fitness-not-recorded"])],
)
def test_fitness_is_on_record_or_not_on_the_day(fit_since: str | None, found: list[str]) -> None:
    test = a_test([a_session(READ, zero_check=NOTHING_COUNTED)])
    catalogue = replace(a_catalogue(test), wearers={"wren": a_wearer("wren", "A", fit_since=fit_since)})
    assert [finding.rule for finding in record_findings(test, catalogue)] == found


def test_it_says_for_how_many_sessions_and_whom() -> None:
    worn = (("am", "wren"), ("pm", "dunlin"))
    test = a_test([a_session(READ, id=name, wearer=wearer, zero_check=NOTHING_COUNTED) for name, wearer in worn])
    wearers = {"wren": a_wearer("wren", "A"), "dunlin": a_wearer("dunlin", "B", fit_since=None)}
    (finding,) = record_findings(test, replace(a_catalogue(test), wearers=wearers))
    assert (finding.where, finding.facts) == ("fit", {"sessions": 1, "of": 2, "wearers": "B"})
