"""A check standard as a reader sees it: what its readings say, their limits, chart and table."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN

from generator.model.instrument import CheckStandard, Instrument
from generator.model.instrument_result import CheckResult, ReadingState
from generator.presenting.context import Context
from generator.presenting.control_charts import control_chart, in_state, limit_text, reading_text
from generator.presenting.digits import (
    decimals_beside,
    decimals_for,
    percent_text,
    rounded,
    unit_text,
    with_unit,
)
from generator.presenting.instrument_views import CheckStandardView
from generator.presenting.views import Cell, Column, Derivation, Fact, FigureView, Row, Table, WorkingInput
from generator.presenting.wording import count_text, day_text, listed, sentence_case, source_text

STATE_WORDS = {
    ReadingState.INSIDE: "within the warning limits",
    ReadingState.BEYOND_WARNING: "beyond a warning limit",
    ReadingState.BEYOND_ACTION: "beyond an action limit",
}
_LINES = (
    ("action_high", "upper action limit"),
    ("warning_high", "upper warning limit"),
    ("centre", "centre"),
    ("warning_low", "lower warning limit"),
    ("action_low", "lower action limit"),
)


def _answer(check: CheckResult) -> str:
    """Say how many readings lie where, the worst first."""
    total = len(check.readings)
    counts = {state: len(in_state(check, state)) for state in reversed(ReadingState)}
    present = [state for state, count in counts.items() if count]
    if len(present) == 1:
        few = {1: "The one reading lies", 2: "Both readings lie"}
        lie = few.get(total, f"All {count_text(total, 'reading')} lie")
        return f"{lie} {STATE_WORDS[present[0]]}."
    parts = [f"{count_text(counts[state], 'lies', 'lie')} {STATE_WORDS[state]}" for state in present]
    return f"Of {count_text(total, 'reading')}, {listed(parts)}."


def _limits_table(anchor: str, standard: CheckStandard, check: CheckResult) -> Table:
    rows = tuple(
        Row(
            (
                Cell(sentence_case(name)),
                Cell(limit_text(getattr(check.limits, key), standard), id=f"check.{standard.id}.{key}"),
            )
        )
        for key, name in _LINES
    )
    columns = (Column("Line"), Column("Value", unit_text(check.unit), numeric=True))
    return Table(f"{anchor}-limits", "The lines of the chart", columns, rows)


def _derivation(instrument: Instrument, standard: CheckStandard, check: CheckResult, context: Context) -> Derivation:
    method = context.method(check.limits.method)
    meanings = {symbol.symbol: symbol.meaning for symbol in method.symbols}

    def given(symbol: str, value: float, field: str) -> WorkingInput:
        return WorkingInput(
            symbol,
            meanings[symbol],
            limit_text(value, standard),
            unit_text(check.unit),
            f"instruments/{instrument.id}: check_standards[{standard.id}].{field}",
            None,
        )

    limits = check.limits
    return Derivation(
        method=context.method_link(method.id),
        equation=method.equation,
        inputs=(
            given("c", standard.centre, "centre"),
            given("s", standard.standard_deviation, "standard_deviation"),
        ),
        result=(
            f"warning limits {limit_text(limits.warning_low, standard)} and "
            f"{with_unit(limit_text(limits.warning_high, standard), check.unit)}, action limits "
            f"{limit_text(limits.action_low, standard)} and "
            f"{with_unit(limit_text(limits.action_high, standard), check.unit)}"
        ),
        sources=tuple(source_text(source) for source in method.sources),
    )


def _mean_figure(standard: CheckStandard, check: CheckResult, context: Context) -> FigureView:
    mean = check.mean
    interval, note = None, f"no interval: {mean.no_interval}"
    value = reading_text(mean.value, check)
    if mean.low is not None and mean.high is not None:
        decimals = _mean_decimals(mean.low, mean.high, standard)
        value = rounded(mean.value, decimals)
        ends = [rounded(limit, decimals, ROUND_HALF_EVEN) for limit in (mean.low, mean.high)]
        interval = with_unit(f"{ends[0]} to {ends[1]}", check.unit)
        note = f"{percent_text(mean.coverage)} interval; it covers the scatter of these readings"
    return FigureView(
        key=f"check.{standard.id}.mean",
        name="mean of the readings",
        value=with_unit(value, check.unit),
        interval=interval,
        interval_note=note,
        sample=count_text(mean.readings, "reading"),
        other_unit=None,
        method=context.method_link(mean.method),
        has_working=False,
    )


def _mean_decimals(low: float, high: float, standard: CheckStandard) -> int:
    # However it is rounded, the interval must be seen to hold the centre, or not to.
    decimals = decimals_for((high - low) / 2)
    return max(decimals_beside(limit, standard.centre, decimals) for limit in (low, high))


def _centre_sentence(standard: CheckStandard, check: CheckResult) -> str:
    centre = with_unit(limit_text(standard.centre, standard), check.unit)
    if check.mean.holds_centre is None:
        return f"These readings cannot show whether they have moved away from the centre, {centre}."
    if check.mean.holds_centre:
        return f"The centre, {centre}, lies within that interval: the readings show no move away from it."
    return (
        f"The centre, {centre}, lies outside that interval: taken together, the readings have moved away from it, or "
        "a few lie far off."
    )


def _readings_table(anchor: str, standard: CheckStandard, check: CheckResult) -> Table:
    rows = []
    for number, reading in enumerate(check.readings, start=1):
        key = f"check.{standard.id}.reading.{number}"
        rows.append(
            Row(
                (
                    Cell(day_text(reading.date)),
                    Cell(reading_text(reading.value, check), id=f"{key}.value"),
                    Cell(STATE_WORDS[reading.state], id=f"{key}.state"),
                ),
                id=key,
            )
        )
    columns = (Column("Read on"), Column("Reading", unit_text(check.unit), numeric=True), Column("Where it lies"))
    return Table(f"{anchor}-readings", f"Readings: {standard.what}", columns, tuple(rows))


def check_standard_view(
    instrument: Instrument, standard: CheckStandard, check: CheckResult, context: Context
) -> CheckStandardView:
    """Return a check standard as a reader sees it."""
    anchor = f"check-{standard.id}"
    return CheckStandardView(
        anchor=anchor,
        heading=sentence_case(standard.what),
        answer=_answer(check),
        facts=(
            Fact("How centre and scatter were set", standard.established),
            Fact(
                "Standard deviation of single readings",
                with_unit(limit_text(standard.standard_deviation, standard), check.unit),
            ),
        ),
        chart=control_chart(
            f"{anchor}-chart", standard, check, f"Control chart: {standard.what}", f"{anchor}-readings"
        ),
        limits=_limits_table(anchor, standard, check),
        derivation=_derivation(instrument, standard, check, context),
        mean=_mean_figure(standard, check, context),
        centre=_centre_sentence(standard, check),
        readings=_readings_table(anchor, standard, check),
    )
