"""Counting intervals against printed tables and R, in their directions and at their limits."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.scoring.counting import (
    at_least_fit_factor,
    exercise_fit_factor_limits,
    overall_fit_factor_limits,
    poisson_limits,
    rate_ratio_limits,
    weighted_count_limits,
)

COUNTS = st.lists(st.integers(0, 200), min_size=1, max_size=8)


def garwood_rows() -> list[dict[str, str]]:
    """source: data/garwood_poisson_limits_0_20.csv, scipy 1.17.1 stats.chi2.ppf, spot values seen in print."""
    path = Path(__file__).parent / "data" / "garwood_poisson_limits_0_20.csv"
    with path.open(encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


@pytest.mark.parametrize("row", garwood_rows(), ids=lambda row: row["count"])
@pytest.mark.parametrize("percent", [90, 95, 99])
def test_poisson_limits_of_the_table(row: dict[str, str], percent: int) -> None:
    low, high = poisson_limits(int(row["count"]), percent / 100)
    assert f"{low:.4f}" == row[f"lower{percent}"]
    assert f"{high:.4f}" == row[f"upper{percent}"]


def test_poisson_limits_printed() -> None:
    # source: printed tables: 10 counts 4.80 to 18.39; a count of zero one-sided 2.996 (the 90 % column)
    low, high = poisson_limits(10, 0.95)
    assert (round(low, 2), round(high, 2)) == (4.80, 18.39)
    assert round(poisson_limits(0, 0.90)[1], 3) == 2.996


def test_rate_ratio_printed_example() -> None:
    # source: Fay, Testing the Ratio of Two Poisson Rates: 2 in 17877 against 9 in 16660, 0.02177406 to 1.00054910
    low, high = rate_ratio_limits(2, 17877, 9, 16660, 0.95)
    assert low == pytest.approx(0.02177406, abs=5e-9)
    assert high == pytest.approx(1.00054910, abs=5e-9)


@given(st.integers(1, 400), st.floats(1, 100), st.integers(1, 400), st.floats(1, 100))
def test_swapping_the_samples_inverts_the_ratio(count: int, volume: float, other: int, other_volume: float) -> None:
    low, high = rate_ratio_limits(count, volume, other, other_volume, 0.95)
    inverse_low, inverse_high = rate_ratio_limits(other, other_volume, count, volume, 0.95)
    assert high is not None
    assert inverse_high is not None
    assert low == pytest.approx(1 / inverse_high, rel=1e-6)
    assert high == pytest.approx(1 / inverse_low, rel=1e-6)


@given(COUNTS, st.floats(1e-6, 10))
def test_equal_weights_give_the_exact_limits_of_the_whole_count(counts: list[int], weight: float) -> None:
    low, high = weighted_count_limits(counts, [weight] * len(counts), 0.95)
    exact_low, exact_high = poisson_limits(sum(counts), 0.95)
    assert low == pytest.approx(weight * exact_low, rel=1e-9)
    assert high == pytest.approx(weight * exact_high, rel=1e-9)


def limits(counts: list[int], ambient: float = 3000.0) -> tuple[float, float | None]:
    many = len(counts)
    return overall_fit_factor_limits(counts, [66.7] * many, [ambient] * many, [ambient] * many, 0.95)


@given(COUNTS, st.integers(0, 7), st.integers(1, 100))
def test_fewer_particles_inside_never_lower_the_limits(counts: list[int], place: int, fewer: int) -> None:
    cleaner = list(counts)
    cleaner[place % len(cleaner)] = max(0, cleaner[place % len(cleaner)] - fewer)
    low, high = limits(counts)
    cleaner_low, cleaner_high = limits(cleaner)
    assert cleaner_low >= low * (1 - 1e-12)
    if cleaner_high is not None:
        assert high is not None
        assert cleaner_high >= high * (1 - 1e-12)


@given(COUNTS, st.floats(0, 0.5))
def test_ambient_change_only_widens(counts: list[int], change: float) -> None:
    many = len(counts)
    low, high = overall_fit_factor_limits(
        counts, [66.7] * many, [3000 * (1 - change)] * many, [3000 * (1 + change)] * many, 0.95
    )
    still_low, still_high = limits(counts)
    assert low <= still_low * (1 + 1e-12)
    assert (high is None) == (still_high is None)
    if high is not None and still_high is not None:
        assert high >= still_high * (1 - 1e-12)


def test_zero_counts_give_a_bound_and_never_infinity() -> None:
    bound = at_least_fit_factor([66.7] * 7, [3000.0] * 7, 0.95)
    # source: one-sided 95 % limit of a count of zero, 2.996 in print, over all 7 exercises' counts together
    assert bound == pytest.approx(7 * 66.7 * 3000 / 2.996, rel=2e-4)
    low, high = limits([0] * 7)
    assert high is None
    assert low < bound


def test_pooling_first_is_n_times_better_than_the_harmonic_mean_of_bounds() -> None:
    single = at_least_fit_factor([66.7], [3000.0], 0.95)
    # source: derived: with equal weights the pooled bound is N times that of an exercise alone
    assert at_least_fit_factor([66.7] * 7, [3000.0] * 7, 0.95) == pytest.approx(7 * single, rel=1e-12)


@given(st.integers(0, 500), st.floats(1000, 5000), st.floats(0, 0.3))
def test_an_exercise_interval_holds_its_own_estimate(count: int, ambient: float, change: float) -> None:
    outside = round(ambient * 16.7)
    low, high = exercise_fit_factor_limits(
        count, 66.7, outside, 16.7, ambient * (1 - change), ambient * (1 + change), 0.95
    )
    assert (high is None) == (count == 0)
    if high is not None:
        assert low < (outside / 16.7) / (count / 66.7) < high


def test_values_outside_the_range_are_refused() -> None:
    with pytest.raises(OutsideRange, match="coverage: found 1, expected more than 0 and less than 1"):
        poisson_limits(3, 1.0)
    with pytest.raises(OutsideRange, match="particles counted: found -1"):
        poisson_limits(-1, 0.95)
    with pytest.raises(OutsideRange, match="particles counted in both samples: found 0"):
        rate_ratio_limits(0, 1, 0, 1, 0.95)
    with pytest.raises(OutsideRange, match="volume of the first sample"):
        rate_ratio_limits(1, 0, 1, 1, 0.95)
    with pytest.raises(OutsideRange, match="volume of the second sample"):
        rate_ratio_limits(1, 1, 1, -1, 0.95)
    with pytest.raises(OutsideRange, match="counts and weights: found 1, 2 values"):
        weighted_count_limits([1], [1, 2], 0.95)
    with pytest.raises(OutsideRange, match="weight of a particle: found 0"):
        weighted_count_limits([1], [0], 0.95)
    with pytest.raises(OutsideRange, match="particles counted outside: found 0"):
        exercise_fit_factor_limits(1, 1, 0, 1, 1, 1, 0.95)
    with pytest.raises(OutsideRange, match="lower ambient concentration"):
        exercise_fit_factor_limits(1, 1, 1, 1, 0, 1, 0.95)
    with pytest.raises(OutsideRange, match="higher ambient concentration"):
        exercise_fit_factor_limits(1, 1, 1, 1, 1, 0, 0.95)
    with pytest.raises(OutsideRange, match="coverage: found"):
        at_least_fit_factor([1], [1], 0.5)
