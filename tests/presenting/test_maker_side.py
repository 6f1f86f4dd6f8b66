"""What a page says of claims, approvals, letters and interests: situation to exact sentence."""

from __future__ import annotations

import pytest

from generator.presenting.page_views import DevicePage
from generator.presenting.views import Row, Table
from tests.presenting.small_sites import device_page
from tests.scoring.builders import Data, a_device, a_run, a_test

FLOW = (184.0, 186.0, 185.0, 185.0, 184.0, 186.0, 185.0, 185.0)


def page_of(claims: list[Data] | None = None, approvals: list[Data] | None = None, **changes: object) -> DevicePage:
    device = a_device("loose_powered_hood", claims=claims or [], approvals_stated=approvals or [], **changes)
    return device_page(a_test([], [a_run(FLOW)]), device=device)


def claim(flow: str | None = None) -> Data:
    said: Data = {"quotation": "Plenty of air", "where": "leaflet, page 2", "date": "2025-02-03"}
    return said | ({"means": {"supply_flow_at_least": flow}} if flow else {})


def only_row(table: Table | None) -> Row:
    assert table is not None
    (row,) = table.rows
    return row


@pytest.mark.parametrize(
    ("flow", "claimed", "measured", "outcome", "reason"),
    [
        (
            "170 L/min",
            "air flow of at least 170\u202fL/min",
            "185\u202fL/min",
            "supported by these tests",
            "The 95 % intervals of all figures lie at or above what is claimed.",
        ),
        (
            "185 L/min",
            "air flow of at least 185\u202fL/min",
            "185\u202fL/min",
            "undecided by these tests",
            "What is claimed lies within the 95 % interval of a figure.",
        ),
        (
            "12 cfm",
            "air flow of at least 339.802\u202fL/min",
            "185\u202fL/min",
            "contradicted by these tests",
            "The whole 95 % interval of this figure lies below what is claimed.",
        ),
        (
            None,
            "nothing that is measured here",
            "nothing",
            "not tested",
            "Nothing that is measured here could show whether this is so.",
        ),
    ],
)
def test_a_claim_and_what_was_measured(
    flow: str | None, claimed: str, measured: str, outcome: str, reason: str
) -> None:
    row = only_row(page_of([claim(flow)]).maker_side.claims)
    words, said, figure, verdict = row.cells
    assert (words.text, words.note) == ("“Plenty of air”", "leaflet, page 2, read on 3 February 2025")
    assert (row.id, said.id, figure.id, verdict.id) == (
        "claim-1",
        *(f"claim-1-{part}" for part in ("claimed", "measured", "outcome")),
    )
    assert (said.text, figure.text, verdict.text, verdict.note) == (claimed, measured, outcome, reason)


def test_the_figure_that_decides_is_linked() -> None:
    row = only_row(page_of([claim("170 L/min")]).maker_side.claims)
    assert row.cells[2].href == "records/test.html#working.flow.high.mean"
    assert row.cells[2].note == "181 to 189\u202fL/min; the only figure; high, battery fresh, new filter"


@pytest.mark.parametrize(
    ("claims", "sentence"),
    [
        ([claim("170 L/min")], None),
        ([claim("240 L/min")], "One claim of its maker is contradicted by these tests"),
        (
            [claim("240 L/min"), claim(), claim("300 L/min")],
            "Two claims of its maker are contradicted by these tests",
        ),
    ],
)
def test_a_contradicted_claim_is_told_in_the_answer(claims: list[Data], sentence: str | None) -> None:
    told = [text.partition(";")[0] for text in page_of(claims).answer if "its maker" in text]
    assert told == ([sentence] if sentence else [])


APPROVAL: Data = {"scheme": "Scheme 7", "number": "7-1", "date_checked": "2025-02-04", "covers": "the hood as sold"}


def test_an_approval_is_repeated_and_held_against_what_was_tested() -> None:
    side = page_of(approvals=[APPROVAL]).maker_side
    assert [cell.text for cell in only_row(side.approvals).cells] == [
        "Scheme 7",
        "7-1",
        "4 February 2025",
        "the hood as sold",
    ]
    assert side.approvals is not None
    assert side.approvals.caption == "Approvals that the maker states; none is confirmed here"
    record, covered = only_row(side.coverage).cells
    assert (record.text, record.href) == ("test", "records/test.html")
    assert (covered.id, covered.text, covered.note) == (
        "approval-1-test",
        "not recorded",
        "The parts that the approval covers are not on record.",
    )


def test_two_approvals_are_told_apart() -> None:
    coverage = page_of(approvals=[APPROVAL, APPROVAL]).maker_side.coverage
    assert coverage is not None
    assert [row.cells[1].text for row in coverage.rows] == ["approval 1", "approval 2"]


NOTICE: Data = {"sent": "2025-07-02", "records": ["test"], "reply_by": "2025-07-30"}


@pytest.mark.parametrize(
    ("more", "received", "reply", "changed"),
    [
        ({}, "No reply is on record.", None, "Nothing was changed."),
        (
            {"reply": {"received": "2025-07-09", "text": "We measure *at the blower*."}, "changed": "a note was added"},
            "The maker’s reply of 9 July 2025, in full:",
            "We measure *at the blower*.",
            "What changed because of it: a note was added",
        ),
    ],
)
def test_a_letter_and_what_came_back(more: Data, received: str, reply: str | None, changed: str) -> None:
    (letter,) = page_of(correspondence=[NOTICE | more]).maker_side.letters
    assert (letter.id, letter.heading) == ("letter-1", "Letter to the maker of 2 July 2025")
    assert letter.reply_by == "A reply was asked for by 30 July 2025."
    assert [link.href for link in letter.records] == ["records/test.html"]
    assert (letter.received, letter.reply, letter.changed) == (received, reply, changed)


def test_interests_of_the_publisher_and_of_who_tested_stand_there() -> None:
    assert [(fact.term, fact.text) for fact in page_of().maker_side.interests] == [
        ("Nobody", "none"),
        ("Tester", "none"),
    ]
