"""How the time of a reading is written: counts of a unit, clock times, stamps with a date; which of them fit a column.

Seconds are read as floats to look at a log, and as decimal numbers to write it, so that no digit is added or lost.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache, partial

from generator.contributing.taking_in.cells import plain_number
from generator.contributing.taking_in.told import Choice, Unclear

DAY_S = 86_400

# Whole seconds, and the text of what is added to them: a cell as it was read, before it becomes a float or a decimal.
_Parts = tuple[int, str] | None

_CLOCK = re.compile(r"([0-9]{1,3}):([0-5][0-9]):([0-5][0-9](?:[.,][0-9]{1,9})?)(?: ?([AaPp])\.?[Mm]\.?)?")
_MINUTES_SECONDS = re.compile(r"([0-9]{1,4}):([0-5][0-9](?:[.,][0-9]{1,9})?)")
_HOURS_MINUTES = re.compile(r"([0-9]{1,3}):([0-5][0-9])(?: ?([AaPp])\.?[Mm]\.?)?")
_STAMP = re.compile(
    r"([0-9]{1,4}[-/.][0-9]{1,2}[-/.][0-9]{1,4})[ T]{1,2}"
    r"([0-9]{1,2}):([0-5][0-9])(?::([0-5][0-9](?:[.,][0-9]{1,9})?))?(?: ?([AaPp])\.?[Mm]\.?)?"
    r"(?: ?(Z|[+-][0-9]{2}:?[0-9]{2}))?"
)
_SECONDS = re.compile(r"[0-5][0-9](?:[.,][0-9]{1,9})?")
_BETWEEN_PARTS_OF_A_DATE = re.compile(r"[-/.]")


@dataclass(frozen=True)
class TimeForm:
    """One way to write a time."""

    name: str
    """As `--time-format` has it."""
    meaning: str
    parts: Callable[[str, str], _Parts]
    per_unit: str = "1"
    """Seconds in one of its units."""
    turns: bool = False
    """Whether it begins anew at midnight."""

    def reader(self, decimal: str, first: str = "") -> Callable[[str], float | None]:
        """Return what reads a cell as seconds since the whole second or unit of the first one, or finds it none.

        Since then, so that a fraction keeps its digits however far the beginning of the clock or calendar is.
        """
        parts, per_unit = self.parts, float(self.per_unit)
        begun = parts(first, decimal)
        base = 0 if begun is None else begun[0]

        def seconds(cell: str) -> float | None:
            read = parts(cell, decimal)
            return None if read is None else (read[0] - base + float(read[1])) * per_unit

        return seconds

    def exact_seconds(self, cell: str, decimal: str) -> Decimal:
        """Return the seconds since some beginning to the last digit that was read."""
        parts = self.parts(cell, decimal)
        assert parts is not None, "only cells that were read are read again"
        return (parts[0] + Decimal(parts[1])) * Decimal(self.per_unit)


def _count(cell: str, decimal: str) -> _Parts:
    plain = plain_number(cell, decimal)
    if plain is None:
        return None
    whole, point, digits = plain.partition(".")
    # A sign belongs to both parts, and an exponent to neither.
    return (
        (int(whole), f"0.{digits}" if point else "0")
        if whole.isdecimal() and digits.isdecimal() == bool(point)
        else (0, plain)
    )


def _clock(cell: str, _: str) -> _Parts:
    match = _CLOCK.fullmatch(cell)
    return None if match is None else _clock_parts(match[1], match[2], match[3], match[4])


def _hours_minutes(cell: str, _: str) -> _Parts:
    match = _HOURS_MINUTES.fullmatch(cell)
    return None if match is None else _clock_parts(match[1], match[2], "0", match[3])


def _minutes_seconds(cell: str, _: str) -> _Parts:
    match = _MINUTES_SECONDS.fullmatch(cell)
    return None if match is None else (60 * int(match[1]), match[2].replace(",", "."))


def _clock_parts(hours: str, minutes: str, seconds: str, half: str | None) -> _Parts:
    hour = int(hours)
    if half is not None:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if half in "Pp" else 0)
    return 3600 * hour + 60 * int(minutes), seconds.replace(",", ".")


def _stamp(cell: str, _: str, order: str) -> _Parts:
    # Most stamps end with their seconds, and their minute was read before.
    before, _, seconds = cell.rpartition(":")
    if _SECONDS.fullmatch(seconds) is not None and (known := _minute_before(before, order)) is not None:
        return known, seconds.replace(",", ".")
    match = _STAMP.fullmatch(cell)
    if match is None:
        return None
    minute = _minute_s(match[1], match[2], match[3], match[5], match[6], order)
    return None if minute is None else (minute, (match[4] or "0").replace(",", "."))


@lru_cache(maxsize=4096)
def _minute_before(text: str, order: str) -> int | None:
    """Return the seconds from some day to a minute that stands before its seconds, or None where none does."""
    match = _STAMP.fullmatch(text)
    if match is None or any(match[part] is not None for part in (4, 5, 6)):
        return None
    return _minute_s(match[1], match[2], match[3], match[5], None, order)


def _minute_s(date: str, hours: str, minutes: str, half: str | None, offset: str | None, order: str) -> int | None:
    """Return the seconds from some day to a minute."""
    if int(hours) > 23:
        return None
    day = _day(date, order)
    clock = _clock_parts(hours, minutes, "0", half)
    return None if day is None or clock is None else day * DAY_S + clock[0] - _offset_s(offset)


def _offset_s(text: str | None) -> int:
    if text is None or text == "Z":
        return 0
    digits = text[1:].replace(":", "")
    seconds = 3600 * int(digits[:2]) + 60 * int(digits[2:])
    return -seconds if text[0] == "-" else seconds


def _day(date: str, order: str) -> int | None:
    """Return the number of a day, by the order in which its year, month and day stand."""
    first, second, third = _BETWEEN_PARTS_OF_A_DATE.split(date)
    year, month, day = {
        "year-first": (first, second, third),
        "day-first": (third, second, first),
        "month-first": (third, first, second),
    }[order]
    if len(year) not in (2, 4) or len(month) > 2 or len(day) > 2:
        return None
    try:
        return datetime.date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day)).toordinal()
    except ValueError:
        return None


TIME_FORMS: Mapping[str, TimeForm] = {
    form.name: form
    for form in (
        TimeForm("seconds", "a number of seconds", _count),
        TimeForm("milliseconds", "a number of milliseconds", _count, "0.001"),
        TimeForm("minutes", "a number of minutes", _count, "60"),
        TimeForm("hours", "a number of hours", _count, "3600"),
        TimeForm("clock", "hours:minutes:seconds", _clock, turns=True),
        TimeForm("minutes-seconds", "minutes:seconds", _minutes_seconds),
        TimeForm("hours-minutes", "hours:minutes", _hours_minutes, turns=True),
        TimeForm("year-first", "a date with the year first, and a clock time", partial(_stamp, order="year-first")),
        TimeForm("day-first", "day, month and year, and a clock time", partial(_stamp, order="day-first")),
        TimeForm("month-first", "month, day and year, and a clock time", partial(_stamp, order="month-first")),
    )
}
_COUNTS = ("seconds", "milliseconds", "minutes", "hours")
_UNIT_OF_A_HEADING = re.compile(
    r"(?:^|[\[(_ ])(ms|msec|milliseconds|s|sec|secs|seconds|min|mins|minutes|h|hours)[\])]?$"
)
_COUNT_BY_START = {"ms": "milliseconds", "milli": "milliseconds", "s": "seconds", "m": "minutes", "h": "hours"}
"""Forms by how the unit in a heading begins; the longer beginning stands first."""


def time_form(cells: Sequence[str], heading: str, decimal: str, told: str | None) -> TimeForm:
    """Return how a column of times is written, from some of its cells with its first and its last among them.

    Raises
    ------
    Unclear
        No form fits, or several that give other seconds since the first reading.
    """
    fitting = {
        name: read
        for name, form in TIME_FORMS.items()
        if (read := list(map(form.reader(decimal), cells))) and None not in read
    }
    if told is not None:
        if told in fitting:
            return TIME_FORMS[told]
        raise _unclear(f"that `{cells[0]}` is not written as {TIME_FORMS[told].meaning}", fitting)
    if "seconds" in fitting:
        unit = _UNIT_OF_A_HEADING.search(heading.lower())
        if unit is None:
            raise _unclear(f"times such as `{cells[-1]}` without a unit in the heading", _COUNTS)
        return TIME_FORMS[next(form for start, form in _COUNT_BY_START.items() if unit[1].startswith(start))]
    if not fitting:
        raise _unclear(f"times such as `{cells[0]}`, which are written in no way that is known", TIME_FORMS)
    differing = {tuple(_from_first(read)) for read in fitting.values()}
    if len(differing) > 1:
        raise _unclear(f"times such as `{cells[0]}` and `{cells[-1]}`, which can be read in two ways", fitting)
    return TIME_FORMS[next(iter(fitting))]


def _from_first(read: Sequence[float | None]) -> list[float]:
    seconds = [each for each in read if each is not None]
    return [round(each - seconds[0], 6) for each in seconds]


def _unclear(found: str, names: Sequence[str] | Mapping[str, object]) -> Unclear:
    choices = [Choice(name, TIME_FORMS[name].meaning) for name in names or TIME_FORMS]
    return Unclear("--time-format", found, "How are the times written?", choices)
