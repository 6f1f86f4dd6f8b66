"""What scoring gives for the flow runs of a record and of a device."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.budget_result import Budget
from generator.model.result import Figure, Outcome, TopicResult, TopicSummary, Verdict


class AirConditions(Frozen):
    """The air that a volume flow is of."""

    temperature: float
    """Its temperature, in K."""
    pressure: float
    """Its absolute pressure, in Pa."""
    relative_humidity: float | None
    """Its relative humidity, from 0 to 1; null where it is not known or has no bearing."""


class BackPressure(StrEnum):
    """What became of the resistance that a meter adds to the air path."""

    CORRECTED = "corrected"
    NULL_METHOD = "null_method"
    NOT_CORRECTED = "not_corrected"
    UNKNOWN = "unknown"


class FlowRunResult(Frozen):
    """The supply flow at one setting, battery and filter state."""

    run: str
    """The run's id in the record."""
    setting: str
    """The blower setting."""
    claimed: bool
    """Whether its maker says that the device protects at this setting, or names no settings as protective."""
    battery: str
    """The state of the battery."""
    filter: str
    """The state of the filter."""
    where: str
    """Where the flow was measured."""
    mean: Figure
    """The mean supply flow in the air of the room, in L/min; without the meter where that could be worked out."""
    measured: Figure | None = None
    """The mean with the meter in place, in L/min; null where nothing was corrected."""
    standard_deviation: Figure
    """The standard deviation of the readings, in L/min."""
    variation: Figure
    """The standard deviation as a share of the mean."""
    trend: Figure
    """The change from the first reading to the last along a straight line, in L/min."""
    standard_uncertainty: float | None = None
    """The combined standard uncertainty of the mean, in L/min; null where it has no interval."""
    degrees_of_freedom: float | None = None
    """Its effective degrees of freedom; null where they are infinite or there is no uncertainty."""
    budget: Budget | None = None
    """What the uncertainty of the mean is made of; null where it has no interval."""
    room: AirConditions
    """The air of the room, whose volume the flow is of."""
    meter_air: AirConditions | None = None
    """The air that the meter's readings refer to; null where it reads the volume as it stands."""
    back_pressure: BackPressure
    """What became of the resistance that the meter adds."""
    back_pressure_reason: str | None = None
    """Why it was not corrected, or how it was balanced; null where it was corrected."""
    at_requirement: Figure | None = None
    """The mean in the air that the requirement states, in L/min; null where it states none."""
    compared_air: AirConditions | None = None
    """The air that the requirement states; null where it states none, so that the flow was compared in the room's."""
    verdict: Verdict
    """The flow held against a requirement, or why none applies."""

    @property
    def compared(self) -> Figure:
        """The figure that was held against the requirement."""
        return self.at_requirement if self.at_requirement is not None else self.mean


class FlowResult(TopicResult):
    """All flow runs of a record."""

    runs: tuple[FlowRunResult, ...]
    """Every run, in the order of the record."""


class FlowState(Frozen):
    """One state of a device, measured or not: a setting with a state of battery and of filter."""

    setting: str
    """The blower setting."""
    claimed: bool
    """Whether its maker says that the device protects at this setting, or names no settings as protective."""
    battery: str
    """The state of the battery."""
    filter: str
    """The state of the filter."""
    runs: int
    """How many runs measured it; 0 where it was not measured."""
    outcome: Outcome | None
    """The worst verdict on them; null where it was not measured."""
    record: str | None
    """The record of the run with that verdict, and among those with the least flow; null where there is none."""
    run: str | None
    """That run's id."""


class FlowSummary(TopicSummary):
    """All flow runs of a device, over its records."""

    runs: int
    """How many runs."""
    governing: FlowRunResult | None
    """The run with the worst verdict at a claimed setting, and among those the least flow: it governs the device.

    Of the device as supplied; of a modified one only where no run is as supplied.
    """
    governing_record: str | None
    """The record that holds it; null where there is none."""
    states: tuple[FlowState, ...]
    """Each claimed setting with each state of battery and filter, measured or not, and whatever else was measured.

    Of the device as supplied; of a modified one only where no run is as supplied.
    """
