"""The one exception tree. Each class has a stable slug that records/README.md or DEVELOPERS.md explains.

    InwardError
    +-- RecordsHaveProblems   exit 1: the records cannot be scored or published as they stand
    +-- WrongUsage            exit 2: the command was called in a way that cannot work
    +-- PublishedSiteUnreadable  exit 1: a folder is no published site, or its data were damaged
    +-- GeneratorFailed       exit 3: the generator, not the records, is at fault
        +-- OutsideRange      a scoring function was called outside the range its formula holds in
        +-- BrokenLink        a page refers to something that was not generated
        +-- PublishFailed     output/ could not be written; the old site is untouched
        +-- LibraryMissing    a system library that the PDF step needs is not there

File names are carried as str, so that this module needs nothing but the language.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import ClassVar

End = tuple[int, int]
"""Line and column, counted from 1, of the character after the last one."""


@dataclass(frozen=True, order=True)
class Problem:
    """One reason why a record cannot be scored: where, what was found, what was expected, what to do."""

    file: str
    line: int
    column: int
    path: str
    slug: str
    found: str
    expected: str
    remedy: str
    end: End | None = field(default=None, compare=False)
    """Where what was found ends; None where it is a place rather than a piece of the text."""

    @property
    def message(self) -> str:
        """What was found, what was expected, what to do."""
        return f"found {self.found}, expected {self.expected}. {self.remedy}."

    def __str__(self) -> str:
        """Give the one line a contributor reads: `file:line:column: path [slug]: found ..., expected .... Remedy.`"""
        return on_one_line(f"{self.file}:{self.line}:{self.column}: {self.path} [{self.slug}]: {self.message}")


def on_one_line(text: str) -> str:
    """Return a text as one line whatever a record holds: line breaks and terminal codes become spaces."""
    return "".join(character if character.isprintable() else " " for character in text)


class InwardError(Exception):
    """Base of all errors that the generator raises on purpose."""

    slug: ClassVar[str] = "error"
    exit_code: ClassVar[int] = 3


class RecordsHaveProblems(InwardError):
    """Records cannot be scored or published; carries every problem found."""

    slug = "records-have-problems"
    exit_code = 1

    def __init__(self, problems: Sequence[Problem]) -> None:
        """Keep the problems in the order of file, line and column."""
        self.problems = tuple(sorted(problems))
        super().__init__("\n".join(str(problem) for problem in self.problems))


class WrongUsage(InwardError):
    """The command was called with something that cannot work, such as a folder that does not exist."""

    slug = "wrong-usage"
    exit_code = 2


class PublishedSiteUnreadable(InwardError):
    """A folder is no published site, or its data do not read as published data any more."""

    slug = "published-site-unreadable"
    exit_code = 1


class GeneratorFailed(InwardError):
    """The generator could not do its work although the records are good."""

    slug = "generator-failed"


class OutsideRange(GeneratorFailed):
    """A formula was asked for a value outside the range it holds in."""

    slug = "outside-range"


class BrokenLink(GeneratorFailed):
    """A generated page links to a page or fragment that was not generated."""

    slug = "broken-link"


class PublishFailed(GeneratorFailed):
    """The site could not be put in place; what stood in the output folder still stands."""

    slug = "publish-failed"


class LibraryMissing(GeneratorFailed):
    """A system library needed for PDFs is missing; the message says what to install."""

    slug = "library-missing"
