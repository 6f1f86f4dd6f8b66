"""A raw log, cut into exercises by its marks."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from generator.model.log import Log, LogSample, Sampling
from generator.model.reference import AmbientRule, Protocol, ProtocolExercise


@dataclass(frozen=True)
class LogBlock:
    """Samples of one kind of air that belong together, as their mean and the time they cover."""

    concentration: float
    """Mean, in /cm3."""
    seconds: float
    start: float
    """Time of the first sample in s."""
    end: float
    """Time of the last sample in s."""
    what: str


@dataclass(frozen=True)
class ExerciseCut:
    """One exercise of a protocol in a log; None where the log holds no such samples."""

    step: ProtocolExercise
    in_mask: LogBlock | None
    before: LogBlock | None
    after: LogBlock | None


def cut_log(log: Log, protocol: Protocol) -> tuple[ExerciseCut, ...]:
    """Cut a log into the exercises of a protocol by the marks in its rows.

    An exercise's in-mask block is all of its in-mask rows; purge rows are left out. Its ambient blocks are the nearest
    ones before and after it, or the first and the last of the log where the protocol's rule says so.
    """
    seconds = _time_step(log.samples)
    ambient = [
        _block(rows, seconds, "ambient")
        for sampling, group in groupby(log.samples, key=lambda sample: sample.sampling)
        if sampling is Sampling.AMBIENT and (rows := list(group))
    ]
    cuts = []
    for step in protocol.exercises:
        rows = [row for row in log.samples if row.sampling is Sampling.IN_MASK and row.exercise == step.id]
        in_mask = _block(rows, seconds, f"in-mask, {step.id}") if rows else None
        before, after = _ambient_of(in_mask, ambient, protocol.ambient)
        cuts.append(ExerciseCut(step, in_mask, before, after))
    return tuple(cuts)


def _time_step(samples: Sequence[LogSample]) -> float:
    steps = [later.time_s - earlier.time_s for earlier, later in pairwise(samples)]
    return statistics.median(steps) if steps else 1.0


def _block(rows: Sequence[LogSample], seconds: float, what: str) -> LogBlock:
    start, end = rows[0].time_s, rows[-1].time_s
    return LogBlock(
        concentration=math.fsum(row.concentration_per_cm3 for row in rows) / len(rows),
        seconds=len(rows) * seconds,
        start=start,
        end=end,
        what=f"{len(rows)} {what} samples from {start:g} s to {end:g} s",
    )


def _ambient_of(
    in_mask: LogBlock | None, ambient: Sequence[LogBlock], rule: AmbientRule
) -> tuple[LogBlock | None, LogBlock | None]:
    if in_mask is None:
        return None, None
    before = [block for block in ambient if block.end < in_mask.start]
    after = [block for block in ambient if block.start > in_mask.end]
    if not before or not after:
        return None, None
    if rule is AmbientRule.FIRST_AND_LAST:
        return before[0], after[-1]
    return before[-1], after[0]
