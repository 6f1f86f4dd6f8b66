"""Logs read by whole columns: the same samples, and the same problems, as line by line."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from generator.loading.log_cells import MOST_CELLS, MOST_LINES, plain_columns
from generator.loading.logs import read_log
from generator.loading.series_logs import read_series
from generator.model.series import SeriesReference
from generator.model.session import LogReference

FILE = {"file": "logs/a.csv", "sha256": "0" * 64}
MARKED = {"time": "t", "concentration": "in", "exercise": "step", "sampling": "air"}
TIMETABLE = [
    {"start": "0 s", "end": "2 s", "sampling": "ambient"},
    {"start": "2 s", "end": "5 s", "sampling": "in-mask", "exercise": "standing"},
]
LOGS = (
    {"columns": MARKED, "unit": "/cm3"},
    {"columns": MARKED | {"outside": "out"}, "unit": "/L"},
    {"columns": {"time": "t", "concentration": "in"}, "unit": "/cm3", "timetable": TIMETABLE},
)
SERIES = (
    {"time": "t", "flow": {"heading": "in", "unit": "L/s"}},
    {"time": "t", "time_unit": "min", "pressure": {"heading": "in", "unit": "hPa"}, "exercise": "step"},
    {"time": "t", "voltage": {"heading": "in", "unit": "V"}, "current": {"heading": "out", "unit": "mA"}},
)
HEADINGS = "t,in,out,step,air,note"
GOOD = ("30", "3000.5", "standing", "in-mask", "")
BAD_OR_ODD = (
    *("", " ", "1e3", " 5\t", "+.5", "5.", "-0", "-1", "0", "nan", "inf", "1_0", "١", "0x1", "1,5", "9e99", "1e-99"),
    *(
        "1234567890123",
        '"3"',
        '3"',
        "ambient",
        "purge",
        "side-by-side",
        "In-mask",
        "talking",
        "gibberish",
        "\r",
        "a" * 99,
    ),
)

row = st.lists(st.sampled_from(BAD_OR_ODD), min_size=0, max_size=2).flatmap(
    lambda odd: st.tuples(*(st.sampled_from((each, *odd)) for each in GOOD))
)
rows = st.lists(row, max_size=6)


def text_of(cells: Sequence[Sequence[str]], headings: str) -> str:
    """Return a log that goes up by a second a line, with cells as they are given."""
    return "\n".join((headings, *(",".join((str(second), *line)) for second, line in enumerate(cells)), ""))


def both_ways(text: str) -> tuple[bytes, bytes]:
    """Return a log, and the same with quotes round a heading, by which it is read line by line."""
    quoted = text.replace(HEADINGS, HEADINGS.replace("note", '"note"'), 1)
    assert plain_columns(quoted.split("\n")) is None
    return text.encode(), quoted.encode()


@given(rows=rows)
@example(rows=[GOOD] * 3)
@pytest.mark.parametrize("known", LOGS, ids=("marked", "two channels", "timetable"))
def test_a_log_of_particles_is_read_the_same(known: dict[str, object], rows: list[tuple[str, ...]]) -> None:
    reference = LogReference.model_validate_json(json.dumps(FILE | known))
    by_column, by_line = (
        read_log(text, "a.csv", reference, ("standing", "talking")) for text in both_ways(text_of(rows, HEADINGS))
    )
    assert by_column == by_line
    if rows == [GOOD] * 3:
        assert by_line[0] is not None


@given(rows=rows)
@example(rows=[GOOD] * 3)
@pytest.mark.parametrize("known", SERIES, ids=("flow", "pressure", "battery"))
def test_a_log_of_anything_else_is_read_the_same(known: dict[str, object], rows: list[tuple[str, ...]]) -> None:
    reference = SeriesReference.model_validate_json(json.dumps(FILE | known))
    by_column, by_line = (read_series(text, "a.csv", reference) for text in both_ways(text_of(rows, HEADINGS)))
    assert by_column == by_line
    if rows == [GOOD] * 3:
        assert by_line[0] is not None


@pytest.mark.parametrize("times", [("0", "1", "1"), ("0", "2", "1"), ("5", "x", "6")])
def test_times_that_do_not_go_up_are_told_of_the_same(times: tuple[str, ...]) -> None:
    text = "\n".join((HEADINGS, *(",".join((time, *GOOD)) for time in times), ""))
    reference = LogReference.model_validate_json(json.dumps(FILE | LOGS[0]))
    by_column, by_line = (read_log(each, "a.csv", reference, ("standing",)) for each in both_ways(text))
    assert by_column == by_line
    assert by_line[1]


def test_what_columns_hold() -> None:
    columns = plain_columns(["t,in,step", " 0,1.5 ,standing", "1,-2e1, talking\t"])
    assert columns is not None
    assert columns.texts(2) == ["standing", "talking"]
    assert columns.numbers(1) == [1.5, -20.0]
    assert columns.rising(0) == [0.0, 1.0]
    assert columns.rising(1) is None
    assert columns.numbers(2) is None


@pytest.mark.parametrize(
    "lines",
    [
        ["t,in"],
        ["t,in", "0,1", "1"],
        ["t,in", "0,1", ""],
        ["t,in", '0,"1"'],
        ["t" + "," * MOST_CELLS, "0" + "," * MOST_CELLS],
        ["t,in", *("0,1",) * MOST_LINES],
    ],
    ids=("none", "short", "empty", "quotes", "wide", "long"),
)
def test_lines_that_are_not_plain_are_left_to_the_other_way(lines: list[str]) -> None:
    assert plain_columns(lines) is None


def test_equal_words_of_a_log_are_held_once() -> None:
    reference = LogReference.model_validate_json(json.dumps(FILE | LOGS[0]))
    log, _ = read_log(text_of([GOOD] * 3, HEADINGS).encode(), "a.csv", reference, ("standing",))
    assert log is not None
    first, second, _ = (sample.exercise for sample in log.samples)
    assert first is second
    assert sys.getsizeof(log.samples[0]) < 100
