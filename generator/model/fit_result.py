"""What scoring gives for the fit sessions of a record and of a device."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.result import Figure, TopicResult, TopicSummary, Verdict
from generator.model.wearers_result import OverWearers


class DataLevel(StrEnum):
    """What a session's factors are made from, best first."""

    RAW_LOG = "raw_log"
    COUNTS = "counts"
    CONCENTRATIONS = "concentrations"
    EXERCISE_FACTORS = "exercise_factors"
    OVERALL_ONLY = "overall_only"


class Basis(StrEnum):
    """How much of a protocol an overall factor stands for; those of different bases never stand together."""

    WHOLE_PROTOCOL = "whole_protocol"
    PARTIAL = "partial"
    OVERALL_ONLY = "overall_only"


class ExerciseResult(Frozen):
    """The fit factor of one exercise."""

    exercise: str
    name: str
    counted: bool
    fit_factor: Figure
    average_penetration: Figure | None = None
    """Mean share of the ambient concentration that was inside, for sessions with a log."""
    peak_penetration: Figure | None = None
    """The highest reading inside as a share of the ambient concentration, for sessions with a log."""


class SessionResult(Frozen):
    """One fit session. Without figures where it was aborted or voided."""

    session: str
    wearer: str
    donning: int
    protocol: str
    blower: str | None
    outcome: str
    reason: str | None
    counted: bool
    """Whether it counts towards the results: it was completed, and the record's rule does not leave it out."""
    level: DataLevel | None = None
    """What its factors are made from; None where it was not completed."""
    basis: Basis = Basis.WHOLE_PROTOCOL
    exercises: tuple[ExerciseResult, ...]
    overall: Figure | None
    inward_leakage: Figure | None
    channel_ratio: Figure | None = None
    """Ratio of the two channels of its log, where both drew the same air for a while."""
    verdict: Verdict | None


class FitResult(TopicResult):
    """All fit sessions of a record."""

    sessions: tuple[SessionResult, ...]


class FitGroup(Frozen):
    """Sessions of a device that count and may stand together: same configuration, protocol, blower, counter, basis."""

    number: int
    """Its place among the device's groups, from 1; part of the keys of its figures over wearers."""
    configuration: str
    """`as_supplied`, or `modified: ` and what was described."""
    protocol: str
    blower: str | None
    counter: str | None = None
    """Kind of particle counter: factors of different kinds are of different particles."""
    basis: Basis = Basis.WHOLE_PROTOCOL
    wearers: tuple[str, ...]
    donnings: int
    units: tuple[str, ...] = ()
    """Units that are recorded; sessions of several are together here, and `Evidence` has them apart."""
    unit_not_recorded: bool = False
    """Whether some sessions are of records that do not record the unit."""
    lots: tuple[str, ...] = ()
    """Lots that are recorded, for sessions of records that do not record the unit."""
    lowest: Figure
    lowest_record: str
    highest: Figure
    highest_record: str
    over_wearers: OverWearers
    """What its donnings say together, of these wearers and of others."""


class FitSummary(TopicSummary):
    """All fit sessions of a device, over its records. Wearers and donnings are of the sessions that count.

    The lowest and the highest figure are of those among them that stand for a whole protocol.
    """

    wearers: tuple[str, ...]
    donnings: int
    """Different donnings in sessions that count."""
    completed: int
    """Completed sessions in records that stand, whether they count or not."""
    aborted: int
    voided: int
    not_counted: int
    """Completed sessions that a record's rule leaves out; they are among `completed`."""
    withdrawn: int
    """Sessions of withdrawn records, however they ended; they are in no other count."""
    lowest: Figure | None
    lowest_record: str | None
    highest: Figure | None
    highest_record: str | None
    groups: tuple[FitGroup, ...] = ()
