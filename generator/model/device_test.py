"""A test record: one device, one configuration, one tester, one day."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Day, Frozen, Id, LongText, Recorded, Text, Version
from generator.model.configuration import Configuration, LocalName
from generator.model.corrections import Amendment, Withdrawal
from generator.model.picture import Picture
from generator.model.quantity import (
    AirPressure,
    Fraction,
    Readings,
    Temperature,
    check_unit,
    quantity_problem,
)
from generator.model.session import FitSession, Session


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


class Aerosol(StrEnum):
    """The particles that were counted."""

    ROOM_AIR = "room_air"
    SALT = "salt"
    OIL = "oil"


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
    """The id of the particle counter; needed for fit sessions that go by particles."""
    outside_counter: Id | None = None
    """The id of the counter of the second channel of a log, where it is another one than the particle counter."""
    flow_meter: Id | None = None
    """The id of the flow meter; needed for flow runs."""

    @property
    def by_role(self) -> dict[str, str]:
        """The ids of the instruments that were used, by the part they had in the test."""
        return {role: name for role, name in self if name is not None}


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
        check_unit(self.unit, "flow")
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
    aerosol: Aerosol = Aerosol.ROOM_AIR
    """The particles that were counted: those of the room's air, or salt or oil that was sprayed."""
    probe: Text | None = None
    """Where inside the probe sat and how it was fastened, such as `between nose and upper lip, 6 mm from the skin`."""
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
