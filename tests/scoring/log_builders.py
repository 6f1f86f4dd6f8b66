"""Small logs, row by row: readings that never repeat, one a second; a test changes the one thing it is about."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import cycle
from typing import Any

from generator.model.log import Log, LogSample, Sampling
from generator.model.reference import Protocol
from tests.scoring.builders import EXERCISES, Data, a_protocol, a_session

Stretch = tuple[str, str, Sequence[float]]
"""What is sampled, the exercise, and the readings."""


def a_log_file(*stretches: Stretch, file: str = "logs/a.csv", outside: Sequence[float] | None = None) -> Log:
    """Return a log of one reading a second; the second channel repeats the readings given for it."""
    second = cycle(outside) if outside is not None else None
    rows = [(sampling, exercise, value) for sampling, exercise, values in stretches for value in values]
    samples = tuple(
        LogSample(
            time_s=float(time),
            concentration_per_cm3=value,
            exercise=exercise,
            sampling=Sampling(sampling),
            outside_per_cm3=next(second) if second is not None else None,
        )
        for time, (sampling, exercise, value) in enumerate(rows)
    )
    return Log(file=file, sha256="0" * 64, samples=samples)


def around_each(inside: Sequence[float] = (4.2, 4.8) * 20, file: str = "logs/a.csv") -> Log:
    """Return a log with one channel and ambient air of 3003 /cm3 around each of three exercises."""
    stretches: list[Stretch] = []
    for name in EXERCISES:
        stretches += [("ambient", "", [3000, 3006] * 5), ("purge", "", [900, 90]), ("in-mask", name, inside)]
    return a_log_file(*stretches, ("ambient", "", [3000, 3006] * 5), file=file)


def two_channels(
    side_by_side: Sequence[float] = (3180, 3186) * 10,
    inside: Sequence[float] = (30, 33.6) * 20,
    outside: Sequence[float] = (3000, 3006),
    file: str = "logs/a.csv",
) -> Log:
    """Return a log whose second channel reads 3003 /cm3 all the time, first beside the other one."""
    stretches: list[Stretch] = [("side-by-side", "", side_by_side)]
    for name in EXERCISES:
        stretches += [("purge", "", [900, 90]), ("in-mask", name, inside)]
    return a_log_file(*stretches, file=file, outside=outside)


def a_logged_session(log: Log, *, channels: int = 1, **changes: Any) -> Data:
    """Return a session with that log."""
    columns = {"time": "t", "concentration": "c", "exercise": "e", "sampling": "s"}
    if channels > 1:
        columns["outside"] = "o"
    reference = {"file": log.file, "sha256": log.sha256, "unit": "/cm3", "columns": columns}
    return a_session(log=reference, in_mask_time=None, ambient_time=None, **changes)


def during_each(**changes: Any) -> Protocol:
    """Return three exercises for which outside air is counted all the time."""
    return a_protocol("during_each_exercise", **changes)
