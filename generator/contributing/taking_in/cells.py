"""One line of delimited text to its cells, and what a cell can be: a number, a time, words."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping

from generator.loading.log_cells import number_in

DELIMITERS: Mapping[str, str | None] = {"tab": "\t", "semicolon": ";", "stroke": "|", "comma": ",", "blanks": None}
"""What may stand between values, in the order in which it is looked for; None for a run of blanks."""
LONGEST_LINE = 5_000
"""Characters of a line that can be a row of readings."""

# With a point, a comma, or several of them three digits apart: what kind of number it is, is decided later.
_NUMBER_LIKE = re.compile(
    r"[+-]?(?:[0-9]*+[.,]?[0-9]*+(?<=[0-9])|[0-9]{1,3}(?:[.,][0-9]{3})+(?:[.,][0-9]+)?)(?:[eE][+-]?[0-9]{1,2})?"
)
_TIME_LIKE = re.compile(r"[0-9]{1,4}[-/.:][0-9]{1,2}[-/.:]?[0-9T:., +Z-]{0,30}(?:[ ]?[AaPp]\.?[Mm]\.?)?")


def cells_of(line: str, delimiter: str | None) -> list[str] | None:
    """Return the cells of a line without the blanks around them; None where its quotes do not close."""
    if delimiter is None:
        return line.split()
    if '"' not in line:
        cells = line.split(delimiter)
        return [cell.strip() for cell in cells] if " " in line else cells
    try:
        (row,) = csv.reader([line], delimiter=delimiter, strict=True, skipinitialspace=True)
    except (csv.Error, ValueError):
        return None
    return [cell.strip() for cell in row]


def is_number_or_time(cell: str) -> bool:
    """Say whether a cell looks like a number or a time."""
    return is_like_a_number(cell) or _TIME_LIKE.fullmatch(cell) is not None


def is_like_a_number(cell: str) -> bool:
    """Say whether a cell is made of digits, points and commas, as numbers are anywhere."""
    return _NUMBER_LIKE.fullmatch(cell) is not None


def number_read(cell: str, decimal: str) -> float | None:
    """Return the number that a cell holds, or None where it holds none."""
    pointed = _with_point(cell, decimal)
    return None if pointed is None else number_in(pointed)


def plain_number(cell: str, decimal: str) -> str | None:
    """Return a number as a log on record has it: the digits as read, with a decimal point; None where it is none."""
    pointed = _with_point(cell, decimal)
    return pointed if pointed is not None and number_in(pointed) is not None else None


def _with_point(cell: str, decimal: str) -> str | None:
    """Return a cell with a decimal point and a digit before it; None where a point stands beside decimal commas."""
    if decimal == ",":
        if "." in cell:
            return None
        cell = cell.replace(",", ".")
    return f"0{cell}" if cell[:1] == "." else cell
