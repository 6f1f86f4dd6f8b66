"""Levels of work with the breathing that people at it were found to have; reference data."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from generator.model.base import Frozen, Text
from generator.model.configuration import LocalName
from generator.model.reference import Source


class WorkLevel(Frozen):
    """A printed pair of minute volume and peak inspiratory flow, for one kind of work."""

    id: LocalName
    """Its name in the keys of figures, such as `light`."""
    name: Text
    """The name that readers see."""
    work: Text
    """What was done, in the words of the source."""
    minute_volume: Annotated[float, Field(gt=0, le=300)]
    """The air breathed in a minute, in L/min, as printed."""
    peak: Annotated[float, Field(gt=0, le=1000)]
    """The highest flow while breathing in, in L/min, as printed."""
    speaking: bool
    """Whether people spoke or read aloud meanwhile."""
    source: Source
    """Where the pair was printed."""

    @property
    def ratio(self) -> float:
        """The peak flow divided by the minute volume; pi for a sine that takes half of the breath."""
        return self.peak / self.minute_volume
