"""What `inward check` prints on a terminal: grouped, wrapped, and coloured where colours are wanted."""

from __future__ import annotations

from pathlib import Path

import pytest
from click import unstyle

from generator.command_line.check_text import summary, terminal_lines
from generator.contributing.checking.checked import Checked
from generator.contributing.checking.remarks import Level, Remark

FILE = "records/device_tests/a.yaml"
CONTENT = b"id: a\nmass: 3\n"


def remark(level: Level, line: int, column: int, end: tuple[int, int] | None = None, file: str = FILE) -> Remark:
    return Remark(file, line, column, "mass", "a-rule", "3", "a mass", "Add its unit", end, level)


def checked(*remarks: Remark, elsewhere: int = 0, looked_for: bool = True, scored: bool = True) -> Checked:
    return Checked(remarks, 2, elsewhere, looked_for, scored, {FILE: CONTENT}, Path("/"))


PROBLEM = remark(Level.PROBLEM, 2, 7, (2, 8))
FINDING = remark(Level.FINDING, 1, 1, (1, 3))


@pytest.fixture(autouse=True)
def a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)


def test_each_file_has_a_heading_and_each_remark_its_place() -> None:
    other = remark(Level.PROBLEM, 1, 1, file="records/b.yaml")
    assert [unstyle(line) for line in terminal_lines(checked(FINDING, PROBLEM, other))] == [
        "records/device_tests/a.yaml",
        "",
        "  1:1  finding: mass [a-rule]",
        "    found 3, expected a mass. Add its unit.",
        "    1 | id: a",
        "      | ^~",
        "",
        "  2:7  mass [a-rule]",
        "    found 3, expected a mass. Add its unit.",
        "    2 | mass: 3",
        "      |       ^",
        "",
        "records/b.yaml",
        "",
        "  1:1  mass [a-rule]",
        "    found 3, expected a mass. Add its unit.",
        "",
    ]


def test_problems_are_red_and_findings_yellow_and_both_said_in_words() -> None:
    lines = list(terminal_lines(checked(FINDING, PROBLEM)))
    # source: ECMA-48, select graphic rendition: 1 bold, 31 red, 33 yellow, 0 back to none
    assert lines[0] == "\x1b[1mrecords/device_tests/a.yaml\x1b[0m"
    assert lines[2] == "  \x1b[1m1:1\x1b[0m  \x1b[33mfinding: mass [a-rule]\x1b[0m"
    assert lines[5] == "      | \x1b[33m^~\x1b[0m"
    assert lines[7] == "  \x1b[1m2:7\x1b[0m  \x1b[31mmass [a-rule]\x1b[0m"


@pytest.mark.parametrize(("name", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_there_is_no_colour_where_none_is_wanted(name: str, value: str, monkeypatch: pytest.MonkeyPatch) -> None:
    coloured = [unstyle(line) for line in terminal_lines(checked(FINDING, PROBLEM))]
    monkeypatch.setenv(name, value)
    assert list(terminal_lines(checked(FINDING, PROBLEM))) == coloured


@pytest.mark.parametrize("columns", [30, 50, 80, 200])
def test_no_line_is_wider_than_the_terminal_and_none_wider_than_eighty(
    columns: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    monkeypatch.setenv("NO_COLOR", "1")
    told = Remark(FILE, 1, 1, "m", "s", "word " * 40, "word " * 40, "word " * 40)
    widest = max(len(line) for line in terminal_lines(checked(told)))
    # A terminal narrower than 40 columns wraps by itself.
    assert max(40, min(columns, 80)) - 5 <= widest <= max(40, min(columns, 80))


def test_terminal_codes_in_a_file_or_its_name_are_not_obeyed() -> None:
    file = "records/\x1b[2Ja.yaml"
    told = Remark(file, 1, 1, "a\x1b[2Jb", "s", "\x1b[2J", "x\x9b1m", "y")
    content = Checked((told,), 1, 0, True, True, {file: b"id: \x1b[2J\xc2\x9b1m\xe2\x80\xae\n"}, Path("/"))
    lines = [unstyle(line) for line in terminal_lines(content)]
    assert all(line.isprintable() for line in lines), lines
    assert "    1 | id: <U+001B>[2J<U+009B>1m<U+202E>" in lines


@pytest.mark.parametrize(
    ("given", "told", "about_findings"),
    [
        (checked(), "No problems and no findings in 2 files.", ""),
        (
            checked(looked_for=False, scored=False),
            "No problems in 2 files.",
            "Findings were not looked for; name files, or add `--findings`.",
        ),
        (
            checked(elsewhere=1, scored=False),
            "No problems and no findings in 2 files (1 problem elsewhere in the records).",
            "Scoring looks for more findings once no record has a problem.",
        ),
        (checked(PROBLEM), "1 problem in 1 of 2 files.", ""),
        (checked(FINDING, FINDING), "2 findings in 1 of 2 files.", ""),
        (checked(PROBLEM, FINDING), "1 problem and 1 finding in 1 of 2 files.", ""),
    ],
)
def test_the_end_counts_and_says_what_was_not_looked_for(given: Checked, told: str, about_findings: str) -> None:
    assert summary(given) == (told, about_findings)
