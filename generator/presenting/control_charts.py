"""A check standard's control chart as data: lines, marks, ticks, and the whole of it in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from generator.model.base import Day
from generator.model.instrument import CheckStandard
from generator.model.instrument_result import CheckResult, ReadingResult, ReadingState
from generator.presenting.digits import rounded, unit_text, with_unit
from generator.presenting.instrument_views import ControlChart, ControlLine, ControlMark, Tick
from generator.presenting.wording import count_text, day_text, listed, sentence_case

LEAST_SPAN = 4
MOST_SPAN = 6
"""Standard deviations that a chart reaches from its centre to either side: enough for all readings, within these."""
LABEL_SHARE = 0.15
NARROW_LABEL_SHARE = 0.31
"""The part of a time axis that one label with its gap takes, in the wide and the narrow drawing."""
MOST_VALUE_TICKS = 7
MOST_DECIMALS = 12
"""Decimals that a reading is written with, as many as a quantity may have: 308 of them would not fit a number."""
NAMED_IN_WORDS = 5
"""So many readings beyond a limit are told one by one in the chart's description; the table holds all."""
_MONTH_STEPS = (1, 2, 3, 6, 12, 24, 60, 120, 240, 600, 1200)
_DAYS_OF_MONTH = 30.44
_MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()  # noqa: SIM905


def decimals_recorded(*values: float) -> int:
    """Return the decimals that values have as recorded, the most of any."""
    exponents = [Decimal(repr(value)).normalize().as_tuple().exponent for value in values]
    return min(MOST_DECIMALS, max(0, *(-exponent for exponent in exponents if isinstance(exponent, int))))


def limit_text(value: float, standard: CheckStandard) -> str:
    """Write a limit or the centre: whole multiples of the standard deviation need no further decimals."""
    return rounded(value, decimals_recorded(standard.centre, standard.standard_deviation))


def reading_text(value: float, check: CheckResult) -> str:
    """Write a reading as recorded, with as many decimals as the longest of its check standard."""
    return rounded(value, decimals_recorded(*(reading.value for reading in check.readings)))


def _short_day(day: Day) -> str:
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def _month_starts(first: Day, last: Day, step: int) -> list[Day]:
    begin, end = first.year * 12 + first.month - 1, last.year * 12 + last.month - 1
    starts = [date(month // 12, month % 12 + 1, 1) for month in range(begin, end + 1) if month % step == 0]
    return [day for day in starts if first <= day <= last]


def day_ticks(first: Day, last: Day, label_share: float) -> tuple[Tick, ...]:
    """Return the ticks of a time axis: beginnings of months, labelled as far as there is room.

    Where fewer than two of those that may be labelled lie on it, its two ends are labelled.
    """
    span = (last - first).days
    step = next((step for step in _MONTH_STEPS if step * _DAYS_OF_MONTH >= span * label_share), _MONTH_STEPS[-1])
    labelled = _month_starts(first, last, step)
    unlabelled = _month_starts(first, last, 1 if step <= 6 else 12 if step <= 60 else step)
    texts = {day: str(day.year) if step >= 12 else f"{_MONTHS[day.month - 1]} {day.year}" for day in labelled}
    if len(labelled) < 2:
        texts = {day: _short_day(day) for day in (first, last)}
    return tuple(Tick(day.toordinal(), texts.get(day, "")) for day in sorted({*texts, *unlabelled}))


def value_ticks(low: float, high: float) -> tuple[Tick, ...]:
    """Return ticks at round values, labelled, at most `MOST_VALUE_TICKS` of them."""
    coarse = 10.0 ** math.floor(math.log10((high - low) / MOST_VALUE_TICKS))
    step = next(coarse * part for part in (1, 2, 5, 10, 20) if (high - low) / (coarse * part) < MOST_VALUE_TICKS)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    numbers = range(math.ceil(low / step), math.floor(high / step) + 1)
    return tuple(Tick(number * step, rounded(number * step, decimals)) for number in numbers)


def _named(readings: Sequence[ReadingResult], check: CheckResult) -> str:
    texts = [
        f"{with_unit(reading_text(reading.value, check), check.unit)} on {day_text(reading.date)}"
        for reading in readings[:NAMED_IN_WORDS]
    ]
    more = len(readings) - NAMED_IN_WORDS
    return listed([*texts, f"{more} more"] if more > 0 else texts)


def in_state(check: CheckResult, state: ReadingState) -> list[ReadingResult]:
    """Return the readings that lie in the same place, oldest first."""
    return [reading for reading in check.readings if reading.state is state]


def _description(standard: CheckStandard, check: CheckResult) -> str:
    limits, first, last = check.limits, check.readings[0].date, check.readings[-1].date
    when = f"on {day_text(first)}" if first == last else f"from {day_text(first)} to {day_text(last)}"
    parts = [
        f"{count_text(len(check.readings), 'reading')} {when}, about a centre of "
        f"{with_unit(limit_text(limits.centre, standard), check.unit)}, with warning limits at "
        f"{limit_text(limits.warning_low, standard)} and {limit_text(limits.warning_high, standard)} and action limits "
        f"at {limit_text(limits.action_low, standard)} and {limit_text(limits.action_high, standard)}."
    ]
    for words, state in (
        ("Beyond an action limit", ReadingState.BEYOND_ACTION),
        ("Beyond a warning limit", ReadingState.BEYOND_WARNING),
    ):
        readings = in_state(check, state)
        parts.append(f"{words}: {_named(readings, check) if readings else 'none'}.")
    return sentence_case(" ".join(parts))


def _lines(standard: CheckStandard, check: CheckResult) -> tuple[ControlLine, ...]:
    limits = check.limits
    return (
        ControlLine(
            "action_high",
            limits.action_high,
            f"action limit {limit_text(limits.action_high, standard)}",
            is_action=True,
        ),
        ControlLine("warning_high", limits.warning_high, f"warning limit {limit_text(limits.warning_high, standard)}"),
        ControlLine("centre", limits.centre, f"centre {limit_text(limits.centre, standard)}", is_centre=True),
        ControlLine("warning_low", limits.warning_low, f"warning limit {limit_text(limits.warning_low, standard)}"),
        ControlLine(
            "action_low", limits.action_low, f"action limit {limit_text(limits.action_low, standard)}", is_action=True
        ),
    )


def _mark(number: int, reading: ReadingResult, check: CheckResult, low: float, high: float) -> ControlMark:
    inside = reading.state is ReadingState.INSIDE
    off = "" if low <= reading.value <= high else ", off the chart"
    return ControlMark(
        key=f"reading-{number}",
        day=reading.date.toordinal(),
        value=reading.value,
        text="" if inside else reading_text(reading.value, check) + off,
        beyond_warning=reading.state is ReadingState.BEYOND_WARNING,
        beyond_action=reading.state is ReadingState.BEYOND_ACTION,
    )


def control_chart(
    anchor: str, standard: CheckStandard, check: CheckResult, title: str, table: str = ""
) -> ControlChart:
    """Return the control chart of a check standard; `table` is the id of the table of its readings."""
    deviation, centre = standard.standard_deviation, standard.centre
    farthest = max(abs(reading.value - centre) for reading in check.readings) / deviation
    span = min(max(LEAST_SPAN, math.ceil(farthest + 0.5)), MOST_SPAN) * deviation
    low, high = centre - span, centre + span
    first, last = check.readings[0].date, check.readings[-1].date
    return ControlChart(
        id=anchor,
        title=title,
        description=_description(standard, check),
        unit=unit_text(check.unit),
        low=low,
        high=high,
        first=first.toordinal(),
        last=last.toordinal(),
        lines=_lines(standard, check),
        marks=tuple(_mark(number, reading, check, low, high) for number, reading in enumerate(check.readings, start=1)),
        value_ticks=value_ticks(low, high),
        day_ticks=day_ticks(first, last, LABEL_SHARE),
        narrow_day_ticks=day_ticks(first, last, NARROW_LABEL_SHARE),
        table=table,
    )
