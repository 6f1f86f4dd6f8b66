"""A device's page as plain text of 80 columns."""

from __future__ import annotations

from generator.command_line.plain_text import heading_lines, joined, row_lines, section_lines, wrapped
from generator.presenting.page_views import DevicePage
from generator.presenting.views import Table


def device_text(page: DevicePage) -> str:
    """Return what a device's page says first: the answer, the cautions, the topics' sentences, claims and approvals."""
    lines = [*wrapped(page.name), *wrapped(f"{page.kind}; {page.maker}"), ""]
    for sentence in page.answer:
        lines += wrapped(sentence)
    for item in page.brief:
        lines += wrapped(f"- {item.text}", hang="  ")
    lines += heading_lines("Cautions")
    lines += [line for item in page.cautions.raised for line in wrapped(f"- {item.heading}", hang="  ")] or ["None."]
    for section in page.sections:
        lines += section_lines(section)
    meaning = page.meaning
    if meaning.same_day is not None:
        lines += heading_lines("Worn the same day by the same wearer")
        lines += _told(meaning.same_day.sentences, meaning.same_day.table)
    if meaning.off_time is not None:
        lines += heading_lines("Hypothetical: what if it is not worn all the time?")
        starts, *_ = meaning.off_time.facts
        begins = f"{starts.term}: {starts.text}; {starts.note}."
        lines += _told((*meaning.off_time.sentences, begins), meaning.off_time.table)
    lines += heading_lines("What its maker says")
    side = page.maker_side
    for table in (side.claims, side.approvals, side.coverage):
        if table is not None:
            lines += row_lines(table, captioned=False)
    lines += heading_lines("Assigned protection factors")
    lines += _told(meaning.assigned.sentences, meaning.assigned.table)
    return joined(lines)


def _told(sentences: tuple[str, ...], table: Table | None) -> list[str]:
    lines = [line for sentence in sentences for line in wrapped(sentence)]
    return lines + row_lines(table, captioned=False) if table is not None else lines
