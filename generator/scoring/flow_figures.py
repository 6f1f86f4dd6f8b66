"""The figures of a flow run: its mean with an expanded uncertainty, and how steady its readings were."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.budget_result import Budget, BudgetRow
from generator.model.flow_result import BackPressure
from generator.model.flow_run import FlowRun
from generator.model.published import PublishedTest
from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_back_pressure import MeterCorrection
from generator.scoring.flow_budget import READINGS, RunBudget, run_budget
from generator.scoring.flow_readings import MeteredFlows
from generator.scoring.flow_statistics import coverage_factor, mean_flow
from generator.scoring.requirements import Spread

BEYOND = "not differences between units, hoods or days"
ONE_READING = "repeatability not estimated: there is one reading"
BEFORE_CORRECTION = "given for the flow without the meter, not for this one"


@dataclass(frozen=True)
class MeanFlow:
    """The mean flow of a run: corrected for the meter's resistance where that is known."""

    figure: Figure
    measured: Figure | None
    """With the meter in place, where it was corrected."""
    spread: Spread | None
    budget: Budget | None


def mean_figures(
    run: FlowRun,
    test: PublishedTest,
    metered: MeteredFlows,
    resistance: tuple[BackPressure, str | None, MeterCorrection | None],
) -> MeanFlow:
    """Return the mean flow of a run with its budget, and the spread that its verdict's probability needs."""
    state, reason, correction = resistance
    interval, spread, budget, missing = None, None, None, metered.no_certificate
    if len(metered.flows) == 1:
        missing = ONE_READING
    elif metered.certificate is not None:
        unresolved = reason if state in (BackPressure.UNKNOWN, BackPressure.NOT_CORRECTED) else None
        made = run_budget(run, test, metered, correction, unresolved)
        budget = made.budget
        interval = _interval(run.id, made)
        spread = Spread(budget.standard_uncertainty, budget.degrees_of_freedom)
    plain = _mean(run.id, metered)
    if correction is None:
        return MeanFlow(
            plain.model_copy(update={"interval": interval, "no_interval": missing if interval is None else None}),
            None,
            spread,
            budget,
        )
    corrected = plain.model_copy(
        update={
            "value": correction.flow,
            "interval": interval,
            "no_interval": missing if interval is None else None,
            "method": "flow-without-meter",
            "working": correction.working(run.id),
        }
    )
    measured = {"key": f"flow.{run.id}.measured", "name": "supply flow with the meter in place"}
    return MeanFlow(corrected, plain.model_copy(update=measured), spread, budget)


def _mean(run: str, metered: MeteredFlows) -> Figure:
    return Figure(
        key=f"flow.{run}.mean",
        name="supply flow",
        value=mean_flow(metered.flows),
        unit="L/min",
        no_interval=BEFORE_CORRECTION,
        sample_size=len(metered.flows),
        sample_of="readings",
        method="mean-flow",
        working=Working(method="mean-flow", inputs=metered.inputs),
    )


def _covers(budget: Budget) -> str:
    known = [row.name for row in budget.rows if row.missing is None]
    covers = f"{', '.join(known[:-1])} and {known[-1]}"
    if budget.missing:
        covers += f"; not on record and so not in it: {', '.join(row.name for row in budget.missing)}"
    return f"{covers}; {BEYOND}"


def _interval(run: str, made: RunBudget) -> Interval:
    budget, path = made.budget, f"flow[{run}]"
    rows = [row for row in budget.rows if row.missing is None]
    parts = tuple(_contribution(number, row, made, path) for number, row in enumerate(rows, start=1))
    u = _input(
        "u",
        "combined standard uncertainty",
        budget.standard_uncertainty,
        path,
        working=Working(method="combined-uncertainty", inputs=parts),
    )
    # How these came about is told once, under the combined uncertainty.
    bare = tuple(part.model_copy(update={"working": None}) for part in (*parts, u))
    return Interval(
        low=budget.value - budget.expanded_uncertainty,
        high=budget.value + budget.expanded_uncertainty,
        coverage=COVERAGE,
        method="expanded-uncertainty",
        covers=_covers(budget),
        working=Working(method="expanded-uncertainty", inputs=(_coverage_factor(path, budget, rows, bare), u)),
    )


def _contribution(number: int, row: BudgetRow, made: RunBudget, path: str) -> Input:
    origin, symbol = made.origins[row.id], f"u_{{{number}}}"
    assert row.standard_uncertainty is not None
    if row.unit == "L/min" and row.sensitivity in (1.0, None):
        # What moves the flow by as much as itself needs no step of its own.
        return _input(symbol, f"standard uncertainty: {row.name}", row.contribution, path, working=origin)
    unit = f"L/min per {row.unit}" if row.unit != "L/min" else "1"
    meaning = f"change of the flow for a change of this input: {row.name}"
    inputs = (
        _input("c", meaning, row.sensitivity or 0.0, path, unit),
        _input("u(x)", "standard uncertainty of the input", row.standard_uncertainty, path, row.unit, origin),
    )
    working = Working(method="uncertainty-contribution", inputs=inputs)
    return _input(symbol, f"contribution: {row.name}", row.contribution, path, working=working)


def _coverage_factor(path: str, budget: Budget, rows: list[BudgetRow], parts: tuple[Input, ...]) -> Input:
    coverage = _input("p", "coverage probability", COVERAGE, "fixed here", "1")
    inputs: tuple[Input, ...] = (coverage,)
    if budget.degrees_of_freedom is not None:
        degrees = tuple(
            _input(rf"\nu_{{{number}}}", f"degrees of freedom: {row.name}", row.degrees_of_freedom, path, "1")
            for number, row in enumerate(rows, start=1)
            if row.degrees_of_freedom is not None
        )
        effective = _input(
            r"\nu_{\mathrm{eff}}",
            "effective degrees of freedom; those that are not named are taken as infinite",
            budget.degrees_of_freedom,
            path,
            "1",
            Working(method="effective-degrees-of-freedom", inputs=(*parts, *degrees)),
        )
        inputs = (effective, coverage)
    working = Working(method="coverage-factor", inputs=inputs)
    factor = coverage_factor(budget.degrees_of_freedom, COVERAGE)
    if budget.coverage_factor <= factor:
        return _input("k", "coverage factor", factor, path, "1", working)
    return _input(
        "k", "coverage factor", budget.coverage_factor, path, "1", _widened(path, factor, working, rows, parts)
    )


def _widened(path: str, factor: float, of_factor: Working, rows: list[BudgetRow], parts: tuple[Input, ...]) -> Working:
    """Return how a coverage factor was raised to what the scatter alone asks for."""
    place = next(place for place, row in enumerate(rows) if row.id == READINGS)
    degrees = rows[place].degrees_of_freedom
    assert degrees is not None
    inputs = (
        _input(
            r"k_{\mathrm{eff}}", "coverage factor for the effective degrees of freedom", factor, path, "1", of_factor
        ),
        parts[place].model_copy(update={"symbol": r"u_{\mathrm{A}}"}),
        _input(r"\nu_{\mathrm{A}}", "degrees of freedom of the scatter", degrees, path, "1"),
        parts[-1],
        _input("p", "coverage probability", COVERAGE, "fixed here", "1"),
    )
    return Working(method="widened-coverage-factor", inputs=inputs)


def _input(
    symbol: str, meaning: str, value: float, where: str, unit: str = "L/min", working: Working | None = None
) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=unit, where=where, working=working)
