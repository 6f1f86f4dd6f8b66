"""Every row of a log to times, concentrations and marks; what is left out is told, what is no reading is a problem."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from generator.contributing.taking_in.cells import is_number_or_time, number_read, plain_number
from generator.contributing.taking_in.columns import Columns, columns_of, concentration_unit
from generator.contributing.taking_in.layout import SAMPLE, Layout, layout_of
from generator.contributing.taking_in.raw_text import RawText
from generator.contributing.taking_in.rows import Walk, read_rows
from generator.contributing.taking_in.time_forms import DAY_S, TimeForm, time_form
from generator.contributing.taking_in.told import Choice, Told, Unclear
from generator.errors import Problem

Floats = NDArray[np.float64]
MOST_BELOW = 50
"""Lines below the last reading that are taken for words; more than that are a log that changes its form."""
_GAP = 1.5
"""Times the usual distance of two readings, from where on one is missing between them."""
SPREAD = "spread"
_ANEW = "Where commas stand between values and before decimals, write the log anew with semicolons between values"


@dataclass(frozen=True)
class Gap:
    """A stretch of time without readings: the line before it, and how long it is."""

    line: int
    seconds: float


@dataclass(frozen=True)
class Readings:
    """All readings of a log that were kept, in order of time."""

    raw: RawText
    layout: Layout
    columns: Columns
    form: TimeForm
    unit: str
    line_numbers: Sequence[int]
    time_s: Floats
    """Seconds from the first reading, in which lines with the same stamp are spread where that was asked."""
    concentration: Floats
    outside: Floats | None
    exercise: Sequence[str] | None
    sampling: Sequence[str] | None
    days: Sequence[int]
    """How often midnight had passed, by the clock."""
    doubled: int
    """Readings whose stamp is that of the one before."""
    skipped: tuple[int, ...]
    """Lines with words that are no reading, above and below."""
    without_reading: tuple[int, ...]
    gaps: tuple[Gap, ...]

    @property
    def step_s(self) -> float:
        """The usual distance of two readings in seconds."""
        return _usual_step(self.time_s)

    def cells(self, place: int) -> list[str]:
        """Return the cells of one reading, as they stand in the file."""
        cells = self.layout.row(self.raw.lines[self.line_numbers[place] - 1])
        assert cells is not None, "the line was read before"
        return cells

    def number(self, cell: str) -> str:
        """Return a number as a log on record has it."""
        plain = plain_number(cell, self.layout.decimal)
        assert plain is not None, "the cell was read before"
        return plain

    def written_time(self, place: int, first: int) -> str:
        """Return the seconds from one reading to another, to the last digit that was read."""
        if self.doubled:
            # Times that were spread are nobody's reading: milliseconds are enough to keep them apart.
            return f"{self.time_s[place] - self.time_s[first]:.3f}"
        return f"{self._exact_time(place) - self._exact_time(first):f}"

    def _exact_time(self, place: int) -> Decimal:
        cell = self.cells(place)[self.columns.time]
        return self.form.exact_seconds(cell, self.layout.decimal) + DAY_S * self.days[place]


def read_readings(raw: RawText, file: str, told: Told) -> Readings | tuple[Problem, ...]:
    """Read a log, or return what is wrong with its lines.

    Raises
    ------
    Unclear
        The file leaves open how it is to be read.
    """
    layout = layout_of(raw.lines, told)
    first, last = _ends(raw.lines, layout, told.lines)
    sample = _sample(raw.lines, layout, first, last)
    if not sample:
        return (_rows_of_another_width(raw.lines, file, layout, first),)
    columns = columns_of(layout, sample, told)
    parted = _parted_numbers(sample, file, layout, columns, first) if told.decimal is None else None
    if parted is not None:
        return (parted,)
    times = [cells[columns.time] for cells in sample if cells[columns.time]]
    times = list(filter(is_number_or_time, times)) or times
    form = time_form(times, layout.heading(columns.time), layout.decimal, told.time_format)
    unit = concentration_unit(layout.heading(columns.concentration), told.unit)
    first, last = _readable_ends(raw.lines, layout, columns, form, first, last)
    walk = Walk(file)
    read_rows(raw.lines, range(first, last + 1), layout, columns, form, times[0], walk)
    if walk.problems:
        return tuple(walk.problems)
    if not walk.times:
        walk.note(first, 1, "log-empty", "no reading", "one line for each reading", "Name the right log")
        return tuple(walk.problems)
    stamps = np.frombuffer(walk.times)
    doubled = int(np.count_nonzero(np.diff(stamps) == 0))
    if doubled and told.doubled != SPREAD:
        line = walk.lines[int(np.flatnonzero(np.diff(stamps) == 0)[0]) + 1]
        found = f"{doubled} times the time of the reading before, first in line {line}"
        meaning = "spread readings of one time evenly over the time to the next"
        raise Unclear("--doubled", found, "What is to be done with them?", (Choice(SPREAD, meaning),))
    # To the digits that are written, so that a stretch begins with the same reading here and in the written log.
    time_s = np.round(_spread(stamps), 3) if doubled else np.round(stamps - stamps[0], 9)
    low = told.lines[0] if told.lines is not None else 1
    return Readings(
        raw=raw,
        layout=layout,
        columns=columns,
        form=form,
        unit=unit,
        line_numbers=walk.lines,
        time_s=time_s,
        concentration=np.frombuffer(walk.concentrations),
        outside=np.frombuffer(walk.outsides) if columns.outside is not None else None,
        exercise=walk.exercises if columns.exercise is not None else None,
        sampling=walk.samplings if columns.sampling is not None else None,
        days=walk.days,
        doubled=doubled,
        skipped=_skipped(raw.lines, layout, first, last, low, told),
        without_reading=tuple(walk.without),
        gaps=_gaps(time_s, walk.lines),
    )


def _ends(lines: Sequence[str], layout: Layout, told: tuple[int, int] | None) -> tuple[int, int]:
    """Return the first and the last line that can be a row."""
    low, high = (1, len(lines)) if told is None else told
    return max(layout.first, low), min(len(lines), high)


def _sample(lines: Sequence[str], layout: Layout, first: int, last: int) -> list[list[str]]:
    """Return rows from the beginning, from all over, and from the end."""
    step = max(1, (last - first) // SAMPLE)
    places = sorted(
        {
            *range(first, min(first + SAMPLE, last + 1)),
            *range(first, last + 1, step),
            *range(max(first, last - MOST_BELOW), last + 1),
        }
    )
    rows = [layout.row(lines[place - 1]) for place in places]
    return [cells for cells in rows if cells is not None and len(cells) == layout.width]


def _rows_of_another_width(lines: Sequence[str], file: str, layout: Layout, first: int) -> Problem:
    cells = layout.row(lines[first - 1]) if first <= len(lines) else None
    found = "no row" if cells is None else f"{len(cells)} values"
    expected = f"{layout.width} values in a row, as there are headings"
    remedy = f"Name the line of the headings, or the sign between values. {_ANEW}"
    return Problem(file, first, 1, f"line {first}", "log-row", found, expected, remedy)


def _parted_numbers(
    sample: Sequence[Sequence[str]], file: str, layout: Layout, columns: Columns, first: int
) -> Problem | None:
    """Return the problem that a comma seems to stand between values and before decimals, or None.

    Whole numbers beside a nameless column of at most three digits, which nothing reads, look like parted decimals.
    """
    if layout.delimiter != "comma":
        return None
    read = {columns.time, columns.concentration, columns.outside, columns.exercise, columns.sampling}
    for place in (columns.time, columns.concentration, columns.outside):
        after = place + 1 if place is not None else layout.width
        if place is None or after >= layout.width or after in read or (layout.headings and layout.headings[after]):
            continue
        if all(cells[place].isdigit() and cells[after].isdigit() and len(cells[after]) <= 3 for cells in sample):
            found = f"`{sample[0][place]},{sample[0][after]}`, where a comma may stand before decimals"
            expected = "one sign between values and another before decimals"
            remedy = f"{_ANEW}; where these are two whole numbers, give `--decimal point`"
            return Problem(file, first, 1, f"line {first}", "log-number", found, expected, remedy)
    return None


def _readable_ends(
    lines: Sequence[str], layout: Layout, columns: Columns, form: TimeForm, first: int, last: int
) -> tuple[int, int]:
    """Leave out lines below the last reading, as far as they can be words about it."""
    seconds = form.reader(layout.decimal)
    for line in range(last, max(first, last - MOST_BELOW) - 1, -1):
        cells = layout.row(lines[line - 1])
        if (
            cells is not None
            and len(cells) == layout.width
            and seconds(cells[columns.time]) is not None
            and number_read(cells[columns.concentration], layout.decimal) is not None
        ):
            return first, line
    return first, last


def _usual_step(time_s: Floats) -> float:
    return float(np.median(np.diff(time_s))) if len(time_s) > 1 else 0.0


def _spread(stamps: Floats) -> Floats:
    """Spread readings with one stamp evenly over the time to the next; the last ones as those before them."""
    starts = np.flatnonzero(np.concatenate(([True], np.diff(stamps) > 0)))
    sizes = np.diff(np.append(starts, len(stamps)))
    lengths = np.diff(stamps[starts])
    usual = float(np.median(lengths)) if len(lengths) else 0.0
    # A gap is no reason to draw the readings before it apart.
    lengths = np.append(np.where(lengths > _GAP * usual, usual, lengths), usual)
    within = np.arange(len(stamps)) - np.repeat(starts, sizes)
    spread: Floats = stamps - stamps[0] + within * np.repeat(lengths / sizes, sizes)
    return spread


def _gaps(time_s: Floats, lines: Sequence[int]) -> tuple[Gap, ...]:
    steps = np.diff(time_s)
    long = np.flatnonzero(steps > _GAP * _usual_step(time_s)).tolist()
    return tuple(Gap(lines[place], float(steps[place])) for place in long)


def _skipped(lines: Sequence[str], layout: Layout, first: int, last: int, low: int, told: Told) -> tuple[int, ...]:
    """Return the lines that are no rows: above the first reading, save the headings, and below the last."""
    high = len(lines) if told.lines is None else min(len(lines), told.lines[1])
    above = range(low, first) if told.lines is None else range(0)
    return tuple(line for line in (*above, *range(last + 1, high + 1)) if line != layout.headings_line)


def stretches(numbers: Sequence[int]) -> list[tuple[int, int]]:
    """Return numbers that go up as their unbroken stretches, first and last of each."""
    found = []
    for _, group in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        members = [number for _, number in group]
        found.append((members[0], members[-1]))
    return found
