"""A device's page as plain text of 80 columns."""

from __future__ import annotations

from generator.command_line.plain_text import heading_lines, joined, row_lines, section_lines, wrapped
from generator.presenting.page_views import DevicePage
from generator.presenting.statement_views import MayBeSaid
from generator.presenting.views import Table


def device_text(page: DevicePage) -> str:
    """Return what a device's page says first: answer, cautions, the topics' sentences, what may be said, claims."""
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
    lines += _said(page.may_be_said)
    lines += heading_lines("What its maker says")
    side = page.maker_side
    for table in (side.claims, side.approvals, side.coverage):
        if table is not None:
            lines += row_lines(table, captioned=False)
    lines += heading_lines("Assigned protection factors")
    lines += _told(meaning.assigned.sentences, meaning.assigned.table)
    return joined(lines)


def _said(view: MayBeSaid) -> list[str]:
    """Return what may be said; other devices, of which this command scores none, are left to the page."""
    lines = [*heading_lines("What may be said"), *wrapped(view.lead)]
    for statement in view.statements:
        if not statement.compares:
            lines += ["", *wrapped(statement.text), *wrapped(statement.limits, "  ")]
    if not view.not_shown:
        return lines
    lines.append("")
    for item in view.not_shown:
        if not item.compares:
            lines += wrapped(f"- {item.text} {item.reason}", hang="  ")
    return [*lines, *wrapped("What may be said of it beside other devices stands on its page.")]


def _told(sentences: tuple[str, ...], table: Table | None) -> list[str]:
    lines = [line for sentence in sentences for line in wrapped(sentence)]
    return lines + row_lines(table, captioned=False) if table is not None else lines
