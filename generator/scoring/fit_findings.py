"""What scoring notices in a fit session that bears on trust."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.base import NotRecorded
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Figure, Finding, Outcome, Verdict
from generator.scoring.samples import ExerciseSamples, Measured, particle_counter

AMBIENT_CHANGE_NOTED = 0.10
"""Share of their mean by which two ambient samples may differ before it is noted (common practice, from memory)."""


def session_findings(
    session: str,
    samples: Sequence[ExerciseSamples],
    overall: Figure,
    verdict: Verdict,
    test: PublishedTest,
    catalogue: PublishedCatalogue,
) -> tuple[Finding, ...]:
    """Return the findings of one completed session."""
    where = f"fit[{session}]"
    measured = [(item.exercise, item.measured) for item in samples if item.measured is not None]
    found = [
        _ambient_changed(where, measured),
        _zero_count(where, overall),
        _not_below_ambient(where, measured),
        *_outside_counter(where, measured, test, catalogue),
        _pass_level(where, overall, verdict),
    ]
    return tuple(finding for finding in found if finding is not None)


def _ambient_changed(where: str, measured: Sequence[tuple[str, Measured]]) -> Finding | None:
    changes = {
        exercise: abs(item.after.concentration - item.before.concentration) / item.ambient
        for exercise, item in measured
    }
    large = {exercise: change for exercise, change in changes.items() if change > AMBIENT_CHANGE_NOTED}
    if not large:
        return None
    facts: dict[str, str | int | float] = {
        "exercises": ", ".join(large),
        "count": len(large),
        "largest_change": max(large.values()),
        "noted_above": AMBIENT_CHANGE_NOTED,
    }
    return Finding(rule="ambient-changed", where=where, facts=facts)


def _zero_count(where: str, overall: Figure) -> Finding | None:
    if overall.method != "at-least-bound" or overall.value is None:
        return None
    return Finding(
        rule="zero-in-mask-count", where=where, facts={"at_least": overall.value, "exercises": overall.sample_size}
    )


def _not_below_ambient(where: str, measured: Sequence[tuple[str, Measured]]) -> Finding | None:
    shares = {exercise: item.in_mask.concentration / item.ambient for exercise, item in measured}
    large = {exercise: share for exercise, share in shares.items() if share >= 1}
    if not large:
        return None
    facts: dict[str, str | int | float] = {
        "exercises": ", ".join(large),
        "count": len(large),
        "largest_share_of_ambient": max(large.values()),
    }
    return Finding(rule="in-mask-not-below-ambient", where=where, facts=facts)


def _outside_counter(
    where: str, measured: Sequence[tuple[str, Measured]], test: PublishedTest, catalogue: PublishedCatalogue
) -> list[Finding]:
    instrument = particle_counter(test, catalogue)
    if instrument is None or instrument.counter is None or not measured:
        return []
    lowest = min(item.ambient_lower for _, item in measured)
    highest = max(max(item.ambient_higher, item.in_mask.concentration) for _, item in measured)
    found = []
    least, ceiling = instrument.counter.ambient_minimum, instrument.counter.ceiling
    if not isinstance(least, NotRecorded) and lowest < least.to("/cm3"):
        facts: dict[str, str | int | float] = {
            "instrument": instrument.id,
            "lowest_per_cm3": lowest,
            "minimum_per_cm3": least.to("/cm3"),
        }
        found.append(Finding(rule="ambient-below-minimum", where=where, facts=facts))
    if not isinstance(ceiling, NotRecorded) and highest > ceiling.to("/cm3"):
        facts = {
            "instrument": instrument.id,
            "highest_per_cm3": highest,
            "ceiling_per_cm3": ceiling.to("/cm3"),
        }
        found.append(Finding(rule="above-ceiling", where=where, facts=facts))
    return found


def _pass_level(where: str, overall: Figure, verdict: Verdict) -> Finding | None:
    reached = verdict.outcome is not Outcome.DOES_NOT_MEET
    if reached or overall.value is None or verdict.limit is None or verdict.criterion is None:
        return None
    facts: dict[str, str | int | float] = {
        "overall": overall.value,
        "limit": verdict.limit,
        "criterion": verdict.criterion,
    }
    return Finding(rule="pass-level-not-reached", where=where, facts=facts)
