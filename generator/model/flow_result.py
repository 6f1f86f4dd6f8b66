"""What scoring gives for the flow runs of a record and of a device."""

from __future__ import annotations

from generator.model.base import Frozen
from generator.model.result import Figure, TopicResult, TopicSummary, Verdict


class FlowRunResult(Frozen):
    """The supply flow at one setting, battery and filter state."""

    run: str
    """The run's id in the record."""
    setting: str
    """The blower setting."""
    battery: str
    """The state of the battery."""
    filter: str
    """The state of the filter."""
    where: str
    """Where the flow was measured."""
    mean: Figure
    """The mean supply flow, in L/min."""
    standard_deviation: Figure
    """The standard deviation of the readings, in L/min."""
    standard_uncertainty: float | None = None
    """The combined standard uncertainty of the mean, in L/min; null where it has no interval."""
    degrees_of_freedom: float | None = None
    """Its effective degrees of freedom; null where they are infinite or there is no uncertainty."""
    verdict: Verdict
    """The mean held against a requirement, or why none applies."""


class FlowResult(TopicResult):
    """All flow runs of a record."""

    runs: tuple[FlowRunResult, ...]
    """Every run, in the order of the record."""


class FlowSummary(TopicSummary):
    """All flow runs of a device, over its records."""

    runs: int
    """How many runs."""
    governing: FlowRunResult | None
    """The run with the worst verdict, and among those the least flow: it governs the device."""
    governing_record: str | None
    """The record that holds it; null where there is none."""
