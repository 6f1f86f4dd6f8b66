"""The rows of a log, one after another: numbers and marks that are kept, and lines that are no reading as problems."""

from __future__ import annotations

import math
import sys
from array import array
from collections.abc import Sequence
from dataclasses import dataclass, field

from generator.contributing.taking_in.cells import number_read
from generator.contributing.taking_in.columns import Columns
from generator.contributing.taking_in.layout import Layout
from generator.contributing.taking_in.time_forms import DAY_S, TimeForm
from generator.errors import Problem
from generator.loading.characters import shortened
from generator.loading.logs import MOST_PROBLEMS

_HALF_DAY_S = DAY_S / 2
_MEND = "Take the log anew, or leave the line out with `--lines`"
_BACK = "Was the clock set back? Take the part before or after it with `--lines`"


@dataclass
class Walk:
    """What is gathered while the rows are read."""

    file: str
    times: array[float] = field(default_factory=lambda: array("d"))
    concentrations: array[float] = field(default_factory=lambda: array("d"))
    outsides: array[float] = field(default_factory=lambda: array("d"))
    lines: array[int] = field(default_factory=lambda: array("l"))
    days: array[int] = field(default_factory=lambda: array("l"))
    exercises: list[str] = field(default_factory=list)
    samplings: list[str] = field(default_factory=list)
    without: list[int] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def note(self, line: int, column: int, slug: str, found: str, expected: str, remedy: str) -> None:
        """Note a problem of a line."""
        self.problems.append(Problem(self.file, line, column, f"line {line}", slug, found, expected, remedy))

    def note_cell(self, line: int, text: str, cells: Sequence[str], place: int, expected: str) -> None:
        """Note that a cell holds something else than it should."""
        found = f"`{shortened(cells[place])}`" if cells[place] else "nothing"
        self.note(line, column_of(text, cells, place), "log-number", found, expected, _MEND)


def read_rows(
    lines: Sequence[str], span: range, layout: Layout, columns: Columns, form: TimeForm, first_time: str, walk: Walk
) -> None:
    """Read the rows of some lines; `first_time` is the cell that their seconds are counted from."""
    row, decimal, width = layout.row, layout.decimal, layout.width
    seconds = form.reader(decimal, first_time)
    at_time, at_concentration, at_outside = columns.time, columns.concentration, columns.outside
    day, before, cell_before = 0, -math.inf, ""
    for line in span:
        if len(walk.problems) >= MOST_PROBLEMS:
            found, remedy = f"{MOST_PROBLEMS} problems above this line", "Mend these first; often one answer mends all"
            walk.note(line, 1, "log-more-problems", found, "a log without problems", remedy)
            return
        text = lines[line - 1]
        cells = row(text)
        if cells is None or len(cells) != width:
            if text.strip():
                found = "a quote that is not closed, or a very long line" if cells is None else f"{len(cells)} values"
                walk.note(line, 1, "log-row", found, f"{width} values, as in the other lines", _MEND)
            else:
                walk.without.append(line)
            continue
        if not cells[at_concentration]:
            walk.without.append(line)
            continue
        time = seconds(cells[at_time])
        if time is None:
            walk.note_cell(line, text, cells, at_time, f"a time, {form.meaning}")
            continue
        inside = number_read(cells[at_concentration], decimal)
        if inside is None or inside < 0:
            walk.note_cell(line, text, cells, at_concentration, _plainly(decimal))
            continue
        if at_outside is not None:
            outside = number_read(cells[at_outside], decimal)
            if outside is None or outside < 0:
                walk.note_cell(line, text, cells, at_outside, _plainly(decimal))
                continue
            walk.outsides.append(outside)
        time += DAY_S * day
        if time < before:
            if form.turns and before - time > _HALF_DAY_S:
                day, time = day + 1, time + DAY_S
            else:
                found, expected = cells[at_time], f"a time after `{shortened(cell_before)}` of the line before"
                column = column_of(text, cells, at_time)
                walk.note(line, column, "log-time-order", f"`{shortened(found)}`", expected, _BACK)
        before, cell_before = time, cells[at_time]
        walk.times.append(time)
        walk.concentrations.append(inside)
        walk.lines.append(line)
        walk.days.append(day)
        if columns.exercise is not None:
            walk.exercises.append(sys.intern(cells[columns.exercise]))
        if columns.sampling is not None:
            walk.samplings.append(sys.intern(cells[columns.sampling]))


def _plainly(decimal: str) -> str:
    sign = "comma" if decimal == "," else "point"
    return f"a number, 0 or more, with a decimal {sign} and no sign between thousands"


def column_of(text: str, cells: Sequence[str], place: int) -> int:
    """Return the column in which a cell begins: cells are looked for from left to right."""
    at = 0
    for cell in cells[:place]:
        at = text.find(cell, at) + len(cell) if cell else at + 1
    return max(text.find(cells[place], at), 0) + 1
