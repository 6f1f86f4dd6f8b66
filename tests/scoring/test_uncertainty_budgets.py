"""Budgets against the Guide's end gauge, another library, and one that is worked out by hand."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import pytest
import uncertainties
from hypothesis import given
from hypothesis import strategies as st

from generator.model.budget_result import Budget
from generator.scoring.flow_statistics import (
    combined_uncertainty,
    coverage_factor,
    effective_degrees_of_freedom,
)
from generator.scoring.uncertainty_budgets import Component, Missing, uncertainty_budget

# source: JCGM 100:2008, H.1, calibration of an end gauge: inputs as a general library restates them (seen). The
# cyclic change of temperature is arcsine-distributed over 0.5 K; the others that are limits are rectangular.
END_GAUGE = (
    Component("ls", "length of the standard", 50_000_623, "nm", 25, 18),
    Component("d1", "difference, repeated", 215, "nm", 5.8, 24),
    Component("d2", "difference, random effects", 0, "nm", 3.9, 5),
    Component("d3", "difference, systematic effects", 0, "nm", 6.7, 8),
    Component("as", "expansion of the standard", 11.5e-6, "1/K", 2e-6 / math.sqrt(3)),
    Component("da", "difference of expansions", 0, "1/K", 1e-6 / math.sqrt(3), 50),
    Component("dt", "difference of temperatures", 0, "K", 0.05 / math.sqrt(3), 2),
    Component("mean", "mean temperature less 20 degC", -0.1, "K", 0.2),
    Component("cyclic", "cyclic change of temperature", 0, "K", 0.5 / math.sqrt(2)),
)


def end_gauge(x: Mapping[str, Any]) -> Any:
    # JCGM 100:2008, H.1, equation H.3, to first order
    difference, temperature = x["d1"] + x["d2"] + x["d3"], x["mean"] + x["cyclic"]
    return x["ls"] + difference - x["ls"] * (x["da"] * temperature + x["as"] * x["dt"])


def test_the_end_gauge_of_the_guide() -> None:
    budget = uncertainty_budget(end_gauge, END_GAUGE, (), 0.99, "nm")
    # source: JCGM 100:2008, H.1: 50 000 838 nm, u = 32 nm, 16 degrees of freedom (cut), U99 = 93 nm
    assert round(budget.value) == 50_000_838
    assert round(budget.standard_uncertainty) == 32
    assert budget.degrees_of_freedom is not None
    assert math.floor(budget.degrees_of_freedom) == 16
    # The Guide takes t for the cut degrees of freedom and multiplies the rounded u; here neither is rounded.
    assert round(coverage_factor(16, 0.99) * round(budget.standard_uncertainty)) == 93
    assert budget.expanded_uncertainty == pytest.approx(93, rel=0.02)
    # source: the same, Table H.1: 25, 5.8, 3.9, 6.7, 2.9 and 16.6 nm, and nothing to first order from three inputs
    rounded = {row.id: float(f"{row.contribution:.3g}") for row in budget.rows}
    assert rounded == {
        "ls": 25.0,
        "d1": 5.8,
        "d2": 3.9,
        "d3": 6.7,
        "as": 0.0,
        "da": pytest.approx(2.9, abs=0.05),
        "dt": pytest.approx(16.6, abs=0.1),
        "mean": 0.0,
        "cyclic": 0.0,
    }
    assert math.fsum(row.share for row in budget.rows) == pytest.approx(1, rel=1e-12)


def as_other_library(components: tuple[Component, ...]) -> dict[str, Any]:
    return {part.id: uncertainties.ufloat(part.estimate, part.standard_uncertainty) for part in components}


def test_another_library_agrees() -> None:
    # source: uncertainties 3.2.3: the same equation with ufloat, its own derivatives
    other = end_gauge(as_other_library(END_GAUGE))
    budget = uncertainty_budget(end_gauge, END_GAUGE, (), 0.95, "nm")
    assert budget.value == pytest.approx(other.nominal_value, rel=1e-12)
    assert budget.standard_uncertainty == pytest.approx(other.std_dev, rel=1e-9)


def product(x: Mapping[str, Any]) -> Any:
    return x["a"] * x["b"] / x["c"]


BY_HAND = (
    Component("a", "flow", 100.0, "L/min", 1.0, 4),
    Component("b", "temperature", 300.0, "K", 3.0),
    Component("c", "pressure", 1000.0, "Pa", 20.0, 9),
)


def test_a_budget_by_hand() -> None:
    # 100 x 300 / 1000 = 30. Sensitivities: 300 / 1000 = 0.3, 100 / 1000 = 0.1, -30 / 1000 = -0.03; contributions: 0.3,
    # 0.3, 0.6; u^2 = 0.09 + 0.09 + 0.36 = 0.54; nu = 0.54^2 / (0.3^4 / 4 + 0.6^4 / 9) = 0.2916 / 0.016425 = 17.7534.
    budget = uncertainty_budget(product, BY_HAND, (Missing("m", "drift", "L/min", "not on record"),), 0.95, "L/min")
    assert budget.value == pytest.approx(30, rel=1e-12)
    assert [row.sensitivity for row in budget.rows[:3]] == pytest.approx([0.3, 0.1, -0.03], rel=1e-12)
    assert [row.contribution for row in budget.rows[:3]] == pytest.approx([0.3, 0.3, 0.6], rel=1e-12)
    assert [row.share for row in budget.rows[:3]] == pytest.approx([1 / 6, 1 / 6, 2 / 3], rel=1e-12)
    assert budget.standard_uncertainty == pytest.approx(math.sqrt(0.54), rel=1e-12)
    assert budget.degrees_of_freedom == pytest.approx(0.2916 / 0.016425, rel=1e-12)
    # source: JCGM 100:2008, Table G.2, 95 %: t is 2.13 for 15 and 2.09 for 20
    assert 2.09 < budget.coverage_factor < 2.13
    assert budget.expanded_uncertainty == pytest.approx(budget.coverage_factor * math.sqrt(0.54), rel=1e-12)
    (missing,) = budget.missing
    assert (missing.id, missing.contribution, missing.share, missing.sensitivity) == ("m", 0.0, 0.0, None)
    assert (missing.standard_uncertainty, missing.missing) == (None, "not on record")


def test_it_is_what_the_closed_forms_say() -> None:
    # source: JCGM 100:2008, equations 10 and G.2b, as functions of their own, which working views show
    budget = uncertainty_budget(end_gauge, END_GAUGE, (), 0.95, "nm")
    parts = [row.contribution for row in budget.rows]
    degrees = effective_degrees_of_freedom(parts, [row.degrees_of_freedom for row in budget.rows])
    assert combined_uncertainty(parts) == pytest.approx(budget.standard_uncertainty, rel=1e-12)
    assert degrees == pytest.approx(budget.degrees_of_freedom, rel=1e-9)
    assert coverage_factor(degrees, 0.95) == pytest.approx(budget.coverage_factor, rel=1e-9)


def test_what_has_no_uncertainty_has_no_sensitivity() -> None:
    parts = (BY_HAND[0], Component("b", "temperature", 300.0, "K", 0.0, 3), BY_HAND[2])
    row = uncertainty_budget(product, parts, (), 0.95, "L/min").rows[1]
    assert (row.sensitivity, row.contribution, row.share) == (None, 0.0, 0.0)
    none = uncertainty_budget(lambda x: x["b"], (parts[1],), (), 0.95, "K")
    assert (none.standard_uncertainty, none.degrees_of_freedom, none.rows[0].share) == (0.0, None, 0.0)


def wider(more: float) -> Budget:
    parts = (*BY_HAND[:2], Component("c", "pressure", 1000.0, "Pa", 20.0 + more))
    return uncertainty_budget(product, parts, (), 0.95, "L/min")


@given(st.floats(0, 200), st.floats(0.001, 100))
def test_more_uncertainty_is_never_a_smaller_combined_one(more: float, still: float) -> None:
    assert wider(more + still).standard_uncertainty > wider(more).standard_uncertainty
