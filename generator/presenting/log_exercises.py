"""The exercises of a session with a log: means of its readings, penetrations and factors."""

from __future__ import annotations

from generator.model.fit_result import ExerciseResult, SessionResult
from generator.model.result import Figure
from generator.presenting.context import Context
from generator.presenting.digits import (
    decimals_for_digits,
    figure_decimals,
    interval_text,
    quantity_text,
    rounded,
    value_text,
)
from generator.presenting.views import Cell, Column, Row, Table

_COLUMNS = (
    Column("Exercise"),
    Column("Outside", "/cm³", numeric=True),
    Column("Inside", "/cm³", numeric=True),
    Column("Average inside", "% of outside", numeric=True),
    Column("Peak inside", "% of outside", numeric=True),
    Column("Fit factor", numeric=True),
    Column("95 % interval", numeric=True),
)


def log_exercise_table(record: str, result: SessionResult, context: Context) -> Table:
    """Return what the log of a session gave for each exercise."""
    limit = _peak_limit(record, result, context)
    return Table(
        f"fit.{result.session}.readings",
        "Means of the log, penetrations and fit factor of each exercise",
        _COLUMNS,
        tuple(
            _row(exercise, of_outside, of_inside, limit)
            for exercise, of_outside, of_inside in zip(
                result.exercises, _means(result, "C"), _means(result, "c_{k}"), strict=True
            )
        ),
    )


def _peak_limit(record: str, result: SessionResult, context: Context) -> float | None:
    """Return the peak penetration in percent at which the session was to be stopped, or None."""
    kind = context.catalogue.devices[context.result.records[record].device].kind
    limits = context.catalogue.protocols[result.protocol].peak_limits
    return min((limit.percent for limit in limits if kind in limit.kinds), default=None)


def _peak_cell(peak: Figure, limit: float | None) -> Cell:
    above = limit is not None and peak.value is not None and peak.value > limit
    note = f"above the limit of {quantity_text(limit, '%')}" if above and limit is not None else None
    return Cell(_percent(peak, limit), id=peak.key, note=note)


def _percent(figure: Figure, limit: float | None = None) -> str:
    """Write a figure without its unit, which stands in the head of its column."""
    return rounded(figure.value, figure_decimals(figure, limit)) if figure.value is not None else "none"


def _row(exercise: ExerciseResult, outside: str, inside: str, limit: float | None) -> Row:
    average, peak, factor = exercise.average_penetration, exercise.peak_penetration, exercise.fit_factor
    return Row(
        (
            Cell(exercise.name if exercise.counted else f"{exercise.name} (not counted)"),
            Cell(outside),
            Cell(inside),
            Cell(_percent(average), id=average.key) if average is not None else Cell("none"),
            _peak_cell(peak, limit) if peak is not None else Cell("none"),
            Cell(value_text(factor) if factor.value is not None else f"not scored: {factor.not_scored}", id=factor.key),
            Cell(interval_text(factor) or "not stated"),
        )
    )


def _means(result: SessionResult, symbol: str) -> list[str]:
    """Write one of the two concentrations that average penetrations are made of, all to the same decimal place."""
    means = [_mean(exercise.average_penetration, symbol) for exercise in result.exercises]
    largest = max((mean for mean in means if mean is not None), default=0.0)
    decimals = max(0, decimals_for_digits(largest, 4))
    return ["none" if mean is None else rounded(mean, decimals) for mean in means]


def _mean(average: Figure | None, symbol: str) -> float | None:
    if average is None or average.working is None:
        return None
    (mean,) = (item.value for item in average.working.inputs if item.symbol == symbol)
    return mean
