"""A device's page as plain text of 80 columns."""

from __future__ import annotations

from generator.command_line.plain_text import heading_lines, joined, section_lines, wrapped
from generator.presenting.page_views import DevicePage
from generator.presenting.views import Table


def device_text(page: DevicePage) -> str:
    """Return what a device's page says first: the answer, the cautions, the topics' sentences, claims and approvals."""
    lines = [*wrapped(page.name), *wrapped(f"{page.kind}; {page.maker}"), ""]
    for sentence in page.answer:
        lines += wrapped(sentence)
    lines += heading_lines("Cautions")
    lines += [line for item in page.cautions.raised for line in wrapped(f"- {item.heading}", hang="  ")] or ["None."]
    for section in page.sections:
        lines += section_lines(section)
    lines += heading_lines("What its maker says")
    side = page.maker_side
    for table in (side.claims, side.approvals, side.coverage):
        if table is not None:
            lines += _rows(table)
    return joined(lines)


def _rows(table: Table) -> list[str]:
    """Return each row as sentences: the cells hold more than a column of a terminal can."""
    lines = []
    for row in table.rows:
        first, *others = row.cells
        lines += wrapped(f"- {first.text}", hang="  ")
        for column, cell in zip(table.columns[1:], others, strict=True):
            note = f" ({cell.note})" if cell.note else ""
            lines += wrapped(f"{column.head}: {cell.text}{note}", "  ", "    ")
    return lines
