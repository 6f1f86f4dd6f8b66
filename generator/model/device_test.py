"""A test record: one device, one configuration, one tester, one day."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Day, Frozen, Id, LongText, Recorded, Sha256, Text, Version
from generator.model.configuration import Configuration, LocalName
from generator.model.corrections import Amendment, Withdrawal
from generator.model.picture import Picture
from generator.model.quantity import (
    AirPressure,
    Concentration,
    Duration,
    Fraction,
    Readings,
    Temperature,
    quantity_problem,
    shown_unit,
)
from generator.model.units import find_unit, units_of
from generator.model.zero_check import ZeroCheck


class Sample(Frozen):
    """Where the tested item came from."""

    obtained: Annotated[str, StringConstraints(pattern=r"^(bought|lent|given)$"), Field(examples=["bought"])]
    """How the tested item was come by."""
    source: Text
    """From whom."""
    lot: Recorded[Text]
    """Its lot or batch number."""
    unit: Recorded[Text]
    """Its serial number, or what else tells it from its like."""
    plan: Text | None = None
    """How the item was chosen, such as `from the shelf of a shop, the third in the row`."""
    condition: Text | None = None
    """The condition in which it arrived, where that matters."""


class TestDates(Frozen):
    """The days of a test, in order."""

    __test__ = False  # not a test class, whatever its name suggests to a test runner

    received: Day
    """When the item arrived."""
    performed: Day
    """The day of the test."""
    issued: Day
    """When the record was issued."""

    @model_validator(mode="after")
    def _in_order(self) -> TestDates:
        if not self.received <= self.performed <= self.issued:
            raise quantity_problem(
                "dates-out-of-order",
                f"received {self.received}, performed {self.performed}, issued {self.issued}",
                "received, then performed, then issued",
                "Correct the date that is wrong",
            )
        return self


class Environment(Frozen):
    """The air of the room during the test."""

    temperature: Temperature
    """The temperature of the room."""
    pressure: AirPressure
    """The pressure of the air in the room, absolute and not reduced to sea level."""
    humidity: Recorded[Fraction]
    """The relative humidity."""


class InstrumentsUsed(Frozen):
    """The instruments of a test, by id."""

    particle_counter: Id | None = None
    """The id of the particle counter; needed for fit sessions."""
    flow_meter: Id | None = None
    """The id of the flow meter; needed for flow runs."""

    @property
    def by_role(self) -> dict[str, str]:
        """The ids of the instruments that were used, by the part they had in the test."""
        return {role: name for role, name in self if name is not None}


class LogColumns(Frozen):
    """Which column of a log holds what, by the headings of the file."""

    time: Text
    """Heading of the time in seconds; it goes up from line to line."""
    concentration: Text
    """Heading of the concentration, in the unit that the record gives."""
    exercise: Text
    """Heading of the exercise's id; may be empty in lines that are not in-mask."""
    sampling: Text
    """Heading of `ambient`, `in-mask` or `purge`."""


class LogReference(Frozen):
    """A raw log that a session refers to. The `sampling` column holds `ambient`, `in-mask` or `purge`."""

    file: Annotated[str, StringConstraints(pattern=r"^logs/[a-z0-9]+([-_][a-z0-9]+)*\.csv$", max_length=100)]
    """The log, below the records folder."""
    sha256: Sha256
    """SHA-256 of the file, as `sha256sum` prints it, so that a later change is noticed."""
    unit: Annotated[str, Field(examples=["/cm3"])]
    """The unit of the concentrations in the log."""
    columns: LogColumns
    """Which column holds what."""

    @model_validator(mode="after")
    def _unit_is_concentration(self) -> LogReference:
        _check_unit(self.unit, "concentration")
        return self


def _check_unit(spelling: str, dimension: str) -> None:
    unit = find_unit(spelling)
    if unit is None or unit.dimension != dimension:
        fitting = ", ".join(units_of(dimension))  # type: ignore[arg-type]
        slug = "unknown-unit" if unit is None else "wrong-unit"
        raise quantity_problem(
            slug, f"the unit `{shown_unit(spelling)}`", f"one of {fitting}", "Correct the unit, or convert the readings"
        )


class ExerciseReading(Frozen):
    """What was read during one exercise: a concentration, a count of particles, or a factor as given."""

    exercise: LocalName
    """The exercise's id in the protocol."""
    ambient_before: Concentration | None = None
    """The ambient concentration before it, where the protocol takes one around each exercise."""
    in_mask: Concentration | None = None
    """The mean concentration inside."""
    in_mask_count: Annotated[int, Field(ge=0, le=10**9)] | None = None
    """In place of `in_mask`: the particles counted inside during `in_mask_time`."""
    fit_factor: Annotated[float, Field(ge=1, le=1e9)] | None = None
    """In place of `in_mask`: the factor as the instrument gave it."""
    ambient_after: Concentration | None = None
    """The ambient concentration after it."""

    @model_validator(mode="after")
    def _one_reading(self) -> ExerciseReading:
        given = [name for name in ("in_mask", "in_mask_count", "fit_factor") if getattr(self, name) is not None]
        if len(given) != 1:
            raise quantity_problem(
                "one-reading-each",
                " and ".join(f"`{name}`" for name in given) or "no reading",
                "exactly one of `in_mask`, `in_mask_count`, `fit_factor`",
                "Keep the reading that was taken, or mark the session as aborted and leave the exercise out",
            )
        return self


class Outcome(StrEnum):
    """How a session ended. Every attempt stays on record."""

    COMPLETED = "completed"
    ABORTED = "aborted"
    VOIDED = "voided"


BLOWER_OFF = "off"


class Session(Frozen):
    """What the record of a session and its published form share: one wearer, one donning, one protocol, one state."""

    id: LocalName
    """A name that is unique in the record, such as `first`."""
    wearer: str
    donning: Annotated[int, Field(ge=1, le=99)]
    """1 for the first time this wearer put the device on for this record, 2 for the second, and so on."""
    protocol: Id
    """The protocol's id, published or your own."""
    blower: Text | None = None
    """`off` or one of the device's settings; for powered devices only, and needed there."""
    filter: Text
    """The filter that was fitted."""
    outcome: Outcome
    """How the session ended. Every attempt stays on record."""
    reason: Text | None = None
    """Why it was aborted or voided."""
    in_mask_time: Duration | None = None
    """The sampling time inside for each exercise."""
    ambient_time: Duration | None = None
    """The sampling time of each ambient sample."""
    ambient_before: Concentration | None = None
    """The ambient concentration before the first exercise, where the protocol takes it first and last."""
    ambient_after: Concentration | None = None
    """The ambient concentration after the last exercise."""
    exercises: tuple[ExerciseReading, ...] = ()
    """The exercises in the order in which they were done."""
    log: LogReference | None = None
    """In place of `exercises`: the raw log, cut by its marks."""
    zero_check: ZeroCheck | None = None
    """The zero check of the counter before or after the session."""
    adverse_event: Text | None = None
    """What troubled or harmed the wearer, in words that do not tell who it was; it is published."""

    @model_validator(mode="after")
    def _parts_fit(self) -> Session:
        if self.outcome is not Outcome.COMPLETED and self.reason is None:
            raise quantity_problem(
                "reason-missing",
                f"`outcome: {self.outcome.value}` without `reason`",
                "the reason for it",
                "Add `reason` in plain words",
            )
        if self.log is not None and self.exercises:
            raise quantity_problem(
                "log-and-exercises",
                "both `log` and `exercises`",
                "one of them",
                "Leave out `exercises`: they are cut from the log by its marks",
            )
        if self.outcome is Outcome.COMPLETED and self.log is None and not self.exercises:
            raise quantity_problem(
                "no-readings",
                "neither `log` nor `exercises`",
                "one of them for a completed session",
                "Add the readings, or mark the session as aborted or voided with its reason",
            )
        return self


class SessionChoice(StrEnum):
    """Which completed sessions of a record make up its results."""

    EVERY_COMPLETED = "every_completed"
    FIRST_OF_EACH_WEARER = "first_of_each_wearer"
    WITHOUT_FIRST_OF_EACH_WEARER = "without_first_of_each_wearer"


class SessionRule(Frozen):
    """The rule by which sessions count towards the results, stated before the test. All are shown, whatever it says."""

    choice: SessionChoice
    """Which completed sessions count, by wearer and donning, for each state of the device."""
    stated: Day
    """When the rule was written down; on or before the day of the test."""
    why: Text
    """Why, such as `the first donning is practice`."""


class FitSession(Session):
    """One wearer, one donning, one protocol, one state of the device."""

    wearer: Id
    """The wearer's id."""
    size: Text | None = None
    """The size of the facepiece, where there are several; it is not published."""


class BatteryState(StrEnum):
    """The state of the battery during a flow run."""

    FRESH = "fresh"
    AT_ALARM = "at_alarm"
    MAINS = "mains"


class FilterState(StrEnum):
    """The state of the filter during a flow run."""

    NEW = "new"
    LOADED = "loaded"


class FlowReadings(Readings):
    """Air flow readings in one unit."""

    unit: Annotated[str, Field(examples=["L/min"])]
    """The unit of all values."""
    values: Annotated[tuple[Annotated[float, Field(ge=0, le=1e6)], ...], Field(min_length=1, max_length=10_000)]
    """The readings, at least one, as they were read."""

    @model_validator(mode="after")
    def _unit_is_flow(self) -> FlowReadings:
        _check_unit(self.unit, "flow")
        return self


class FlowRun(Frozen):
    """The air delivered at one blower setting, read several times."""

    id: LocalName
    """A name that is unique in the record, such as `high-fresh`."""
    setting: Text
    """One of the device's settings."""
    battery: BatteryState
    """The state of the battery."""
    filter: FilterState
    """The state of the filter."""
    where: Text
    """Where the flow was measured, and how the meter was joined to the device."""
    readings: FlowReadings
    """What was read."""


class Test(Frozen):
    """What the record of a test and its published form share."""

    __test__ = False  # not a test class, whatever its name suggests to a test runner

    id: Id
    """The file name without its ending."""
    version: Version
    """Quoted, such as '1' or '1.2'; goes up with every amendment."""
    device: Id
    """The device's id."""
    configuration: Configuration
    """The state in which it was tested."""
    sample: Sample
    """The item that was tested."""
    tester: Id
    """The tester's id."""
    dates: TestDates
    """The days of the test, in order."""
    place: Text
    """Where the test was done."""
    customer: Text | None = None
    """Who asked for the test, and how they can be reached; `nobody` where the publisher did so on its own account."""
    environment: Environment
    """The air of the room."""
    instruments: InstrumentsUsed
    """What was measured with."""
    fit: tuple[Session, ...] = ()
    """Fit sessions, every attempt."""
    flow: tuple[FlowRun, ...] = ()
    """Flow runs. A record holds fit sessions, flow runs or both."""
    session_rule: SessionRule | None = None
    """Which completed sessions count; without it, every one."""
    deviations: tuple[Text, ...] = ()
    """What was done otherwise than the protocol says."""
    not_tested: tuple[Text, ...] = ()
    """What a reader could expect of this test and was not done."""
    external_results: tuple[Text, ...] = ()
    """Results in this record that others obtained, and who."""
    raw_data: Text | None = None
    """Where the raw readings are kept, beside what stands in this record."""
    hygiene: Text | None = None
    """How the item was cleaned before and between wearers."""
    notes: LongText | None = None
    """Notes for the reader, in Markdown."""
    pictures: tuple[Picture, ...] = ()
    """Pictures of the test."""
    amendments: tuple[Amendment, ...] = ()
    """Changes since the record was issued, oldest first."""
    withdrawn: Withdrawal | None = None
    """Where the record no longer stands; its page stays and says so."""

    @model_validator(mode="after")
    def _has_a_test(self) -> Test:
        if not self.fit and not self.flow:
            raise quantity_problem(
                "no-test", "neither `fit` nor `flow`", "at least one of them", "Add what was measured"
            )
        return self


class DeviceTest(Test):
    """records/device_tests/<id>.yaml"""

    fit: tuple[FitSession, ...] = ()
    """Fit sessions, every attempt."""
