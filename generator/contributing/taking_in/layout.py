"""What a log looks like: what stands between its values, its decimal sign, its headings, its first and last reading."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from generator.contributing.taking_in.cells import (
    DELIMITERS,
    LONGEST_LINE,
    cells_of,
    is_like_a_number,
    is_number_or_time,
)
from generator.contributing.taking_in.told import Choice, Told, Unclear
from generator.loading.characters import shortened

SAMPLE = 400
"""Lines at the beginning that the layout is told from."""
_LEAST_VALUES = 2
"""A time and a reading."""
_GROUPED = re.compile(r"[+-]?[1-9][0-9]{0,2}(?:[.,][0-9]{3})+")
"""What could be a whole number with a sign between its thousands."""


@dataclass(frozen=True)
class Layout:
    """How a log is written; lines are counted from 1."""

    delimiter: str
    """Its name in `DELIMITERS`."""
    decimal: str
    headings: tuple[str, ...]
    """Empty where the log has none."""
    headings_line: int
    """0 where it has none."""
    width: int
    """Values of a row."""
    first: int
    """Line of the first row."""

    @cached_property
    def separator(self) -> str | None:
        """What stands between values; None for a run of blanks."""
        return DELIMITERS[self.delimiter]

    def row(self, line: str) -> list[str] | None:
        """Return the cells of a row, without empty ones past the last column; None where the line is no row."""
        cells = cells_of(line, self.separator) if len(line) <= LONGEST_LINE else None
        if cells is None:
            return None
        while len(cells) > self.width and not cells[-1]:
            cells.pop()
        return cells

    def heading(self, place: int) -> str:
        """Return a column's heading, or its number where there are no headings."""
        return self.headings[place] if self.headings else f"column {place + 1}"


def layout_of(lines: Sequence[str], told: Told) -> Layout:
    """Find the layout of a log.

    Raises
    ------
    Unclear
        Nothing that is known stands between the values, or the decimal sign or the headings can be meant in two ways.
    """
    sample = [(number, line) for number, line in enumerate(lines[:SAMPLE], start=1) if line.strip()]
    name, rows = _delimiter(sample, told.delimiter)
    width = _usual_width(rows)
    first = next(number for number, cells in rows if len(cells) == width)
    body = [cells for _, cells in rows if len(cells) == width]
    filled = max(place for cells in body for place, cell in enumerate(cells, start=1) if cell)
    headings_line, headings = _headings(lines, first, filled, name, told.headings)
    if headings:
        width = len(headings)
    decimal = told_sign(told.decimal) or _decimal(body, name)
    return Layout(name, decimal, headings, headings_line, width, first)


def told_sign(word: str | None) -> str | None:
    """Return the sign that `--decimal` names."""
    return {"comma": ",", "point": ".", None: None}[word]


_Rows = list[tuple[int, list[str]]]


def _delimiter(sample: Sequence[tuple[int, str]], told: str | None) -> tuple[str, _Rows]:
    """Return what stands between values, and the lines that are rows by it."""
    for name in (told,) if told is not None else DELIMITERS:
        rows = _rows(sample, DELIMITERS[name])
        # Most of what follows the first row must be rows of one width, else the delimiter only seems to be one.
        if rows:
            below = sum(number >= rows[0][0] for number, _ in sample)
            usual = _usual_width(rows)
            if sum(len(cells) == usual for _, cells in rows) * 2 > below:
                return name, rows
    found = "no line of a time and a reading" if told is None else f"no such line with {told} between the values"
    choices = [Choice(name) for name in DELIMITERS]
    raise Unclear("--delimiter", found, "What stands between the values?", choices)


def _rows(sample: Iterable[tuple[int, str]], separator: str | None) -> _Rows:
    rows = []
    for number, line in sample:
        cells = cells_of(line, separator) if len(line) <= LONGEST_LINE else None
        if cells is not None and sum(map(is_number_or_time, cells)) >= _LEAST_VALUES:
            rows.append((number, cells))
    return rows


def _usual_width(rows: _Rows) -> int:
    (width, _), *_ = Counter(len(cells) for _, cells in rows).most_common(1)
    return width


def _headings(
    lines: Sequence[str], first: int, filled: int, delimiter: str, told: int | None
) -> tuple[int, tuple[str, ...]]:
    """Return the headings and their line; `filled` is the last column in which any row has a value."""
    separator = DELIMITERS[delimiter]
    if told is not None:
        if told == 0:
            return 0, ()
        cells = cells_of(lines[told - 1], separator) if told < first else None
        if cells is None:
            raise Unclear("--headings", f"no headings in line {told}", _HEADINGS_QUESTION, (_NO_HEADINGS,))
        return told, tuple(cells)
    above = next((number for number in range(first - 1, 0, -1) if lines[number - 1].strip()), 0)
    if not above:
        return 0, ()
    cells = cells_of(lines[above - 1], separator) or []
    if len(cells) >= filled and all(cells[:filled]) and not any(map(is_number_or_time, cells)):
        while not cells[-1]:
            cells.pop()
        return above, tuple(cells)
    found = f"in line {above}, above the first reading, no heading for each value: `{shortened(lines[above - 1])}`"
    if delimiter == "comma" and len(cells) * 2 == filled:
        found = (
            f"{len(cells)} headings above rows of {filled} values, as where a comma stands both between the values and "
            "before their decimals; such a log has to be written anew, with another sign between the values"
        )
    raise Unclear("--headings", found, _HEADINGS_QUESTION, (_NO_HEADINGS, Choice(str(above), "that line all the same")))


_HEADINGS_QUESTION = "In which line do the headings stand?"
_NO_HEADINGS = Choice("0", "there are none")


def _decimal(body: Sequence[Sequence[str]], delimiter: str) -> str:
    """Return the decimal sign, from every cell that is a number with a point or a comma."""
    numbers = [cell for cells in body for cell in cells if is_like_a_number(cell)]
    commas = [cell for cell in numbers if "," in cell]
    points = [cell for cell in numbers if "." in cell]
    both = next((cell for cell in numbers if "," in cell and "." in cell), None)
    if both is not None:
        raise _unclear_decimal(f"`{both}`, with a sign between its thousands", "Write the log anew without such signs")
    if commas and points:
        raise _unclear_decimal(f"`{commas[0]}` beside `{points[0]}`", "")
    if commas:
        if all(map(_GROUPED.fullmatch, commas)):
            raise _unclear_decimal(f"`{commas[0]}`, which could be a whole number with a sign for thousands", "")
        return ","
    if points and delimiter != "comma" and all(map(_GROUPED.fullmatch, points)):
        raise _unclear_decimal(f"`{points[0]}`, which could be a whole number with a sign for thousands", "")
    if not points and delimiter == "comma" and _may_be_halves(body):
        raise _unclear_decimal(
            "only whole numbers between commas, of which two by two could be one number with a decimal comma", ""
        )
    return "."


def _may_be_halves(body: Sequence[Sequence[str]]) -> bool:
    return all(len(cells) >= 2 * _LEAST_VALUES and len(cells) % 2 == 0 for cells in body) and all(
        map(is_like_a_number, (cell for cells in body for cell in cells))
    )


def _unclear_decimal(found: str, remedy: str) -> Unclear:
    question = f"Which sign stands before the decimals? {remedy}".strip()
    return Unclear("--decimal", found, question, (Choice("point"), Choice("comma")))
