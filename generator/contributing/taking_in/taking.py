"""The way of a log in one place: read, cut, written; each step says what it leaves open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from pydantic import TypeAdapter, ValidationError

from generator.contributing.taking_in.cut import Cut, Entry, Mark, cut_by_marks, cut_by_timetable, kept_between
from generator.contributing.taking_in.marks import Meaning, marks_of
from generator.contributing.taking_in.readings import Readings
from generator.contributing.taking_in.timetables import Pace, exercise_at, given_time, no_cut, span, timetable_of
from generator.contributing.taking_in.told import Unclear
from generator.errors import WrongUsage
from generator.loading.characters import shortened
from generator.model.log import Sampling
from generator.model.quantity import Moment
from generator.model.reference import AmbientRule, Protocol

_SAMPLING_TIMES = ("ambient_time", "in_mask_time")


@dataclass(frozen=True)
class Wishes:
    """How a log is to be cut, as a tester gives it."""

    marks: Mapping[str, str] = field(default_factory=dict)
    """What words in the columns of marks mean."""
    exercises: tuple[str, ...] = ()
    """Such as `talking=5:10-6:10`."""
    ambient: tuple[str, ...] = ()
    """Such as `0:00-0:20`."""
    side_by_side: tuple[str, ...] = ()
    start: str | None = None
    ambient_time: str | None = None
    in_mask_time: str | None = None
    settle: str | None = None
    first: str | None = None
    """From when on the log is kept."""
    last: str | None = None
    """Until when, without it."""

    def with_session(self, session: Mapping[str, Any], protocol: Protocol) -> Wishes:
        """Return them with the sampling times of a session where none are given."""
        ambient, in_mask = (value if isinstance(value := session.get(key), str) else None for key in _SAMPLING_TIMES)
        if protocol.ambient is not AmbientRule.FIRST_AND_LAST:
            # There an exercise lasts as long as the protocol says, however short the sample that is taken in it.
            in_mask = None
        return replace(self, ambient_time=self.ambient_time or ambient, in_mask_time=self.in_mask_time or in_mask)

    @property
    def times(self) -> bool:
        """Whether times of single stretches are given."""
        return bool(self.exercises or self.ambient)


@dataclass(frozen=True)
class TakenIn:
    """A log cut for its session."""

    cut: Cut
    marks: Sequence[Mark] | None
    """The marks of every reading, where these cut the log."""
    meanings: tuple[Meaning, ...]


def cut_log(readings: Readings, protocol: Protocol, wishes: Wishes) -> TakenIn:
    """Cut a log by given times, by the protocol's timetable from a start, or else by its marks.

    Raises
    ------
    Unclear
        Nothing says how, or a time or the meaning of a word is missing.
    WrongUsage
        What is given contradicts itself or the log.
    """
    if wishes.times and wishes.start is not None:
        raise WrongUsage("found `--start` beside times of exercises, expected one of them. Leave one out")
    if protocol.ambient is AmbientRule.NONE:
        raise WrongUsage(
            f"found protocol `{protocol.id}`, which counts no particles, expected one that has concentrations. Name "
            "the protocol that was used, or give the factors in the record"
        )
    limits = (None if each is None else given_time(each, readings) for each in (wishes.first, wishes.last))
    kept = kept_between(readings, *limits)
    side_by_side = [Entry(Mark(Sampling.SIDE_BY_SIDE), *span(each, readings)) for each in wishes.side_by_side]
    if wishes.times:
        entries = [
            *(exercise_at(each, readings, protocol) for each in wishes.exercises),
            *(Entry(Mark(Sampling.AMBIENT), *span(each, readings)) for each in wishes.ambient),
        ]
    elif wishes.start is not None:
        pace = Pace(
            ambient_s=_seconds("--ambient-time", wishes.ambient_time),
            in_mask_s=_seconds("--in-mask-time", wishes.in_mask_time),
            settle_s=_seconds("--settle", wishes.settle),
        )
        entries = list(timetable_of(protocol, given_time(wishes.start, readings), pace))
    elif readings.exercise is not None or readings.sampling is not None:
        marks = marks_of(readings, protocol, wishes.marks)
        return TakenIn(cut_by_marks(readings, marks.rows, kept), marks.rows, marks.meanings)
    else:
        raise no_cut()
    return TakenIn(cut_by_timetable(readings, [*entries, *side_by_side], kept), None, ())


def _seconds(option: str, text: str | None) -> float | None:
    """Return a length of time in seconds; a bare number is one of seconds."""
    if text is None:
        return None
    try:
        quantity = TypeAdapter(Moment).validate_python(f"{text} s" if text.replace(".", "", 1).isdecimal() else text)
    except ValidationError as error:
        raise WrongUsage(f"found `{option} {shortened(text)}`, expected a time such as `20 s`. Correct it") from error
    return quantity.to("s")


def unclear_without_answer(unclear: Unclear) -> WrongUsage:
    """Return the error that names the option, for where nobody can be asked."""
    choices = ", ".join(choice.value for choice in unclear.choices)
    expected = f"one of {choices}" if choices else "an answer"
    return WrongUsage(
        f"found {unclear.found}, expected to be told by `{unclear.option}`: {expected}. {unclear.question}"
    )
