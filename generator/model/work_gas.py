"""What a person at work gives off and takes up, and limits of what may be inhaled: reference data, never a result."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from generator.model.base import Frozen, Id, Text
from generator.model.quantity import Flow
from generator.model.reference import Source


class StatedGas(StrEnum):
    """The gas by which a level of work is stated."""

    CARBON_DIOXIDE = "carbon_dioxide"
    """What is given off."""
    OXYGEN = "oxygen"
    """What is taken up."""


class WorkGas(Frozen):
    """One level of work, by the carbon dioxide that a person gives off at it or the oxygen that is taken up."""

    id: Id
    name: Text
    """The level as readers see it."""
    person: Text
    """Whom it is about, and at which measure of work."""
    stated: StatedGas
    """Which gas the source states."""
    flow: Flow
    """How much of it, as dry gas at 0 degC and 101 kPa."""
    quotient: Annotated[float, Field(gt=0, le=1.5)]
    """Carbon dioxide given off over oxygen taken up."""
    everyday: bool
    """Whether work at this level is what most wearers do for hours, so that a caution is raised at it."""
    source: Source


class GasLimitOf(StrEnum):
    """What a limit is a limit of; only a figure of the same thing is held against it."""

    MEAN_INHALED = "mean_inhaled"
    """The mean of the air that is inhaled."""
    ROOM_AIR = "room_air"
    """The air of a workplace."""


class GasLimit(Frozen):
    """A body's limit of carbon dioxide."""

    id: Id
    body: Text
    """Who states it."""
    of: GasLimitOf
    """What it is a limit of."""
    percent: Annotated[float, Field(gt=0, le=100)]
    """The most that may be there, in percent of the air by volume."""
    holds_for: Text
    """What it holds for, and for how long."""
    source: Source
