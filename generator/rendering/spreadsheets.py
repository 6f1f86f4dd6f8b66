"""Rows as comma-separated values that read back whole, and of which no spreadsheet runs a cell."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

# A spreadsheet takes a cell that begins with one of these for a formula.
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def harmless_cell(value: object) -> str:
    """Return a cell's text: numbers in full, and text that no spreadsheet takes for a formula."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    text = str(value)
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text


def csv_bytes(columns: Iterable[str], rows: Iterable[Iterable[object]]) -> bytes:
    """Return a table as RFC 4180 has it, in UTF-8."""
    return csv_rows([columns]) + csv_rows(rows)


def csv_rows(rows: Iterable[Iterable[object]]) -> bytes:
    """Return rows of a table, to be put one after another below its heading."""
    sheet = io.StringIO()
    csv.writer(sheet, lineterminator="\r\n").writerows([harmless_cell(cell) for cell in row] for row in rows)
    return sheet.getvalue().encode()
