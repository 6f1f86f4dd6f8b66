"""What the results of a device rest on: who, how often, which items, which data, and what was left out."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Day, Frozen
from generator.model.fit_result import Basis, DataLevel
from generator.model.result import Figure


class CalibrationOnDay(StrEnum):
    """How an instrument's calibration stood on the day of a test."""

    IN_DATE = "in_date"
    LAPSED = "lapsed"
    NONE_BEFORE = "none_before"


class InstrumentOnDay(Frozen):
    """An instrument of one record, on the day of its test."""

    record: str
    instrument: str
    performed: Day
    state: CalibrationOnDay
    due: Day | None
    """The day until which the calibration held; None where there was none."""


class Stated(Frozen):
    """A sentence of a record."""

    record: str
    text: str


class Gap(Frozen):
    """Something that was not tested, as follows from the records by a named rule."""

    rule: str
    setting: str | None = None
    """The blower setting it is about, where it is about one."""


class Item(Frozen):
    """What was tested: a unit by its number, else what is known of its lot. None says: not recorded."""

    unit: str | None
    lot: str | None


class ItemFit(Frozen):
    """The overall fit factors of one item, within a group of sessions that may stand together."""

    configuration: str
    protocol: str
    blower: str | None
    counter: str | None
    basis: Basis = Basis.WHOLE_PROTOCOL
    item: Item
    wearers: tuple[str, ...]
    donnings: int
    lowest: Figure
    lowest_record: str
    highest: Figure
    highest_record: str


class ItemFlow(Frozen):
    """The mean supply flows of one item, at one setting, battery and filter state of one configuration."""

    configuration: str
    setting: str
    battery: str
    filter: str
    item: Item
    runs: int
    lowest: Figure
    lowest_record: str
    highest: Figure
    highest_record: str


class LevelCount(Frozen):
    """How many completed sessions have factors made from data of one level."""

    level: DataLevel
    sessions: int


class Evidence(Frozen):
    """What the standing records of a device hold. Wearers and donnings are of the sessions that count."""

    records: tuple[str, ...]
    wearers: tuple[str, ...]
    donnings: int
    completed: int
    counted: int
    aborted: int
    voided: int
    flow_runs: int
    units: tuple[str, ...]
    """Units that are recorded."""
    records_without_unit: int
    lots: tuple[str, ...]
    records_without_lot: int
    levels: tuple[LevelCount, ...] = ()
    """What the factors of completed sessions are made from, best first."""
    with_log: int
    """Completed sessions whose raw log is on record."""
    with_counts: int
    """Completed sessions recorded as counts of particles."""
    with_raw_stated: int
    """Completed sessions whose record says where the raw readings are kept."""
    with_raw: int
    """Completed sessions with any of the three."""
    instruments: tuple[InstrumentOnDay, ...]
    deviations: tuple[Stated, ...]
    not_tested_stated: tuple[Stated, ...]
    """What the records say was not tested."""
    gaps: tuple[Gap, ...]
    """What was not tested, by rules, whatever the records say."""
    fit_by_item: tuple[ItemFit, ...]
    """For groups of sessions with more than one item."""
    flow_by_item: tuple[ItemFlow, ...]
    """For states with runs of more than one item."""
