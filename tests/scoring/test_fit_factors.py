"""Fit factors against published arithmetic, in their directions and at their limits."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.scoring.fit_factors import (
    ambient_mean,
    concentration_from_count,
    count_from_concentration,
    counted_volume,
    exercise_fit_factor,
    exercise_weights,
    inward_leakage,
    overall_fit_factor,
    pooled_fit_factor,
)

FACTORS = st.lists(st.floats(1, 1e6), min_size=1, max_size=10)

# source: arithmetic from the rule N / sum(1/ff) of 29 CFR 1910.134 App. A Part I.C.2(b)(9) (rule from memory); each row
# also agrees with statistics.harmonic_mean of Python 3.11
OVERALL = [
    ([100] * 7, 100, 1e-12),
    ([200, 200, 200, 200, 50, 100, 200], 127.2727, 1e-6),
    ([1000] * 6 + [10], 66.0377, 1e-6),
    ([500, 1000, 2000, 500, 300, 800, 1500], 651.1628, 1e-6),
    ([60, 200, 200, 200], 126.3158, 1e-6),
    ([40, 400, 400, 400, 400], 142.8571, 1e-6),
    ([200, 180, 150, 160, 90, 120, 210], 146.8165, 1e-6),
]


@pytest.mark.parametrize(("factors", "overall", "tolerance"), OVERALL)
def test_overall_is_the_harmonic_mean(factors: list[float], overall: float, tolerance: float) -> None:
    assert overall_fit_factor(factors) == pytest.approx(overall, rel=tolerance)


@pytest.mark.parametrize("exercises", range(1, 13))
@pytest.mark.parametrize("level", [10.0, 100.0, 500.0, 1000.0])
def test_the_mean_of_equal_factors_is_that_factor_to_the_last_digit(exercises: int, level: float) -> None:
    # source: by definition; a rounded sum of reciprocals would miss a pass level that was reached exactly
    assert overall_fit_factor([level] * exercises) == level


def test_published_partial_test_is_consistent() -> None:
    # source: Fakherpour et al., PLoS ONE 2023;18(10):e0293129, Table 2: 93, 83 and 92 for three exercises, overall 108.
    # With seven exercises the other four then have a harmonic mean of 128.4 (derived from the same rule).
    assert overall_fit_factor([93, 83, 92] + [128.4] * 4) == pytest.approx(108, rel=5e-4)


@given(FACTORS)
def test_overall_lies_between_the_worst_and_the_arithmetic_mean(factors: list[float]) -> None:
    overall = overall_fit_factor(factors)
    assert min(factors) * (1 - 1e-12) <= overall <= sum(factors) / len(factors) * (1 + 1e-12)


@given(FACTORS, st.integers(0, 9), st.floats(0.01, 1))
def test_a_worse_exercise_never_raises_the_overall(factors: list[float], place: int, share: float) -> None:
    worse = list(factors)
    worse[place % len(worse)] *= share
    assert overall_fit_factor(worse) <= overall_fit_factor(factors) * (1 + 1e-12)


@given(st.lists(st.tuples(st.integers(1, 500), st.floats(5, 200), st.floats(100, 1e5)), min_size=1, max_size=9))
def test_pooled_equals_harmonic_where_every_exercise_has_particles(rows: list[tuple[int, float, float]]) -> None:
    counts, volumes, ambients = (list(column) for column in zip(*rows, strict=True))
    factors = [ambient / (count / volume) for count, volume, ambient in rows]
    assert pooled_fit_factor(counts, volumes, ambients) == pytest.approx(overall_fit_factor(factors), rel=1e-9)


@given(st.integers(1, 10**6), st.floats(50, 3000), st.floats(5, 120))
def test_count_survives_the_way_to_a_concentration_and_back(count: int, flow: float, time: float) -> None:
    concentration = concentration_from_count(count, flow, time)
    assert count_from_concentration(concentration, counted_volume(flow, time)) == count


def test_equal_weights_sum_to_the_mean() -> None:
    # source: by definition, N equal exercises of weight 1 / (N V C)
    assert exercise_weights([2.0, 2.0], [5.0, 5.0]) == pytest.approx((0.05, 0.05), rel=1e-12)


def test_harmonic_mean_of_published_medians() -> None:
    path = Path(__file__).parent / "data" / "vandersande2008_pf_by_activity.csv"
    with path.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    medians = [
        float(row["PF_median"])
        for row in rows
        if row["mask"] == "FFP2 mask" and row["group"] == "Adults" and row["table"] == "1"
    ]
    # source: van der Sande et al., PLoS ONE 2008;3(7):e2618, Table 1; statistics.harmonic_mean of Python 3.11
    assert medians == [113, 82, 91, 66, 99]
    assert overall_fit_factor(medians) == pytest.approx(87.281, rel=1e-5)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_values_outside_the_range_are_refused(bad: float) -> None:
    with pytest.raises(
        OutsideRange, match=r"in-mask concentration \[/cm3\]: found .*, expected a finite number above 0"
    ):
        exercise_fit_factor(3000, bad)
    with pytest.raises(OutsideRange, match=r"ambient concentration \[/cm3\]: found"):
        exercise_fit_factor(bad, 3)
    with pytest.raises(OutsideRange, match=r"ambient concentration before"):
        ambient_mean(bad, 1)
    with pytest.raises(OutsideRange, match=r"ambient concentration after"):
        ambient_mean(1, bad)
    with pytest.raises(OutsideRange, match=r"fit factor of an exercise: found"):
        overall_fit_factor([100, bad])
    with pytest.raises(OutsideRange, match=r"fit factor: found"):
        inward_leakage(bad)
    with pytest.raises(OutsideRange, match=r"counted flow \[cm3/min\]: found"):
        counted_volume(bad, 1)
    with pytest.raises(OutsideRange, match=r"time of counting \[s\]: found"):
        concentration_from_count(1, 100, bad)
    with pytest.raises(OutsideRange, match=r"counted volume \[cm3\]: found"):
        count_from_concentration(1, bad)


def test_counts_below_zero_and_empty_lists_are_refused() -> None:
    with pytest.raises(OutsideRange, match=r"particles counted: found -1, expected a finite number of 0 or more"):
        concentration_from_count(-1, 100, 40)
    with pytest.raises(OutsideRange, match="fit factors: found 0 values, expected at least 1"):
        overall_fit_factor([])
    with pytest.raises(OutsideRange, match="volumes and ambient concentrations: found 1, 2 values"):
        exercise_weights([1], [1, 2])
    with pytest.raises(OutsideRange, match="particles counted in all exercises: found 0"):
        pooled_fit_factor([0, 0], [1, 1], [1, 1])
