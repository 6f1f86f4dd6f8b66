"""Rules about a whole panel of wearers, each bound to the method it was written for."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from generator.model.air import Aerosol
from generator.model.base import Frozen, Id, LongText, Text
from generator.model.device import DeviceKind
from generator.model.reference import Source


class PanelCount(StrEnum):
    """What a condition counts."""

    WEARERS_BY_BEST_DONNING = "wearers_by_best_donning"
    """Wearers, by the best of their donnings."""
    WEARERS_BY_MEAN = "wearers_by_mean"
    """Wearers, by the arithmetic mean of their exercises."""
    EXERCISES = "exercises"
    """Single exercises of all wearers."""


class PanelSense(StrEnum):
    """On which side of the limit a result counts; the limit itself counts."""

    AT_LEAST = "at_least"
    AT_MOST = "at_most"


class PanelOutcome(StrEnum):
    """What a panel says of a rule."""

    NOT_ITS_METHOD = "not_its_method"
    NOT_COMPLETE = "panel_not_complete"
    REACHED = "rule_reached"
    NOT_REACHED = "rule_not_reached"


class PanelCondition(Frozen):
    """So many of the results counted must lie on one side of a limit."""

    counts: PanelCount
    """What is counted."""
    sense: PanelSense
    """On which side a result counts."""
    limit: Annotated[float, Field(gt=0)]
    """The limit."""
    required: Annotated[int, Field(ge=1)]
    """How many must lie there."""


class PanelRule(Frozen):
    """A published rule about a panel; every condition must hold."""

    id: Id
    title: Text
    method: Id
    """The one method whose results it may be applied to."""
    protocol: Id | None = None
    """The protocol by which that method is recorded; None where there is none, so that the rule is never applied."""
    aerosol: Aerosol | None = None
    """The particles that the method counts, where the protocol by itself does not say."""
    not_recorded: Text | None = None
    """Why no protocol records its method."""
    kinds: Annotated[tuple[DeviceKind, ...], Field(min_length=1)]
    """The kinds of device that it is for."""
    unit: Text
    """Unit of results and limits."""
    wearers: Annotated[int, Field(ge=1)]
    """Wearers of a complete panel."""
    donnings: Annotated[int, Field(ge=1)]
    """Donnings of each."""
    results_each: Annotated[int, Field(ge=1)]
    """Results of each donning: one, or one of each exercise."""
    conditions: Annotated[tuple[PanelCondition, ...], Field(min_length=1)]
    meaning: LongText
    """What it says, and what it does not say, for the reader."""
    sources: Annotated[tuple[Source, ...], Field(min_length=1)]
