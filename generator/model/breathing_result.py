"""What scoring gives for a constant supply of air against printed breathing demands."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.result import Figure, TopicResult, TopicSummary


class Coverage(StrEnum):
    """How a supply flow stands to the peak flow of a level of work."""

    COVERED = "covered"
    UNDECIDED = "undecided"
    OVER_BREATHED = "over_breathed"


class LevelResult(Frozen):
    """One supply flow against the printed demand of one level of work."""

    level: str
    """The level's id."""
    coverage: Coverage
    """Whether the whole interval of the supply lies at or above the peak flow, below it, or on both sides."""
    share: Figure
    """The share of the air breathed in that the supply does not give, in %."""
    time: Figure | None = None
    """The part of the inhalation that draws more than the supply, in %; null where nothing is over-breathed."""
    a_minute: Figure | None = None
    """The volume over-breathed in a minute, in L/min; null where nothing is over-breathed."""
    a_breath: Figure | None = None
    """The volume over-breathed in a breath, in L; null where nothing is over-breathed."""
    factor: Figure | None = None
    """How many times cleaner the air would be at best, were this the only leak and no air stored; null for
    tight-fitting devices and where nothing is over-breathed."""
    mixed: Figure | None = None
    """The same as a range with the hood's air mixed in; null also where the hood's volume is not on record."""
    beyond: Figure | None = None
    """Outside air in a breath once the hood's air is used up, in L; null as for `mixed`."""


class BreathingRun(Frozen):
    """One flow run against every level of work."""

    run: str
    """The flow run's id in the record."""
    setting: str
    """The blower setting."""
    battery: str
    """The state of the battery."""
    filter: str
    """The state of the filter."""
    supply: Figure
    """The mean supply flow, as in the flow run."""
    breaths_per_minute: float
    """The breaths a minute that volumes of a breath are for."""
    breaths_counted: bool
    """Whether they were counted; otherwise they are assumed."""
    hood_volume: float | None = None
    """The air that the hood holds, in L; null where it is not on record or the device has a seal."""
    levels: tuple[LevelResult, ...] = ()
    """Every level of work, in the order of the peak flows; none where the run is not scored."""
    covered_silent: Figure | None = None
    """The largest minute volume covered while breathing silently in a sine, in L/min."""
    covered_printed: Figure | None = None
    """The same as a range over the printed ratios of peak flow to minute volume without speech."""
    covered_speaking: Figure | None = None
    """The largest minute volume covered while reading aloud, in L/min."""
    not_scored: Figure | None = None
    """Stands in place of all others where the run is not scored, with the reason."""
    stored: Figure | None = None
    """Where something is over-breathed and the hood's volume is not on record: says that stored air is not scored."""

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure of the run."""
        found = [self.not_scored, self.covered_silent, self.covered_printed, self.covered_speaking, self.stored]
        for level in self.levels:
            found += [level.share, level.time, level.a_minute, level.a_breath, level.factor, level.mixed, level.beyond]
        return tuple(figure for figure in found if figure is not None)


class BreathingResult(TopicResult):
    """All flow runs of a record against breathing demand."""

    breathing_runs: tuple[BreathingRun, ...]
    """Every flow run, in the order of the record."""


class BreathingSummary(TopicSummary):
    """All flow runs of a device against breathing demand, over its records."""

    breathing_runs: int
    """How many runs."""
    governing_demand: BreathingRun
    """The run with the least supply among the settings at which its maker says that the device protects."""
    governing_record: str
    """The record that holds it."""
