"""What a preview says beside the pages: which problems the records have, what failed, what is not there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.errors import Problem, on_one_line
from generator.presenting.wording import count_text

_MOST_OF_A_LINE = 160
"""Characters of an offending line that are shown."""
_BEFORE = 60
"""Characters of it that are shown before the place of the problem."""


@dataclass(frozen=True)
class OffendingLine:
    """A line of a record, split at the place of a problem."""

    number: str
    before: str
    rest: str


@dataclass(frozen=True)
class ProblemView:
    """A problem as `inward check` words it, with the line that it is about."""

    text: str
    line: OffendingLine | None


@dataclass(frozen=True)
class PreviewNotice:
    """What stands above a page, or on a page of its own: a heading, sentences, problems."""

    heading: str
    sentences: tuple[str, ...]
    problems: tuple[ProblemView, ...] = ()


def _offending_line(problem: Problem, lines: Sequence[str]) -> OffendingLine | None:
    if not 1 <= problem.line <= len(lines):
        return None
    line, at = lines[problem.line - 1], max(problem.column - 1, 0)
    start = max(at - _BEFORE, 0)
    shown = on_one_line(line[start : start + _MOST_OF_A_LINE])
    if not shown.strip():
        return None
    before, rest = shown[: at - start], shown[at - start :]
    return OffendingLine(
        number=str(problem.line),
        before=f"… {before}" if start else before,
        rest=f"{rest} …" if len(line) > start + _MOST_OF_A_LINE else rest,
    )


def problems_notice(problems: Sequence[Problem], lines: Mapping[str, Sequence[str]], *, stands: bool) -> PreviewNotice:
    """Return what says that the records have problems.

    `lines` holds the lines of the files that could be read, by the names that problems use. `stands` says whether there
    is an earlier state of the catalogue to show meanwhile.
    """
    shown = "This page shows the catalogue as it was before. " if stands else "There is no catalogue to show yet. "
    return PreviewNotice(
        heading=f"{count_text(len(problems), 'problem')} in the records".capitalize(),
        sentences=(
            f"{shown}It is shown anew as soon as the records are mended. "
            "The record guide explains each problem by the name in brackets.",
        ),
        problems=tuple(
            ProblemView(str(problem), _offending_line(problem, lines.get(problem.file, ()))) for problem in problems
        ),
    )


def failure_notice(slug: str, words: str, *, stands: bool) -> PreviewNotice:
    """Return what says that the catalogue could not be made of the records as they are."""
    shown = "This page shows the catalogue as it was before." if stands else "There is no catalogue to show yet."
    return PreviewNotice("The catalogue could not be made", (f"[{slug}] {words}", shown))


def page_failure_notice(slug: str, words: str) -> PreviewNotice:
    """Return what says that one page or PDF could not be made."""
    return PreviewNotice("This page could not be made", (f"[{slug}] {words}",))


def missing_notice(path: str) -> PreviewNotice:
    """Return what says that the catalogue has no page of this address."""
    return PreviewNotice(
        "No such page",
        (f"The catalogue has nothing at “{path}”. A page that comes to be there is shown as soon as it can be made.",),
    )
