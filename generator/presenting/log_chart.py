"""A session's raw log as a drawing and in words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from generator.model.log import LogSample, Sampling
from generator.model.published import PublishedSession
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text
from generator.presenting.views import LogChart, LogExercise, LogStretch
from generator.presenting.wording import count_text, listed

_WHERE = {
    Sampling.AMBIENT: "outside",
    Sampling.IN_MASK: "inside",
    Sampling.PURGE: "while the line was purged",
    Sampling.SIDE_BY_SIDE: "side by side with the second channel",
}
SECOND_CHANNEL = "second"
"""The kind of air of a second channel, which is outside all the time."""


def _span_words(sampling: Sampling, samples: Sequence[LogSample]) -> str | None:
    values = [sample.concentration_per_cm3 for sample in samples if sample.sampling is sampling]
    if not values:
        return None
    low, high = (quantity_text(end, "/cm3", 3) for end in (min(values), max(values)))
    readings = count_text(len(values), "reading")
    if len(values) == 1:
        return f"{_WHERE[sampling]} {readings} of {low}"
    return f"{_WHERE[sampling]} {readings} between {low} and {high}"


def _second_words(samples: Sequence[LogSample]) -> list[str]:
    values = [sample.outside_per_cm3 for sample in samples if sample.outside_per_cm3 is not None]
    if not values:
        return []
    low, high = (quantity_text(end, "/cm3", 3) for end in (min(values), max(values)))
    return [f"a second channel outside all the time between {low} and {high}"]


def _channel_words(samples: Sequence[LogSample]) -> str:
    """Explain the two bars that only a log with two channels has."""
    words = ""
    if any(sample.outside_per_cm3 is not None for sample in samples):
        words += " The thin line, channel 2, is the second channel, which drew outside air all the time."
    if any(sample.sampling is Sampling.SIDE_BY_SIDE for sample in samples):
        words += " Where both were out, the two channels drew the same air, so that it is seen what they differ by."
    return words


def _second_stretch(samples: Sequence[LogSample]) -> tuple[LogStretch, ...]:
    points = tuple((row.time_s, row.outside_per_cm3) for row in samples if row.outside_per_cm3 is not None)
    return (LogStretch(SECOND_CHANNEL, points),) if points else ()


def _zero_words(samples: Sequence[LogSample]) -> str:
    zeros = sum(sample.concentration_per_cm3 == 0 for sample in samples)
    if zeros == 0:
        return ""
    what = "reading is zero and stands" if zeros == 1 else "readings are zero and stand"
    return f" {zeros} {what} on the line marked 0 below the scale."


def _exercises(samples: Sequence[LogSample], names: dict[str, str]) -> tuple[LogExercise, ...]:
    """Return each exercise in the order of the log, from its first to its last reading inside."""
    ends: dict[str, tuple[float, float]] = {}
    for sample in samples:
        if sample.sampling is Sampling.IN_MASK:
            start, _ = ends.get(sample.exercise, (sample.time_s, sample.time_s))
            ends[sample.exercise] = (start, sample.time_s)
    return tuple(LogExercise(names.get(exercise, exercise), *span) for exercise, span in ends.items())


def session_log_chart(session: PublishedSession, context: Context) -> LogChart | None:
    """Return the drawing of a session's log, or None where the session has none."""
    if session.log is None:
        return None
    samples = context.catalogue.logs[session.log.file].samples
    names = {exercise.id: exercise.name for exercise in context.catalogue.protocols[session.protocol].exercises}
    exercises = _exercises(samples, names)
    spans = [words for sampling in Sampling if (words := _span_words(sampling, samples)) is not None]
    spans += _second_words(samples)
    time = quantity_text(samples[-1].time_s - samples[0].time_s, "s", 6)
    order = f" Exercises in order: {listed([exercise.name for exercise in exercises])}." if exercises else ""
    return LogChart(
        id=f"log-{session.id}",
        title=f"Raw log of session {session.id}: concentration against time",
        description=(
            f"Particles per cm³ over {time} on a logarithmic axis: {'; '.join(spans)}.{_zero_words(samples)}{order}"
        ),
        caption=(
            "Every reading of the log as it was taken. The bars below the drawing say where the counter drew its air "
            f"from and which exercise was done.{_channel_words(samples)}{_zero_words(samples)}"
        ),
        stretches=(
            *_second_stretch(samples),
            *(
                LogStretch(air.value, tuple((sample.time_s, sample.concentration_per_cm3) for sample in stretch))
                for air, stretch in groupby(samples, key=lambda sample: sample.sampling)
            ),
        ),
        exercises=exercises,
        csv=f"data/{session.log.file}",
    )
