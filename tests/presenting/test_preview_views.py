"""What a preview says: case and text."""

import pytest

from generator.errors import Problem
from generator.presenting.preview_views import (
    OffendingLine,
    failure_notice,
    missing_notice,
    page_failure_notice,
    problems_notice,
)

GUIDE = (
    "It is shown anew as soon as the records are mended. "
    "The record guide explains each problem by the name in brackets."
)


def a_problem(line: int = 2, column: int = 7, file: str = "records/a.yaml") -> Problem:
    return Problem(file, line, column, "name", "not-text", "`3`", "text", "Put it in quotes")


def line_of(text: str, column: int = 7) -> OffendingLine | None:
    notice = problems_notice([a_problem(column=column)], {"records/a.yaml": ["id: a", text]}, stands=True)
    return notice.problems[0].line


def test_problems_are_worded_as_by_check() -> None:
    notice = problems_notice([a_problem(), a_problem(3)], {}, stands=True)
    assert notice.heading == "Two problems in the records"
    assert notice.sentences == (f"This page shows the catalogue as it was before. {GUIDE}",)
    assert [each.text for each in notice.problems] == [str(a_problem()), str(a_problem(3))]


def test_without_an_earlier_state_it_says_so() -> None:
    notice = problems_notice([a_problem()], {}, stands=False)
    assert notice.heading == "One problem in the records"
    assert notice.sentences == (f"There is no catalogue to show yet. {GUIDE}",)


@pytest.mark.parametrize(
    ("text", "column", "before", "rest"),
    [
        ("name: 3", 7, "name: ", "3"),
        ("name: 3", 1, "", "name: 3"),
        ("\tname:\x1b 3", 9, " name:  ", "3"),
        # a place past the line's end, as where something is missing
        ("name:", 6, "name:", ""),
        ("a" * 200, 101, "… " + "a" * 60, "a" * 100),
        ("a" * 201, 1, "", "a" * 160 + " …"),
    ],
)
def test_the_line_is_shown_as_far_as_it_helps(text: str, column: int, before: str, rest: str) -> None:
    assert line_of(text, column) == OffendingLine("2", before, rest)


def test_a_line_that_is_not_there_is_not_shown() -> None:
    assert line_of("   ", 1) is None
    notice = problems_notice(
        [a_problem(9), a_problem(file="records/b.yaml")], {"records/a.yaml": ["id: a"]}, stands=True
    )
    assert [each.line for each in notice.problems] == [None, None]


def test_failures_are_told_with_their_slug() -> None:
    assert failure_notice("wrong-usage", "no folder", stands=True).sentences == (
        "[wrong-usage] no folder",
        "This page shows the catalogue as it was before.",
    )
    assert failure_notice("wrong-usage", "no folder", stands=False).sentences[1] == "There is no catalogue to show yet."
    assert page_failure_notice("generator-failed", "it broke").sentences == ("[generator-failed] it broke",)
    assert missing_notice("devices/a.html").sentences[0].startswith("The catalogue has nothing at “devices/a.html”.")
