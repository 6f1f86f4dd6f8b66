"""Uncertainty budgets by the law of propagation of uncertainty, with the derivatives of a general library (GTC)."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.model.budget_result import Budget, BudgetRow
from generator.scoring.flow_statistics import coverage_factor, expanded_uncertainty


@dataclass(frozen=True)
class Component:
    """One input of a measurement, with its standard uncertainty."""

    id: str
    name: str
    estimate: float
    unit: str
    standard_uncertainty: float
    degrees: float | None = None
    """None where they are taken as infinite."""


@dataclass(frozen=True)
class Missing:
    """A source of uncertainty that is not on record: it adds nothing, and is named."""

    id: str
    name: str
    unit: str
    reason: str


Measurand = Callable[[Mapping[str, Any]], Any]
"""The measurement as a function of its inputs, by their ids; it is given uncertain numbers."""


def uncertainty_budget(
    measurand: Measurand, components: Sequence[Component], missing: Sequence[Missing], coverage: float, unit: str
) -> Budget:
    """Return the budget of a measurement whose inputs are independent of one another."""
    # Importing it costs more than everything else in a run, so that only who needs a budget pays for it.
    from GTC import reporting, ureal

    inputs = {
        part.id: ureal(part.estimate, part.standard_uncertainty, math.inf if part.degrees is None else part.degrees)
        for part in components
    }
    result = measurand(inputs)
    combined, degrees = float(result.u), float(result.df)
    nu = degrees if math.isfinite(degrees) else None
    k = coverage_factor(nu, coverage)
    rows = [
        _row(
            part,
            reporting.u_component(result, inputs[part.id]),
            reporting.sensitivity(result, inputs[part.id]),
            combined,
        )
        for part in components
    ]
    rows += [
        BudgetRow(
            id=part.id,
            name=part.name,
            estimate=None,
            unit=part.unit,
            standard_uncertainty=None,
            degrees_of_freedom=None,
            sensitivity=None,
            contribution=0.0,
            share=0.0,
            missing=part.reason,
        )
        for part in missing
    ]
    return Budget(
        value=float(result.x),
        unit=unit,
        rows=tuple(rows),
        standard_uncertainty=combined,
        degrees_of_freedom=nu,
        coverage=coverage,
        coverage_factor=k,
        expanded_uncertainty=expanded_uncertainty(combined, k),
    )


def _row(part: Component, component: float, sensitivity: float, combined: float) -> BudgetRow:
    known = part.standard_uncertainty > 0
    return BudgetRow(
        id=part.id,
        name=part.name,
        estimate=part.estimate,
        unit=part.unit,
        standard_uncertainty=part.standard_uncertainty,
        degrees_of_freedom=part.degrees,
        sensitivity=float(sensitivity) if known else None,
        contribution=abs(float(component)),
        share=(float(component) / combined) ** 2 if combined else 0.0,
    )
