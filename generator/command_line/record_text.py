"""A test record's page as plain text of 80 columns."""

from __future__ import annotations

from generator.command_line.plain_text import fact_lines, heading_lines, joined, section_lines, wrapped
from generator.presenting.page_views import RecordPage


def record_text(page: RecordPage) -> str:
    """Return the results on a record's page as text: topics with figures and verdicts, then findings."""
    lines = [*wrapped(page.head.title), *wrapped(page.head.description), ""]
    lines += [line for fact in page.facts for line in fact_lines(fact)]
    for section in page.sections:
        lines += section_lines(section)
    lines += heading_lines("Findings")
    lines += [line for finding in page.findings for line in wrapped(f"- {finding}", hang="  ")] or ["None."]
    return joined(lines)
