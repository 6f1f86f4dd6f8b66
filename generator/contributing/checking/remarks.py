"""What is told of a record: problems, which must be mended, and findings, which may be right."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from generator.errors import Problem, on_one_line


class Level(StrEnum):
    """Whether a record cannot be scored as it stands, or holds something that should be looked at."""

    PROBLEM = "problem"
    FINDING = "finding"


@dataclass(frozen=True)
class Remark(Problem):
    """A problem, or a finding in the same words; `expected` is empty for what scoring found, which is told as it is."""

    level: Level = Level.PROBLEM

    @property
    def message(self) -> str:
        """What was found, what was expected, what to do, on one line."""
        expected = f", expected {self.expected}" if self.expected else ""
        return on_one_line(f"found {self.found}{expected}. {self.remedy}.")

    def __str__(self) -> str:
        """Give the one line that tells it: that of a finding says so after its place."""
        level = "finding: " if self.level is Level.FINDING else ""
        return on_one_line(f"{self.file}:{self.line}:{self.column}: {level}{self.path} [{self.slug}]: {self.message}")

    @property
    def order(self) -> tuple[object, ...]:
        """By file, line and column, and there problems first."""
        return self.file, self.line, self.column, self.level is Level.FINDING, self.path, self.slug, self.message


def remark(told: Problem, level: Level) -> Remark:
    """Return what is told in the words of a problem as a remark of its level."""
    return Remark(**vars(told), level=level)
