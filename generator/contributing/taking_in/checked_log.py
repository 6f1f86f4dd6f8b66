"""A written log, read again as any log on record is: it must hold what was kept, in step with its protocol."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

from generator.contributing.taking_in.cut import Cut
from generator.contributing.taking_in.written_log import WrittenLog
from generator.errors import GeneratorFailed, Problem
from generator.loading.logs import read_log
from generator.loading.records import Entry
from generator.loading.session_logs import session_log_problems
from generator.loading.yaml_source import YamlSource
from generator.model.device_test import DeviceTest
from generator.model.log import Sampling
from generator.model.reference import Protocol
from generator.model.session import FitSession, LogReference

_STAND_INS = {"id": "session", "wearer": "wearer", "donning": 1, "filter": "filter", "outcome": "completed"}
"""For what a session needs and a log does not bear on, where a record does not have it yet."""
_KEPT = ("outcome", "reason", "partial")


def log_problems(
    written: WrittenLog, cut: Cut, protocol: Protocol, session: Mapping[str, Any] | None, shown: str
) -> tuple[Problem, ...]:
    """Return what is wrong with a written log under its protocol, told of the file that is shown for it."""
    reference = LogReference.model_validate(written.reference, strict=False)
    exercises = tuple(exercise.id for exercise in protocol.exercises)
    log, problems = read_log(written.content, shown, reference, exercises)
    if log is None:
        return problems
    read = Counter((row.sampling, row.exercise if row.sampling is Sampling.IN_MASK else "") for row in log.samples)
    kept: Counter[tuple[Sampling, str]] = Counter()
    for stretch in cut.stretches:
        kept[
            stretch.mark.sampling, (stretch.mark.exercise or "") if stretch.mark.sampling is Sampling.IN_MASK else ""
        ] += stretch.end - stretch.first
    kept[Sampling.PURGE, ""] = len(log.samples) - kept.total()
    if +kept != read:
        raise GeneratorFailed(f"the written log has other readings than were kept: {read} for {+kept}")
    known = {key: session[key] for key in _KEPT if session is not None and session.get(key) is not None}
    given = FitSession.model_validate({**_STAND_INS, "protocol": protocol.id, **known, "log": reference}, strict=False)
    entry: Entry[DeviceTest] = Entry(YamlSource(shown, b"", None, readable=False), None)
    return tuple(session_log_problems(entry, ("log",), given, protocol, log))
