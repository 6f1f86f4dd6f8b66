"""Parts of a page as plain text of 80 columns."""

from __future__ import annotations

import os
import textwrap
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    # A check writes no section, and would wait for a hundred views.
    from generator.presenting.views import Block, Fact, FigureView, Table, TopicSection
    from generator.presenting.wearer_views import WearersView

WIDTH = 80
_GAP = "  "
_LEAST_FIRST_COLUMN = 10


def section_lines(section: TopicSection) -> list[str]:
    """Return a topic: heading, sentences, then each session or run."""
    lines = ["", section.heading, "-" * len(section.heading)]
    lines += [line for sentence in section.sentences for line in wrapped(sentence)]
    if section.wearers is not None:
        lines += _wearers(section.wearers)
    if section.tables_told:
        lines += [line for table in section.tables for line in ("", *row_lines(table))]
    for block in section.blocks:
        lines += ["", *_block(block)]
    return lines


def row_lines(table: Table, captioned: bool = True) -> list[str]:
    """Return each row as sentences, for tables whose cells hold more than a column of a terminal can.

    The caption stands above them, unless sentences before the table say what it holds.
    """
    lines = wrapped(f"{table.caption.rstrip('.')}:") if captioned else []
    for row in table.rows:
        first, *others = row.cells
        note = f" ({first.note})" if first.note else ""
        lines += wrapped(f"- {first.text}{note}", hang="  ")
        for column, cell in zip(table.columns[1:], others, strict=True):
            if not cell.text:
                continue
            note = f" ({cell.note})" if cell.note else ""
            # Words such as `not scored`, and figures written with their unit, take none from the head.
            unit = f" {column.unit}" if column.unit and cell.text[-1:].isdigit() else ""
            lines += wrapped(f"{column.head}: {cell.text}{unit}{note}", "  ", "    ")
    return lines


def run_on_lines(table: Table) -> list[str]:
    """Return each row as one run of heads and cells, for tables of many short cells; `none` is left out."""
    lines = [f"  {table.caption}:"]
    for row in table.rows:
        first, *others = row.cells
        note = f" ({first.note})" if first.note else ""
        cells = zip(table.columns[1:], others, strict=True)
        said = "; ".join(f"{column.head.lower()} {cell.text}" for column, cell in cells if cell.text != "none")
        lines += wrapped(f"- {first.text}{note}{': ' if said else ''}{said}", "  ", "    ")
    return lines


def _wearers(view: WearersView) -> list[str]:
    """Return what donnings say of wearers, group by group, and then what holds for all."""
    lines: list[str] = []
    for group in view.groups:
        lines += ["", *wrapped(group.heading or "Wearers and donnings")]
        lines += [line for sentence in group.sentences for line in wrapped(sentence, "  ")]
    return [*lines, "", *(line for sentence in view.sentences for line in wrapped(sentence))]


def _block(block: Block) -> list[str]:
    lines = wrapped(block.heading)
    for figure in block.figures:
        lines += _figure(figure)
    if block.verdict is not None:
        requirement = f" ({block.verdict.requirement.text})" if block.verdict.requirement else ""
        lines += wrapped(f"Verdict: {block.verdict.outcome}{requirement}. {block.verdict.sentence}", "  ", "    ")
    if block.note is not None:
        lines += wrapped(block.note, "  ")
    lines += [line for fact in block.facts for line in fact_lines(fact, "  ")]
    if block.table is not None:
        lines += table_lines(block.table)
    for table in block.further:
        lines += run_on_lines(table)
    return lines


def _figure(figure: FigureView) -> list[str]:
    interval = f", interval {figure.interval}" if figure.interval is not None else ""
    other = f" = {figure.other_unit}" if figure.other_unit is not None else ""
    lines = wrapped(f"{figure.name}: {figure.value}{other}{interval}, from {figure.sample}", "  ", "    ")
    if figure.interval_note is not None:
        lines += wrapped(figure.interval_note, "    ")
    methods = f"method: {figure.method.text}"
    if figure.interval_method is not None and figure.interval_method != figure.method:
        methods += f"; of the interval: {figure.interval_method.text}"
    return [*lines, *wrapped(methods, "    ")]


def fact_lines(fact: Fact, indent: str = "") -> list[str]:
    """Return a term and what is recorded of it."""
    return wrapped(f"{fact.term}: {fact.text}", indent, indent + "  ")


def table_lines(table: Table) -> list[str]:
    """Return a table with its caption; the first column gives way where there is no room."""
    heads = [f"{column.head} [{column.unit}]" if column.unit else column.head for column in table.columns]
    rows = [[cell.text for cell in row.cells] for row in table.rows]
    widths = [
        max([max(len(word) for word in head.split()), *(len(row[place]) for row in rows)])
        for place, head in enumerate(heads)
    ]
    rest = WIDTH - len(_GAP) * len(widths) - sum(widths[1:])
    widths[0] = min(widths[0], max(rest, _LEAST_FIRST_COLUMN))
    rules = ["-" * width for width in widths]
    return [
        f"  {table.caption}:",
        *_row(heads, widths),
        *_row(rules, widths),
        *(line for row in rows for line in _row(row, widths)),
    ]


def _row(cells: Iterable[str], widths: list[int]) -> list[str]:
    columns = [textwrap.wrap(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    height = max(len(column) for column in columns)
    padded = [column + [""] * (height - len(column)) for column in columns]
    first, *others = zip(padded, widths, strict=True)
    return [
        _GAP + _GAP.join([first[0][line].ljust(first[1]), *(column[line].rjust(width) for column, width in others)])
        for line in range(height)
    ]


def colours_wanted() -> bool:
    """Say whether nobody asked for text without colours and weights."""
    # https://no-color.org: set to anything but nothing, it asks for none.
    return not os.environ.get("NO_COLOR")


def wrapped(text: str, indent: str = "", hang: str | None = None, *, at_hyphens: bool = True) -> list[str]:
    """Return a text in lines; `hang` is put before all but the first. Ids stay whole where no line ends at a hyphen."""
    later = indent if hang is None else hang
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=later, break_on_hyphens=at_hyphens)


def heading_lines(heading: str) -> list[str]:
    """Return a heading, underlined, after an empty line."""
    return ["", heading, "-" * len(heading)]


def joined(lines: Iterable[str]) -> str:
    """Return lines as one text, without blanks at their ends."""
    return "\n".join(line.rstrip() for line in lines) + "\n"
