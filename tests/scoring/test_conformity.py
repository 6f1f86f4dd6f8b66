"""Verdicts on the edge, and that probability and guarded decision agree."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.model.result import Outcome, Relation
from generator.scoring.conformity import (
    guarded_outcome,
    plain_outcome,
    probability_of_conformity,
    ratio_to_requirement,
)
from generator.scoring.flow_statistics import coverage_factor


@pytest.mark.parametrize(
    ("low", "high", "outcome"),
    [
        # source: JCGM 106:2012, 8.3 (from memory) and ILAC-G8:09/2019 (secondary): guard band w = U, limit 170
        (170.0, 180.0, Outcome.MEETS),
        (math.nextafter(170, 0), 180.0, Outcome.UNDECIDED),
        (160.0, 170.0, Outcome.UNDECIDED),
        (160.0, math.nextafter(170, 0), Outcome.DOES_NOT_MEET),
        (-math.inf, 180.0, Outcome.UNDECIDED),
        (120.0, math.inf, Outcome.UNDECIDED),
        (171.0, math.inf, Outcome.MEETS),
    ],
)
def test_guarded_verdict_at_its_edges(low: float, high: float, outcome: Outcome) -> None:
    assert guarded_outcome(low, high, 170) is outcome


@pytest.mark.parametrize(
    ("value", "relation", "outcome"),
    [
        # source: 29 CFR 1910.134(f)(7), equal to or greater than 100 (secondary page)
        (100.0, Relation.EQUAL, Outcome.MEETS),
        (math.nextafter(100, 0), Relation.EQUAL, Outcome.DOES_NOT_MEET),
        (100.0, Relation.AT_LEAST, Outcome.MEETS),
        (math.nextafter(100, 0), Relation.AT_LEAST, Outcome.UNDECIDED),
    ],
)
def test_plain_verdict_at_its_edge(value: float, relation: Relation, outcome: Outcome) -> None:
    assert plain_outcome(value, relation, 100) is outcome


@pytest.mark.parametrize(
    ("value", "uncertainty", "limit", "probability"),
    [
        # source: JCGM 106:2012, 7.3.3 examples (from memory), recomputed with scipy 1.17.1 stats.norm.cdf
        (509.7, 8.6, 490, 0.98901),
        (5.47, 0.05, 5.40, 0.91924),
        # source: worst case at the acceptance limit, 1 - Phi(w/u), scipy 1.17.1: w = U = 2u and w = 0.83 U
        (172, 1, 170, 1 - 0.0227501),
        (171.66, 1, 170, 1 - 0.0484572),
        (170, 1, 170, 0.5),
    ],
)
def test_probability_with_a_normal_distribution(
    value: float, uncertainty: float, limit: float, probability: float
) -> None:
    assert probability_of_conformity(value, uncertainty, limit, None) == pytest.approx(probability, abs=5e-6)


@given(st.floats(0.1, 20), st.one_of(st.none(), st.floats(1, 200)))
def test_probability_agrees_with_the_guarded_decision(uncertainty: float, degrees: float | None) -> None:
    half_width = coverage_factor(degrees, 0.95) * uncertainty
    # source: by definition of a two-sided interval of 95 %, both use the same t
    assert probability_of_conformity(170 + half_width, uncertainty, 170, degrees) == pytest.approx(0.975, abs=1e-9)


@given(st.floats(100, 250), st.floats(0, 20), st.floats(0.1, 5))
def test_more_flow_never_makes_conformity_less_probable(flow: float, more: float, uncertainty: float) -> None:
    less = probability_of_conformity(flow, uncertainty, 170, 5.5)
    assert probability_of_conformity(flow + more, uncertainty, 170, 5.5) >= less


def test_ratio_of_a_tenth() -> None:
    # source: arithmetic, 17 of 170 L/min
    assert ratio_to_requirement(17, 170) == pytest.approx(0.1, rel=1e-12)


def test_values_outside_the_range_are_refused() -> None:
    with pytest.raises(OutsideRange, match="interval: found 180 to 170, expected the lower end first"):
        guarded_outcome(180, 170, 170)
    with pytest.raises(OutsideRange, match="interval: found nan to 170"):
        guarded_outcome(math.nan, 170, 170)
    with pytest.raises(OutsideRange, match="limit: found 0"):
        plain_outcome(1, Relation.EQUAL, 0)
    with pytest.raises(OutsideRange, match="limit: found -1"):
        ratio_to_requirement(1, -1)
    with pytest.raises(OutsideRange, match="standard uncertainty: found 0"):
        probability_of_conformity(1, 0, 1, None)
    with pytest.raises(OutsideRange, match="degrees of freedom: found 0"):
        probability_of_conformity(1, 1, 1, 0)
