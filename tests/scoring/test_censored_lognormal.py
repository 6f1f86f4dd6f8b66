"""Results that are only bounds: likelihood against a survival library's answers, and bounds that always hold."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from generator.errors import OutsideRange
from generator.scoring.censored_lognormal import (
    censored_mean_and_deviation,
    least_geometric_mean,
    least_of_first_donnings,
)
from generator.scoring.proportions import share_without_failures


@pytest.mark.parametrize("scale", [1e-3, 1.0, 5000.0])
def test_it_scales_with_the_factors(scale: float) -> None:
    # source: R 4.2.2, survival 3.5-3: survreg on the maintained group of aml, times a scale
    measured = [scale * time for time in (9, 13, 18, 23, 31, 34, 48)]
    mean, deviation = censored_mean_and_deviation(measured, [scale * time for time in (13, 28, 45, 161)])
    assert mean == pytest.approx(scale * 36.88507482128, rel=1e-7)
    assert deviation == pytest.approx(2.61385902371, rel=1e-7)


def test_a_display_that_stops_at_200_hides_both_mean_and_spread() -> None:
    # source: seeded simulation: 400 wearers with a geometric mean of 150 and a deviation of 2.5, capped at 200
    factors = np.exp(np.random.default_rng(20240708).normal(math.log(150), math.log(2.5), 400))
    measured, capped = [float(each) for each in factors if each < 200], [200.0] * int(np.sum(factors >= 200))
    mean, deviation = censored_mean_and_deviation(measured, capped)
    # Three standard errors of the logarithms' mean and deviation at this size, with a margin for the capping.
    assert math.log(mean / 150) == pytest.approx(0, abs=0.2)
    assert math.log(deviation) == pytest.approx(math.log(2.5), abs=0.2)
    taken_as_values = [*measured, *capped]
    assert stats.gmean(taken_as_values) < 0.9 * mean
    assert stats.gstd(taken_as_values) < 0.9 * deviation


@pytest.mark.parametrize(
    ("measured", "at_least", "message"),
    [
        ([100.0], [200.0], "measured factors: found no two different values"),
        ([100.0, 90.0], [0.0], "factor: found 0, expected a finite number above 0"),
        ([100.0, 90.0], [200.0] * 3, "results that may be only bounds, less those that are: found -0.5"),
    ],
)
def test_too_little_is_known(measured: list[float], at_least: list[float], message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        censored_mean_and_deviation(measured, at_least)


def test_bounds_for_several_donnings_never_exceed_what_the_truth_would_give() -> None:
    # source: definition, on seeded data: capping lowers no mean bound above the uncapped one, and spares the lowest
    random = np.random.default_rng(20240709)
    wearers = [letter for letter in "ABCDE" for _ in range(3)]
    for _ in range(50):
        factors = [float(each) for each in np.exp(random.normal(5, 1, len(wearers)))]
        capped = [min(factor, 200.0) for factor in factors]
        assert least_geometric_mean(capped, wearers) <= least_geometric_mean(factors, wearers) * (1 + 1e-12)
        assert least_of_first_donnings(capped[::3]) == min(min(factors[::3]), 200.0)


def test_the_share_who_reach_the_lowest_level_holds_as_often_as_it_says() -> None:
    # source: seeded simulation, ten wearers capped at 200; the truth from the log-normal distribution
    random, runs, held = np.random.default_rng(20240710), 4000, 0
    for _ in range(runs):
        level = least_of_first_donnings(
            [min(float(each), 200.0) for each in np.exp(random.normal(math.log(120), math.log(2), 10))]
        )
        held += stats.norm.sf(math.log(level / 120) / math.log(2)) >= share_without_failures(10, 0.95)
    assert held / runs >= 0.95 - 3 * math.sqrt(0.95 * 0.05 / runs)


def test_values_outside_the_range() -> None:
    with pytest.raises(OutsideRange, match="value: found -1, expected a finite number above 0"):
        least_of_first_donnings([100.0, -1.0])
    with pytest.raises(OutsideRange, match="values: found 0 values, expected at least 1"):
        least_of_first_donnings([])
    with pytest.raises(OutsideRange, match="wearers: found 1 values, expected at least 2"):
        least_geometric_mean([100.0, 90.0], ["A", "A"])
