"""Overall fit factors with exercises known only as `more than`."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.scoring.censoring import overall_fit_factor_bounds
from generator.scoring.fit_factors import overall_fit_factor

FACTORS = st.floats(1.5, 1e6)


def test_a_ceiling_of_200_and_one_exercise_of_60() -> None:
    # source: 4 / (1/60 + 3/200) = 126.3 and 4 * 60 = 240, by hand
    low, high = overall_fit_factor_bounds([60], [200, 200, 200])
    assert low == pytest.approx(126.3, abs=0.05)
    assert high == pytest.approx(240, rel=1e-12)


def test_without_a_ceiling_both_bounds_are_the_overall_factor() -> None:
    # source: regulation's harmonic mean, as in fit_factors.py
    assert overall_fit_factor_bounds([100.0] * 7, []) == (100.0, 100.0)


@given(st.lists(FACTORS, min_size=1, max_size=8), st.lists(FACTORS, min_size=1, max_size=8), st.lists(FACTORS))
def test_whatever_the_exercises_were_the_overall_factor_lies_between(
    known: list[float], bounds: list[float], above: list[float]
) -> None:
    # source: direction; true factors are the bounds raised by anything
    low, high = overall_fit_factor_bounds(known, bounds)
    raised = [bound + more for bound, more in zip(bounds, [*above, *[0.0] * len(bounds)], strict=False)]
    assert high is not None
    assert low * (1 - 1e-12) <= overall_fit_factor([*known, *raised]) <= high * (1 + 1e-12)


@given(st.lists(FACTORS, min_size=1, max_size=8), st.lists(FACTORS, min_size=1, max_size=8))
def test_one_worse_exercise_never_raises_a_bound(known: list[float], bounds: list[float]) -> None:
    low, high = overall_fit_factor_bounds(known, bounds)
    worse_low, worse_high = overall_fit_factor_bounds([known[0] / 2, *known[1:]], bounds)
    assert high is not None
    assert worse_high is not None
    assert worse_low <= low
    assert worse_high <= high


def test_nothing_at_all_is_refused() -> None:
    with pytest.raises(OutsideRange, match="fit factors: found 0 values, expected at least 1"):
        overall_fit_factor_bounds([], [])


@pytest.mark.parametrize(("known", "bounds"), [([0.0], [200.0]), ([60.0], [0.0])])
def test_factors_of_zero_are_refused(known: list[float], bounds: list[float]) -> None:
    with pytest.raises(OutsideRange, match="fit factor of an exercise: found 0, expected a finite number above 0"):
        overall_fit_factor_bounds(known, bounds)
