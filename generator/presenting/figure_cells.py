"""Figures as cells of tables: the same text on a record's page, on its device's page, on paper and in a terminal."""

from __future__ import annotations

from generator.model.result import Figure
from generator.presenting.digits import interval_text, other_unit_text, percent_text, value_text
from generator.presenting.views import Cell


def figure_id(figure: Figure, record: str, *, on_device: bool) -> str:
    """Return a figure's id: its key on its record's page, with the record before it on a device's."""
    return f"{record}-{figure.key}" if on_device else figure.key


def figure_cell(
    figure: Figure, record: str, *, on_device: bool = False, limit: float | None = None, other_unit: bool = True
) -> Cell:
    """Return a figure as a cell that leads to its working; a missing one says why it is missing.

    Below it stand the other system's unit, unless the table has a column of it, and the interval.
    """
    identity = figure_id(figure, record, on_device=on_device)
    if figure.value is None:
        return Cell("not scored", note=figure.not_scored, id=identity)
    ends = interval_text(figure)
    notes = [other_unit_text(figure) if other_unit else None]
    if ends is not None and figure.interval is not None:
        notes.append(f"{percent_text(figure.interval.coverage)} interval {ends}")
    note = "; ".join(part for part in notes if part is not None) or None
    working = f"records/{record}.html#working.{figure.key}" if figure.working is not None else None
    return Cell(value_text(figure, limit), working, note, identity)
