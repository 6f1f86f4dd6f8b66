"""What scoring gives for the flow runs of a record and of a device."""

from __future__ import annotations

from generator.model.base import Frozen
from generator.model.result import Figure, TopicResult, TopicSummary, Verdict


class FlowRunResult(Frozen):
    """The supply flow at one setting, battery and filter state."""

    run: str
    setting: str
    battery: str
    filter: str
    where: str
    mean: Figure
    standard_deviation: Figure
    verdict: Verdict


class FlowResult(TopicResult):
    """All flow runs of a record."""

    runs: tuple[FlowRunResult, ...]


class FlowSummary(TopicSummary):
    """All flow runs of a device, over its records."""

    runs: int
    governing: FlowRunResult | None
    """The run with the worst verdict, and among those the least flow: it governs the device."""
    governing_record: str | None
