"""Fit sessions against their protocol: the exercises, the ambient samples, the counts."""

from __future__ import annotations

from collections.abc import Iterator

from generator.errors import Problem
from generator.loading.records import Entry, Records, good, record_of
from generator.loading.yaml_source import Steps
from generator.model.base import NotRecorded
from generator.model.device_test import DeviceTest
from generator.model.reference import AmbientRule, Protocol
from generator.model.session import ExerciseReading, FitSession, Outcome

_AMBIENT_KEYS = ("ambient_before", "ambient_after")
_AMBIENT_OF_EXERCISES = {
    "ambient_before": AmbientRule.AROUND_EACH_EXERCISE,
    "ambient_during": AmbientRule.DURING_EACH_EXERCISE,
    "ambient_after": AmbientRule.AROUND_EACH_EXERCISE,
}
"""By which rule an exercise has which ambient sample of its own."""


def _sessions(records: Records) -> Iterator[tuple[Entry[DeviceTest], Steps, FitSession, Protocol]]:
    """Go through the sessions whose protocol is on record. Those with a log are checked with the log."""
    for entry, test in good(records.device_tests):
        for place, session in enumerate(test.fit):
            protocol = records.protocol(session.protocol)
            if protocol is not None and session.log is None:
                yield entry, ("fit", place), session, protocol


def exercises_are_those_of_the_protocol(records: Records) -> Iterator[Problem]:
    """A completed session has the protocol's exercises in its order; a partial or other one, some in its order."""
    for entry, steps, session, protocol in _sessions(records):
        if session.overall_only:
            continue
        done = [reading.exercise for reading in session.exercises]
        problem = exercise_order_problem(done, session, protocol)
        if problem is not None:
            place, *words = problem
            where = (*steps, "exercises") if place is None else (*steps, "exercises", place, "exercise")
            yield entry.problem(where, *words, of_key=place is None)
        else:
            yield from not_partial_problem(entry, steps, done, session, protocol)


def exercise_order_problem(
    done: list[str], session: FitSession, protocol: Protocol
) -> tuple[int | None, str, str, str, str] | None:
    """Return the first exercise that is out of place (None: some are missing) with slug, found, expected, remedy."""
    expected = [exercise.id for exercise in protocol.exercises]
    if done == expected:
        return None
    shown = f"{', '.join(expected)} (protocol `{protocol.id}`)"
    remaining = iter(expected)
    for place, exercise in enumerate(done):
        if exercise not in expected:
            remedy = "Correct the exercise, or name the protocol that was used"
            return place, "exercise-not-of-protocol", f"`{exercise}`", f"one of {shown}", remedy
        # Eats up the protocol as far as this exercise, so that one that comes too late is not found any more.
        if exercise not in remaining:
            remedy = "Put the exercises in the order in which they were done, or name the protocol that was used"
            found = f"`{exercise}` {'a second time' if exercise in done[:place] else 'out of its place'}"
            return place, "exercises-out-of-order", found, f"the order {shown}", remedy
    missing = [exercise for exercise in expected if exercise not in done]
    if session.outcome is Outcome.COMPLETED and missing and session.partial is None:
        remedy = (
            "Add what was measured; where only a part was to be done, say why in `partial`; a session that was broken "
            "off has `outcome: aborted` and a reason"
        )
        found = f"a completed session without {', '.join(f'`{each}`' for each in missing)}"
        return None, "exercises-missing", found, f"all of {shown}", remedy
    return None


def not_partial_problem(
    entry: Entry[DeviceTest], steps: Steps, done: list[str], session: FitSession, protocol: Protocol
) -> Iterator[Problem]:
    """A session is called partial only where an exercise of its protocol was not done."""
    if session.partial is not None and all(exercise.id in done for exercise in protocol.exercises):
        yield entry.problem(
            (*steps, "partial"),
            "partial-with-all-exercises",
            "`partial` in a session with every exercise",
            f"`partial` only where exercises of protocol `{protocol.id}` were left out",
            "Remove `partial`, or the exercises that were not done",
            of_key=True,
        )


def ambient_is_as_the_protocol_says(records: Records) -> Iterator[Problem]:
    """Ambient samples stand where the protocol takes them, and nowhere else."""
    for entry, steps, session, protocol in _sessions(records):
        needed = {place for place, reading in enumerate(session.exercises) if not reading.as_given}
        first_and_last = protocol.ambient is AmbientRule.FIRST_AND_LAST
        taken = {key: protocol.ambient is rule for key, rule in _AMBIENT_OF_EXERCISES.items()}
        # A session that was broken off may lack its last sample; its exercises are not scored.
        complete = session.outcome is Outcome.COMPLETED
        for key in _AMBIENT_KEYS:
            if getattr(session, key) is not None and not first_and_last:
                yield _ambient_not_expected(entry, (*steps, key), protocol)
            elif getattr(session, key) is None and first_and_last and needed and complete:
                yield _ambient_missing(entry, (*steps, key), protocol)
        for place, reading in enumerate(session.exercises):
            for key, here in taken.items():
                if getattr(reading, key) is None:
                    if here and place in needed and complete:
                        yield _ambient_missing(entry, (*steps, "exercises", place, key), protocol)
                elif not here:
                    yield _ambient_not_expected(entry, (*steps, "exercises", place, key), protocol)
            if protocol.ambient is AmbientRule.NONE and place in needed:
                yield entry.problem(
                    (*steps, "exercises", place, _reading_key(reading)),
                    "fit-factor-expected",
                    "a reading that has no ambient sample to be held against",
                    f"`fit_factor` (protocol `{protocol.id}` takes no ambient samples)",
                    "Give the factor that the instrument showed, or name the protocol that was used",
                    of_key=True,
                )


def _reading_key(reading: ExerciseReading) -> str:
    return "in_mask" if reading.in_mask is not None else "in_mask_count"


def _ambient_missing(entry: Entry[DeviceTest], steps: Steps, protocol: Protocol) -> Problem:
    return entry.problem(
        steps,
        "ambient-missing",
        f"no `{steps[-1]}`",
        f"the ambient concentration ({_rule_shown(protocol)})",
        "Add it; a session without it has `outcome: voided` and a reason",
    )


def _ambient_not_expected(entry: Entry[DeviceTest], steps: Steps, protocol: Protocol) -> Problem:
    found, expected = f"`{steps[-1]}`", f"none here ({_rule_shown(protocol)})"
    remedy = "Move the sample to where the protocol takes it, or name the protocol that was used"
    return entry.problem(steps, "ambient-not-expected", found, expected, remedy, of_key=True)


def _rule_shown(protocol: Protocol) -> str:
    where = {
        AmbientRule.AROUND_EACH_EXERCISE: "before and after each exercise",
        AmbientRule.FIRST_AND_LAST: "before the first and after the last exercise",
        AmbientRule.DURING_EACH_EXERCISE: "during each exercise",
        AmbientRule.NONE: "nowhere",
    }[protocol.ambient]
    return f"protocol `{protocol.id}` takes it {where}"


def counts_can_become_concentrations(records: Records) -> Iterator[Problem]:
    """A count needs the time it was taken in, and a counter whose counted flow is known."""
    for entry, test in good(records.device_tests):
        for place, session in enumerate(test.fit):
            counted = [at for at, reading in enumerate(session.exercises) if reading.in_mask_count is not None]
            if not counted:
                continue
            if session.in_mask_time is None:
                yield entry.problem(
                    ("fit", place, "in_mask_time"),
                    "count-time-missing",
                    "no `in_mask_time`",
                    "the time in which `in_mask_count` was taken, such as `40 s`",
                    "Add it, or give `in_mask` as a concentration",
                )
            counter = record_of(records.instruments, test.instruments.particle_counter or "")
            if counter is None or counter.counter is None:
                continue
            if isinstance(counter.counter.counted_flow, NotRecorded):
                yield entry.problem(
                    ("fit", place, "exercises", counted[0], "in_mask_count"),
                    "counted-flow-unknown",
                    f"a count by `{counter.id}`, whose `counted_flow` is not recorded",
                    "a counter with a `counted_flow`",
                    "Add it to the instrument's record, or give `in_mask` as a concentration",
                )
