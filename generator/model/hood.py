"""A hood's air: what it holds, what an exhaust takes, the ways out, and the pressure inside while it is worn."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from generator.model.base import Frozen, Text
from generator.model.configuration import LocalName
from generator.model.flow_run import FlowReadings
from generator.model.quantity import Area, Volume
from generator.model.series import SeriesReference


class HoodMeasured(Frozen):
    """The air that the hood or helmet holds while it is worn."""

    volume: Volume
    """The volume of air between wearer and hood."""
    how: Text
    """How it was found, such as `filled with rice over a head form`."""
    breaths_per_minute: Annotated[float, Field(gt=0, le=80)] | None = None
    """Breaths a minute that were counted on a wearer at work; without it, a stated assumption takes its place."""


class ExhaustRun(Frozen):
    """The air that a powered exhaust draws out at one setting, read several times with the record's flow meter."""

    id: LocalName
    """A name that is unique in the record, such as `exhaust-high`."""
    setting: Text
    """The blower setting during it."""
    where: Text
    """Where the flow was measured."""
    readings: FlowReadings
    """What was read."""


class OpeningsMeasured(Frozen):
    """The free area through which air can leave or enter past the wearer."""

    area: Area
    """The area of all openings together while worn."""
    how: Text
    """How it was found."""


class PressureTrace(Frozen):
    """The pressure inside while the device was worn, from a log. It names no wearer."""

    id: LocalName
    """A name that is unique in the record, such as `trace-high`."""
    setting: Text
    """The blower setting, or `off`."""
    where: Text
    """Where inside the pressure was taken."""
    log: SeriesReference
    """The log; it has a column of pressure."""
