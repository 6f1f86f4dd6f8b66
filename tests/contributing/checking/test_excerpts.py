"""The line that a remark is about, and the marks below it, as a terminal shows them."""

from __future__ import annotations

import pytest

from generator.contributing.checking.excerpts import Lines, excerpt
from generator.contributing.checking.remarks import Remark

WIDTH = 40


@pytest.mark.parametrize(
    ("text", "column", "end", "shown", "marks"),
    [
        # Marks counted by hand below the line.
        ("mass: 3", 7, (1, 8), "mass: 3", "      ^"),
        ("mass: 30 g", 7, (1, 11), "mass: 30 g", "      ^~~~"),
        ("mass: 30 g", 7, None, "mass: 30 g", "      ^"),
        # What goes on in a later line is underlined to the end of this one, blanks left out.
        ("text: [a, b,  ", 7, (3, 2), "text: [a, b,  ", "      ^~~~~~"),
        # Behind the last character, and in an empty line.
        ("mass:", 6, None, "mass:", "     ^"),
        ("", 1, None, "", "^"),
        # source: Unicode Standard Annex 11: ideographs are wide, two cells; combining marks take none.
        ("名: 測量 x", 4, (1, 6), "名: 測量 x", "    ^~~~"),
        ("e\u0301: x", 5, (1, 6), "e\u0301: x", "   ^"),
        # A tab is shown as four spaces, what a terminal would obey or hide as its number.
        ("\tmass: 3", 1, (1, 2), "    mass: 3", "^~~~"),
        ("\tmass: 3", 8, (1, 9), "    mass: 3", "          ^"),
        ("a: \x1b[2Jb", 4, (1, 5), "a: <U+001B>[2Jb", "   ^~~~~~~~"),
        ("a\u200b: b", 5, (1, 6), "a<U+200B>: b", "           ^"),
    ],
)
def test_a_line_and_its_marks(text: str, column: int, end: tuple[int, int] | None, shown: str, marks: str) -> None:
    found = excerpt(text, 1, column, end, WIDTH)
    assert (found.text, found.marks) == (shown, marks)


@pytest.mark.parametrize(
    ("column", "end", "shown", "meant"),
    [
        (1, (1, 11), "0123456789" * 3 + "0123...", "0123456789"),
        (91, (1, 101), "..." + "6789" + "0123456789" * 3, "0123456789"),
        (46, (1, 51), None, "56789"),
        # Longer than there is room for: cut behind.
        (11, (1, 91), None, None),
    ],
)
def test_a_long_line_is_cut_round_the_place(
    column: int, end: tuple[int, int], shown: str | None, meant: str | None
) -> None:
    text = "0123456789" * 10
    found = excerpt(text, 1, column, end, WIDTH)
    assert len(found.text) <= WIDTH
    assert found.start + found.length <= WIDTH
    if shown is not None:
        assert found.text == shown
    if meant is not None:
        assert found.text[found.start : found.start + found.length] == meant
    else:
        assert found.length >= WIDTH // 2


def test_a_line_of_eight_million_characters_is_shown_at_once() -> None:
    found = excerpt("x " * 4_000_000, 1, 4_000_001, (1, 4_000_002), WIDTH)
    assert found.text[found.start] == "x"
    assert len(found.text) <= WIDTH


def told(line: int, column: int, path: str = "mass", file: str = "a.yaml") -> Remark:
    return Remark(file, line, column, path, "s", "f", "e", "r")


def test_lines_are_counted_as_problems_count_them() -> None:
    # A byte order mark is no character of the first line; all three ends of lines end one; bytes that are no text stay.
    lines = Lines({"a.yaml": b"\xef\xbb\xbfone\r\ntwo\rthree\nfo\xffur"})
    assert [lines.line(told(number, 1)) for number in (1, 2, 3, 4, 5)] == ["one", "two", "three", "fo\ufffdur", None]


def test_what_is_about_no_place_in_a_text_has_no_line() -> None:
    lines = Lines({"a.yaml": b"id: a\n"})
    assert lines.line(told(1, 1, "(file)")) is None
    assert lines.line(told(1, 1, file="b.jpg")) is None
    assert lines.line(told(1, 1, "(record)")) == "id: a"
