"""What a change does to published results, as plain text of 80 columns."""

from __future__ import annotations

from itertools import groupby

from generator.command_line.plain_text import heading_lines, joined, wrapped
from generator.presenting.impact_views import ImpactRow, ImpactSection, ImpactView, Pieces


def impact_text(view: ImpactView) -> str:
    """Return a view as text, every row of it."""
    lines = [*_lines(_joined(view.compared)), *_lines(view.verdict)]
    if view.remarks:
        lines += ["", *(line for remark in view.remarks for line in _lines(f"! {_joined(remark)}", hang="  "))]
    for section in view.sections:
        lines += [*heading_lines(f"{section.heading} ({section.count})"), *_section(section)]
    if view.notes:
        lines += ["", *(line for note in view.notes for line in _lines(note))]
    return joined(lines)


def _section(section: ImpactSection) -> list[str]:
    lines = []
    for owner, rows in groupby(section.rows, key=lambda row: row.owner.text):
        told = list(rows)
        if section.columns[1:4] == ("", "", ""):
            lines += _lines(_with_step(owner, told[0]), hang="  ")
            continue
        lines += _lines(owner)
        for row in told:
            lines += _row(row)
    return lines


def _row(row: ImpactRow) -> list[str]:
    name = f", {row.name.text}" if row.name.text else ""
    lines = _lines(_with_step(f"{row.place.text}{name}", row), "  ", "    ")
    if row.before.text or row.after.text:
        lines += _lines(f"{row.before.text} → {row.after.text}", "    ", "      ")
    return lines


def _with_step(text: str, row: ImpactRow) -> str:
    return f"{text}: {row.change.text}" if row.change.text else text


def _lines(text: str, indent: str = "", hang: str | None = None) -> list[str]:
    return wrapped(text, indent, hang, at_hyphens=False)


def _joined(pieces: Pieces) -> str:
    return "".join(piece.text for piece in pieces)
