"""When what was drawn: times that a tester gives, and the timetable that follows from a protocol and its start."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from generator.contributing.taking_in.cut import Entry, Mark
from generator.contributing.taking_in.readings import Readings
from generator.contributing.taking_in.time_forms import DAY_S
from generator.contributing.taking_in.told import Unclear
from generator.errors import WrongUsage
from generator.loading.characters import shortened
from generator.loading.explain import nearest
from generator.model.log import Sampling
from generator.model.reference import AmbientRule, Protocol

_SECONDS = re.compile(r"([0-9]{1,9}(?:\.[0-9]{1,6})?) ?(s|min)?")
_MINUTES = re.compile(r"([0-9]{1,5}):([0-5][0-9](?:\.[0-9]{1,6})?)")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-5][0-9]):([0-5][0-9](?:\.[0-9]{1,6})?)")
_OFFSET = re.compile(r" ?(?:Z|[+-][0-9]{2}:?[0-9]{2})$")
_FORM = "seconds such as `310`, minutes and seconds such as `5:10`, or a clock time such as `18:05:10`"


def given_time(text: str, readings: Readings) -> float:
    """Return a time that a tester gives, in seconds from the first reading of the file.

    A time of three parts is one of the log's clock, where the log has one; any other counts from the first reading.

    Raises
    ------
    WrongUsage
        It is no time.
    """
    if (match := _SECONDS.fullmatch(text)) is not None:
        return float(match[1]) * (60 if match[2] == "min" else 1)
    if (match := _MINUTES.fullmatch(text)) is not None:
        return 60 * int(match[1]) + float(match[2])
    if (match := _CLOCK.fullmatch(text)) is None:
        raise WrongUsage(f"found the time `{shortened(text)}`, expected {_FORM}. Correct it")
    seconds = 3600 * int(match[1]) + 60 * int(match[2]) + float(match[3])
    begun = clock_of_first(readings)
    # A time earlier than the first reading's is one of the next day.
    return seconds if begun is None else (seconds - begun) % DAY_S


def clock_of_first(readings: Readings) -> float | None:
    """Return the time of day of the first reading in seconds, where the log's times tell one."""
    if readings.form.name not in ("clock", "hours-minutes", "year-first", "day-first", "month-first"):
        return None
    # The clock on the wall of the test, whatever its distance from another.
    cell = _OFFSET.sub("", readings.cells(0)[readings.columns.time])
    seconds = readings.form.reader(readings.layout.decimal)(cell)
    assert seconds is not None, "the cell was read before"
    return seconds % DAY_S


def span(text: str, readings: Readings) -> tuple[float, float]:
    """Return two times that are given as `5:10-6:10`.

    Raises
    ------
    WrongUsage
        They are no such times, or the second is not after the first.
    """
    start, between, end = text.partition("-")
    if not between:
        raise WrongUsage(f"found `{shortened(text)}`, expected a start and an end such as `5:10-6:10`. Correct it")
    times = given_time(start.strip(), readings), given_time(end.strip(), readings)
    if times[0] >= times[1]:
        raise WrongUsage(f"found `{shortened(text)}`, expected an end after the start. Correct it")
    return times


def exercise_at(text: str, readings: Readings, protocol: Protocol) -> Entry:
    """Return an entry that is given as `talking=5:10-6:10`.

    Raises
    ------
    WrongUsage
        It is not of that form, or names no exercise of the protocol.
    """
    name, between, times = text.partition("=")
    known = [exercise.id for exercise in protocol.exercises]
    if not between or name not in known:
        close = nearest(name, known)
        hint = "" if close is None else f"Did you mean `{close}`? "
        raise WrongUsage(
            f"found `--exercise-at {shortened(text)}`, expected one of {', '.join(known)} (protocol `{protocol.id}`) "
            f"with its times, such as `{known[0]}=5:10-6:10`. {hint}Correct it"
        )
    return Entry(Mark(Sampling.IN_MASK, name), *span(times, readings))


@dataclass(frozen=True)
class Pace:
    """How long each sample of a protocol takes, in seconds; None where nothing was told."""

    ambient_s: float | None
    in_mask_s: float | None
    settle_s: float | None
    """What passes between the last reading of one air and the first of another, and belongs to neither."""


def timetable_of(protocol: Protocol, start_s: float, pace: Pace) -> tuple[Entry, ...]:
    """Lay a protocol's samples end to end from a start.

    The exercises take as long as the protocol says, or a sampling time inside that is given and shorter. Ambient
    samples stand where its rule has them, for their own time; where the air changes, the settling time is left out.

    Raises
    ------
    Unclear
        A time is missing.
    """
    with_ambient = protocol.ambient is not AmbientRule.DURING_EACH_EXERCISE
    if with_ambient and pace.ambient_s is None:
        raise Unclear("--ambient-time", "no time of an ambient sample", "How long was each ambient sample, such as 20?")
    if protocol.ambient is AmbientRule.FIRST_AND_LAST and pace.in_mask_s is None:
        found = "exercises that hold the ambient samples in their durations"
        raise Unclear("--in-mask-time", found, "How long was the air inside drawn in each exercise, such as 30?")
    if with_ambient and pace.settle_s is None:
        question = "How long is left out, beside these times, where the air changes, such as 5? (0 for nothing)"
        raise Unclear("--settle", "how long the air of before stays in the line", question)
    return tuple(_laid_out(protocol, start_s, pace))


def _laid_out(protocol: Protocol, start_s: float, pace: Pace) -> Iterator[Entry]:
    now, ambient_s, settle_s = start_s, pace.ambient_s or 0.0, pace.settle_s or 0.0
    last = len(protocol.exercises) - 1
    around = protocol.ambient is AmbientRule.AROUND_EACH_EXERCISE
    with_ambient = protocol.ambient is not AmbientRule.DURING_EACH_EXERCISE
    if with_ambient:
        yield Entry(Mark(Sampling.AMBIENT), now, now + ambient_s)
        now += ambient_s + settle_s
    for place, exercise in enumerate(protocol.exercises):
        length = exercise.duration.to("s")
        # A short movement among longer ones stays as short as it is.
        length = length if pace.in_mask_s is None else min(length, pace.in_mask_s)
        yield Entry(Mark(Sampling.IN_MASK, exercise.id), now, now + length)
        now += length
        if with_ambient and (around or place == last):
            now += settle_s
            yield Entry(Mark(Sampling.AMBIENT), now, now + ambient_s)
            now += ambient_s + settle_s


def no_cut() -> Unclear:
    """Return the question that stands where neither marks nor times cut a log."""
    found = "neither columns of marks nor times of the exercises"
    question = "When did the protocol begin with its first ambient sample, where it has one? Such as 0:30"
    return Unclear("--start", found, question)
