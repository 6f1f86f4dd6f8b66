"""A run-down: the flow on one charge from full to its end, from a log."""

from __future__ import annotations

from enum import StrEnum
from itertools import pairwise

from pydantic import model_validator

from generator.model.base import Frozen, Text
from generator.model.configuration import LocalName
from generator.model.flow_run import FilterState
from generator.model.quantity import Duration, Moment, quantity_problem
from generator.model.series import SeriesReference


class RunEnd(StrEnum):
    """How a run-down ended."""

    BLOWER_STOPPED = "blower_stopped"
    """The blower stopped by itself."""
    TEST_ENDED = "test_ended"
    """The tester ended it while the blower still ran."""


class AlarmHeard(Frozen):
    """An alarm during a run-down."""

    at: Moment
    """When, on the clock of the log."""
    what: Text
    """What was heard, seen or felt."""


class StatedTask(Frozen):
    """A task that the device is meant for, and how long it takes without a pause."""

    what: Text
    """The task, such as `one ward round`."""
    duration: Duration
    """How long it takes."""
    source: Text
    """Who states it, such as `leaflet in the box, page 3` or `the tester`."""


class RunDown(Frozen):
    """The flow on one charge."""

    id: LocalName
    """A name that is unique in the record, such as `high-full`."""
    setting: Text
    """One of the device's settings."""
    filter: FilterState
    """The state of the filter."""
    charge: Text
    """How the battery was charged before, and how old it is."""
    where: Text
    """Where the flow was measured, and how the meter was joined to the device."""
    log: SeriesReference
    """The log; it has a column of flow, and may have voltage and current."""
    ended: RunEnd
    """How it ended."""
    alarms: tuple[AlarmHeard, ...] = ()
    """Alarms, in order of time; none where none was heard."""
    task: StatedTask | None = None
    """A task that it should last for."""

    @model_validator(mode="after")
    def _alarms_in_order(self) -> RunDown:
        for before, after in pairwise(self.alarms):
            if after.at.to("s") < before.at.to("s"):
                raise quantity_problem(
                    "alarms-order", f"{after.at} after {before.at}", "alarms in order of time", "Put them in order"
                )
        return self
