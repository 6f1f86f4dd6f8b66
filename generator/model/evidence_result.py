"""What the results of a device rest on: who, how often, which items, which data, and what was left out."""

from __future__ import annotations

from enum import StrEnum

from generator.model.air import Aerosol
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
    """The id of the test record."""
    instrument: str
    """The instrument's id."""
    performed: Day
    """The day of the test."""
    state: CalibrationOnDay
    """How its calibration stood on that day."""
    due: Day | None
    """The day until which the calibration held; None where there was none."""


class Stated(Frozen):
    """A sentence of a record."""

    record: str
    """The id of the test record."""
    text: str
    """The sentence."""


class Gap(Frozen):
    """Something that was not tested, as follows from the records by a named rule."""

    rule: str
    """The name of the rule."""
    setting: str | None = None
    """The blower setting it is about, where it is about one."""


class Item(Frozen):
    """What was tested: a unit by its number, else what is known of its lot. None says: not recorded."""

    unit: str | None
    """The number of the unit; null where it is not recorded."""
    lot: str | None
    """The lot, where the unit's number is not recorded; null where it is not recorded either."""


class ItemFit(Frozen):
    """The overall fit factors of one item, within a group of sessions that may stand together."""

    configuration: str
    """`as_supplied`, or `modified: ` and what was described."""
    protocol: str
    """The protocol's id."""
    blower: str | None
    """`off` or the blower's setting; null for a device without a blower."""
    counter: str | None
    """Kind of particle counter; null where it is not on record."""
    aerosol: Aerosol = Aerosol.ROOM_AIR
    """The particles that were counted."""
    basis: Basis = Basis.WHOLE_PROTOCOL
    """How much of the protocol the factors stand for."""
    item: Item
    """The item."""
    wearers: tuple[str, ...]
    """The letters of those who wore it."""
    donnings: int
    """How many different donnings."""
    lowest: Figure
    """The lowest overall fit factor."""
    lowest_record: str
    """The record that holds it."""
    highest: Figure
    """The highest overall fit factor."""
    highest_record: str
    """The record that holds it."""


class ItemFlow(Frozen):
    """The mean supply flows of one item, at one setting, battery and filter state of one configuration."""

    configuration: str
    """`as_supplied`, or `modified: ` and what was described."""
    setting: str
    """The blower setting."""
    battery: str
    """The state of the battery."""
    filter: str
    """The state of the filter."""
    item: Item
    """The item."""
    runs: int
    """How many runs."""
    lowest: Figure
    """The lowest mean flow, in L/min."""
    lowest_record: str
    """The record that holds it."""
    highest: Figure
    """The highest mean flow, in L/min."""
    highest_record: str
    """The record that holds it."""


class LevelCount(Frozen):
    """How many completed sessions have factors made from data of one level."""

    level: DataLevel
    """What their factors are made from."""
    sessions: int
    """How many there are. [count]"""


class Evidence(Frozen):
    """What the standing records of a device hold. Wearers and donnings are of the sessions that count."""

    records: tuple[str, ...]
    """The ids of the standing records."""
    wearers: tuple[str, ...]
    """The letters of those who wore it."""
    donnings: int
    """How many different donnings."""
    completed: int
    """Completed sessions, whether they count or not."""
    counted: int
    """Completed sessions that count."""
    aborted: int
    """Aborted sessions."""
    voided: int
    """Voided sessions."""
    flow_runs: int
    """How many flow runs."""
    units: tuple[str, ...]
    """Units that are recorded."""
    records_without_unit: int
    """How many records do not record the unit's number."""
    lots: tuple[str, ...]
    """Lots that are recorded."""
    records_without_lot: int
    """How many records do not record the lot."""
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
    """Each use of an instrument in a record."""
    deviations: tuple[Stated, ...]
    """What the records say deviated from the protocol."""
    not_tested_stated: tuple[Stated, ...]
    """What the records say was not tested."""
    gaps: tuple[Gap, ...]
    """What was not tested, by rules, whatever the records say."""
    fit_by_item: tuple[ItemFit, ...]
    """For groups of sessions with more than one item."""
    flow_by_item: tuple[ItemFlow, ...]
    """For states with runs of more than one item."""
