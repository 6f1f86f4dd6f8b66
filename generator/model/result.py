"""What scoring gives: figures with their intervals and working, verdicts, findings."""

from __future__ import annotations

from enum import StrEnum

from pydantic import SerializeAsAny

from generator.model.base import Frozen


class Relation(StrEnum):
    """How the true value stands to the stated one."""

    EQUAL = "equal"
    AT_LEAST = "at_least"
    AT_MOST = "at_most"


class Input(Frozen):
    """One number that went into a figure, and where it stands."""

    symbol: str
    meaning: str
    value: float
    unit: str
    where: str
    """Path in the record, such as `fit[morning].exercises[talking].in_mask`, or another record and what of it."""
    working: Working | None = None
    """How the number was itself derived; None where it stands in the record."""


class Working(Frozen):
    """The derivation of one figure by the method it names."""

    method: str
    inputs: tuple[Input, ...]


class Interval(Frozen):
    """Limits with their coverage probability. A missing limit says: the data set none on this side."""

    low: float | None
    high: float | None
    coverage: float
    method: str
    """Id of the method that gave the limits."""
    covers: str
    """What is in it, such as `counting and ambient change`; a reader must know what is not."""
    working: Working | None = None


class Figure(Frozen):
    """One result. `key` is unique in its record, such as `fit.morning.overall`, and is its id on the page."""

    key: str
    name: str
    value: float | None
    unit: str
    relation: Relation = Relation.EQUAL
    other_bound: float | None = None
    """Where the value is a bound: the other one, if an instrument's ceiling sets it. No probability belongs to them."""
    interval: Interval | None = None
    no_interval: str | None = None
    """Why there is no interval."""
    sample_size: int
    sample_of: str
    """What was counted for the sample size, such as `exercises`."""
    method: str
    working: Working | None = None
    not_scored: str | None = None
    """Why there is no value."""


class Outcome(StrEnum):
    """What a verdict says."""

    MEETS = "meets"
    DOES_NOT_MEET = "does_not_meet"
    UNDECIDED = "undecided"
    NOT_APPLICABLE = "not_applicable"


class Verdict(Frozen):
    """A figure held against a criterion, or why none applies."""

    key: str
    figure: str
    criterion: str | None
    outcome: Outcome
    rule: str | None
    """`guarded` or `plain`; None where no criterion applies."""
    benchmark_only: bool = False
    limit: float | None = None
    unit: str | None = None
    ratio: float | None = None
    probability_of_conformity: float | None = None
    reason: str
    """One sentence: why this outcome."""


class Finding(Frozen):
    """Something that scoring noticed and that bears on trust. `rule` is the slug that caution rules refer to."""

    rule: str
    where: str
    facts: dict[str, str | int | float]


class TopicResult(Frozen):
    """Base of what a topic gives for one record."""

    figures: tuple[Figure, ...]
    verdicts: tuple[Verdict, ...]
    findings: tuple[Finding, ...]


class TopicSummary(Frozen):
    """Base of what a topic gives for one device from all of its records."""

    findings: tuple[Finding, ...]


class RecordResult(Frozen):
    """Everything scored for one test record: topics by name, and the findings that no topic owns."""

    record: str
    device: str
    topics: dict[str, SerializeAsAny[TopicResult]]
    findings: tuple[Finding, ...]

    @property
    def all_findings(self) -> tuple[Finding, ...]:
        """The record's own findings and those of its topics."""
        return self.findings + tuple(finding for topic in self.topics.values() for finding in topic.findings)
