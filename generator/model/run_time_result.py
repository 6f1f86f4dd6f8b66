"""What scoring gives for the run-downs of a record and of a device."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.result import Figure, Outcome, TopicResult, TopicSummary


class AlarmOutcome(StrEnum):
    """How the first alarm stands to the end of the run time."""

    BEFORE = "before"
    AFTER = "after"
    UNDECIDED = "undecided"
    NONE_HEARD = "none_heard"
    NOT_NEEDED = "not_needed"
    NOT_SCORED = "not_scored"


class RunDownResult(Frozen):
    """The flow on one charge, held against what is required. Times count from the first line of the log."""

    run_down: str
    """The run-down's id in the record."""
    setting: str
    """The blower setting."""
    filter: str
    """The state of the filter."""
    criterion: str | None
    """The id of the flow requirement that the run time goes by; null where none applies."""
    required_l_per_min: float | None
    """The required flow; null where none applies."""
    benchmark_only: bool
    """Whether the requirement is a benchmark only, as for a home-built device."""
    run_time: Figure
    """How long the flow stayed at or above what is required, in minutes."""
    fell_below: bool
    """Whether the flow fell below what is required, or the blower stopped, in this log."""
    came_back: bool
    """Whether a later flow was at or above it again; the first one below ends the run time all the same."""
    to_stop: Figure | None
    """How long the blower turned, in minutes; null where it did not stop. It is not the run time."""
    first_alarm: Figure | None
    """When the first alarm came, in minutes; null where none was heard."""
    alarm_margin: Figure | None
    """How long before the end of the run time that was, in minutes; null where there is no alarm or no run time."""
    alarm: AlarmOutcome
    """How the first alarm stands to the end of the run time."""
    energy: Figure | None
    """The energy that the battery gave during the run time, in Wh; null without voltage and current."""
    energy_for_cubic_metre: Figure | None
    """The energy for 1000 L of air during the run time, in Wh; null without voltage and current."""
    share_of_stated_energy: Figure | None
    """The energy until the blower stopped as a share of what the maker states, in percent; null where not known."""
    task_minutes: float | None
    """How long the task takes that it should last for, in minutes; null where the record names none."""
    task: Outcome | None
    """Whether the run time is as long as the task: meets, does_not_meet or undecided; null without a task."""

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure, in the order they are told."""
        told = (
            self.run_time,
            self.to_stop,
            self.first_alarm,
            self.alarm_margin,
            self.energy,
            self.energy_for_cubic_metre,
            self.share_of_stated_energy,
        )
        return tuple(figure for figure in told if figure is not None)


class RunTimeResult(TopicResult):
    """All run-downs of a record."""

    run_downs: tuple[RunDownResult, ...]
    """Every run-down, in the order of the record."""


class RunTimeSummary(TopicSummary):
    """All run-downs of a device, over its records."""

    run_downs: int
    """How many run-downs."""
    governing: RunDownResult | None
    """The one with the shortest run time, of those measured to its end first; null where none is scored."""
    governing_record: str | None
    """The record that it stands in; null where none is scored."""
