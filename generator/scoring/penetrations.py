"""What share of the outside air's particles was inside during each exercise of a log: on average, and at most."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.fit_result import ExerciseResult
from generator.model.log import Log, LogSample, Sampling
from generator.model.result import Figure, Input, Working
from generator.scoring.fit_inputs import exercise_ambient
from generator.scoring.log_figures import average_penetration, peak_penetration
from generator.scoring.samples import ExerciseSamples

OF_THE_FACTOR = "the interval of the exercise stands at its fit factor"
OF_ONE_READING = "it is the highest of many readings, and each is an average over its own time"


def with_penetrations(
    session: str, exercises: Sequence[ExerciseResult], samples: Sequence[ExerciseSamples], log: Log | None
) -> tuple[ExerciseResult, ...]:
    """Return a session's exercises, in the order of `samples`, with their penetrations where there is a log."""
    if log is None:
        return tuple(exercises)
    completed = []
    for exercise, item in zip(exercises, samples, strict=True):
        rows = [row for row in log.samples if row.sampling is Sampling.IN_MASK and row.exercise == item.exercise]
        if item.measured is None or not rows:
            completed.append(exercise)
            continue
        ambient = exercise_ambient(item.measured)
        figures = {
            "average_penetration": _average(session, item, rows, ambient),
            "peak_penetration": _peak(session, item, rows, ambient),
        }
        completed.append(exercise.model_copy(update=figures))
    return tuple(completed)


def _average(session: str, item: ExerciseSamples, rows: Sequence[LogSample], ambient: Input) -> Figure:
    readings = [row.concentration_per_cm3 for row in rows]
    assert item.measured is not None, "only measured exercises come here"
    mean = Input(
        symbol="c_{k}",
        meaning="mean of the readings inside",
        value=item.measured.in_mask.concentration,
        unit="/cm3",
        where=item.measured.in_mask.where,
    )
    number = Input(
        symbol="K", meaning="readings inside", value=len(rows), unit="count", where=item.measured.in_mask.where
    )
    return Figure(
        key=f"fit.{session}.{item.exercise}.average",
        name=f"average penetration, {item.name}",
        value=average_penetration(readings, ambient.value),
        unit="%",
        no_interval=OF_THE_FACTOR,
        sample_size=len(rows),
        sample_of="readings",
        method="average-penetration",
        working=Working(method="average-penetration", inputs=(mean, number, ambient)),
    )


def _peak(session: str, item: ExerciseSamples, rows: Sequence[LogSample], ambient: Input) -> Figure:
    highest = max(rows, key=lambda row: row.concentration_per_cm3)
    reading = Input(
        symbol="c_{k}",
        meaning="highest reading inside",
        value=highest.concentration_per_cm3,
        unit="/cm3",
        where=f"{item.where}: in-mask sample at {highest.time_s:g} s",
    )
    return Figure(
        key=f"fit.{session}.{item.exercise}.peak",
        name=f"peak penetration, {item.name}",
        value=peak_penetration([row.concentration_per_cm3 for row in rows], ambient.value),
        unit="%",
        no_interval=OF_ONE_READING,
        sample_size=len(rows),
        sample_of="readings",
        method="peak-penetration",
        working=Working(method="peak-penetration", inputs=(reading, ambient)),
    )
