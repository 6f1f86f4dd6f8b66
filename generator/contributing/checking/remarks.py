"""What is told of a record: problems, which must be mended, and findings, which may be right."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from generator.errors import End, Problem, on_one_line


class Level(StrEnum):
    """Whether a record cannot be scored as it stands, or holds something that should be looked at."""

    PROBLEM = "problem"
    FINDING = "finding"


@dataclass(frozen=True)
class Remark:
    """One problem or finding: where, what was found, what was expected, what to do."""

    level: Level
    file: str
    line: int
    column: int
    path: str
    slug: str
    found: str
    expected: str | None
    """None for what scoring found, which is told as it is."""
    remedy: str
    end: End | None = None
    """Line and column of the character after what was found; None where it is a place rather than a piece of text."""

    @property
    def message(self) -> str:
        """What was found, what was expected, what to do, on one line."""
        expected = "" if self.expected is None else f", expected {self.expected}"
        return on_one_line(f"found {self.found}{expected}. {self.remedy}.")

    def __str__(self) -> str:
        """Give the one line that tells it: that of a finding says so after its place."""
        level = "finding: " if self.level is Level.FINDING else ""
        return on_one_line(f"{self.file}:{self.line}:{self.column}: {level}{self.path} [{self.slug}]: {self.message}")

    @property
    def order(self) -> tuple[object, ...]:
        """By file, line and column, and there problems first."""
        return self.file, self.line, self.column, self.level is Level.FINDING, self.path, self.slug, self.message


def problem_remark(problem: Problem) -> Remark:
    """Return a problem as a remark."""
    return _remark(Level.PROBLEM, problem)


def finding_remark(told: Problem) -> Remark:
    """Return a finding that is told in the words of a problem."""
    return _remark(Level.FINDING, told)


def _remark(level: Level, told: Problem) -> Remark:
    return Remark(
        level,
        told.file,
        told.line,
        told.column,
        told.path,
        told.slug,
        told.found,
        told.expected,
        told.remedy,
        told.end,
    )
