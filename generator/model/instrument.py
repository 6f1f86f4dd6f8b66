"""Instruments and their calibrations."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, model_validator

from generator.model.base import Day, Frozen, Id, Recorded, Text, Version
from generator.model.configuration import LocalName
from generator.model.quantity import (
    AirPressure,
    Concentration,
    Correction,
    Flow,
    Fraction,
    Temperature,
    Uncertainty,
    quantity_problem,
    shown_unit,
    unit_of,
)
from generator.model.units import DIMENSIONS, find_unit


class InstrumentKind(StrEnum):
    """What the instrument measures, and by which principle."""

    THERMAL_MASS_FLOW_METER = "thermal_mass_flow_meter"
    """A flow meter that reads mass by heat, and states it as volume in `reference_conditions`."""
    VOLUMETRIC_FLOW_METER = "volumetric_flow_meter"
    """A flow meter that reads the volume of the air as it is, such as one with a vane."""
    VARIABLE_AREA_FLOW_METER = "variable_area_flow_meter"
    """A float in a tapered tube; its scale was made for the air in `reference_conditions`."""
    CONDENSATION_PARTICLE_COUNTER = "condensation_particle_counter"
    """A counter that lets particles grow by a vapour before it counts them."""
    OPTICAL_PARTICLE_COUNTER = "optical_particle_counter"
    """A counter of the light that particles scatter."""

    @property
    def refers_to_conditions(self) -> bool:
        """Whether what it states is of air in other conditions than the room's: stated ones, or those of a scale."""
        return self in (InstrumentKind.THERMAL_MASS_FLOW_METER, InstrumentKind.VARIABLE_AREA_FLOW_METER)

    @property
    def measures_flow(self) -> bool:
        """Whether it reads an air flow; otherwise it counts particles."""
        return self.value.endswith("flow_meter")


class AsFound(Frozen):
    """The state in which a calibration found the instrument, before anything was adjusted."""

    within_tolerance: bool
    """Whether its error lay within the tolerance agreed. If not, every test since the calibration before is marked."""
    found: Text
    """What was found, and the tolerance, with units."""


class Calibration(Frozen):
    """One calibration certificate. True value = reading + correction, within the expanded uncertainty."""

    date: Day
    """When it was calibrated."""
    due: Day
    """When the next calibration is due; a test after that day is published with a caution."""
    laboratory: Text
    """Who calibrated it."""
    certificate: Text
    """The number of the certificate."""
    correction: Correction
    """What the certificate adds to a reading: absolute, or a share of the reading; `0 %` for none."""
    expanded_uncertainty: Uncertainty
    """The certificate's expanded uncertainty, absolute or as a share of the reading."""
    k: Annotated[float, Field(ge=1, le=4, examples=[2, 1.96])]
    """The coverage factor of that uncertainty, mostly 2."""
    as_found: AsFound | None = None
    """The state in which it was found, where the certificate says so."""

    def lapsed_on(self, day: Day) -> bool:
        """Say whether the next calibration was due before a day."""
        return self.due < day

    @model_validator(mode="after")
    def _due_after_date(self) -> Calibration:
        if self.due <= self.date:
            raise quantity_problem(
                "dates-out-of-order",
                f"due {self.due} for a calibration of {self.date}",
                "a due date after the calibration",
                "Correct `date` or `due`",
            )
        return self


class CheckReading(Frozen):
    """One reading of a check standard."""

    date: Day
    """When it was read."""
    value: Annotated[float, Field(ge=-1e9, le=1e9, examples=[85.2, 84.7])]
    """What was read, in the check standard's unit."""


class CheckStandard(Frozen):
    """Something stable that is measured again and again between calibrations, for a control chart."""

    id: LocalName
    """A name that is unique in the instrument's record, such as `orifice`."""
    what: Text
    """What it is."""
    unit: Annotated[str, unit_of(*DIMENSIONS, example="L/min")]
    """The unit of all readings."""
    centre: Annotated[float, Field(ge=-1e9, le=1e9, examples=[85, 120.5])]
    """The value that readings scatter about when all is well."""
    standard_deviation: Annotated[float, Field(gt=0, le=1e9, examples=[0.4, 1.5])]
    """The standard deviation of single readings when all is well."""
    established: Text
    """How and when centre and standard deviation were established, from readings that are not those below."""
    readings: Annotated[tuple[CheckReading, ...], Field(min_length=1, max_length=2_000)]
    """The readings since then, oldest first."""

    @model_validator(mode="after")
    def _unit_is_known(self) -> CheckStandard:
        if find_unit(self.unit) is None:
            raise quantity_problem(
                "unknown-unit", f"the unit `{shown_unit(self.unit)}`", "a unit of the table", "Correct the unit"
            )
        return self


class ReferenceConditions(Frozen):
    """The air at which a mass flow meter states its volume flow, or for which a float meter's scale was made."""

    temperature: Temperature
    """The reference temperature."""
    pressure: AirPressure
    """The reference pressure, absolute."""
    humidity: Fraction | None = None
    """The relative humidity that a float meter's scale was made for; without it, dry air."""


class Counter(Frozen):
    """What a particle counter can see."""

    counted_flow: Recorded[Flow]
    """The flow in which every particle is counted; it turns counts into concentrations."""
    single_particle: bool
    """Whether it counts single particles, so that counting statistics hold."""
    ambient_minimum: Recorded[Concentration]
    """The ambient concentration below which its maker advises against a fit test."""
    ceiling: Recorded[Concentration]
    """The highest concentration that it reads right."""


class Instrument(Frozen):
    """records/instruments/<id>.yaml"""

    id: Id
    """The file name without its ending."""
    version: Version
    """Quoted, such as '1' or '1.2'; goes up with every amendment."""
    name: Text
    """What it is, without the name of a maker."""
    kind: InstrumentKind
    """What it measures, and how."""
    serial: Recorded[Text]
    """Its serial number."""
    resolution: Recorded[Uncertainty]
    """The smallest step of its display."""
    drift_per_year: Recorded[Uncertainty] | None = None
    """How far it may drift in a year after a calibration at most, to either side; for flow meters."""
    reference_conditions: ReferenceConditions | None = None
    """For thermal mass and variable-area flow meters only, and needed there."""
    counter: Counter | None = None
    """For particle counters only, and needed there."""
    calibrations: Annotated[tuple[Calibration, ...], Field(min_length=1)]
    """Its calibrations, oldest first."""
    check_standards: tuple[CheckStandard, ...] = ()
    """What it is checked with between calibrations."""

    @model_validator(mode="after")
    def _parts_fit_kind(self) -> Instrument:
        needs_reference = self.kind.refers_to_conditions
        if needs_reference != (self.reference_conditions is not None):
            raise quantity_problem(
                "reference-conditions",
                "`reference_conditions`" if self.reference_conditions else "no `reference_conditions`",
                f"{'them' if needs_reference else 'none'} for an instrument of kind `{self.kind.value}`",
                "Thermal mass and variable-area flow meters refer to such air; other instruments have none",
            )
        if self.kind.measures_flow == (self.counter is not None):
            raise quantity_problem(
                "counter-part",
                "`counter`" if self.counter else "no `counter`",
                f"{'none' if self.kind.measures_flow else 'one'} for an instrument of kind `{self.kind.value}`",
                "Particle counters have a `counter` part; flow meters have none",
            )
        return self

    def calibration_on(self, day: Day) -> Calibration | None:
        """Return the newest calibration made on or before a day, or None."""
        made = [calibration for calibration in self.calibrations if calibration.date <= day]
        return max(made, key=lambda calibration: calibration.date) if made else None
