"""What scoring gives for the fit sessions of a record and of a device."""

from __future__ import annotations

from enum import StrEnum

from generator.model.air import Aerosol
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
    """The exercise's id in the protocol."""
    name: str
    """Its name."""
    counted: bool
    """Whether it counts towards the overall factor."""
    fit_factor: Figure
    """Its fit factor."""
    average_penetration: Figure | None = None
    """Mean share of the ambient concentration that was inside, for sessions with a log."""
    peak_penetration: Figure | None = None
    """The highest reading inside as a share of the ambient concentration, for sessions with a log."""


class SessionResult(Frozen):
    """One fit session. Without figures where it was aborted or voided."""

    session: str
    """The session's id in the record."""
    wearer: str
    """The wearer's letter."""
    donning: int
    """Which time this was that the wearer put the device on for this record, from 1."""
    protocol: str
    """The protocol's id."""
    blower: str | None
    """`off` or the blower's setting; null for a device without a blower."""
    outcome: str
    """How it ended: `completed`, `aborted` or `voided`."""
    reason: str | None
    """Why it was aborted or voided; null where it was completed."""
    counted: bool
    """Whether it counts towards the results: it was completed, and the record's rule does not leave it out."""
    level: DataLevel | None = None
    """What its factors are made from; None where it was not completed."""
    basis: Basis = Basis.WHOLE_PROTOCOL
    """How much of the protocol its overall factor stands for."""
    exercises: tuple[ExerciseResult, ...]
    """Each exercise that was done; empty where the session was not completed."""
    overall: Figure | None
    """The overall fit factor; null where the session was not completed."""
    inward_leakage: Figure | None
    """Its reciprocal in percent: the inward leakage seen by that counter; null where the session was not completed."""
    channel_ratio: Figure | None = None
    """Ratio of the two channels of its log, where both drew the same air for a while."""
    verdict: Verdict | None
    """The overall factor held against a fit-test pass level, or why none applies; null where the session was not
    completed."""


class FitResult(TopicResult):
    """All fit sessions of a record."""

    sessions: tuple[SessionResult, ...]
    """Every attempt, aborted and voided ones too."""


class FitGroup(Frozen):
    """Sessions of a device that count and may stand together: same configuration, protocol, blower and so on."""

    number: int
    """Its place among the device's groups, from 1; part of the keys of its figures over wearers."""
    configuration: str
    """`as_supplied`, or `modified: ` and what was described."""
    protocol: str
    """The protocol's id."""
    blower: str | None
    """`off` or the blower's setting; null for a device without a blower."""
    counter: str | None = None
    """Kind of particle counter: factors of different kinds are of different particles."""
    aerosol: Aerosol = Aerosol.ROOM_AIR
    """The particles that were counted."""
    basis: Basis = Basis.WHOLE_PROTOCOL
    """How much of the protocol the overall factors stand for."""
    wearers: tuple[str, ...]
    """The letters of those who wore it."""
    donnings: int
    """How many different donnings."""
    units: tuple[str, ...] = ()
    """Units that are recorded; sessions of several are together here, and `Evidence` has them apart."""
    unit_not_recorded: bool = False
    """Whether some sessions are of records that do not record the unit."""
    lots: tuple[str, ...] = ()
    """Lots that are recorded, for sessions of records that do not record the unit."""
    lowest: Figure
    """The lowest overall fit factor."""
    lowest_record: str
    """The record that holds it."""
    highest: Figure
    """The highest overall fit factor."""
    highest_record: str
    """The record that holds it."""
    over_wearers: OverWearers
    """What its donnings say together, of these wearers and of others."""


class FitSummary(TopicSummary):
    """All fit sessions of a device, over its records. Wearers and donnings are of the sessions that count.

    The lowest and the highest figure are of those among them that stand for a whole protocol.
    """

    wearers: tuple[str, ...]
    """The letters of those who wore it."""
    donnings: int
    """Different donnings in sessions that count."""
    completed: int
    """Completed sessions in records that stand, whether they count or not."""
    aborted: int
    """Aborted sessions in records that stand."""
    voided: int
    """Voided sessions in records that stand."""
    not_counted: int
    """Completed sessions that a record's rule leaves out; they are among `completed`."""
    withdrawn: int
    """Sessions of withdrawn records, however they ended; they are in no other count."""
    lowest: Figure | None
    """The lowest overall fit factor, whatever the state; null where there is none."""
    lowest_record: str | None
    """The record that holds it; null where there is none."""
    highest: Figure | None
    """The highest overall fit factor, whatever the state; null where there is none."""
    highest_record: str | None
    """The record that holds it; null where there is none."""
    groups: tuple[FitGroup, ...] = ()
    """The sessions that may stand beside one another, group by group."""
