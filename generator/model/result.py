"""What scoring gives: figures with their intervals and working, verdicts, findings."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from pydantic import SerializeAsAny

from generator.model.base import Frozen, FrozenOfMany


class Relation(StrEnum):
    """How the true value stands to the stated one."""

    EQUAL = "equal"
    AT_LEAST = "at_least"
    AT_MOST = "at_most"


class Input(FrozenOfMany):
    """One number that went into a figure, and where it stands."""

    symbol: str
    """The symbol in the method's equation, as LaTeX."""
    meaning: str
    """What it stands for."""
    value: float
    """The number, in `unit`."""
    unit: str
    """Its unit; `1` for a ratio."""
    where: str
    """Path in the record, such as `fit[morning].exercises[talking].in_mask`, or another record and what of it."""
    working: Working | None = None
    """How the number was itself derived; None where it stands in the record."""


class Working(FrozenOfMany):
    """The derivation of one figure by the method it names."""

    method: str
    """The id of the method."""
    inputs: tuple[Input, ...]
    """The numbers that went into the equation."""


class Interval(FrozenOfMany):
    """Limits with their coverage probability. A missing limit says: the data set none on this side."""

    low: float | None
    """The lower limit, in the figure's unit; null where the data set none."""
    high: float | None
    """The upper limit, in the figure's unit; null where the data set none."""
    coverage: float
    """The coverage probability, such as 0.95."""
    method: str
    """Id of the method that gave the limits."""
    covers: str
    """What is in it, such as `counting and ambient change`; a reader must know what is not."""
    working: Working | None = None
    """The derivation of the limits; null where there is none to show."""


class Figure(FrozenOfMany):
    """One result. `key` is unique in its record, such as `fit.morning.overall`, and is its id on the page."""

    key: str
    """Unique in its record, such as `fit.morning.overall`; its id on the page."""
    name: str
    """What it is, in words."""
    value: float | None
    """The result, in `unit`, at full precision; null where it is not scored."""
    unit: str
    """Its unit; `1` for a ratio such as a fit factor."""
    relation: Relation = Relation.EQUAL
    """How the true value stands to `value`: a bound is never shown as a value."""
    other_bound: float | None = None
    """Where the value is a bound: the other one, if an instrument's ceiling sets it. No probability belongs to them."""
    interval: Interval | None = None
    """Its limits; null where there is none."""
    no_interval: str | None = None
    """Why there is no interval."""
    sample_size: int
    """How many values it was made from."""
    sample_of: str
    """What was counted for the sample size, such as `exercises`."""
    method: str
    """The id of the method."""
    working: Working | None = None
    """The derivation; null where there is none to show."""
    not_scored: str | None = None
    """Why there is no value."""


class Outcome(StrEnum):
    """What a verdict says."""

    MEETS = "meets"
    DOES_NOT_MEET = "does_not_meet"
    UNDECIDED = "undecided"
    NOT_APPLICABLE = "not_applicable"


class Verdict(FrozenOfMany):
    """A figure held against a criterion, or why none applies."""

    key: str
    """Unique in its record, such as `fit.morning.verdict`; its id on the page."""
    figure: str
    """The key of the figure."""
    criterion: str | None
    """The id of the criterion; null where none applies."""
    outcome: Outcome
    """What came out."""
    rule: str | None
    """`guarded` or `plain`; None where no criterion applies."""
    benchmark_only: bool = False
    """Whether the criterion is a benchmark only, as for a home-built device."""
    limit: float | None = None
    """The criterion's limit, in `unit`; null where none applies."""
    unit: str | None = None
    """The limit's unit; null where none applies."""
    ratio: float | None = None
    """The figure divided by the limit; null where there is none, and for levels in decibels."""
    probability_of_conformity: float | None = None
    """The probability, from 0 to 1, that the true value meets the criterion; null where it was not computed."""
    reason: str
    """One sentence: why this outcome."""


class Finding(Frozen):
    """Something that scoring noticed and that bears on trust. `rule` is the slug that caution rules refer to."""

    rule: str
    """The slug of the rule, which caution rules refer to."""
    where: str
    """What it is about: a path in the record, or another record."""
    facts: dict[str, str | int | float]
    """What was found, by name."""


class TopicResult(Frozen):
    """Base of what a topic gives for one record."""

    figures: tuple[Figure, ...]
    """Every figure of the topic in this record; sessions and runs hold the same ones in their place."""
    verdicts: tuple[Verdict, ...]
    """Every verdict of the topic in this record."""
    findings: tuple[Finding, ...]
    """What scoring noticed in this topic."""


class TopicSummary(Frozen):
    """Base of what a topic gives for one device from all of its records."""

    findings: tuple[Finding, ...]
    """What scoring noticed in this topic over all records."""


class RecordResult(Frozen):
    """Everything scored for one test record: topics by name, and the findings that no topic owns."""

    record: str
    """The id of the test record."""
    device: str
    """The id of the device."""
    topics: Mapping[str, SerializeAsAny[TopicResult]]
    """By the topic's name, `fit` or `flow`; a topic that the record holds nothing of is not there."""
    findings: tuple[Finding, ...]
    """What scoring noticed of the record as a whole."""

    @property
    def all_findings(self) -> tuple[Finding, ...]:
        """The record's own findings and those of its topics."""
        return self.findings + tuple(finding for topic in self.topics.values() for finding in topic.findings)

    @property
    def methods(self) -> tuple[str, ...]:
        """The methods of its figures that have a value, in the order of the figures."""
        figures = (figure for topic in self.topics.values() for figure in topic.figures)
        return tuple(dict.fromkeys(figure.method for figure in figures if figure.value is not None))
