"""Differences between devices: classical data, general libraries, symmetry, and how often each says what is not so."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from generator.errors import OutsideRange
from generator.model.difference_result import Apart
from generator.scoring.differences import (
    MOST_PAIRS,
    adjusted_probabilities,
    better_for_a_new_wearer,
    least_sign_flip_probability,
    sign_flip_probability,
    told_apart,
    unpaired_ratio,
)

# source: Darwin's maize, differences in eighths of an inch; Fisher 1935, section 21 (from memory, its count closes)
MAIZE = [49.0, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48]


def test_maize() -> None:
    # source: Fisher 1935: 863 of 32768 patterns on one side
    assert sign_flip_probability(MAIZE) == 2 * 863 / 32768


@pytest.mark.parametrize("seed", range(5))
def test_sign_flips_agree_with_a_general_library(seed: int) -> None:
    # source: scipy 1.17.1: stats.permutation_test, permutation_type "samples", every pattern
    differences = [float(value) for value in np.random.default_rng(seed).normal(0.5, 1, 4 + seed)]
    expected = stats.permutation_test(
        (np.array(differences),), np.mean, permutation_type="samples", n_resamples=np.inf, vectorized=True
    )
    assert sign_flip_probability(differences) == pytest.approx(float(expected.pvalue), rel=1e-12)


@given(st.lists(st.floats(-3, 3).filter(lambda value: abs(value) > 1e-3), min_size=1, max_size=9))
def test_sign_flips_are_symmetric_and_never_below_the_least(differences: list[float]) -> None:
    # source: definition: exchanging the devices changes nothing; the pattern found and its opposite always count
    found = sign_flip_probability(differences)
    assert found == sign_flip_probability([-difference for difference in differences])
    assert least_sign_flip_probability(len(differences)) <= found <= 1
    assert found * 2 ** len(differences) == int(found * 2 ** len(differences))


@pytest.mark.parametrize("pairs", range(1, 13))
def test_all_signs_alike_give_the_least(pairs: int) -> None:
    # source: definition: with one pair the pattern and its opposite are all there are
    assert sign_flip_probability([0.4 + 0.1 * number for number in range(pairs)]) == least_sign_flip_probability(pairs)
    assert (least_sign_flip_probability(pairs) > 0.05) == (pairs < 6)


def test_too_many_pairs_or_none() -> None:
    with pytest.raises(OutsideRange, match="pairs: found 0 values, expected at least 1"):
        sign_flip_probability([])
    with pytest.raises(OutsideRange, match="pairs fewer than the most: found -1"):
        sign_flip_probability([0.1] * 31)
    with pytest.raises(OutsideRange, match="size of a difference: found nan"):
        sign_flip_probability([0.1, math.nan])
    with pytest.raises(OutsideRange, match="pairs: found 0"):
        least_sign_flip_probability(0)


FIRST, SECOND = [120.0, 300.0, 80.0, 95.0], [40.0, 55.0, 22.0, 61.0, 30.0]


def test_unpaired_ratio_agrees_with_a_general_library() -> None:
    # source: scipy 1.17.1: stats.ttest_ind(log(first), log(second), equal_var=False)
    expected = stats.ttest_ind(np.log(FIRST), np.log(SECOND), equal_var=False)
    interval = expected.confidence_interval(0.95)
    ratio, low, high, chance = unpaired_ratio(FIRST, SECOND, 0.95)
    assert chance == pytest.approx(float(expected.pvalue))
    assert (low, high) == pytest.approx((math.exp(interval.low), math.exp(interval.high)))
    assert ratio == pytest.approx(stats.gmean(FIRST) / stats.gmean(SECOND))


def test_exchanging_the_devices_inverts_the_ratio() -> None:
    # source: the definition knows no first or second
    ratio, low, high, chance = unpaired_ratio(FIRST, SECOND, 0.95)
    other = unpaired_ratio(SECOND, FIRST, 0.95)
    assert other == pytest.approx((1 / ratio, 1 / high, 1 / low, chance))


@pytest.mark.parametrize(
    ("first", "second", "message"),
    [
        ([100.0], [40.0, 50.0], "first device: found no two different values"),
        ([100.0, 90.0], [40.0, 40.0], "second device: found no two different values"),
        ([100.0, 90.0], [40.0, -40.0], "second device: found -40, expected a finite number above 0"),
    ],
)
def test_unpaired_ratio_outside_its_range(first: list[float], second: list[float], message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        unpaired_ratio(first, second, 0.95)


@given(st.lists(st.floats(0, 1), min_size=1, max_size=8))
def test_adjusted_probabilities_keep_their_order_and_only_rise(probabilities: list[float]) -> None:
    # source: definition: never below the one put in, never above it times their number, never above 1
    found = adjusted_probabilities(probabilities)
    for one, adjusted in zip(probabilities, found, strict=True):
        assert one <= adjusted <= min(1.0, len(probabilities) * one * (1 + 1e-12))
    order = sorted(range(len(found)), key=lambda place: probabilities[place])
    assert [found[place] for place in order] == sorted(found)


def test_a_probability_outside_its_range() -> None:
    with pytest.raises(OutsideRange, match=r"probability: found -0\.1"):
        adjusted_probabilities([-0.1])
    with pytest.raises(OutsideRange, match=r"1 less a probability: found -0\.1"):
        adjusted_probabilities([1.1])
    with pytest.raises(OutsideRange, match="probabilities: found 0 values"):
        adjusted_probabilities([])


def test_a_set_of_devices_alike_is_told_apart_no_more_often_than_one_time_in_twenty() -> None:
    # source: seeded simulation of ten comparisons of devices alike, eight pairs each
    random, runs, wrong = np.random.default_rng(20240706), 1000, 0
    for _ in range(runs):
        sets = random.normal(0, 1, (10, 8))
        adjusted = adjusted_probabilities([sign_flip_probability([float(each) for each in row]) for row in sets])
        wrong += min(adjusted) <= 0.05
    assert wrong / runs <= 0.05 + 3 * math.sqrt(0.05 * 0.95 / runs)


@pytest.mark.parametrize("pairs", [3, 6, 25])
def test_limits_for_a_new_wearer_hold_as_often_as_they_say(pairs: int) -> None:
    # source: seeded simulation of normal differences; exact, so that both sides are held to it
    random, runs, held = np.random.default_rng(20240707), 2000, 0
    truth = float(stats.norm.cdf(0.6))
    for _ in range(runs):
        _, low, high = better_for_a_new_wearer([float(value) for value in random.normal(0.6, 1, pairs)], 0.95)
        held += low <= truth <= high
    assert held / runs == pytest.approx(0.95, abs=3 * math.sqrt(0.95 * 0.05 / runs))


def test_exchanging_the_devices_gives_the_opposite_probability() -> None:
    # source: the definition knows no first or second
    estimate, low, high = better_for_a_new_wearer(MAIZE, 0.95)
    other = better_for_a_new_wearer([-difference for difference in MAIZE], 0.95)
    assert other == pytest.approx((1 - estimate, 1 - high, 1 - low), rel=1e-5)


def test_differences_all_the_same_say_nothing_of_a_new_wearer() -> None:
    with pytest.raises(OutsideRange, match="differences: found no two different values"):
        better_for_a_new_wearer([0.5, 0.5], 0.95)


@pytest.mark.parametrize("pairs", [2, 3, 30])
def test_pairs_that_hardly_differ_leave_no_doubt_and_end_at_once(pairs: int) -> None:
    # source: the limits go to 1 as the spread goes to nothing; with t of a million the library's inverse does not end
    differences = [1.0] * (pairs - 1) + [1.0 + 1e-9]
    assert better_for_a_new_wearer(differences, 0.95) == (1.0, 1.0, 1.0)
    assert better_for_a_new_wearer([-each for each in differences], 0.95) == pytest.approx((0.0, 0.0, 0.0), abs=1e-100)


def test_the_greatest_number_of_pairs() -> None:
    # source: symmetry and the normal distribution that so many pairs come near to: z = sum(d) / sqrt(sum(d^2))
    differences = [float(value) for value in np.random.default_rng(20261125).normal(0.3, 1, MOST_PAIRS)]
    z = math.fsum(differences) / math.sqrt(math.fsum(each**2 for each in differences))
    assert sign_flip_probability(differences) == pytest.approx(2 * stats.norm.sf(abs(z)), rel=0.05)
    assert sign_flip_probability([1.0] * MOST_PAIRS) == least_sign_flip_probability(MOST_PAIRS)


def test_an_interval_without_a_test_does_not_tell_apart() -> None:
    # source: the rule as it is stated
    assert told_apart(1.1, 2.0, 0.0625, 0.05) is Apart.CANNOT_BE_TOLD_APART
    with pytest.raises(OutsideRange, match="lower limit: found 0"):
        told_apart(0, 2.0, 0.01, 0.05)
