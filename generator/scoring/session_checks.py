"""What scoring notices in a session's log, times and zero check. Each returns one finding, or none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.log import Log
from generator.model.reference import Protocol
from generator.model.result import Finding
from generator.scoring.log_checks import missing_readings, stuck_stretches

LEAST_SAMPLED, MOST_SAMPLED = 0.5, 1.1
"""Shares of an exercise's duration in the protocol that its sampling inside takes at least and at most (own rule)."""

ZERO_NOTED = 0.10
"""Share of the in-mask concentration above which the zero check is noted (own rule; no published limit was found)."""

Facts = dict[str, str | int | float]


def readings_that_repeat(where: str, log: Log, counted_flow: float) -> Finding | None:
    """Return a finding where readings repeat to the last digit for longer than chance explains.

    Only for counters of single particles without smoothing; the counted flow is in cm3/min.
    """
    stuck = stuck_stretches(log.samples, counted_flow)
    if not stuck:
        return None
    longest = max(stuck, key=lambda stretch: stretch.readings)
    facts: Facts = {"stretches": len(stuck), "longest_readings": longest.readings, "longest_from_s": longest.start}
    return Finding(rule="readings-repeat", where=where, facts=facts)


def readings_that_are_missing(where: str, log: Log) -> Finding | None:
    """Return a finding where a log leaves readings out."""
    gaps = missing_readings(log.samples)
    if not gaps:
        return None
    largest = max(gaps, key=lambda gap: gap.readings)
    facts: Facts = {
        "gaps": len(gaps),
        "missing_readings": sum(gap.readings for gap in gaps),
        "largest_gap_readings": largest.readings,
        "largest_gap_from_s": largest.start,
    }
    return Finding(rule="readings-missing", where=where, facts=facts)


def times_unlike_the_protocol(where: str, in_mask: Mapping[str, float], protocol: Protocol) -> Finding | None:
    """Return a finding where the time sampled inside does not fit the exercise; `in_mask` in s, by exercise.

    Some protocols sample ambient air and purge within an exercise, so that a part of its time is in order.
    """
    shares = {step.id: in_mask[step.id] / step.duration.to("s") for step in protocol.exercises if step.id in in_mask}
    unlike = {name: share for name, share in shares.items() if not LEAST_SAMPLED <= share <= MOST_SAMPLED}
    if not unlike:
        return None
    facts: Facts = {
        "exercises": ", ".join(unlike),
        "count": len(unlike),
        "smallest_share_of_duration": min(shares.values()),
        "largest_share_of_duration": max(shares.values()),
        "least": LEAST_SAMPLED,
        "most": MOST_SAMPLED,
    }
    return Finding(rule="exercise-times-unlike-protocol", where=where, facts=facts)


def zero_check_too_high(where: str, zero: float, in_mask: Sequence[float]) -> Finding | None:
    """Return a finding where what the counter counts by itself is too large a part of what it counted inside.

    Both in /cm3. It is held against the lowest exercise, for which it matters most.
    """
    if not in_mask or zero <= ZERO_NOTED * min(in_mask):
        return None
    facts: Facts = {"zero_per_cm3": zero, "lowest_in_mask_per_cm3": min(in_mask), "noted_above": ZERO_NOTED}
    return Finding(rule="zero-check-too-high", where=where, facts=facts)
