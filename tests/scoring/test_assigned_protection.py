"""When an assigned protection factor may stand on a device's page, and that nothing measured bears on it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.device_test import DeviceTest
from generator.model.meaning_result import AssignedProtectionResult, NothingAssigned
from tests.scoring.builders import Data, a_catalogue, a_device, a_session, a_test, readings, score_all

APPROVAL: Data = {"scheme": "Scheme 7", "number": "7-1", "date_checked": "2025-02-04", "covers": "the device as sold"}
MODIFIED: Data = {"state": "modified", "description": "changed", "changes": ["a clip"]}
HALF, HOOD, FILTERING = "elastomeric_half_facepiece", "loose_powered_hood", "filtering_facepiece"


def approval(scheme: str = "Scheme 7", **more: Any) -> Data:
    return APPROVAL | {"scheme": scheme} | more


def an_attempt(**changes: Any) -> DeviceTest:
    """Return a record of an attempt that gave no factor."""
    return a_test([a_session([], outcome="aborted", reason="the strap tore")], **changes)


def assigned(
    kind: str, *approvals: Data, tests: tuple[DeviceTest, ...] | None = None, **device: Any
) -> AssignedProtectionResult:
    found = a_catalogue(
        *((an_attempt(),) if tests is None else tests),
        device=a_device(kind, approvals_stated=list(approvals), **device),
    )
    known = replace(found, assigned_protection=load_reference().assigned_protection)
    return score_all(known).devices["device"].meaning.assigned


def rules(result: AssignedProtectionResult) -> list[tuple[str, float, int, bool]]:
    return [(factor.rule, factor.value, factor.approval, factor.named) for factor in result.factors]


@pytest.mark.parametrize(
    ("kind", "device", "approvals", "reason"),
    [
        (HALF, {"home_built": True}, [APPROVAL], NothingAssigned.HOME_BUILT),
        (HALF, {}, [], NothingAssigned.NO_APPROVAL),
        ("surgical_mask", {}, [APPROVAL], NothingAssigned.NOT_FOR_ITS_KIND),
        ("face_covering", {}, [approval("FFP2")], NothingAssigned.NOT_FOR_ITS_KIND),
    ],
)
def test_why_there_is_none(kind: str, device: Data, approvals: list[Data], reason: NothingAssigned) -> None:
    found = assigned(kind, *approvals, **device)
    assert (found.nothing, found.factors, found.not_for) == (reason, (), ())


def test_a_modified_device_has_none_and_its_record_is_named() -> None:
    found = assigned(HALF, APPROVAL, tests=(an_attempt(configuration=MODIFIED),))
    assert (found.nothing, found.factors, found.not_for) == (NothingAssigned.NOT_AS_APPROVED, (), ("test",))


def test_a_part_that_the_approval_does_not_name_is_no_approved_device() -> None:
    stated = approval(assembly={"filters": ["flat filter"]})
    fitted: Data = {"state": "as_supplied", "description": "as it came", "fitted": {"filters": ["round filter"]}}
    found = assigned(HALF, stated, tests=(an_attempt(configuration=fitted),))
    assert (found.nothing, found.not_for) == (NothingAssigned.NOT_AS_APPROVED, ("test",))
    fitted["fitted"] = {"filters": ["flat filter"]}
    assert assigned(HALF, stated, tests=(an_attempt(configuration=fitted),)).nothing is None


def test_a_device_without_a_standing_record_has_none() -> None:
    gone = {"date": "2025-08-01", "reason": "the wrong filter"}
    for tests in ((), (an_attempt(withdrawn=gone),)):
        found = assigned(HALF, APPROVAL, tests=tests)
        assert (found.nothing, found.not_for) == (NothingAssigned.NOT_AS_APPROVED, ())


def test_as_supplied_and_modified_side_by_side() -> None:
    found = assigned(HALF, APPROVAL, tests=(an_attempt(), an_attempt(id="clipped", configuration=MODIFIED)))
    assert rules(found) == [("osha-half-facepiece", 10, 1, False)]
    assert (found.nothing, found.not_for) == (None, ("clipped",))


@pytest.mark.parametrize(
    ("kind", "scheme", "expected"),
    [
        # source of the values: tests/reference/test_assigned_protection.py
        (HALF, "Scheme 7", [("osha-half-facepiece", 10, 1, False)]),
        (HALF, "42 CFR Part 84", [("osha-half-facepiece", 10, 1, True)]),
        (HALF, "EN 140 with P3", [("osha-half-facepiece", 10, 1, False), ("hse-half-mask-p3", 20, 1, True)]),
        # `P3` is no word of its own in these.
        (HALF, "FFP3", [("osha-half-facepiece", 10, 1, False)]),
        (HALF, "P31", [("osha-half-facepiece", 10, 1, False)]),
        (FILTERING, "EN 149 FFP2 NR", [("osha-filtering-facepiece", 10, 1, False), ("hse-ffp2", 10, 1, True)]),
        # A class of another kind of device says nothing of this one.
        (FILTERING, "EN 12941 TH3P", [("osha-filtering-facepiece", 10, 1, False)]),
        (
            HOOD,
            "EN 12941 TH3P",
            [
                ("osha-powered-hood", 25, 1, False),
                ("osha-powered-hood-with-evidence", 1000, 1, False),
                ("hse-th3", 40, 1, True),
            ],
        ),
        (HOOD, "TH33", [("osha-powered-hood", 25, 1, False), ("osha-powered-hood-with-evidence", 1000, 1, False)]),
    ],
)
def test_by_kind_and_by_class(kind: str, scheme: str, expected: list[tuple[str, float, int, bool]]) -> None:
    found = assigned(kind, approval(scheme))
    assert rules(found) == expected
    assert found.nothing is None


def test_the_class_may_stand_in_what_the_approval_covers() -> None:
    found = assigned(FILTERING, approval(covers="the mask, class FFP3"))
    assert [factor.rule for factor in found.factors] == ["osha-filtering-facepiece", "hse-ffp3"]


def test_the_filter_class_that_the_maker_states_of_the_filter_is_no_approval() -> None:
    stated: Data = {"stated_class": "P3", "media_area": {"not_recorded": "none"}, "count": 2}
    assert rules(assigned(HALF, APPROVAL, filter=stated)) == [("osha-half-facepiece", 10, 1, False)]


def test_the_approval_that_names_the_class_is_the_one_that_must_hold() -> None:
    found = assigned(FILTERING, APPROVAL, approval("FFP2"))
    assert rules(found) == [("osha-filtering-facepiece", 10, 1, False), ("hse-ffp2", 10, 2, True)]


@pytest.mark.parametrize("inside", ["3000 /cm3", "0.01 /cm3"])
def test_no_fit_factor_bears_on_it(inside: str) -> None:
    # source: 3000 / 3000 and 3000 / 0.01 by arithmetic: fit factors of 1 and of 300 000
    worn = a_test([a_session(readings(inside, inside, inside))])
    assert assigned(HALF, APPROVAL, tests=(worn,)) == assigned(HALF, APPROVAL)
