"""A test record: one device, one configuration, one tester, one day."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.air import Aerosol, Environment
from generator.model.base import Day, Frozen, Id, LongText, Recorded, Text, Version
from generator.model.burden import Burden
from generator.model.configuration import Configuration
from generator.model.corrections import Amendment, Withdrawal
from generator.model.filter_test import FilterTest
from generator.model.flow_run import FlowRun
from generator.model.hood import ExhaustRun, HoodMeasured, OpeningsMeasured, PressureTrace
from generator.model.inhaled_gas import InhaledGas
from generator.model.picture import Picture
from generator.model.pressure_flow import BlowerCurve, PressureDrops
from generator.model.quantity import quantity_problem
from generator.model.run_down import RunDown
from generator.model.session import FitSession, Session


class Sample(Frozen):
    """Where the tested item came from."""

    obtained: Annotated[
        str, StringConstraints(pattern=r"^(bought|lent|given)$"), Field(examples=["bought", "lent", "given"])
    ]
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
    """Every completed session."""
    FIRST_OF_EACH_WEARER = "first_of_each_wearer"
    """The first completed donning of each wearer."""
    WITHOUT_FIRST_OF_EACH_WEARER = "without_first_of_each_wearer"
    """Every completed session but those of each wearer's first completed donning."""


class SessionRule(Frozen):
    """The rule by which sessions count towards the results, stated before the test. All are shown, whatever it says."""

    choice: SessionChoice
    """Which completed sessions count, by wearer and donning, for each state of the device."""
    stated: Day
    """When the rule was written down; on or before the day of the test."""
    why: Text
    """Why, such as `the first donning is practice`."""


MEASURED = (
    "fit",
    "flow",
    "blower_curves",
    "pressure_drops",
    "pressure_traces",
    "inhaled_gas",
    "filter_test",
    "run_downs",
    "burden",
)
"""The parts of a record of which at least one is there."""


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
    """Flow runs."""
    blower_curves: tuple[BlowerCurve, ...] = ()
    """Pressures that the blower holds at several flows."""
    pressure_drops: tuple[PressureDrops, ...] = ()
    """Pressures lost in the filter, the hose or the whole device at several flows."""
    hood: HoodMeasured | None = None
    """The air that the hood or helmet holds while it is worn."""
    exhaust: tuple[ExhaustRun, ...] = ()
    """The air that a powered exhaust draws out."""
    openings: OpeningsMeasured | None = None
    """The free area of the ways out for air."""
    pressure_traces: tuple[PressureTrace, ...] = ()
    """Pressure inside while the device was worn, from logs."""
    inhaled_gas: tuple[InhaledGas, ...] = ()
    """Oxygen and carbon dioxide of inhaled air."""
    filter_test: FilterTest | None = None
    """The filter as it was measured."""
    run_downs: tuple[RunDown, ...] = ()
    """Flow over time on one charge, from logs."""
    burden: Burden | None = None
    """What wearing it costs: noise, mass, hearing and speaking, sight, money."""
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
        if not any(getattr(self, part) for part in MEASURED):
            raise quantity_problem(
                "no-test",
                "nothing that was measured",
                f"at least one of {', '.join(f'`{part}`' for part in MEASURED)}",
                "Add what was measured",
            )
        return self


class DeviceTest(Test):
    """records/device_tests/<id>.yaml"""

    fit: tuple[FitSession, ...] = ()
    """Fit sessions, every attempt."""
