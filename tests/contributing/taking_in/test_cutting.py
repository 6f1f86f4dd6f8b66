"""A log is cut by its marks, by given times or by the protocol's timetable, and what is written is what was kept."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.contributing.taking_in.checked_log import log_problems
from generator.contributing.taking_in.cut_table import cut_table, doubts
from generator.contributing.taking_in.taking import TakenIn, Wishes, cut_log
from generator.contributing.taking_in.timetables import given_time
from generator.contributing.taking_in.told import Told, Unclear
from generator.contributing.taking_in.written_log import write_log
from generator.errors import WrongUsage
from generator.model.reference import AmbientRule
from tests.contributing.taking_in.written_logs import a_protocol, every_second, good

AROUND = a_protocol(AmbientRule.AROUND_EACH_EXERCISE)
MINUTE = every_second([*range(100, 160)])
MARKED = "time (s),inside (/cm3),exercise,sampling\n"


def spans(taken: TakenIn) -> list[tuple[str, int, int]]:
    return [(stretch.mark.name, stretch.first, stretch.end) for stretch in taken.cut.stretches]


# By hand: ambient samples of 5 s, exercises of 10, 5 and 10 s, 2 s between them that belong to neither.
TIMETABLES: dict[AmbientRule, tuple[dict[str, Any], list[tuple[str, int, int]]]] = {
    AmbientRule.AROUND_EACH_EXERCISE: (
        {"ambient_time": "5", "settle": "2 s"},
        [
            ("ambient", 1, 6),
            ("standing", 8, 18),
            ("ambient", 20, 25),
            ("talking", 27, 32),
            ("ambient", 34, 39),
            ("standing-again", 41, 51),
            ("ambient", 53, 58),
        ],
    ),
    AmbientRule.FIRST_AND_LAST: (
        {"ambient_time": "5", "in_mask_time": "8", "settle": "2"},
        [("ambient", 1, 6), ("standing", 8, 16), ("talking", 16, 21), ("standing-again", 21, 29), ("ambient", 31, 36)],
    ),
    AmbientRule.DURING_EACH_EXERCISE: ({}, [("standing", 1, 11), ("talking", 11, 16), ("standing-again", 16, 26)]),
}


@pytest.mark.parametrize("rule", TIMETABLES)
def test_the_protocols_timetable_from_its_start(rule: AmbientRule) -> None:
    given, expected = TIMETABLES[rule]
    assert spans(cut_log(good(MINUTE), a_protocol(rule), Wishes(start="0:01", **given))) == expected


@pytest.mark.parametrize(
    ("rule", "wishes", "option"),
    [
        (AmbientRule.AROUND_EACH_EXERCISE, Wishes(), "--start"),
        (AmbientRule.AROUND_EACH_EXERCISE, Wishes(start="0"), "--ambient-time"),
        (AmbientRule.AROUND_EACH_EXERCISE, Wishes(start="0", ambient_time="5"), "--settle"),
        (AmbientRule.FIRST_AND_LAST, Wishes(start="0", ambient_time="5"), "--in-mask-time"),
        (AmbientRule.DURING_EACH_EXERCISE, Wishes(), "--start"),
    ],
)
def test_a_time_that_is_missing_is_asked(rule: AmbientRule, wishes: Wishes, option: str) -> None:
    with pytest.raises(Unclear, match=f"^{option}:"):
        cut_log(good(MINUTE), a_protocol(rule), wishes)


def test_sampling_times_of_the_session_are_used_where_none_are_given() -> None:
    session = {"ambient_time": "5 s", "in_mask_time": "8 s"}
    around = Wishes(start="0").with_session(session, AROUND)
    first_and_last = Wishes(start="0", ambient_time="6").with_session(session, a_protocol(AmbientRule.FIRST_AND_LAST))
    assert (around.ambient_time, around.in_mask_time) == ("5 s", None)
    assert (first_and_last.ambient_time, first_and_last.in_mask_time) == ("6", "8 s")


CLOCK = "time;inside (/cm3)\n" + "".join(f"23:59:{50 + at};{at}\n" for at in range(10)) + "00:00:00;10\n00:00:01;11\n"


@pytest.mark.parametrize(
    ("text", "time", "seconds"),
    [
        (MINUTE, "0:07", 7),
        (MINUTE, "7", 7),
        (MINUTE, "7.5 s", 7.5),
        (MINUTE, "0.5 min", 30),
        (MINUTE, "1:00:07", 3607),
        (CLOCK, "23:59:57", 7),
        (CLOCK, "00:00:01", 11),
        (CLOCK, "0:07", 7),
        ("time;inside (/cm3)\n2025-03-14T18:00:05+01:00;1\n2025-03-14T18:00:06+01:00;2\n", "18:00:06", 1),
        ("time;inside (/cm3)\n14.03.2025 6:00:05 PM;1\n14.03.2025 6:00:06 PM;2\n", "18:00:06", 1),
    ],
)
def test_times_are_given_from_the_first_reading_or_on_the_logs_clock(text: str, time: str, seconds: float) -> None:
    assert given_time(time, good(text)) == seconds


@pytest.mark.parametrize(
    ("wishes", "said"),
    [
        (Wishes(start="0", exercises=("talking=0-5",)), "found `--start` beside times of exercises"),
        (Wishes(exercises=("talkng=0-5",)), r"found `--exercise-at talkng=0-5`, .*Did you mean `talking`\?"),
        (Wishes(exercises=("talking=5-5",)), "found `5-5`, expected an end after the start"),
        (Wishes(exercises=("talking=5",)), "found `5`, expected a start and an end such as"),
        (Wishes(exercises=("talking=soon-later",)), "found the time `soon`, expected seconds such as"),
        (
            Wishes(exercises=("talking=0-9", "standing=8-12")),
            "found `standing` from 8 s while `talking` lasts until 9 s",
        ),
        (Wishes(exercises=("talking=50-70",)), "found no readings for all of `talking`, from 50 s to 70 s"),
        (Wishes(exercises=("talking=5-9",), first="6", last="6"), "found no reading between `--from` and `--to`"),
        (Wishes(start="0", ambient_time="a while"), "found `--ambient-time a while`, expected a time such as `20 s`"),
    ],
)
def test_times_that_cannot_be_are_refused(wishes: Wishes, said: str) -> None:
    with pytest.raises(WrongUsage, match=said):
        cut_log(good(MINUTE), AROUND, wishes)


def test_a_protocol_that_counts_no_particles_has_no_log() -> None:
    with pytest.raises(WrongUsage, match="found protocol `three`, which counts no particles"):
        cut_log(good(MINUTE), a_protocol(AmbientRule.NONE), Wishes(start="0"))


def marked(*rows: tuple[str, str]) -> TakenIn:
    lines = (f"{second},{100 + second},{exercise},{air}\n" for second, (exercise, air) in enumerate(rows))
    return cut_log(good(MARKED + "".join(lines)), AROUND, Wishes())


def test_marks_are_ids_names_or_numbers_and_one_word_twice_is_the_movement_again() -> None:
    taken = marked(
        ("", "room"), ("1", "mask"), ("", "outside"), ("TALKING", "mask"), ("", "flush"), ("Standing", "mask")
    )
    assert [(each.column, each.word, each.lines, each.taken_for) for each in taken.meanings] == [
        ("sampling", "flush", 1, "purge"),
        ("sampling", "mask", 3, "in-mask"),
        ("sampling", "outside", 1, "ambient"),
        ("sampling", "room", 1, "ambient"),
        ("exercise", "", 3, "no exercise"),
        ("exercise", "1", 1, "standing"),
        ("exercise", "Standing", 1, "standing, then standing-again"),
        ("exercise", "TALKING", 1, "talking"),
    ]
    assert [name for name, _, _ in spans(taken)] == ["ambient", "standing", "ambient", "talking", "standing-again"]


def test_the_second_stretch_of_a_word_is_the_movement_again() -> None:
    rows = [("standing", "mask"), ("", "room"), ("standing", "mask"), ("talking", "mask"), ("standing", "mask")]
    # An ambient sample in the middle of a movement does not end it.
    names = [name for name, _, _ in spans(marked(*rows))]
    assert names == ["standing", "ambient", "standing", "talking", "standing-again"]


def test_stretches_inside_are_the_exercises_in_order_where_only_the_air_is_marked() -> None:
    air = ["room", "mask", "mask", "flush", "room", "mask", "room", "mask"]
    text = "time (s),inside (/cm3),air\n" + "".join(f"{at},{at},{what}\n" for at, what in enumerate(air))
    names = [name for name, _, _ in spans(cut_log(good(text), AROUND, Wishes()))]
    assert names == ["ambient", "standing", "ambient", "talking", "ambient", "standing-again"]
    with pytest.raises(Unclear, match="more stretches inside than the protocol's 3 exercises"):
        cut_log(good(text + "8,8,room\n9,9,mask\n"), AROUND, Wishes())


def test_a_column_of_exercises_alone_tells_the_air_too() -> None:
    steps = ["ambient", "standing", "", "room", "talking", "0", "2", "ambient"]
    text = "time (s),inside (/cm3),step\n" + "".join(f"{at},{at},{what}\n" for at, what in enumerate(steps))
    assert spans(cut_log(good(text), AROUND, Wishes())) == [
        ("ambient", 0, 1),
        ("standing", 1, 2),
        ("ambient", 3, 4),
        ("talking", 4, 5),
        ("talking", 6, 7),
        ("ambient", 7, 8),
    ]


def test_a_word_that_is_not_known_is_asked_and_told() -> None:
    text = MARKED + "0,5,,room\n1,6,bending,mask\n2,7,,valve 3\n"
    with pytest.raises(Unclear, match=r"^--mark: `valve 3` in the column of what was drawn"):
        cut_log(good(text), AROUND, Wishes())
    with pytest.raises(Unclear, match=r"^--mark: `bending` in the column of exercises, which protocol `three`"):
        cut_log(good(text), AROUND, Wishes(marks={"valve 3": "purge"}))
    taken = cut_log(good(text), AROUND, Wishes(marks={"valve 3": "purge", "bending": "talking"}))
    assert spans(taken) == [("ambient", 0, 1), ("talking", 1, 2)]


def test_rows_inside_need_an_exercise() -> None:
    with pytest.raises(Unclear, match="rows marked in-mask without an exercise"):
        cut_log(good(MARKED + "0,5,,room\n1,6,,mask\n"), AROUND, Wishes())


def test_what_is_written_has_the_digits_that_were_read() -> None:
    text = "time (min);inside (/L);outside (/L)\n0,05;1520,50;1600\n0,10;,5;1601\n0,15;12,0;1602,5\n0,20;8;1603\n"
    readings = good(text, Told(decimal="comma"))
    taken = cut_log(readings, AROUND, Wishes(exercises=("talking=3-9",), side_by_side=("0-3",)))
    written = write_log("logs/a.csv", readings, taken.cut, taken.marks)
    # By hand: 0.05 min are 3 s; a point for the comma, and a zero before it.
    assert written.content.decode() == (
        "time_s,inside_per_l,outside_per_l\n0.00,1520.50,1600\n3.00,0.5,1601\n6.00,12.0,1602.5\n9.00,8,1603\n"
    )
    assert written.reference == {
        "file": "logs/a.csv",
        "sha256": written.sha256,
        "unit": "/L",
        "columns": {"time": "time_s", "concentration": "inside_per_l", "outside": "outside_per_l"},
        "timetable": [
            {"sampling": "side-by-side", "start": "0 s", "end": "3 s"},
            {"sampling": "in-mask", "exercise": "talking", "start": "3 s", "end": "9 s"},
        ],
    }


def test_the_written_clock_begins_with_the_first_reading_that_is_kept() -> None:
    readings = good(MINUTE)
    taken = cut_log(readings, AROUND, Wishes(exercises=("talking=12-17",), ambient=("20-25",), first="10", last="30"))
    written = write_log("logs/a.csv", readings, taken.cut, taken.marks)
    assert written.begins_s == 10
    assert written.content.decode().splitlines()[1] == "0,110"
    assert written.reference["timetable"] == [
        {"sampling": "in-mask", "exercise": "talking", "start": "2 s", "end": "7 s"},
        {"sampling": "ambient", "start": "10 s", "end": "15 s"},
    ]


def test_a_log_that_is_too_long_is_cut_to_what_its_timetable_needs() -> None:
    readings = good(every_second([7] * 100_500))
    taken = cut_log(
        readings, AROUND, Wishes(exercises=("talking=50000-50010",), ambient=("49990-50000", "50020-50030"))
    )
    # By hand: a minute before the first and after the last.
    assert (taken.cut.first, taken.cut.end) == (49_930, 50_090)
    with pytest.raises(WrongUsage, match="found 100500 readings, expected fewer than 100000"):
        cut_log(readings, AROUND, Wishes(exercises=("talking=0-10",), ambient=("100480-100490",)))


def test_a_log_out_of_step_with_its_protocol_is_told() -> None:
    readings = good(MINUTE)
    taken = cut_log(readings, AROUND, Wishes(exercises=("standing=5-10", "standing-again=20-25"), ambient=("0-5",)))
    written = write_log("logs/a.csv", readings, taken.cut, taken.marks)
    problems = log_problems(written, taken.cut, AROUND, None, "records/logs/a.csv")
    assert [(problem.slug, problem.found) for problem in problems] == [
        ("exercises-missing", "a completed session without `talking`"),
        ("ambient-missing", "no ambient sample after `standing-again`"),
    ]
    aborted = {"outcome": "aborted", "reason": "the wearer asked"}
    assert log_problems(written, taken.cut, AROUND, aborted, "records/logs/a.csv") == ()


def test_what_speaks_for_a_wrong_cut_is_told() -> None:
    values = [1000.0] * 10 + [900.0, 800.0] + [10.0] * 18 + [1000.0] * 10 + [1001.0] * 10
    readings = good(every_second(values))
    wishes = Wishes(exercises=("standing=10-30", "talking=40-50"), ambient=("0-10", "30-40"))
    assert list(doubts(readings, cut_log(readings, AROUND, wishes).cut)) == [
        "The mean inside is not below that of the ambient sample before it: talking.",
        "The first readings lie far above the rest, as where the air of before is still in the line or the times are "
        "off: standing.",
    ]
    settled = replace(wishes, exercises=("standing=12-30",))
    assert list(doubts(readings, cut_log(readings, AROUND, settled).cut)) == []


def test_the_table_beneath_the_plot() -> None:
    readings = good(every_second([2400.0, 2410.0, 5.0, 0.0, 7.25, 12400.0]))
    taken = cut_log(readings, AROUND, Wishes(exercises=("talking=2-5",), ambient=("0-2", "5-6")))
    lines = ["".join(segment.text for segment in line) for line in cut_table(readings, taken.cut)]
    # By hand; three digits, as far as the numbers have them.
    assert lines == [
        "   what was drawn  from    to  n  mean /cm3  lowest  highest",
        " a ambient         0:00  0:01  2       2400    2400     2410",
        " 1 talking         0:02  0:04  3       4.08       0     7.25",
        " a ambient         0:05  0:05  1     12 400  12 400   12 400",
    ]
