"""What a reader sees beside a device's fit factors: devices of the same day, a what-if, what others assign."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.views import Fact, Table


@dataclass(frozen=True)
class SameDayView:
    """What a device's wearers wore beside it on the same day."""

    sentences: tuple[str, ...]
    table: Table


@dataclass(frozen=True)
class OffTimeView:
    """What would be left if the device were not worn all the time; hypothetical, and headed so."""

    sentences: tuple[str, ...]
    facts: tuple[Fact, ...]
    """What it starts from, and by which method."""
    table: Table


@dataclass(frozen=True)
class AssignedView:
    """What bodies assign to devices of this kind, or why nothing is shown; never beside a fit factor."""

    sentences: tuple[str, ...]
    table: Table | None


@dataclass(frozen=True)
class MeaningView:
    """All three, each in a section of its own."""

    same_day: SameDayView | None
    off_time: OffTimeView | None
    assigned: AssignedView
