"""Figures as cells of tables: the same text on a record's page, on its device's page, on paper and in a terminal."""

from __future__ import annotations

from generator.model.result import Figure
from generator.presenting.digits import interval_text, percent_text, value_text
from generator.presenting.views import Cell


def figure_id(figure: Figure, record: str, *, on_device: bool) -> str:
    """Return a figure's id: its key on its record's page, with the record before it on a device's."""
    return f"{record}-{figure.key}" if on_device else figure.key


def figure_cell(figure: Figure, record: str, *, on_device: bool = False, limit: float | None = None) -> Cell:
    """Return a figure as a cell that leads to its working; a missing one says why it is missing."""
    identity = figure_id(figure, record, on_device=on_device)
    if figure.value is None:
        return Cell("not scored", note=figure.not_scored, id=identity)
    note = None
    ends = interval_text(figure)
    if ends is not None and figure.interval is not None:
        note = f"{percent_text(figure.interval.coverage)} interval {ends}"
    working = f"records/{record}.html#working.{figure.key}" if figure.working is not None else None
    return Cell(value_text(figure, limit), working, note, identity)
