"""What the tester said about a log, and the question that is raised where neither that nor the file decides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

NOT_USED = "none"
"""In place of a column: the log has none of that kind."""


@dataclass(frozen=True)
class Told:
    """Answers given by options or at the terminal; None where the file is to say."""

    encoding: str | None = None
    delimiter: str | None = None
    decimal: str | None = None
    headings: int | None = None
    """Number of the line with the headings, 0 for none."""
    time: str | None = None
    """A heading, or a column's number counted from 1; so for the other columns."""
    concentration: str | None = None
    outside: str | None = None
    exercise: str | None = None
    sampling: str | None = None
    time_format: str | None = None
    unit: str | None = None
    doubled: str | None = None
    lines: tuple[int, int] | None = None
    """First and last line of the file that are looked at, below the headings."""


@dataclass(frozen=True)
class Choice:
    """One answer to a question, and what it would mean."""

    value: str
    meaning: str = ""


class Unclear(Exception):
    """Something that a log leaves open: the option that decides it, what was found, and the answers there are."""

    def __init__(self, option: str, found: str, question: str, choices: Sequence[Choice] = ()) -> None:
        """Keep the parts; whoever can ask does so, and others name the option. Without choices any answer will do."""
        super().__init__(f"{option}: {found}")
        self.option, self.found, self.question, self.choices = option, found, question, tuple(choices)
