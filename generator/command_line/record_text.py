"""A test record's page as plain text of 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from generator.presenting.page_views import RecordPage
from generator.presenting.views import Block, Fact, FigureView, Table, TopicSection

WIDTH = 80
_GAP = "  "
_LEAST_FIRST_COLUMN = 10


def record_text(page: RecordPage) -> str:
    """Return the results on a record's page as text: topics with figures and verdicts, then findings."""
    lines = [*_wrapped(page.head.title), *_wrapped(page.head.description), ""]
    for notice in page.head.notices:
        lines += [*_wrapped(notice.heading), *_wrapped(notice.text), ""]
    lines += [line for fact in page.facts for line in _fact(fact)]
    for section in page.sections:
        lines += _section(section)
    lines += ["", "Findings", "--------"]
    lines += [line for finding in page.findings for line in _wrapped(f"- {finding}", hang="  ")] or ["None."]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _section(section: TopicSection) -> list[str]:
    lines = ["", section.heading, "-" * len(section.heading)]
    lines += [line for sentence in section.sentences for line in _wrapped(sentence)]
    for block in section.blocks:
        lines += ["", *_block(block)]
    return lines


def _block(block: Block) -> list[str]:
    lines = _wrapped(block.heading)
    for figure in block.figures:
        lines += _figure(figure)
    if block.verdict is not None:
        requirement = f" ({block.verdict.requirement.text})" if block.verdict.requirement else ""
        lines += _wrapped(f"Verdict: {block.verdict.outcome}{requirement}. {block.verdict.sentence}", "  ", "    ")
    if block.note is not None:
        lines += _wrapped(block.note, "  ")
    lines += [line for fact in block.facts for line in _fact(fact, "  ")]
    return [*lines, *_table(block.table)] if block.table is not None else lines


def _figure(figure: FigureView) -> list[str]:
    interval = f", interval {figure.interval}" if figure.interval is not None else ""
    other = f" = {figure.other_unit}" if figure.other_unit is not None else ""
    lines = _wrapped(f"{figure.name}: {figure.value}{other}{interval}, from {figure.sample}", "  ", "    ")
    return [*lines, *_wrapped(figure.interval_note, "    ")] if figure.interval_note is not None else lines


def _fact(fact: Fact, indent: str = "") -> list[str]:
    return _wrapped(f"{fact.term}: {fact.text}", indent, indent + "  ")


def _table(table: Table) -> list[str]:
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


def _wrapped(text: str, indent: str = "", hang: str | None = None) -> list[str]:
    later = indent if hang is None else hang
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=later)
