"""What `inward check --format json` prints."""

from __future__ import annotations

from generator.contributing.checking.checked import Checked
from generator.contributing.checking.excerpts import Lines
from generator.contributing.checking.remarks import Level
from generator.model.base import Frozen


class CheckRemark(Frozen):
    """One problem or finding."""

    file: str
    """The file, as seen from where the command was called."""
    line: int
    """The line, counted from 1; 1 for what is about the file as such."""
    column: int
    """The column, in Unicode code points counted from 1."""
    end_line: int | None
    """The line in which what was found ends; null where it is a place rather than a piece of the text."""
    end_column: int | None
    """The column after its last character."""
    path: str
    """Where in the record, such as `fit[0].exercises[2].in_mask`; places in lists are counted from 0."""
    slug: str
    """The name of the rule, explained above."""
    level: Level
    """Whether the record cannot be scored as it stands, or holds something that should be looked at."""
    found: str
    """What was found."""
    expected: str | None
    """What was expected; null for what scoring noticed."""
    remedy: str
    """What to do."""
    message: str
    """The three in a sentence or two, as the terminal has them."""
    source_line: str | None
    """The line as it stands in the file; null where there is none to show."""


class CheckReport(Frozen):
    """What was checked, and everything that is told of it."""

    files: int
    """How many files were named and read."""
    problems: int
    """How many problems they have."""
    findings: int
    """How many findings there are."""
    problems_elsewhere: int
    """How many problems other files of the same records have."""
    findings_looked_for: bool
    """Whether findings were looked for."""
    scored: bool
    """Whether scoring looked for findings too; it does not where any record has a problem."""
    remarks: tuple[CheckRemark, ...]
    """Every problem and finding, in the order of file, line and column."""


def check_report(checked: Checked) -> CheckReport:
    """Return what was checked as it is printed."""
    lines = Lines(checked.contents)
    return CheckReport(
        files=checked.files,
        problems=checked.problems,
        findings=checked.findings,
        problems_elsewhere=checked.elsewhere,
        findings_looked_for=checked.findings_looked_for,
        scored=checked.scored,
        remarks=tuple(
            CheckRemark(
                file=remark.file,
                line=remark.line,
                column=remark.column,
                end_line=None if remark.end is None else remark.end[0],
                end_column=None if remark.end is None else remark.end[1],
                path=remark.path,
                slug=remark.slug,
                level=remark.level,
                found=remark.found,
                expected=remark.expected or None,
                remedy=remark.remedy,
                message=remark.message,
                source_line=lines.line(remark),
            )
            for remark in checked.remarks
        ),
    )
