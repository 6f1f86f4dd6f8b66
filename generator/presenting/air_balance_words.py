"""What pages say of a hood's air balance and of the pressure inside."""

from __future__ import annotations

from generator.model.air_balance_result import AirBalanceSummary, Balance, NetFlowResult, PressureTraceResult
from generator.model.session import BLOWER_OFF
from generator.presenting.digits import value_text

BALANCE = (
    "The net flow is what the exhaust leaves of the supply at the same setting. Above zero it leaves through the "
    "openings; below zero that much air of the room comes in through them, past the filter. Supply and exhaust were "
    "measured one after the other."
)
VELOCITY = (
    "The velocity is a mean over all openings and over the breath. While the wearer breathes in it is less, and no "
    "published velocity was found that a hood should have, so that it is held against none."
)
PRESSURE = (
    "Where the pressure inside is below that of the room, outside air can come in through any gap. The pressure does "
    "not say how much. It was taken at one place, and what lies between two readings is not seen."
)
_WORDS = {
    Balance.OUTWARD: "air leaves through the openings",
    Balance.INWARD: "room air comes in through the openings",
    Balance.UNDECIDED: "undecided: the interval holds zero",
}


def balance_words(balance: NetFlowResult) -> str:
    """Say in a few words which way the air goes, or why that is not known."""
    if balance.balance is Balance.NOT_SCORED:
        reason = balance.net.not_scored if balance.net is not None else None
        return f"not scored: {reason or 'the supply was not scored'}"
    if balance.balance is Balance.UNDECIDED and balance.net is not None and balance.net.interval is None:
        return "undecided: there is no interval"
    if balance.balance is Balance.UNDECIDED and balance.net is None:
        return "undecided: the supply has no interval that lies above zero"
    return _WORDS[balance.balance]


def trace_words(trace: PressureTraceResult) -> str:
    """Say of a trace how low the pressure fell and for how much of the time it was below that of the room."""
    blower = "blower off" if trace.setting == BLOWER_OFF else f"blower at {trace.setting}"
    lowest = value_text(trace.whole.lowest, 0.0)
    if trace.whole.below_room.value is None:
        return f"{blower}: one reading, {lowest}"
    if trace.whole.below_room.value == 0:
        return f"{blower}: lowest {lowest}, at no time below the pressure of the room"
    share = value_text(trace.whole.below_room, 100.0)
    return f"{blower}: lowest {lowest}, below the pressure of the room for {share} of the time"


def answer_words(summary: AirBalanceSummary) -> tuple[str, ...]:
    """Return the sentence that opens a device's page, where the air balance decides something."""
    if summary.inward:
        return (
            "Its exhaust draws out more air than its blower supplies, so that room air comes in past the filter: in "
            f"{summary.inward} of {summary.balances} states that were measured.",
        )
    if summary.below_room:
        return (
            "With the blower running, the pressure inside fell below that of the room: in "
            f"{summary.below_room} of {summary.running_traces} logs.",
        )
    return ()
