"""What a page says beside a device's fit factors: situation to exact sentence."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.device_test import DeviceTest
from generator.presenting.page_views import DevicePage, Site
from generator.presenting.reference_views import RequirementsPage
from generator.presenting.views import Table
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import Data, a_device, a_session, a_test, readings

APPROVAL: Data = {"scheme": "Scheme 7", "number": "7-1", "date_checked": "2025-02-04", "covers": "the device as sold"}
MODIFIED: Data = {"state": "modified", "description": "changed", "changes": ["a clip"]}
HALF, HOOD, FILTERING = "elastomeric_half_facepiece", "loose_powered_hood", "filtering_facepiece"
NONE = "No assigned protection factor is given: such factors belong to "
WHAT_IT_IS = (
    "An assigned protection factor is the level of protection that a body expects a class of approved devices to give "
    "at work, where trained and fit-tested wearers use them in a complete programme. It is not a measurement of any "
    "device, and no fit factor can be turned into one."
)
BY_BODY = "Other bodies print other numbers for the same devices, so that a number says nothing without its body."
IF_SO = (
    "That this device is approved is its maker’s statement, which nothing here confirms. If the stated approval holds, "
    "then for the device as supplied:"
)


def an_attempt(**changes: Any) -> DeviceTest:
    """Return a record of an attempt that gave no factor."""
    return a_test([a_session([], outcome="aborted", reason="the strap tore")], **changes)


def site(*tests: DeviceTest, kind: str = HALF, more: dict[str, Any] | None = None, **device: Any) -> Site:
    found = a_whole_catalogue(*tests, device=a_device(kind, **device))
    if more:
        found = replace(found, devices={**found.devices, **more})
    return shown(replace(found, assigned_protection=load_reference().assigned_protection))


def page(*tests: DeviceTest, **parts: Any) -> DevicePage:
    return next(each for each in site(*tests, **parts).devices if each.id == "device")


def texts(table: Table) -> list[list[str]]:
    return [[cell.text for cell in row.cells] for row in table.rows]


@pytest.mark.parametrize(
    ("kind", "device", "tests", "sentences"),
    [
        (
            HALF,
            {"home_built": True, "approvals_stated": [APPROVAL]},
            (an_attempt(),),
            ["approved devices as their makers supply them, and this one was built at home."],
        ),
        (HALF, {}, (an_attempt(),), ["approved devices, and no approval of this one is on record."]),
        (
            HALF,
            {"approvals_stated": [APPROVAL]},
            (),
            ["approved devices as supplied, and no record that stands tested this one so."],
        ),
        (
            "surgical_mask",
            {"approvals_stated": [APPROVAL]},
            (an_attempt(),),
            [
                "kinds and classes of device, and no body that is looked up here assigns one to this kind, or to a "
                "class that its stated approval names."
            ],
        ),
        (
            HALF,
            {"approvals_stated": [APPROVAL]},
            (an_attempt(configuration=MODIFIED),),
            [
                "approved devices as supplied, and no record that stands tested this one so.",
                "One record is of a modified device, or of one with a part that no stated approval covers, so that "
                "nothing is assigned to what was tested there: test.",
            ],
        ),
    ],
    ids=["home-built", "no approval", "no record", "kind", "modified"],
)
def test_why_no_factor_is_given(kind: str, device: Data, tests: tuple[DeviceTest, ...], sentences: list[str]) -> None:
    view = page(*tests, kind=kind, **device).meaning.assigned
    assert list(view.sentences) == [NONE + sentences[0], *sentences[1:]]
    assert view.table is None


def test_the_strip_of_a_hood_whose_approval_names_no_scheme_that_is_known() -> None:
    view = page(an_attempt(), kind=HOOD, approvals_stated=[APPROVAL]).meaning.assigned
    assert view.sentences == (WHAT_IT_IS, BY_BODY, IF_SO)
    assert view.table is not None
    assert texts(view.table) == [
        ["OSHA, United States", "25", "A powered helmet or hood approved under 42 CFR Part 84"],
        ["OSHA, United States", "1000", "A powered helmet or hood approved under 42 CFR Part 84"],
    ]
    lower, higher = view.table.rows
    not_named = "Only if the stated approval holds, and is one under 42 CFR Part 84, which its statement does not name"
    assert lower.cells[2].note == f"{not_named}."
    assert higher.cells[2].note == (
        f"{not_named}; and only if the employer holds evidence from the manufacturer that testing of this device "
        "showed a level of protection of 1000 or more, by a study at workplaces or of simulated work, or an equivalent "
        "one. Nothing on this page is such evidence; without it the factor is 25."
    )
    assert lower.cells[0].note == "29 CFR 1910.134, (d)(3)(i)(A), Table 1 and note 4 (seen in the document)"
    assert [cell.id for cell in lower.cells] == [
        None,
        "assigned-osha-powered-hood-value",
        "assigned-osha-powered-hood-condition",
    ]
    assert lower.cells[2].href == "requirements.html#osha-powered-hood"


def test_a_class_that_the_approval_names() -> None:
    view = page(an_attempt(), kind=FILTERING, approvals_stated=[APPROVAL | {"scheme": "EN 149, FFP2"}]).meaning.assigned
    assert view.table is not None
    row = view.table.rows[-1]
    assert [cell.text for cell in row.cells] == ["HSE, United Kingdom", "10", "A filtering half mask of class FFP2"]
    assert row.cells[2].note == "Only if the stated approval holds."


def test_of_several_approvals_the_one_that_must_hold_is_named() -> None:
    both = [APPROVAL, APPROVAL | {"scheme": "EN 149, FFP2"}]
    view = page(an_attempt(), kind=FILTERING, approvals_stated=both).meaning.assigned
    assert view.sentences[-1] == IF_SO.replace("the stated approval holds", "approvals 1 and 2 hold")
    assert view.table is not None
    assert [(row.cells[2].note or "")[:24] for row in view.table.rows] == [
        "Only if approval 1 holds",
        "Only if approval 2 holds",
    ]


def test_no_fit_factor_stands_in_the_strip() -> None:
    worn = a_test([given(137.0)])
    with_factor = page(worn, approvals_stated=[APPROVAL])
    assert with_factor.meaning.assigned == page(an_attempt(), approvals_stated=[APPROVAL]).meaning.assigned
    assert with_factor.meaning.off_time is not None


def test_the_page_of_requirements_lists_every_factor_by_body() -> None:
    requirements: RequirementsPage = site(an_attempt()).requirements
    assert requirements.assigned_words == (WHAT_IT_IS, BY_BODY)
    assert [table.caption for table in requirements.assigned] == [
        "Assigned by OSHA, United States; shown by the kind of device, where an approval is stated",
        "Assigned by HSE, United Kingdom; shown where a stated approval names the class",
    ]
    listed = [row.id for table in requirements.assigned for row in table.rows]
    assert listed == [rule.id for rule in load_reference().assigned_protection]


def test_what_is_left_where_it_is_not_worn_all_the_time() -> None:
    view = page(a_test([given(80.0)])).meaning.off_time
    assert view is not None
    assert view.sentences == (
        "Nobody measured this; it is arithmetic on one measured factor. It takes that factor, which has no lower "
        "limit, as the protection whenever the device is worn, and the air around the wearer as the same all the time, "
        "breathed as it is while the device is off.",
    )
    starts, method = view.facts
    assert (starts.term, starts.text, starts.note, starts.id) == (
        "Starts from",
        "80",
        "lowest overall fit factor as supplied, record test",
        "off-time-from",
    )
    assert starts.href == "records/test.html#working.fit.am.overall"
    assert (method.text, method.href) == (
        "Protection where it is not worn all the time",
        "methods/hypothetical-protection.html",
    )
    # source: 1 / (f + (1 - f) / 80) by hand: 44.69, 16.16, 8.989 and 3.855, each rounded down to two digits
    assert texts(view.table) == [
        ["0\u202f% of the time", "80", "no bound"],
        ["1\u202f% of the time", "44", "100"],
        ["5\u202f% of the time", "16", "20"],
        ["10\u202f% of the time", "8.9", "10"],
        ["25\u202f% of the time", "3.8", "4.0"],
    ]
    assert [row.cells[0].note for row in view.table.rows] == [
        "worn all the time",
        "4.8\u202fmin of 8 hours",
        "24\u202fmin of 8 hours",
        "48\u202fmin of 8 hours",
        "120\u202fmin of 8 hours",
    ]
    assert [row.id for row in view.table.rows] == [f"off-time-{share}" for share in (0, 1, 5, 10, 25)]
    assert "not measured" in view.table.caption


def test_it_says_that_it_starts_from_a_lower_limit() -> None:
    hood = page(a_test([a_session(readings(30, 40, 50), blower="high")]), kind=HOOD).meaning.off_time
    assert hood is not None
    assert "It takes its lower limit as the protection whenever" in hood.sentences[0]
    assert "(95 % interval " in hood.facts[0].text
    assert hood.facts[0].note == "lowest overall fit factor as supplied, blower at high, record test"


def test_a_device_that_nobody_wore_has_no_such_table() -> None:
    assert page(an_attempt()).meaning.off_time is None
    assert page(an_attempt()).meaning.same_day is None


def both_worn(**changes: Any) -> Site:
    own = a_test([given(100.0), given(120.0, id="pm", donning=2)], **changes)
    mask = a_test([given(3.0)], id="mask-day", device="mask")
    return site(own, mask, more={"mask": a_device("surgical_mask", id="mask", name="Grey Mask")})


def test_what_the_same_wearer_wore_on_the_same_day() -> None:
    found = both_worn()
    view = found.devices[0].meaning.same_day
    assert view is not None
    assert view.sentences == (
        "One wearer of this device also wore another one on the same day: the same face, tester, exercises and "
        "particle counter. The factors of the other device are that wearer’s own measure for those of this one. They "
        "are of single days, and no difference is made of them here.",
    )
    assert texts(view.table) == [
        ["A, 1 June 2025", "this device", "100", "not stated"],
        ["A, 1 June 2025", "this device", "120", "not stated"],
        ["A, 1 June 2025", "Grey Mask", "3.0", "not stated"],
    ]
    assert [row.cells[1].note for row in view.table.rows] == ["donning 1", "donning 2", "donning 1"]
    assert [row.cells[1].href for row in view.table.rows] == [None, None, "devices/mask.html"]
    assert [row.cells[0].href for row in view.table.rows] == [
        "records/test.html#fit.am",
        "records/test.html#fit.pm",
        "records/mask-day.html#fit.am",
    ]
    assert [row.id for row in view.table.rows] == ["same-day-test-am", "same-day-test-pm", "same-day-mask-day-am"]
    assert view.table.rows[0].cells[2].id == "same-day-test-fit.am.overall-value"


def test_a_modified_device_is_called_so() -> None:
    view = both_worn(configuration=MODIFIED).devices[0].meaning.same_day
    assert view is not None
    assert [row.cells[1].note for row in view.table.rows] == ["donning 1, modified", "donning 2, modified", "donning 1"]


def test_the_page_of_a_record_has_its_own_sessions_only() -> None:
    own = a_test([given(100.0)])
    again = a_test([given(120.0)], id="again")
    mask = a_test([given(3.0)], id="mask-day", device="mask")
    found = site(own, again, mask, more={"mask": a_device("surgical_mask", id="mask", name="Grey Mask")})
    views = {record.id: record.same_day for record in found.records}
    assert views["test"] is not None
    assert [row.id for row in views["test"].table.rows] == ["same-day-test-am", "same-day-mask-day-am"]
    assert views["again"] is not None
    assert [row.id for row in views["again"].table.rows] == ["same-day-again-am", "same-day-mask-day-am"]
    alone = site(own).records[0].same_day
    assert alone is None
