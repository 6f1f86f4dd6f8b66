"""A flow run: the air delivered in one state, read several times, and what the meter itself took of it."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, model_validator

from generator.model.base import Frozen, Text
from generator.model.configuration import LocalName
from generator.model.quantity import Pressure, PressureUncertainty, Readings, check_unit, quantity_problem, unit_of


class BatteryState(StrEnum):
    """The state of the battery during a flow run."""

    FRESH = "fresh"
    """Fully charged."""
    AT_ALARM = "at_alarm"
    """So far down that the device's alarm had just begun."""
    MAINS = "mains"
    """No battery: the blower ran on mains or on a supply."""


class FilterState(StrEnum):
    """The state of the filter during a flow run."""

    NEW = "new"
    """Not used before."""
    LOADED = "loaded"
    """Used, or loaded with dust on purpose."""


class FlowReadings(Readings):
    """Air flow readings in one unit."""

    unit: Annotated[str, unit_of("flow", example="L/min")]
    """The unit of all values."""
    values: Annotated[tuple[Annotated[float, Field(ge=0, le=1e6)], ...], Field(min_length=1, max_length=10_000)]
    """The readings, at least one, as they were read."""

    @model_validator(mode="after")
    def _unit_is_flow(self) -> FlowReadings:
        check_unit(self.unit, "flow")
        return self


class MeterInPath(Frozen):
    """What is known of the resistance that the meter adds to the air path, which lowers the flow that it reads."""

    pressure_drop: Pressure | None = None
    """The pressure lost across meter and adapter at the mean flow that was read."""
    drop_uncertainty: PressureUncertainty | None = None
    """The expanded uncertainty (95 %) of that pressure."""
    blower_curve: LocalName | None = None
    """The id of the record's blower curve by which the flow without the meter is worked out."""
    null_method: Text | None = None
    """In place of these: how the pressure behind the device was brought back to its value without the meter."""

    @model_validator(mode="after")
    def _one_way(self) -> MeterInPath:
        by_drop = self.pressure_drop is not None
        if by_drop == (self.null_method is not None) or (not by_drop and (self.drop_uncertainty or self.blower_curve)):
            raise quantity_problem(
                "meter-in-path",
                "`pressure_drop` and `null_method`" if by_drop else "neither a whole `pressure_drop` nor `null_method`",
                "either `pressure_drop`, with `blower_curve` where there is one, or `null_method`",
                "Keep what was done; leave `meter` out where nothing is known of it",
            )
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
    meter: MeterInPath | None = None
    """What the meter's own resistance did to the flow; without it, that is not known."""
