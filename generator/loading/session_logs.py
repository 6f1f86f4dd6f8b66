"""The logs that sessions refer to: there, unchanged, readable, and in step with the session's protocol."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import groupby, pairwise

from generator.errors import Problem
from generator.loading.cross_checks.exercises import exercise_order_problem, not_partial_problem
from generator.loading.explain import nearest
from generator.loading.files import LOGS, FilesFound
from generator.loading.log_references import log_reference_problems
from generator.loading.logs import read_log
from generator.loading.records import Entry, Records, good
from generator.loading.yaml_source import WHOLE_FILE, Steps
from generator.model.device_test import DeviceTest
from generator.model.log import Log, Sampling
from generator.model.reference import AmbientRule, Protocol
from generator.model.session import FitSession, LogReference, Outcome


def read_session_logs(records: Records, files: FilesFound) -> tuple[dict[str, Log], list[Problem], set[str]]:
    """Read every log of a session; return the good ones by file, the problems, and the files referred to."""
    contents = {f"{LOGS}/{name}": content for name, content in files.contents[LOGS].items()}
    logs: dict[str, Log] = {}
    problems: list[Problem] = []
    used_by: dict[str, str] = {}
    for entry, test in good(records.device_tests):
        for place, session in enumerate(test.fit):
            reference = session.log
            if reference is None:
                continue
            steps: Steps = ("fit", place, "log")
            owner = used_by.setdefault(reference.file, f"{test.id}, fit[{place}]")
            other = "another session" if owner != f"{test.id}, fit[{place}]" else None
            misfits = list(log_reference_problems(entry, steps, reference, contents, other, "each session"))
            protocol = records.protocol(session.protocol)
            if protocol is not None:
                misfits += _timetable_problems(entry, steps, reference, protocol)
            problems += misfits
            if misfits or protocol is None:
                continue
            exercises = tuple(exercise.id for exercise in protocol.exercises)
            file = files.shown(*reference.file.split("/"))
            log, log_problems = read_log(contents[reference.file], file, reference, exercises)
            problems += log_problems
            if log is not None:
                logs[reference.file] = log
                problems += session_log_problems(entry, steps, session, protocol, log)
    return logs, problems, set(used_by)


def unused_logs(records: Records, files: FilesFound, used: Collection[str]) -> list[Problem]:
    """Tell of logs that no record refers to; of none where a record could not be read, which may refer to them."""
    if any(entry.record is None for entry in records.device_tests.values()):
        return []
    return [_unused(files, name) for name in files.contents[LOGS] if f"{LOGS}/{name}" not in used]


def _timetable_problems(
    entry: Entry[DeviceTest], steps: Steps, reference: LogReference, protocol: Protocol
) -> Iterator[Problem]:
    known = [exercise.id for exercise in protocol.exercises]
    for place, row in enumerate(reference.timetable):
        if row.exercise is not None and row.exercise not in known:
            close = nearest(row.exercise, known)
            remedy = "Write the exercise's id as the protocol has it"
            if close is not None:
                remedy = f"Did you mean `{close}`? {remedy}"
            where: Steps = (*steps, "timetable", place, "exercise")
            expected = f"one of {', '.join(known)} (protocol `{protocol.id}`)"
            yield entry.problem(where, "exercise-not-of-protocol", f"`{row.exercise}`", expected, remedy)


def session_log_problems(
    entry: Entry[DeviceTest], steps: Steps, session: FitSession, protocol: Protocol, log: Log
) -> Iterator[Problem]:
    """Yield where a log, or the exercises in it, are not in step with the session's protocol."""
    in_mask = (sample.exercise for sample in log.samples if sample.sampling is Sampling.IN_MASK)
    done = [exercise for exercise, _ in groupby(in_mask)]
    order = exercise_order_problem(done, session, protocol)
    if order is not None:
        _, *words = order
        yield entry.problem(steps, *words, of_key=True)
    else:
        yield from not_partial_problem(entry, steps[:-1], done, session, protocol)
    if session.outcome is not Outcome.COMPLETED:
        return
    for key in ("ambient_before", "ambient_after"):
        if getattr(session, key) is not None:
            found, expected = f"`{key}` beside a log", "the ambient samples in the log"
            yield entry.problem(
                (*steps[:-1], key), "ambient-not-expected", found, expected, "Remove it from the record", of_key=True
            )
    if protocol.ambient is AmbientRule.NONE:
        expected = f"exercises with `fit_factor` (protocol `{protocol.id}` takes no ambient samples)"
        remedy = "Give the factors that the instrument showed, or name the protocol that was used"
        found = "a log of concentrations"
        yield entry.problem(steps, "fit-factor-expected", found, expected, remedy, of_key=True)
        return
    if protocol.ambient is AmbientRule.DURING_EACH_EXERCISE:
        if session.log is not None and session.log.columns.outside is None:
            found = "a log with one channel"
            expected = f"a second channel, `columns.outside` (protocol `{protocol.id}` counts outside all the time)"
            remedy = "Name the heading of the second channel, or name the protocol that was used"
            yield entry.problem((*steps, "columns"), "log-second-channel", found, expected, remedy, of_key=True)
        return
    gap = _gap_without_ambient(log, protocol)
    if gap is not None:
        expected = f"at least one line with `{Sampling.AMBIENT.value}` there, as protocol `{protocol.id}` has it"
        remedy = "Mark those lines in the log, or mark the session as voided with its reason"
        yield entry.problem(steps, "ambient-missing", f"no ambient sample {gap}", expected, remedy, of_key=True)


def _gap_without_ambient(log: Log, protocol: Protocol) -> str | None:
    """Return the first place where the protocol takes an ambient sample and the log has none."""
    parts = [
        key
        for key, _ in groupby(
            None if sample.sampling is Sampling.AMBIENT else sample.exercise
            for sample in log.samples
            if sample.sampling not in (Sampling.PURGE, Sampling.SIDE_BY_SIDE)
        )
    ]
    if parts and parts[0] is not None:
        return f"before `{parts[0]}`"
    if parts and parts[-1] is not None:
        return f"after `{parts[-1]}`"
    if protocol.ambient is AmbientRule.AROUND_EACH_EXERCISE:
        for before, after in pairwise(parts):
            if before is not None and after is not None:
                return f"between `{before}` and `{after}`"
    return None


def _unused(files: FilesFound, name: str) -> Problem:
    found, expected = f"`{LOGS}/{name}`", "only logs that a record refers to"
    remedy = "Refer to it from the part of the record it belongs to, or remove it"
    return Problem(files.shown(LOGS, name), 1, 1, WHOLE_FILE, "log-unused", found, expected, remedy)
