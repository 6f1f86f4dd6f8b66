"""The plot for a terminal: what was drawn where, in 80 columns, with blocks or with plain signs."""

from __future__ import annotations

import pytest

from generator.contributing.taking_in.plot import BLOCKS, COLUMNS, PLAIN, WIDTH, Glyphs, minutes_text, plot
from generator.contributing.taking_in.taking import Wishes, cut_log
from generator.model.log import Sampling
from generator.model.reference import AmbientRule
from tests.contributing.taking_in.written_logs import a_protocol, every_second, good

PROTOCOL = a_protocol(AmbientRule.AROUND_EACH_EXERCISE)
VALUES = [1000.0] * 20 + [10.0] * 20 + [0.0] * 5 + [100.0] * 15 + [1000.0] * 11
WISHES = Wishes(exercises=("standing=20-40", "talking=45-60"), ambient=("0-20", "60-71"))


def drawn(glyphs: Glyphs) -> list[str]:
    readings = good(every_second(VALUES))
    lines = plot(readings, cut_log(readings, PROTOCOL, WISHES).cut, glyphs)
    return ["".join(segment.text for segment in line) for line in lines]


def test_each_reading_stands_at_its_place() -> None:
    # By hand: 71 columns for 71 readings; three powers of ten from 10 to 1000, a line for the zeros below.
    lines = drawn(BLOCKS)
    blank = "       \N{BOX DRAWINGS LIGHT VERTICAL}"
    assert lines[0] == "particles /cm3"
    assert (
        lines[1].rstrip()
        == f"   1000{blank[-1]}" + "\N{UPPER HALF BLOCK}" * 20 + " " * 40 + "\N{UPPER HALF BLOCK}" * 11
    )
    assert lines[14].rstrip() == f"     10{blank[-1]}" + " " * 20 + "\N{LOWER HALF BLOCK}" * 20
    assert lines[15].rstrip() == f"      0{blank[-1]}" + " " * 40 + "\N{UPPER HALF BLOCK}" * 5
    assert lines[17] == " " * 8 + "a" * 20 + "1" * 20 + " " * 5 + "2" * 15 + "a" * 11
    assert lines[18].startswith("        0:00        0:12")
    hundred = next(line for line in lines if line.startswith("    100"))
    assert hundred[8 + 45 : 8 + 60] in ("\N{UPPER HALF BLOCK}" * 15, "\N{LOWER HALF BLOCK}" * 15)


def test_without_blocks_it_is_plain_ascii_and_says_the_same() -> None:
    plain = drawn(PLAIN)
    exchanged = str.maketrans({"▄": ".", "▀": "'", "█": ":", "│": "|", "└": "+", "─": "-"})
    assert plain == [line.translate(exchanged) for line in drawn(BLOCKS)]
    assert all(line.isascii() for line in plain)


@pytest.mark.parametrize("glyphs", [BLOCKS, PLAIN])
def test_nothing_is_wider_than_a_terminal(glyphs: Glyphs) -> None:
    assert max(len(line) for line in drawn(glyphs)) < WIDTH
    assert COLUMNS == 71


def test_kinds_of_air_are_told_to_whoever_colours_them() -> None:
    readings = good(every_second(VALUES))
    beneath = plot(readings, cut_log(readings, PROTOCOL, WISHES).cut, BLOCKS)[17]
    assert [(segment.text.strip(), segment.kind) for segment in beneath] == [
        ("", ""),
        ("a" * 20, Sampling.AMBIENT),
        ("1" * 20, Sampling.IN_MASK),
        ("", ""),
        ("2" * 15, Sampling.IN_MASK),
        ("a" * 11, Sampling.AMBIENT),
    ]


def test_a_single_reading_of_zero_can_be_drawn() -> None:
    readings = good("time (s),inside (/cm3)\n0,0\n1,0\n")
    cut = cut_log(readings, PROTOCOL, Wishes(exercises=("talking=0-1",))).cut
    assert "".join(segment.text for segment in plot(readings, cut, PLAIN)[15]).startswith("      0|'")


def test_minutes_and_hours() -> None:
    assert [minutes_text(each) for each in (0, 59.6, 310, 3910)] == ["0:00", "1:00", "5:10", "1:05:10"]
