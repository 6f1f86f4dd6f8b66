"""What scoring gives for a hood's air balance: what goes in, what is drawn out, and the pressure inside."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.result import Figure, TopicResult, TopicSummary


class Balance(StrEnum):
    """Which way the air goes through the openings, by the whole interval of the net flow."""

    OUTWARD = "outward"
    INWARD = "inward"
    UNDECIDED = "undecided"
    NOT_SCORED = "not_scored"


class ExhaustResult(Frozen):
    """The air that the powered exhaust draws out at one setting."""

    exhaust: str
    """The exhaust run's id in the record."""
    setting: str
    """The blower setting."""
    where: str
    """Where the flow was measured."""
    mean: Figure
    """The mean flow drawn out, in L/min."""
    standard_deviation: Figure
    """The standard deviation of the readings, in L/min."""
    standard_uncertainty: float | None
    """The combined standard uncertainty of the mean, in L/min; null where it has no interval."""
    degrees_of_freedom: float | None
    """Its effective degrees of freedom; null where they are infinite or there is no uncertainty."""


class NetFlowResult(Frozen):
    """What is left of the supply of one flow run after the exhaust of the same setting has taken its part."""

    run: str
    """The flow run's id in the record."""
    exhaust: str | None
    """The id of the exhaust run that is taken off; null where none was measured at this setting."""
    setting: str
    """The blower setting."""
    battery: str
    """The state of the battery during the flow run."""
    filter: str
    """The state of the filter during the flow run."""
    net: Figure | None
    """Supply minus exhaust, in L/min; null for a device without a powered exhaust."""
    velocity: Figure | None
    """The mean velocity outwards through the openings, in m/s; null where their area is not on record."""
    balance: Balance
    """Which way the air goes through the openings."""


class PressureStretch(Frozen):
    """The pressure inside over a whole trace, or over one exercise of it."""

    exercise: str | None
    """The exercise; null for the whole trace."""
    lowest: Figure
    """The lowest reading, in Pa against the room."""
    mean: Figure
    """The mean over time, in Pa against the room."""
    below_room: Figure
    """The share of the time in which the pressure was below that of the room, in percent."""


class PressureTraceResult(Frozen):
    """The pressure inside while the device was worn."""

    trace: str
    """The trace's id in the record."""
    setting: str
    """The blower setting, or `off`."""
    where: str
    """Where inside the pressure was taken."""
    whole: PressureStretch
    """Over the whole trace."""
    exercises: tuple[PressureStretch, ...]
    """Over each exercise that the log names, in the order in which they begin."""


class AirBalanceResult(TopicResult):
    """The air balance of a record."""

    exhausts: tuple[ExhaustResult, ...]
    """Every exhaust run, in the order of the record."""
    balances: tuple[NetFlowResult, ...]
    """The balance of every flow run; empty where neither an exhaust nor openings were measured."""
    traces: tuple[PressureTraceResult, ...]
    """Every pressure trace, in the order of the record."""


class AirBalanceSummary(TopicSummary):
    """The air balance of a device, over its records."""

    inward: int
    """In how many balances the exhaust takes more than the supply gives, by the whole interval."""
    balances: int
    """How many balances were scored."""
    below_room: int
    """In how many traces with the blower running the pressure fell below that of the room."""
    running_traces: int
    """How many traces were taken with the blower running."""
