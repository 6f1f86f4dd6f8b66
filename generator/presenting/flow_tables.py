"""Tables about flow: every run, every state that counts, and what an uncertainty is made of."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.budget_result import Budget, BudgetRow
from generator.model.flow_result import FlowRunResult, FlowState
from generator.presenting.context import Context
from generator.presenting.digits import (
    interval_text,
    other_unit_text,
    percent_text,
    quantity_text,
    unit_text,
    value_text,
)
from generator.presenting.figure_cells import figure_cell
from generator.presenting.figures import comparison_text, outcome_text
from generator.presenting.flow_words import BATTERY, FILTER, air_words, run_state
from generator.presenting.modified_words import modified_words, with_modified
from generator.presenting.views import Cell, Column, Row, Table
from generator.presenting.wording import sentence_case, shortened

RecordedRun = tuple[str, FlowRunResult]
_ONLY_MODIFIED = "modified; none was measured as supplied"


def shown_limit(run: FlowRunResult) -> float | None:
    """Return the limit that a mean flow must not be rounded across, where it is what was compared."""
    return run.verdict.limit if run.at_requirement is None else None


def runs_table(rows: Sequence[RecordedRun], context: Context, caption: str, *, on_device: bool) -> Table:
    """Return every run, its flow and how it stands to the requirement; figures have ids on a device's page only."""
    columns = (
        Column("Setting and state"),
        Column("Mean flow", numeric=True),
        Column("Uncertainty U", numeric=True),
        Column("In cubic feet a minute", numeric=True),
        Column("Against the requirement"),
    )
    body = tuple(Row(_run_cells(record, run, context, on_device)) for record, run in rows)
    return Table("flow-runs", caption, columns, body)


def _run_cells(record: str, run: FlowRunResult, context: Context, on_device: bool) -> tuple[Cell, ...]:
    link = context.record_link(record, f"flow.{run.run}").href
    words = with_modified(run_state(run), record, context) if on_device else run_state(run)
    state = Cell(words, link, f"air of {air_words(run.room)}")
    budget = run.budget
    if on_device:
        flow = figure_cell(run.mean, record, on_device=True, limit=shown_limit(run), other_unit=False)
    else:
        ends = interval_text(run.mean)
        flow = Cell(value_text(run.mean, shown_limit(run)), note=None if ends is None else f"95 % interval {ends}")
    other = other_unit_text(run.mean)
    return (
        state,
        flow,
        Cell("not stated")
        if budget is None
        else Cell(quantity_text(budget.expanded_uncertainty, budget.unit, 2), note=f"k = {budget.coverage_factor:.2f}"),
        Cell(other or "none"),
        Cell(outcome_text(run.verdict, context), note=comparison_text(run.verdict)),
    )


def states_table(states: Sequence[FlowState], runs: Sequence[RecordedRun], context: Context) -> Table:
    """Return each setting with each state of battery and filter, and the worst that was found there."""
    found = {(record, run.run): run for record, run in runs}
    by_place = {(state.setting, state.battery, state.filter): state for state in states}
    settings = list(dict.fromkeys((state.setting, state.claimed) for state in states))
    kinds = list(dict.fromkeys((state.battery, state.filter) for state in states))
    body = [
        Row(
            (
                Cell(shortened(setting, 40), note=None if claimed else "not named as protective; does not govern"),
                *(_state_cell(by_place.get((setting, *kind)), found, context) for kind in kinds),
            )
        )
        for setting, claimed in settings
    ]
    heads = (Column(sentence_case(f"{BATTERY[battery]}, {FILTER[state]}")) for battery, state in kinds)
    # Runs of a modified device stand here only where there are no others.
    modified = any(modified_words(state.record, context) for state in states if state.record is not None)
    caption = f"The worst in each state that counts, {_ONLY_MODIFIED if modified else 'as supplied'}"
    return Table("flow-states", caption, (Column("Setting"), *heads), tuple(body))


def _state_cell(state: FlowState | None, found: dict[tuple[str, str], FlowRunResult], context: Context) -> Cell:
    if state is None or state.record is None or state.run is None:
        return Cell("not measured")
    run = found[state.record, state.run]
    link = context.record_link(state.record, f"flow.{state.run}").href
    other = other_unit_text(run.mean)
    words = "; ".join(part for part in (other, outcome_text(run.verdict, context)) if part is not None)
    return Cell(value_text(run.mean, shown_limit(run)), link, words)


def budget_table(run: str, budget: Budget) -> Table:
    """Return what the uncertainty of a run's mean is made of, source by source."""
    columns = (
        Column("Source"),
        Column("Value", numeric=True),
        Column("Standard uncertainty", numeric=True),
        Column("Degrees of freedom", numeric=True),
        Column("Sensitivity", numeric=True),
        Column("Contribution", numeric=True),
        Column("Share of the variance", numeric=True),
    )
    together = Row(
        (
            Cell("Together", note=f"k = {budget.coverage_factor:.3f} for {percent_text(budget.coverage)}"),
            Cell(quantity_text(budget.value, budget.unit)),
            Cell(quantity_text(budget.standard_uncertainty, budget.unit, 3)),
            Cell(_degrees(budget.degrees_of_freedom)),
            Cell("none"),
            Cell(quantity_text(budget.standard_uncertainty, budget.unit, 3)),
            Cell("all"),
        )
    )
    caption = f"What the uncertainty is made of; U = {quantity_text(budget.expanded_uncertainty, budget.unit, 3)}"
    return Table(
        f"flow.{run}.budget", caption, columns, (*(_budget_row(row, budget.unit) for row in budget.rows), together)
    )


def _budget_row(row: BudgetRow, unit: str) -> Row:
    name = sentence_case(row.name)
    if row.standard_uncertainty is None or row.estimate is None:
        return Row((Cell(name, note=f"{row.missing}: adds nothing here"), *(Cell("none") for _ in range(6))))
    sensitivity = "none" if row.sensitivity is None else quantity_text(row.sensitivity, "1", 3)
    if row.sensitivity is not None and row.unit != unit:
        sensitivity = f"{quantity_text(row.sensitivity, unit, 3)} per {unit_text(row.unit)}"
    return Row(
        (
            Cell(name),
            Cell(quantity_text(row.estimate, row.unit)),
            Cell(quantity_text(row.standard_uncertainty, row.unit, 3)),
            Cell(_degrees(row.degrees_of_freedom)),
            Cell(sensitivity),
            Cell(quantity_text(row.contribution, unit, 3)),
            Cell(percent_text(row.share, 2)),
        )
    )


def _degrees(degrees: float | None) -> str:
    return "infinite" if degrees is None else quantity_text(degrees, "1", 3)
