"""The parts of the record guide that explain findings, and what `inward check --format json` prints."""

from __future__ import annotations

from generator.command_line.guide_headings import described
from generator.command_line.result_guide import keys_table
from generator.contributing.checking.report import CheckRemark, CheckReport
from generator.contributing.checking.rules import finding_rules
from generator.loading.record_kinds import heading

FINDINGS_HEADING = "Findings"
CHECK_HEADING = "Check as JSON"

_FINDINGS = """\
A finding may be right, and should be looked at. `inward check` tells them of files that are named one by one, with
`--findings`, and with `--strict`, which ends with exit code 1 where there are any. A finding reads
`file:line:column: finding: path [name]: found ..., expected .... What to do.` What scoring notices is told once no
record of the folder has a problem; readers are told of it too, as a caution.
"""
_CHECK = """\
`inward check --format json` prints one document. Keys may be added; none changes its meaning without a line in the
changelog. `--format sarif` prints the same as SARIF 2.1.0, with problems as errors, unlikely numbers and contradictions
as warnings, and what scoring notices as notes; its columns are counted in Unicode code points too.
"""


def findings_guide() -> str:
    """Return the section on findings as Markdown."""
    parts = [f"## {FINDINGS_HEADING}\n\n{_FINDINGS}"]
    for group, rules in finding_rules().items():
        rows = ["| name | what it means | what to do |", "| --- | --- | --- |"]
        rows += [f'| <a id="{slug}"></a>`{slug}` | {each.meaning} | {each.remedy} |' for slug, each in rules.items()]
        parts.append(f"### {group}\n\n" + "\n".join(rows) + "\n")
    return "\n".join(parts)


def check_guide() -> str:
    """Return the section on what a check prints as JSON, as Markdown."""
    parts = [f"## {CHECK_HEADING}\n\n{_CHECK}"]
    parts += [f"### {heading(each)}\n\n{described(each)}\n\n{keys_table(each)}" for each in (CheckReport, CheckRemark)]
    return "\n".join(parts)
