"""A raw log, read and checked."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple


class Sampling(StrEnum):
    """Where the counter drew its air from."""

    AMBIENT = "ambient"
    """The air outside."""
    IN_MASK = "in-mask"
    """The air inside, during an exercise."""
    PURGE = "purge"
    """Neither, as while the counter's line is flushed; left out of every figure."""
    SIDE_BY_SIDE = "side-by-side"
    """Both channels drew the same ambient air, so that it is seen how they differ."""


class LogSample(NamedTuple):
    """One row of a log. A plain tuple, since a catalogue has hundreds of thousands of them."""

    time_s: float
    concentration_per_cm3: float
    exercise: str
    sampling: Sampling
    outside_per_cm3: float | None = None
    """What the second channel read, where there is one."""


@dataclass(frozen=True)
class Log:
    """A log as its samples in order of time."""

    file: str
    sha256: str
    samples: tuple[LogSample, ...]

    @property
    def second_channel(self) -> bool:
        """Whether a second channel counted the ambient air all the time."""
        return all(sample.outside_per_cm3 is not None for sample in self.samples)
