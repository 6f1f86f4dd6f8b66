"""Pressure against flow: what a blower holds, and what filter, hose and the whole device lose."""

from __future__ import annotations

from enum import StrEnum
from itertools import pairwise
from typing import Annotated

from pydantic import Field, model_validator

from generator.model.base import Frozen, Recorded, Text
from generator.model.configuration import LocalName
from generator.model.flow_run import BatteryState, FilterState
from generator.model.quantity import FlowOrNone, Pressure, PressureUncertainty, quantity_problem


class PressureAtFlow(Frozen):
    """One point: a flow and the pressure at it."""

    flow: FlowOrNone
    """The flow in the room's air; 0 where the way was shut."""
    pressure: Pressure
    """The pressure at it: held by a blower, or lost in a part; the size of the difference, never negative."""


Points = Annotated[tuple[PressureAtFlow, ...], Field(min_length=1, max_length=1_000)]


def _flows_go_up(points: tuple[PressureAtFlow, ...]) -> None:
    for before, after in pairwise(points):
        if not before.flow.to("L/min") < after.flow.to("L/min"):
            raise quantity_problem(
                "points-order",
                f"{after.flow} after {before.flow}",
                "points in order of their flow, each flow once",
                "Put them in order; give the mean where a flow was set several times",
            )


class BlowerCurve(Frozen):
    """The pressure that the blower holds at several flows, at one setting."""

    id: LocalName
    """A name that is unique in the record, such as `high-fresh-curve`."""
    setting: Text
    """One of the device's settings."""
    battery: BatteryState
    """The state of the battery."""
    where: Text
    """Where pressure and flow were measured, and what was fitted, such as `at the outlet, no filter, no hose`."""
    alone: bool = True
    """Whether the blower stood by itself; a curve with filter or hose fitted predicts no flow through others."""
    points: Annotated[tuple[PressureAtFlow, ...], Field(min_length=2, max_length=1_000)]
    """The points, by flow, at least two."""
    uncertainty: Recorded[PressureUncertainty]
    """The expanded uncertainty (95 %) of one pressure."""

    @model_validator(mode="after")
    def _in_order(self) -> BlowerCurve:
        _flows_go_up(self.points)
        return self


class DropOf(StrEnum):
    """What a pressure is lost in."""

    FILTER = "filter"
    """The filter by itself."""
    HOSE = "hose"
    """The hose by itself."""
    FILTER_AND_HOSE = "filter_and_hose"
    """Filter and hose together."""
    INHALATION = "inhalation"
    """The whole device, when air is drawn through it as in breathing in."""
    EXHALATION = "exhalation"
    """The whole device, when air is pushed through it as in breathing out."""


class PressureDrops(Frozen):
    """The pressure lost in one part, or in the whole device when air is drawn or pushed through it."""

    id: LocalName
    """A name that is unique in the record, such as `new-filter`."""
    of: DropOf
    """What it is lost in; `inhalation` and `exhalation` are of the whole device, as a wearer breathes through it."""
    filter: FilterState
    """The state of the filter."""
    what: Text
    """What was measured and how, such as `the filter that came with it, on the bench`."""
    blower: Text | None = None
    """For `inhalation` and `exhalation` of a powered device: `off`, or the setting it ran at."""
    filters_at_once: Annotated[int, Field(ge=1, le=12)] = 1
    """How many such filters the flow went through side by side."""
    alternative: bool = False
    """Whether it is another part than the tested device had: it is then used for a prediction only."""
    points: Points
    """The points, by flow."""
    uncertainty: Recorded[PressureUncertainty]
    """The expanded uncertainty (95 %) of one pressure."""

    @model_validator(mode="after")
    def _in_order(self) -> PressureDrops:
        _flows_go_up(self.points)
        return self
