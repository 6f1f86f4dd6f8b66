"""The exercises of a session with a log: means of its readings, penetrations and factors."""

from __future__ import annotations

from generator.model.fit_result import ExerciseResult, SessionResult
from generator.model.result import Figure
from generator.presenting.context import Context
from generator.presenting.digits import (
    decimals_for_digits,
    interval_text,
    quantity_text,
    rounded,
    value_text,
    with_unit,
)
from generator.presenting.views import Cell, Column, Row, Table

_COLUMNS = (
    Column("Exercise"),
    Column("Outside, mean", numeric=True),
    Column("Inside, mean", numeric=True),
    Column("Average penetration", numeric=True),
    Column("Peak penetration", numeric=True),
    Column("Fit factor", numeric=True),
    Column("95 % interval", numeric=True),
)


def log_exercise_table(record: str, result: SessionResult, context: Context) -> Table:
    """Return what the log of a session gave for each exercise."""
    limit = _limit_exceeded(record, result, context)
    return Table(
        f"fit.{result.session}.readings",
        "Means of the log, penetrations and fit factor of each exercise",
        _COLUMNS,
        tuple(
            _row(exercise, of_outside, of_inside, limit.get(exercise.exercise))
            for exercise, of_outside, of_inside in zip(
                result.exercises, _means(result, "C"), _means(result, "c_{k}"), strict=True
            )
        ),
    )


def _limit_exceeded(record: str, result: SessionResult, context: Context) -> dict[str, str]:
    """Return, by exercise, the peak limit that it exceeded."""
    return {
        exercise: f"above the limit of {quantity_text(float(finding.facts['limit_percent']), '%')}"
        for finding in context.result.records[record].all_findings
        if finding.rule == "peak-above-limit" and finding.where == f"fit[{result.session}]"
        for exercise in str(finding.facts["exercises"]).split(", ")
    }


def _row(exercise: ExerciseResult, outside: str, inside: str, limit: str | None) -> Row:
    average, peak, factor = exercise.average_penetration, exercise.peak_penetration, exercise.fit_factor
    return Row(
        (
            Cell(exercise.name if exercise.counted else f"{exercise.name} (not counted)"),
            Cell(outside),
            Cell(inside),
            Cell(value_text(average), id=average.key) if average is not None else Cell("none"),
            Cell(value_text(peak), id=peak.key, note=limit) if peak is not None else Cell("none"),
            Cell(value_text(factor) if factor.value is not None else f"not scored: {factor.not_scored}", id=factor.key),
            Cell(interval_text(factor) or "not stated"),
        )
    )


def _means(result: SessionResult, symbol: str) -> list[str]:
    """Write one of the two concentrations that average penetrations are made of, all to the same decimal place."""
    means = [_mean(exercise.average_penetration, symbol) for exercise in result.exercises]
    largest = max((mean for mean in means if mean is not None), default=0.0)
    decimals = max(0, decimals_for_digits(largest, 4))
    return ["none" if mean is None else with_unit(rounded(mean, decimals), "/cm3") for mean in means]


def _mean(average: Figure | None, symbol: str) -> float | None:
    if average is None or average.working is None:
        return None
    (mean,) = (item.value for item in average.working.inputs if item.symbol == symbol)
    return mean
