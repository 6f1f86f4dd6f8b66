"""Figures against a limit from above, such as a resistance or a noise: outcome, probability, the limit itself."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from generator.model.reference import Criterion
from generator.model.result import Figure, Outcome, Verdict
from generator.scoring.requirements import Spread, strictest, verdict_on

LIMIT = 350.0
"""An invented limit: what is tested is the comparison. [Pa]"""


def a_criterion(bound: str = "at_most", unit: str = "Pa", limit: float = LIMIT) -> Criterion:
    source = {"document": "d", "edition": "e", "clause": "c", "status": "own"}
    data: dict[str, Any] = {
        "id": "limit",
        "title": "Limit",
        "label": "limit",
        "quantity": "inhalation_resistance",
        "limit": limit,
        "unit": unit,
        "bound": bound,
        "decision_rule": "guarded",
        "kinds": ["loose_powered_hood"],
        "meaning": "m",
        "sources": [source],
    }
    return Criterion.model_validate_json(json.dumps(data))


def a_figure(value: float | None, low: float | None = None, high: float | None = None, unit: str = "Pa") -> Figure:
    ends = {"low": low, "high": high, "coverage": 0.95, "method": "m", "covers": "c"}
    interval = ends if low is not None or high is not None else None
    data = {"key": "k", "name": "n", "value": value, "unit": unit, "sample_size": 3, "sample_of": "readings"}
    reasons = {
        "no_interval": None if interval else "one reading",
        "not_scored": "not measured" if value is None else None,
    }
    return Figure.model_validate(data | {"method": "m", "interval": interval} | reasons)


def decided(figure: Figure, spread: Spread | None = None, **parts: Any) -> Verdict:
    return verdict_on("v", figure, a_criterion(**parts), spread)


@pytest.mark.parametrize(
    ("low", "high", "outcome", "reason"),
    [
        # source: JCGM 106:2012 8.3, the whole expanded interval on the right side, on the wrong side, or neither
        (300.0, 320.0, Outcome.MEETS, "the whole interval lies at or below the limit"),
        (300.0, 350.0, Outcome.MEETS, "the whole interval lies at or below the limit"),
        (350.0, 350.0, Outcome.MEETS, "the whole interval lies at or below the limit"),
        (300.0, 350.0000001, Outcome.UNDECIDED, "the limit lies within the interval"),
        (340.0, 360.0, Outcome.UNDECIDED, "the limit lies within the interval"),
        (350.0, 360.0, Outcome.UNDECIDED, "the limit lies within the interval"),
        (350.0000001, 360.0, Outcome.DOES_NOT_MEET, "the whole interval lies above the limit"),
        (400.0, 420.0, Outcome.DOES_NOT_MEET, "the whole interval lies above the limit"),
        # An end that the data did not set may lie anywhere on its side.
        (None, 349.0, Outcome.MEETS, "the whole interval lies at or below the limit"),
        (None, 351.0, Outcome.UNDECIDED, "the limit lies within the interval"),
        (351.0, None, Outcome.DOES_NOT_MEET, "the whole interval lies above the limit"),
        (349.0, None, Outcome.UNDECIDED, "the limit lies within the interval"),
    ],
)
def test_outcomes(low: float | None, high: float | None, outcome: Outcome, reason: str) -> None:
    middle = ((low if low is not None else 340) + (high if high is not None else 360)) / 2
    verdict = decided(a_figure(middle, low, high))
    assert (verdict.outcome, verdict.reason) == (outcome, reason)
    assert (verdict.rule, verdict.limit, verdict.unit, verdict.criterion) == ("guarded", LIMIT, "Pa", "limit")


def test_a_lower_limit_decides_the_other_way() -> None:
    figure = a_figure(310.0, 300.0, 320.0)
    assert decided(figure).outcome is Outcome.MEETS
    assert decided(figure, bound="at_least").outcome is Outcome.DOES_NOT_MEET


@pytest.mark.parametrize(
    ("value", "uncertainty", "degrees", "expected"),
    [
        # source: symmetry, the figure at its limit
        (350.0, 8.0, None, 0.5),
        # source: the normal distribution's 97.5 % point, 1.959964 (GUM Table G.2)
        (350.0 - 1.959964 * 8, 8.0, None, 0.975),
        (350.0 + 1.959964 * 8, 8.0, None, 0.025),
        # source: Student's t of 4 degrees of freedom, 97.5 % point 2.776445 (GUM Table G.2 gives 2.78)
        (350.0 - 2.776445 * 8, 8.0, 4.0, 0.975),
        # source: scipy.stats.t.cdf and norm.cdf, of the limit about the figure
        (340.0, 8.0, 4.0, float(stats.t.cdf(350, 4, loc=340, scale=8))),
        (365.0, 8.0, None, float(stats.norm.cdf(350, loc=365, scale=8))),
    ],
)
def test_probability_of_lying_below(value: float, uncertainty: float, degrees: float | None, expected: float) -> None:
    verdict = decided(a_figure(value, value - 20, value + 20), Spread(uncertainty, degrees))
    assert verdict.probability_of_conformity == pytest.approx(expected, rel=1e-6)
    above = decided(a_figure(value, value - 20, value + 20), Spread(uncertainty, degrees), bound="at_least")
    # source: the true value lies either below the limit or above it
    assert above.probability_of_conformity == pytest.approx(1 - expected, rel=1e-5)


def test_without_uncertainty_there_is_no_probability() -> None:
    assert decided(a_figure(300.0, 290.0, 310.0)).probability_of_conformity is None
    assert decided(a_figure(300.0, 290.0, 310.0), Spread(0.0, None)).probability_of_conformity is None


def test_nothing_is_decided_without_an_interval_or_a_figure() -> None:
    verdict = decided(a_figure(100.0))
    assert verdict.outcome is Outcome.UNDECIDED
    assert verdict.reason == "there is no interval to decide with: one reading"
    verdict = decided(a_figure(None))
    assert (verdict.outcome, verdict.ratio) == (Outcome.UNDECIDED, None)
    assert verdict.reason == "there is no figure to decide on: not measured"


def test_pressures_are_told_as_a_share_of_the_limit_and_decibels_are_not() -> None:
    # source: 280 of 350 by arithmetic
    assert decided(a_figure(280.0, 270.0, 290.0)).ratio == pytest.approx(0.8, rel=1e-12)
    noise = decided(a_figure(72.0, 70.0, 74.0, "dB(A)"), unit="dB(A)", limit=80.0)
    assert (noise.ratio, noise.outcome) == (None, Outcome.MEETS)


ORDER = [Outcome.MEETS, Outcome.UNDECIDED, Outcome.DOES_NOT_MEET]


@given(value=st.floats(1, 1000), half=st.floats(0, 200), more=st.floats(0, 500))
def test_a_higher_resistance_never_fares_better(value: float, half: float, more: float) -> None:
    lower = decided(a_figure(value, value - half, value + half), Spread(10.0, None))
    higher = decided(a_figure(value + more, value + more - half, value + more + half), Spread(10.0, None))
    assert ORDER.index(lower.outcome) <= ORDER.index(higher.outcome)
    assert lower.probability_of_conformity is not None
    assert higher.probability_of_conformity is not None
    assert lower.probability_of_conformity >= higher.probability_of_conformity


@given(value=st.floats(-500, 500), half=st.floats(0, 200), limit=st.floats(0.1, 500))
def test_it_is_a_lower_limit_mirrored(value: float, half: float, limit: float) -> None:
    """At most L of a figure is decided as at least L of the figure as far on the other side of L."""
    upper = decided(a_figure(value, value - half, value + half), limit=limit)
    mirrored = 2 * limit - value
    lower = decided(a_figure(mirrored, mirrored - half, mirrored + half), limit=limit, bound="at_least")
    if abs(abs(value - limit) - half) > 1e-9:
        assert upper.outcome is lower.outcome


@pytest.mark.parametrize(("bound", "limit"), [("at_least", 350.0), ("at_most", 245.0)])
def test_the_strictest_is_the_highest_least_value_or_the_lowest_limit_from_above(bound: str, limit: float) -> None:
    # source: by definition; 245 and 343 Pa are 25 and 35 mm of water, as in 42 CFR 84.172
    limits = [a_criterion(bound, limit=each) for each in (343.0, 245.0, 350.0)]
    assert strictest(limits).limit == limit
    assert strictest(limits[::-1]).limit == limit
