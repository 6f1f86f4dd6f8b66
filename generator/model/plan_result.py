"""What scoring gives for the next tests of a device: which statement lacks which evidence, and what to do first."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from generator.model.base import Day, Frozen
from generator.model.evidence_result import CalibrationOnDay

Facts = dict[str, str | int | float]
"""What was found, by name."""


class Standing(StrEnum):
    """Whether a statement can be made from the records that stand."""

    SAID = "said"
    IN_PART = "in_part"
    LACKING = "lacking"
    NOT_MEASURABLE = "not_measurable"
    """Nothing that is measured here could carry it."""


class Tier(StrEnum):
    """What a session is for, the first to be done first."""

    GOVERNING = "governing_verdict"
    CLAIM = "claim"
    HARM = "bears_on_harm"
    WEARERS = "wearers"
    RUN_TIME = "run_time"
    DOUBT = "instrument_in_doubt"
    COMPARISON = "comparison"
    REST = "rest"


class Activity(StrEnum):
    """What is done in a session."""

    FLOW = "flow"
    RUN_DOWN = "run_down"
    WORN_BY_NEW_WEARERS = "worn_by_new_wearers"
    WORN_IN_STATE = "worn_in_state"
    DONNED_AGAIN = "donned_again"
    WORN_BESIDE_OTHER = "worn_beside_other"
    REPEAT = "repeat"
    FILTER = "filter"
    SOUND = "sound"
    WORDS = "words"
    SECOND_UNIT = "second_unit"


class SampleSize(Frozen):
    """So many wearers show, with confidence, that a share reaches a level, if no more of them fail than named."""

    share: float
    """The share to be shown. [1]"""
    confidence: float
    """Confidence, one-sided. [1]"""
    failures: int
    """Wearers who do not reach the level: as many as were found so far. [count]"""
    method: str
    """The id of the method."""
    wearers: int | None = None
    """Wearers in all; null where those tested speak against such a share with the same confidence. [count]"""
    more: int | None = None
    """How many of them are still to be tested; none of these may fail. [count]"""
    with_one_more_failure: int | None = None
    """Wearers in all, where one more does not reach it. [count]"""
    chance: float | None = None
    """How often so many wearers would have so few failures, if just the share named reached it. [1]"""


class PlannedStatement(Frozen):
    """Something that could be said of a device, and how far the records carry it."""

    id: str
    """Unique in the plan, such as `flow` or `claim-2`."""
    rule: str
    """The rule that speaks of it."""
    standing: Standing
    """Whether it can be said now."""
    records: tuple[str, ...] = ()
    """The records that carry it as far as they do."""
    facts: Facts = Field(default_factory=dict)
    """What was found and what is missing, by name."""
    missing: tuple[str, ...] = ()
    """States, settings or other parts that are missing, in words that the records use."""
    sizes: tuple[SampleSize, ...] = ()
    """How many wearers it takes, the weaker statement first."""


class PlannedSession(Frozen):
    """One session to be done next."""

    id: str
    """Unique in the plan, such as `flow-at_alarm-new`."""
    tier: Tier
    """What it is for, of several things the first."""
    activity: Activity
    """What is done."""
    statements: tuple[str, ...] = ()
    """The ids of the statements that it brings further."""
    settings: tuple[str, ...] = ()
    """The blower settings, or `off`; none for a device without a blower, or where any will do."""
    battery: str | None = None
    """The state of the battery; null where it has no bearing."""
    filter: str | None = None
    """The state of the filter; null where it has no bearing."""
    protocol: str | None = None
    """The protocol's id; null where nobody wears it, or where none is on record for such a device."""
    new_wearers: int = 0
    """Wearers who have not worn it yet. [count]"""
    wearers: tuple[str, ...] = ()
    """The letters of those who are asked again, or who wore the other device."""
    donnings: int = 0
    """Donnings in all. [count]"""
    other_device: str | None = None
    """The id of the device that is worn beside it."""
    records: tuple[str, ...] = ()
    """The records whose measurements are repeated."""
    minutes: float | None = None
    """Time of the exercises alone; null where no protocol sets it. [min]"""


class PlannedInstrument(Frozen):
    """An instrument that the sessions need, on the day that they are planned for."""

    instrument: str
    """The instrument's id."""
    state: CalibrationOnDay
    """How its calibration stands on that day."""
    due: Day | None
    """The day until which the calibration holds; null where there is none."""


class Plan(Frozen):
    """What to test next of a device."""

    device: str
    """The id of the device."""
    withdrawn: bool
    """Whether the device was withdrawn; nothing is planned for it then."""
    day: Day | None
    """The day that the instruments are looked at on; null where neither was one named nor is a test on record."""
    day_named: bool
    """Whether that day was named; otherwise it is that of the newest test on record."""
    sessions: tuple[PlannedSession, ...] = ()
    """The sessions, in the order in which they are to be done."""
    statements: tuple[PlannedStatement, ...] = ()
    """The statements, with what they lack."""
    instruments: tuple[PlannedInstrument, ...] = ()
    """The instruments that the sessions need."""
