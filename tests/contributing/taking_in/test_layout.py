"""What a log leaves open is asked by its option and told with what was found; nothing is guessed."""

from __future__ import annotations

import pytest

from generator.contributing.taking_in.told import Told, Unclear
from tests.contributing.taking_in.written_logs import good, read

# Each log, and the option and the finding that are named for it: written down from what the rows can mean.
OPEN: dict[str, tuple[str | bytes, str, str]] = {
    "a point that could stand between thousands": (
        "time (s);inside (/cm3)\n0;1.250\n1;2.375\n",
        "--decimal",
        "`1.250`, which could be a whole number with a sign for thousands",
    ),
    "a comma that could stand between thousands": (
        "time (s)\tinside (/cm3)\n0\t1,250\n1\t2,375\n",
        "--decimal",
        "`1,250`, which could be a whole number with a sign for thousands",
    ),
    "thousands and decimals": (
        "time (s);inside (/cm3)\n0;1.250,5\n1;2.375,0\n",
        "--decimal",
        "`1.250,5`, with a sign between its thousands",
    ),
    "commas in one column and points in another": (
        "time (s);inside (/cm3)\n0,5;12.5\n1,0;13.5\n",
        "--decimal",
        "`0,5` beside `12.5`",
    ),
    "a comma between values and within them": (
        "time (s),inside (/cm3)\n0,5,1520,5\n1,0,1498,0\n",
        "--headings",
        "2 headings above rows of 4 values, as where a comma stands both between the values and before their "
        "decimals; such a log has to be written anew, with another sign between the values",
    ),
    "the same without headings": (
        "0,5,1520,5\n1,0,1498,0\n",
        "--decimal",
        "only whole numbers between commas, of which two by two could be one number with a decimal comma",
    ),
    "words above that are no headings": (
        "kitchen\n0;1500;7\n1;1501;7\n",
        "--headings",
        "in line 1, above the first reading, no heading for each value: `kitchen`",
    ),
    "no rows": ("a letter\nto a friend\n", "--delimiter", "no line of a time and a reading"),
    "one number in each line": ("1\n2\n3\n", "--delimiter", "no line of a time and a reading"),
    "two columns that could be it": (
        "time (s),particles left,particles right\n0,10,11\n1,10,11\n",
        "--concentration",
        "2 columns that could hold it",
    ),
    "headings in words that are not known": (
        "a,b,c\n0,10,11\n1,10,11\n",
        "--concentration",
        "no column that is surely the concentration",
    ),
    "no unit of time": (
        "time,inside (/cm3)\n0,10\n1,11\n",
        "--time-format",
        "times such as `1` without a unit in the heading",
    ),
    "minutes and seconds, or hours and minutes": (
        "time,inside (/cm3)\n05:10,10\n05:11,11\n",
        "--time-format",
        "times such as `05:10` and `05:11`, which can be read in two ways",
    ),
    "a day and a month that could be exchanged": (
        "time,inside (/cm3)\n01/02/2025 23:59:59,10\n02/02/2025 00:00:00,11\n",
        "--time-format",
        "times such as `01/02/2025 23:59:59` and `02/02/2025 00:00:00`, which can be read in two ways",
    ),
    "a time in words": (
        "time,inside (/cm3),x\n12:00:00 o'clock,10,1\n12:00:01 o'clock,11,2\n",
        "--time-format",
        "times such as `12:00:00 o'clock`, which are written in no way that is known",
    ),
    "no unit": ("time (s),inside\n0,10\n1,11\n", "--unit", "no unit that is known in the heading `inside`"),
    "a unit that the table does not have": (
        "time (s),inside (/ft3)\n0,10\n1,11\n",
        "--unit",
        "no unit that is known in the heading `inside (/ft3)`",
    ),
    "one stamp twice": (
        "time (s),inside (/cm3)\n0,10\n1,11\n1,12\n2,13\n",
        "--doubled",
        "1 times the time of the reading before, first in line 4",
    ),
    "sixteen bits without a mark": (
        "time (s)\n0\n".encode("utf-16-le"),
        "--encoding",
        "bytes of zero, which no text in one byte for a letter holds",
    ),
}


@pytest.mark.parametrize("name", OPEN)
def test_it_is_asked(name: str) -> None:
    text, option, found = OPEN[name]
    with pytest.raises(Unclear, match=r"^--") as raised:
        read(text)
    assert (raised.value.option, raised.value.found) == (option, found)
    assert raised.value.question


# Where the answer would change nothing there is no question: a date that stays the same, a day that is no month.
CLEAR = {
    "a day that stays the same": ("01/02/2025 10:00:00", "01/02/2025 10:00:01", "day-first"),
    "a day that is no month": ("13/02/2025 23:59:59", "14/02/2025 00:00:00", "day-first"),
    "a month that is no day": ("02/13/2025 23:59:59", "02/14/2025 00:00:00", "month-first"),
    "an offset that changes": ("2025-03-30T01:59:59+01:00", "2025-03-30T03:00:00+02:00", "year-first"),
    "minutes with a fraction of a second": ("05:10.5", "05:11.5", "minutes-seconds"),
    "noon after the last second before it": ("11:59:59 AM", "12:00:00 PM", "clock"),
}


@pytest.mark.parametrize("name", CLEAR)
def test_it_is_not_asked(name: str) -> None:
    first, second, form = CLEAR[name]
    readings = good(f"time;inside (/cm3)\n{first};10\n{second};11\n")
    assert (readings.form.name, readings.time_s.tolist()) == (form, [0.0, 1.0])


# source: common practice of writing particle concentrations, no source
UNITS = {
    "inside (#/cm3)": "/cm3",
    "inside [1/cm\N{SUPERSCRIPT THREE}]": "/cm3",
    "inside (cm^-3)": "/cm3",
    "inside (p/cc)": "/cm3",
    "inside_per_cm3": "/cm3",
    "particles/cm3": "/cm3",
    "inside (particles per L)": "/L",
    "inside (#/l)": "/L",
    "inside [1/m3]": "/m3",
}


@pytest.mark.parametrize("heading", UNITS)
def test_a_unit_is_read_from_a_heading(heading: str) -> None:
    assert good(f"time (s),{heading}\n0,10\n1,11\n").unit == UNITS[heading]


def test_answers_go_before_what_could_be_detected() -> None:
    text = "time (s);left (/cm3);right (/cm3)\n0;1.250;7\n1;2.375;8\n"
    readings = good(text, Told(decimal="point", concentration="right (/cm3)", outside="2", unit="/L", time="1"))
    assert readings.concentration.tolist() == [7, 8]
    assert readings.outside is not None
    assert readings.outside.tolist() == [1.25, 2.375]
    assert readings.unit == "/L"


@pytest.mark.parametrize(
    ("told", "found"),
    [
        (Told(concentration="insde"), "no column `insde`"),
        (Told(concentration="3"), "no column `3`"),
        (Told(unit="/cm2"), "the unit `/cm2`"),
        (Told(time_format="clock"), "that `0` is not written as hours:minutes:seconds"),
        (Told(delimiter="tab"), "no such line with tab between the values"),
        (Told(headings=3), "no headings in line 3"),
        (Told(encoding="utf-16"), "bytes that are not utf-16"),
    ],
)
def test_an_answer_that_does_not_fit_is_asked_again(told: Told, found: str) -> None:
    with pytest.raises(Unclear, match=r"^--") as raised:
        read("time (s),inside (/cm3)\n0,10\n1,11\n", told)
    assert raised.value.found == found
