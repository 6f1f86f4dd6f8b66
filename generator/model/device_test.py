"""A test record: one device, one configuration, one tester, one day."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Day, Frozen, Id, LongText, Recorded, Sha256, Text, Version
from generator.model.quantity import (
    AirPressure,
    Concentration,
    Duration,
    Fraction,
    Readings,
    Temperature,
    quantity_problem,
)
from generator.model.units import find_unit, units_of

LocalName = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+([_-][a-z0-9]+)*$", max_length=40)]
"""A name that is unique within one record: a session, a run, an exercise."""


class State(StrEnum):
    """The state a device was tested in."""

    AS_SUPPLIED = "as_supplied"
    MODIFIED = "modified"


class Configuration(Frozen):
    """The configuration that was tested."""

    state: State
    description: Text
    changes: tuple[Text, ...] = ()

    @model_validator(mode="after")
    def _changes_fit_state(self) -> Configuration:
        if (self.state is State.MODIFIED) != bool(self.changes):
            raise quantity_problem(
                "changes-and-state",
                f"`state: {self.state.value}` with {len(self.changes)} `changes`",
                "`changes` for a modified device and none for one as supplied",
                "List what was changed, or correct `state`",
            )
        return self


class Sample(Frozen):
    """Where the tested item came from."""

    obtained: Annotated[str, StringConstraints(pattern=r"^(bought|lent|given)$"), Field(examples=["bought"])]
    source: Text
    lot: Recorded[Text]
    unit: Recorded[Text]


class TestDates(Frozen):
    """The days of a test, in order."""

    __test__ = False  # not a test class, whatever its name suggests to a test runner

    received: Day
    performed: Day
    issued: Day

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
    pressure: AirPressure
    humidity: Recorded[Fraction]


class InstrumentsUsed(Frozen):
    """The instruments of a test, by id."""

    particle_counter: Id | None = None
    flow_meter: Id | None = None


class LogColumns(Frozen):
    """Which column of a log holds what, by the headings of the file."""

    time: Text
    concentration: Text
    exercise: Text
    sampling: Text


class LogReference(Frozen):
    """A raw log that a session refers to. The `sampling` column holds `ambient`, `in-mask` or `purge`."""

    file: Annotated[str, StringConstraints(pattern=r"^logs/[a-z0-9]+([-_][a-z0-9]+)*\.csv$", max_length=100)]
    sha256: Sha256
    unit: Annotated[str, Field(examples=["/cm3"])]
    columns: LogColumns

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
            slug, f"the unit `{spelling}`", f"one of {fitting}", "Correct the unit, or convert the readings"
        )


class ExerciseReading(Frozen):
    """What was read during one exercise: a concentration, a count of particles, or a factor as given."""

    exercise: LocalName
    ambient_before: Concentration | None = None
    in_mask: Concentration | None = None
    in_mask_count: Annotated[int, Field(ge=0, le=10**9)] | None = None
    fit_factor: Annotated[float, Field(ge=1, le=1e9)] | None = None
    ambient_after: Concentration | None = None

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


class FitSession(Frozen):
    """One wearer, one donning, one protocol, one state of the device."""

    id: LocalName
    wearer: Id
    donning: Annotated[int, Field(ge=1, le=99)]
    protocol: Id
    blower: Text | None = None
    filter: Text
    size: Text | None = None
    outcome: Outcome
    reason: Text | None = None
    in_mask_time: Duration | None = None
    ambient_time: Duration | None = None
    ambient_before: Concentration | None = None
    ambient_after: Concentration | None = None
    exercises: tuple[ExerciseReading, ...] = ()
    log: LogReference | None = None

    @model_validator(mode="after")
    def _parts_fit(self) -> FitSession:
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

    values: Annotated[tuple[Annotated[float, Field(ge=0, le=1e6)], ...], Field(min_length=1, max_length=10_000)]

    @model_validator(mode="after")
    def _unit_is_flow(self) -> FlowReadings:
        _check_unit(self.unit, "flow")
        return self


class FlowRun(Frozen):
    """The air delivered at one blower setting, read several times."""

    id: LocalName
    setting: Text
    battery: BatteryState
    filter: FilterState
    where: Text
    readings: FlowReadings


class Amendment(Frozen):
    """A change to a record after it was issued."""

    date: Day
    reason: Text
    changed: Text


class DeviceTest(Frozen):
    """records/device_tests/<id>.yaml"""

    id: Id
    version: Version
    device: Id
    configuration: Configuration
    sample: Sample
    tester: Id
    dates: TestDates
    place: Text
    environment: Environment
    instruments: InstrumentsUsed
    fit: tuple[FitSession, ...] = ()
    flow: tuple[FlowRun, ...] = ()
    deviations: tuple[Text, ...] = ()
    notes: LongText | None = None
    amendments: tuple[Amendment, ...] = ()

    @model_validator(mode="after")
    def _has_a_test(self) -> DeviceTest:
        if not self.fit and not self.flow:
            raise quantity_problem(
                "no-test", "neither `fit` nor `flow`", "at least one of them", "Add what was measured"
            )
        return self
