"""Rows that are no reading are told with their line and column; what is left out is told by number."""

from __future__ import annotations

import random
import time
from dataclasses import replace
from pathlib import Path

import pytest

from generator.contributing.taking_in.readings import MOST_BELOW, Readings, stretches
from generator.contributing.taking_in.told import Told, Unclear
from generator.errors import WrongUsage
from tests.contributing.taking_in.written_logs import HEADINGS, every_second, good, read

ROWS = [f"{second},{100 + second}" for second in range(8)]


def with_row(place: int, row: str) -> str:
    return "\n".join([HEADINGS, *ROWS[:place], row, *ROWS[place + 1 :]]) + "\n"


NUMBER = "a number, 0 or more, with a decimal point and no sign between thousands"
TIME = "a time, a number of seconds"
ROW = "2 values, as in the other lines"
MEND = "Take the log anew, or leave the line out with `--lines`"


# Row 4 stands in line 5 of the file.
@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("3,failed", f"log.csv:5:3: line 5 [log-number]: found `failed`, expected {NUMBER}. {MEND}."),
        ("3,-12", f"log.csv:5:3: line 5 [log-number]: found `-12`, expected {NUMBER}. {MEND}."),
        ("three,103", f"log.csv:5:1: line 5 [log-number]: found `three`, expected {TIME}. {MEND}."),
        (",103", f"log.csv:5:1: line 5 [log-number]: found nothing, expected {TIME}. {MEND}."),
        ("3,103,7", f"log.csv:5:1: line 5 [log-row]: found 3 values, expected {ROW}. {MEND}."),
        (
            '3,"103',
            "log.csv:5:1: line 5 [log-row]: found a quote that is not closed, or a very long line, "
            f"expected {ROW}. {MEND}.",
        ),
        (
            "1.5,103",
            "log.csv:5:1: line 5 [log-time-order]: found `1.5`, expected a time after `2` of the line before. Was the "
            "clock set back? Take the part before or after it with `--lines`.",
        ),
    ],
)
def test_junk_in_the_middle_is_a_problem_with_its_place(row: str, said: str) -> None:
    problems = read(with_row(3, row))
    assert not isinstance(problems, Readings)
    assert [str(problem) for problem in problems] == [said]


def test_a_thousands_separator_is_no_number() -> None:
    problems = read('time (s),inside (/cm3)\n0,"1,234"\n1,"1,235"\n', Told(decimal="point"))
    assert not isinstance(problems, Readings)
    assert [(problem.line, problem.column, problem.found) for problem in problems] == [
        (2, 4, "`1,234`"),
        (3, 4, "`1,235`"),
    ]


ANEW = "Where commas stand between values and before decimals, write the log anew with semicolons between values"


def test_commas_before_decimals_and_between_values_are_never_read_as_columns() -> None:
    told = Told(headings=0, time="1", time_format="seconds", concentration="2", unit="/cm3")
    problems = read("0,2844,9\n1,2840,1\n2,2833,5\n", told)
    assert not isinstance(problems, Readings)
    assert [str(problem) for problem in problems] == [
        "log.csv:1:1: line 1 [log-number]: found `2844,9`, where a comma may stand before decimals, expected one sign "
        f"between values and another before decimals. {ANEW}; where these are two whole numbers, give "
        "`--decimal point`."
    ]
    assert good("0,2844,9\n1,2840,1\n2,2833,5\n", replace(told, decimal="point")).concentration[0] == 2844
    # Digits behind a point, or a name of the column's own, tell that the next column is another one.
    assert good("0,28.4,9\n1,28.1,1\n2,28.3,5\n", told).concentration[0] == 28.4


def test_no_row_that_is_as_wide_as_the_headings_is_a_problem() -> None:
    told = Told(delimiter="semicolon", headings=1, time="1", time_format="seconds", concentration="2", unit="/cm3")
    problems = read("time;inside\n0;28;x\n1;29;x\n", told)
    assert not isinstance(problems, Readings)
    assert [str(problem) for problem in problems] == [
        "log.csv:2:1: line 2 [log-row]: found 3 values, expected 2 values in a row, as there are headings. Name the "
        f"line of the headings, or the sign between values. {ANEW}."
    ]


def test_only_the_first_problems_are_told() -> None:
    problems = read("\n".join([HEADINGS, *(f"{at},{at}" for at in range(500)), *["x,1"] * 40, "600,1", "601,1"]))
    assert not isinstance(problems, Readings)
    assert [problem.line for problem in problems] == [*range(502, 523)]
    assert problems[-1].slug == "log-more-problems"


def test_the_faulty_line_can_be_left_out() -> None:
    readings = good(with_row(3, "3,failed"), Told(lines=(6, 8)))
    assert list(readings.line_numbers) == [6, 7, 8]
    assert readings.skipped == ()


def test_words_below_are_left_out_only_as_far_as_they_can_be_words() -> None:
    text = every_second([*range(99)]).strip()
    assert good(text + "\nend" * MOST_BELOW).skipped == tuple(range(101, 101 + MOST_BELOW))
    assert not isinstance(read(text + "\nend" * (MOST_BELOW + 1)), Readings)


def test_a_clock_of_twelve_hours_without_its_half_is_no_midnight() -> None:
    problems = read("time;inside (/cm3)\n12:59:58;10\n12:59:59;11\n1:00:00;12\n")
    assert not isinstance(problems, Readings)
    assert [(problem.line, problem.slug) for problem in problems] == [(4, "log-time-order")]


def test_several_midnights() -> None:
    readings = good("time;inside (/cm3)\n20:00:00;1\n04:00:00;2\n20:00:00;3\n04:00:00;4\n")
    # source: by hand, eight and sixteen hours in turn
    assert readings.time_s.tolist() == [0, 28_800, 86_400, 115_200]


def test_doubled_stamps_are_spread_up_to_the_next_one_and_not_across_a_gap() -> None:
    text = "time (s),inside (/cm3)\n0,1\n0,2\n0,3\n1,4\n2,5\n2,6\n60,7\n61,8\n61,9\n"
    readings = good(text, Told(doubled="spread"))
    # By hand: three in the first second; a half of the usual step before the gap and at the end.
    assert readings.time_s.tolist() == [0, 0.333, 0.667, 1, 2, 2.5, 60, 61, 61.5]
    assert readings.doubled == 4
    assert readings.concentration.tolist() == [1, 2, 3, 4, 5, 6, 7, 8, 9]


def test_seconds_of_a_calendar_keep_their_digits() -> None:
    readings = good("time (s),inside (/cm3)\n1741975200.100,1\n1741975200.200,2\n1741975225.100,3\n")
    # source: by hand; as floats the second would lie 0.09999990 s after the first
    assert readings.time_s.tolist() == [0, 0.1, 25]
    assert [readings.written_time(place, 0) for place in range(3)] == ["0.000", "0.100", "25.000"]


def test_a_log_of_one_reading() -> None:
    assert good("time (s),inside (/cm3)\n0,5\n").time_s.tolist() == [0]


def test_stretches_of_lines() -> None:
    assert stretches([1, 2, 3, 7, 9, 10]) == [(1, 3), (7, 7), (9, 10)]


def test_work_grows_no_faster_than_the_log() -> None:
    def seconds(rows: int) -> float:
        text = every_second([at % 977 for at in range(rows)])
        begun = time.process_time()
        good(text)
        return time.process_time() - begun

    short = min(seconds(5_000) for _ in range(3))
    assert min(seconds(20_000) for _ in range(2)) < 4 * 2 * short


def test_damaged_logs_are_told_and_never_crash() -> None:
    folder = Path(__file__).parent.parent / "logs_as_written"
    logs = [path.read_bytes() for path in sorted(folder.iterdir()) if path.suffix != ".yaml"]
    chance = random.Random(7)
    outcomes = set()
    for _ in range(300):
        content = bytearray(chance.choice(logs))
        for _ in range(chance.randint(1, 6)):
            place = chance.randrange(len(content))
            content[place : place + chance.randint(0, 3)] = bytes(
                chance.choice(b'0159,;.\t\n\r"-:/ eTx\x00\xff\xc3|') for _ in range(chance.randint(0, 4))
            )
        try:
            outcomes.add(type(read(bytes(content))).__name__)
        except (Unclear, WrongUsage) as error:
            outcomes.add(type(error).__name__)
    assert outcomes == {"Readings", "tuple", "Unclear"}
