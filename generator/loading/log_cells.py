"""The cells of a log: line by line with their places, or, where all lines are plain, column by column.

To read whole columns takes a third of the time. Whatever in them is not as a log should be is left to the way line by
line, which tells where it stands.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from generator.model.units import NUMBER_PATTERN

MOST_LINES = 100_000
"""Lines of a log: more than a day of readings once a second."""
MOST_CELLS = 100

# Taken without going back (possessive), so that a quote that is never closed is seen at once.
_CELL = re.compile(r'(?:"([^"]*+(?:""[^"]*+)*+)"|([^,"]*+))(?:,|$)')
_NUMBER = re.compile(NUMBER_PATTERN)
_NUMBERS = re.compile(rf"(?:{NUMBER_PATTERN}\n)*+")


class Cell(NamedTuple):
    """One cell of a line."""

    column: int
    text: str
    end: int
    """The column after its last character."""


def cells_of(line: str) -> list[Cell]:
    """Return the cells of one line, each with the column of the file it begins in."""
    if '"' not in line and line.count(",") < MOST_CELLS:
        # As nearly all lines are: a comma parts two cells and does nothing else.
        return _plain_cells(line)
    cells: list[Cell] = []
    start = 0
    while start <= len(line):
        match = _CELL.match(line, start)
        if match is None:
            # A quote in the middle of a cell: taken as it stands, so that the count of the cells shows the fault.
            cells.append(Cell(start + 1, line[start:].strip(), len(line) + 1))
            break
        text = match[2] if match[1] is None else match[1].replace('""', '"')
        cells.append(Cell(start + 1, text.strip(), match.end() + 1 - match[0].endswith(",")))
        if match.end() == len(line) and not match[0].endswith(","):
            break
        start = match.end()
        if len(cells) > MOST_CELLS:
            break
    return cells


def _plain_cells(line: str) -> list[Cell]:
    cells, start = [], 1
    for text in line.split(","):
        end = start + len(text)
        cells.append(Cell(start, text.strip(), end))
        start = end + 1
    return cells


def number_in(text: str) -> float | None:
    """Return the number that a cell holds, or None where it is no plain number."""
    return float(text) if _NUMBER.fullmatch(text) is not None else None


class PlainColumns:
    """The lines of a log below its headings, each of as many cells without quotes as there are headings."""

    def __init__(self, cells: Sequence[str], width: int) -> None:
        """Take the cells line after line, and how many a line has."""
        self._cells = cells
        self._width = width

    def texts(self, place: int) -> list[str]:
        """Return the texts of a column, without space around them."""
        return [text.strip() for text in self._cells[place :: self._width]]

    def numbers(self, place: int) -> list[float] | None:
        """Return the numbers of a column, or None where a cell holds no plain number."""
        texts = self.texts(place)
        return list(map(float, texts)) if _NUMBERS.fullmatch("\n".join((*texts, ""))) is not None else None

    def rising(self, place: int) -> list[float] | None:
        """Return the numbers of a column, or None where a cell holds no plain number, or one that does not go up."""
        numbers = self.numbers(place)
        if numbers is None or any(after <= before for before, after in pairwise(numbers)):
            return None
        return numbers


def plain_columns(lines: Sequence[str]) -> PlainColumns | None:
    """Return the columns below the headings, the first of `lines`; None where a line is not plain, or there is none."""
    headings, *rows = lines
    commas = headings.count(",")
    if not rows or len(lines) > MOST_LINES or commas >= MOST_CELLS or any(row.count(",") != commas for row in rows):
        return None
    joined = ",".join(rows)
    return None if '"' in headings or '"' in joined else PlainColumns(joined.split(","), commas + 1)
