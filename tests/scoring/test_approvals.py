"""Approvals that a maker states, held against what was tested; the rule is 42 CFR 84.30: one assembly, complete."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.claim_result import ApprovalCoverage, Coverage
from tests.scoring.builders import Data, a_catalogue, a_device, a_run, a_test, score_all

ASSEMBLY = {"power_sources": ["cell"], "filters": ["pair A"], "parts": ["hood M", "hose"]}


def coverage(configuration: Data, assembly: Data | None) -> tuple[ApprovalCoverage, set[str]]:
    approval: Data = {"scheme": "Scheme 7", "number": "7-1", "date_checked": "2025-02-04", "covers": "the hood"}
    device = a_device("loose_powered_hood", approvals_stated=[approval | ({"assembly": assembly} if assembly else {})])
    test = a_test([], [a_run([185.0, 186.0])], configuration={"description": "so"} | configuration)
    result = score_all(a_catalogue(test, device=device)).devices["device"]
    (item,) = result.approvals
    return item, {finding.rule for finding in result.findings}


def as_supplied(**fitted: Any) -> Data:
    return {"state": "as_supplied", **({"fitted": fitted} if fitted else {})}


MODIFIED: Data = {"state": "modified", "changes": ["a clip", "a longer hem"]}


@pytest.mark.parametrize(
    ("configuration", "assembly", "expected", "outside"),
    [
        (as_supplied(power_source="cell"), ASSEMBLY, Coverage.WITHIN, ()),
        (as_supplied(power_source="cell", filters=["pair A"], parts=["hose"]), ASSEMBLY, Coverage.WITHIN, ()),
        (as_supplied(power_source="tool pack"), ASSEMBLY, Coverage.OUTSIDE, ("power source: tool pack",)),
        (
            as_supplied(power_source="cell", filters=["pair B"], parts=["hood L", "hose"]),
            ASSEMBLY,
            Coverage.OUTSIDE,
            ("filter: pair B", "part: hood L"),
        ),
        # A list that the approval leaves out is not looked at.
        (as_supplied(power_source="tool pack"), {"filters": ["pair A"]}, Coverage.NOT_RECORDED, ()),
        (as_supplied(), ASSEMBLY, Coverage.NOT_RECORDED, ()),
        (as_supplied(power_source="cell"), None, Coverage.NOT_RECORDED, ()),
        (MODIFIED, None, Coverage.OUTSIDE, ("modification: a clip", "modification: a longer hem")),
        (
            MODIFIED | {"fitted": {"power_source": "cell"}},
            ASSEMBLY,
            Coverage.OUTSIDE,
            ("modification: a clip", "modification: a longer hem"),
        ),
    ],
)
def test_what_lies_outside(
    configuration: Data, assembly: Data | None, expected: Coverage, outside: tuple[str, ...]
) -> None:
    item, rules = coverage(configuration, assembly)
    assert (item.coverage, item.outside) == (expected, outside)
    assert ("approval-does-not-cover" in rules) == (expected is Coverage.OUTSIDE)


def test_what_is_not_recorded_is_said() -> None:
    assert coverage(as_supplied(power_source="cell"), None)[0].reason == (
        "The parts that the approval covers are not on record."
    )
    assert coverage(as_supplied(), ASSEMBLY)[0].reason == (
        "Which of the parts that the approval names were fitted is not recorded."
    )


@pytest.mark.parametrize(
    ("fitted", "assembly", "reason"),
    [
        (
            {"power_source": "cell", "filters": ["pair A"]},
            ASSEMBLY,
            "Everything that is recorded of what was fitted is named by the approval.",
        ),
        (
            {"power_source": "cell", "filters": ["pair X"], "parts": ["hose"]},
            {"power_sources": ["cell"]},
            "What could be looked up is named by the approval; it lists no filter and no part.",
        ),
        (
            {"power_source": "tool pack", "filters": ["pair A"]},
            {"filters": ["pair A"]},
            "What could be looked up is named by the approval; it lists no power source.",
        ),
    ],
)
def test_what_lies_within_says_what_was_not_looked_up(fitted: Data, assembly: Data, reason: str) -> None:
    item, _ = coverage(as_supplied(**fitted), assembly)
    assert (item.coverage, item.reason) == (Coverage.WITHIN, reason)


def test_a_change_that_is_a_sentence_stands_in_a_list_without_its_full_stop() -> None:
    item, _ = coverage(MODIFIED | {"changes": ["A clip was sewn on.", "a longer hem"]}, None)
    assert item.outside == ("modification: A clip was sewn on", "modification: a longer hem")


def test_a_device_without_a_stated_approval_has_nothing_to_cover() -> None:
    test = a_test([], [a_run([185.0, 186.0])], configuration=MODIFIED | {"description": "so"})
    result = score_all(a_catalogue(test, device=a_device("loose_powered_hood"))).devices["device"]
    assert result.approvals == ()
    assert "approval-does-not-cover" not in {finding.rule for finding in result.findings}
