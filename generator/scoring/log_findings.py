"""What scoring notices in a session with a log: readings that stuck or are missing, channels, peaks."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.fit_result import ExerciseResult
from generator.model.published import PublishedCatalogue, PublishedSession, PublishedTest
from generator.model.result import Finding
from generator.scoring.samples import ExerciseSamples, counting_air
from generator.scoring.session_checks import Facts, readings_that_are_missing, readings_that_repeat


def log_findings(
    session: PublishedSession,
    samples: Sequence[ExerciseSamples],
    exercises: Sequence[ExerciseResult],
    test: PublishedTest,
    catalogue: PublishedCatalogue,
) -> tuple[Finding, ...]:
    """Return the findings of one completed session that come from its log, if it has one."""
    if session.log is None:
        return ()
    where, log, air = f"fit[{session.id}]", catalogue.logs[session.log.file], counting_air(test, catalogue)
    found = [
        readings_that_repeat(where, log, air.flow) if air is not None and air.single_particle else None,
        readings_that_are_missing(where, log),
        _channels_not_compared(where, samples),
        _peak_above_limit(where, session, exercises, test, catalogue),
    ]
    return tuple(finding for finding in found if finding is not None)


def _channels_not_compared(where: str, samples: Sequence[ExerciseSamples]) -> Finding | None:
    channels = [item.measured.channels for item in samples if item.measured is not None]
    if all(each is None or each.compared for each in channels):
        return None
    return Finding(rule="channels-not-compared", where=where, facts={})


def _peak_above_limit(
    where: str,
    session: PublishedSession,
    exercises: Sequence[ExerciseResult],
    test: PublishedTest,
    catalogue: PublishedCatalogue,
) -> Finding | None:
    kind = catalogue.devices[test.device].kind
    limits = [each.percent for each in catalogue.protocols[session.protocol].peak_limits if kind in each.kinds]
    if not limits:
        return None
    peaks = {
        each.exercise: each.peak_penetration.value
        for each in exercises
        if each.peak_penetration is not None and each.peak_penetration.value is not None
    }
    above = {exercise: peak for exercise, peak in peaks.items() if peak > min(limits)}
    if not above:
        return None
    facts: Facts = {
        "exercises": ", ".join(above),
        "count": len(above),
        "worst_exercise": max(above, key=lambda exercise: above[exercise]),
        "largest_peak_percent": max(above.values()),
        "limit_percent": min(limits),
    }
    return Finding(rule="peak-above-limit", where=where, facts=facts)
