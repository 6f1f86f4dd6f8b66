"""A log cut into stretches of one kind of air and one exercise, by its marks or by a timetable."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from generator.contributing.taking_in.readings import Floats, Readings
from generator.errors import WrongUsage
from generator.loading.log_cells import MOST_LINES
from generator.model.log import Sampling

AROUND_S = 60.0
"""Seconds that are kept before and after a timetable of a log that is too long to be kept as a whole."""


@dataclass(frozen=True)
class Mark:
    """What was drawn, and in which exercise."""

    sampling: Sampling
    exercise: str | None = None

    @property
    def name(self) -> str:
        """What it is called in a table."""
        return self.exercise if self.sampling is Sampling.IN_MASK and self.exercise else self.sampling.value


@dataclass(frozen=True)
class Entry:
    """When what was drawn, in seconds from the first reading of the file."""

    mark: Mark
    start_s: float
    end_s: float


@dataclass(frozen=True)
class Stretch:
    """Readings that follow one another and belong together, by their places from `first` up to, without, `end`."""

    mark: Mark
    first: int
    end: int


@dataclass(frozen=True)
class Cut:
    """What is kept of a log, and its stretches other than purge."""

    first: int
    """Place of the first reading that is kept."""
    end: int
    stretches: tuple[Stretch, ...]
    timetable: tuple[Entry, ...]
    """Empty where the log's own marks cut it."""


def kept_between(readings: Readings, start_s: float | None, end_s: float | None) -> tuple[int, int]:
    """Return the places of the readings from a time up to, without, another.

    Raises
    ------
    WrongUsage
        There are none.
    """
    first = 0 if start_s is None else int(np.searchsorted(readings.time_s, start_s, side="left"))
    end = len(readings.time_s) if end_s is None else int(np.searchsorted(readings.time_s, end_s, side="left"))
    if first >= end:
        last = float(readings.time_s[-1])
        raise WrongUsage(
            f"found no reading between `--from` and `--to`, expected times from 0 to {last:.12g} s. Correct one"
        )
    return first, end


def cut_by_marks(readings: Readings, marks: Sequence[Mark], kept: tuple[int, int]) -> Cut:
    """Cut a log by the marks of its rows."""
    first, end = kept
    starts = [place for place in range(first, end) if place == first or marks[place] != marks[place - 1]]
    stretches = tuple(
        Stretch(marks[start], start, stop)
        for start, stop in pairwise([*starts, end])
        if marks[start].sampling is not Sampling.PURGE
    )
    if end - first >= MOST_LINES and stretches:
        first, end = stretches[0].first, stretches[-1].end
    return Cut(*_not_too_long(first, end), stretches, ())


def cut_by_timetable(readings: Readings, timetable: Sequence[Entry], kept: tuple[int, int]) -> Cut:
    """Cut a log by times.

    Raises
    ------
    WrongUsage
        An entry holds no reading, or two overlap.
    """
    entries = sorted(timetable, key=lambda entry: entry.start_s)
    for earlier, later in pairwise(entries):
        if later.start_s < earlier.end_s:
            raise WrongUsage(
                f"found `{later.mark.name}` from {later.start_s:.12g} s while `{earlier.mark.name}` lasts until "
                f"{earlier.end_s:.12g} s, expected times that do not overlap. Correct one of them"
            )
    first, end = kept
    if end - first >= MOST_LINES:
        times = readings.time_s
        first = max(first, int(np.searchsorted(times, entries[0].start_s - AROUND_S)))
        end = min(end, int(np.searchsorted(times, entries[-1].end_s + AROUND_S)))
    stretches = tuple(_stretch(entry, readings.time_s, first, end) for entry in entries)
    return Cut(*_not_too_long(first, end), stretches, tuple(entries))


def _stretch(entry: Entry, times: Floats, first: int, end: int) -> Stretch:
    start, stop = (int(np.clip(np.searchsorted(times, at), first, end)) for at in (entry.start_s, entry.end_s))
    step = float(np.median(np.diff(times))) if len(times) > 1 else 0.0
    if start == stop or entry.end_s > times[end - 1] + 1.5 * step:
        raise WrongUsage(
            f"found no readings for all of `{entry.mark.name}`, from {entry.start_s:.12g} s to {entry.end_s:.12g} s: "
            f"the log goes from {times[first]:.12g} s to {times[end - 1]:.12g} s. Correct the start or the times"
        )
    return Stretch(entry.mark, start, stop)


def _not_too_long(first: int, end: int) -> tuple[int, int]:
    if end - first >= MOST_LINES:
        raise WrongUsage(
            f"found {end - first} readings, expected fewer than {MOST_LINES}. Give the part of the session "
            "by `--from` and `--to`"
        )
    return first, end
