"""What scoring gives for carbon dioxide and oxygen: a hood's mixed air by calculation, inhaled air as measured."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.result import Figure, TopicResult, TopicSummary


class LevelGas(Frozen):
    """The hood's mixed air at one level of work."""

    level: str
    """The id of the level."""
    carbon_dioxide: Figure
    """The mean carbon dioxide of the hood's air, in percent."""
    oxygen: Figure
    """The mean oxygen of the hood's air, in percent."""
    above_one_percent: bool
    """Whether the carbon dioxide is above 1 % by its whole interval."""
    oxygen_low: bool
    """Whether the oxygen is below 19.5 % by its whole interval."""


class RunGas(Frozen):
    """The hood's mixed air with the supply of one flow run."""

    run: str
    """The run's id in the record."""
    setting: str
    """The blower setting."""
    battery: str
    """The state of the battery."""
    filter: str
    """The state of the filter."""
    claimed: bool
    """Whether its maker says that the device protects at this setting."""
    levels: tuple[LevelGas, ...]
    """Every level of work, the lightest first."""


class LeastSupply(Frozen):
    """The flow that a level of work asks for."""

    level: str
    """The id of the level."""
    supply: Figure
    """The least supply that holds the hood's mixed air at 1 % of carbon dioxide, in L/min."""


class SealedTime(Frozen):
    """How fast carbon dioxide would rise in a hood without any flow; an illustration, never a time that is allowed."""

    level: str
    """The id of the level."""
    percent: float
    """The carbon dioxide that is reached, in percent."""
    time: Figure
    """How long that takes, in s."""


class Plausible(StrEnum):
    """Whether inhaled oxygen and carbon dioxide can belong together, by the whole interval of their ratio."""

    POSSIBLE = "possible"
    IMPOSSIBLE = "impossible"
    UNDECIDED = "undecided"
    NOT_SCORED = "not_scored"


class Side(StrEnum):
    """Where a measured mean lies to a limit, by its whole interval; without one, by the figure itself.

    One that cannot be right is not compared.
    """

    ABOVE = "above"
    NOT_ABOVE = "not_above"
    UNDECIDED = "undecided"
    NOT_COMPARED = "not_compared"


class LimitSide(Frozen):
    """A measured mean held against one limit."""

    limit: str
    """The id of the limit."""
    side: Side
    """Where the mean lies."""


class InhaledGasResult(Frozen):
    """Oxygen and carbon dioxide of inhaled air, as measured."""

    gas: str
    """The reading's id in the record."""
    blower: str
    """`off`, or the setting it ran at."""
    work: str
    """What the wearer, or the breathing machine, did."""
    oxygen: Figure
    """The mean oxygen inhaled, in percent."""
    carbon_dioxide: Figure
    """The mean carbon dioxide inhaled, in percent."""
    ratio: Figure
    """Carbon dioxide gained over oxygen lost."""
    plausible: Plausible
    """Whether the two can belong together."""
    sides: tuple[LimitSide, ...]
    """The carbon dioxide held against each limit of mean inhaled air."""


class GasResult(TopicResult):
    """Carbon dioxide and oxygen of a record."""

    runs: tuple[RunGas, ...]
    """The hood's mixed air for every flow run."""
    least: tuple[LeastSupply, ...]
    """The flow that each level of work asks for."""
    sealed: tuple[SealedTime, ...]
    """How fast carbon dioxide would rise in a sealed hood; empty where its volume is not on record."""
    inhaled: tuple[InhaledGasResult, ...]
    """Inhaled air as measured."""
    hood_not_scored: str | None
    """Why the hood's mixed air is not calculated; null where it is."""


class GasSummary(TopicSummary):
    """Carbon dioxide and oxygen of a device, over its records."""

    worst: RunGas | None
    """The claimed run whose hood's air has the most carbon dioxide; null where none was calculated."""
    worst_record: str | None
    """The record that holds it; null where there is none."""
    inhaled: int
    """How many readings of inhaled air there are."""
