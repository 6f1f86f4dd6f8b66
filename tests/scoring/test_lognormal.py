"""One result of each wearer: published tolerance factors, directions, and how often the bound holds."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from generator.errors import OutsideRange
from generator.scoring.lognormal import (
    bounded_low_percentile,
    geometric_mean,
    geometric_mean_limits,
    geometric_standard_deviation,
    low_percentile,
    low_percentile_bound,
    tolerance_factor,
    wearers_needed,
)

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("row", rows("tolerance_factors.csv"), ids=lambda row: f"{row['n']}-{row['p']}-{row['conf']}")
def test_tolerance_factor_of_the_table(row: dict[str, str]) -> None:
    # source: data/tolerance_factors.csv, two independent solvers; its 95/95 column is the published series from memory
    assert f"{tolerance_factor(int(row['n']), float(row['p']), float(row['conf'])):.4f}" == row["k1"]


@pytest.mark.parametrize(
    ("wearers", "share", "confidence", "printed"),
    [
        # source: EnvStats help page tolIntNormK (seen)
        (20, 0.99, 0.90, 3.051543),
        (8, 0.95, 0.95, 3.187294),
        # source: a worked example page, n = 40, p = 0.90, confidence 0.99 (seen)
        (40, 0.90, 0.99, 1.9017),
        # source: NIST/SEMATECH e-Handbook 7.2.6.3, n = 43 (from memory)
        (43, 0.90, 0.99, 1.8740),
    ],
)
def test_printed_tolerance_factor(wearers: int, share: float, confidence: float, printed: float) -> None:
    assert tolerance_factor(wearers, share, confidence) == pytest.approx(printed, rel=4e-5)


# source: Lee S-A et al., Journal of Healthcare Engineering 2016, 8572493, Table 2, first model: of those who passed the
# fit test the geometric mean 26.6, the deviation 2.5 and the 5th percentile 5.0 (the estimate from the two is 5.9).
def test_estimate_of_the_percentile_of_a_published_group_is_near_the_one_printed() -> None:
    # Two values that have just this geometric mean and geometric standard deviation.
    half = math.log(2.5) / math.sqrt(2)
    group = [26.6 * math.exp(-half), 26.6 * math.exp(half)]
    assert geometric_mean(group) == pytest.approx(26.6)
    assert geometric_standard_deviation(group) == pytest.approx(2.5)
    assert low_percentile(group, 0.95) == pytest.approx(5.0, rel=0.2)


FACTORS = [180.0, 95.0, 410.0, 150.0, 60.0, 230.0, 120.0, 310.0]


def test_a_worse_wearer_never_raises_the_estimate_or_the_bound() -> None:
    # source: direction. A wearer at the lower end who does worse still lowers the mean and widens the spread.
    bounds = []
    for lowest in (60.0, 40.0, 20.0, 5.0, 1.0):
        group = [lowest if factor == 60.0 else factor for factor in FACTORS]
        bounds.append((low_percentile(group, 0.95), low_percentile_bound(group, 0.95, 0.95)))
    assert bounds == sorted(bounds, reverse=True)
    assert all(bound < estimate for estimate, bound in bounds)


@pytest.mark.parametrize("scale", [1e-3, 7.0, 1e4])
def test_it_scales_with_the_factors(scale: float) -> None:
    # source: definition: a multiple of all factors is a multiple of every figure but the spread
    scaled = [scale * factor for factor in FACTORS]
    assert geometric_mean(scaled) == pytest.approx(scale * geometric_mean(FACTORS))
    assert geometric_standard_deviation(scaled) == pytest.approx(geometric_standard_deviation(FACTORS))
    assert low_percentile_bound(scaled, 0.95, 0.95) == pytest.approx(scale * low_percentile_bound(FACTORS, 0.95, 0.95))


def test_enough_wearers_give_a_bound() -> None:
    found = bounded_low_percentile(FACTORS, 0.95, 0.95, 1.0)
    assert found.bound == low_percentile_bound(FACTORS, 0.95, 0.95)
    assert found.estimate == low_percentile(FACTORS, 0.95)
    assert (found.wearers, found.wearers_needed) == (8, 8)


def test_too_few_wearers_give_the_number_that_would_do() -> None:
    # source: published tolerance factors, 4.203 for 5 and 3.708 for 6 (from memory); ln 60 / ln 3 is 3.727
    found = bounded_low_percentile([20.0, 60.0, 180.0], 0.95, 0.95, 1.0)
    assert (found.bound, found.wearers, found.wearers_needed) == (None, 3, 6)


def test_where_the_estimate_itself_is_too_low_no_number_would_do() -> None:
    found = bounded_low_percentile([1.2, 9.0, 3.0], 0.95, 0.95, 1.0)
    assert found.estimate < 1
    assert (found.bound, found.wearers_needed) == (None, None)


def test_the_number_needed_is_the_first_that_reaches_the_level() -> None:
    # source: the rule as it is stated
    number = wearers_needed(100.0, 2.0, 0.95, 0.95, 15.0)
    assert number is not None
    assert 100.0 / 2.0 ** tolerance_factor(number, 0.95, 0.95) >= 15.0
    assert 100.0 / 2.0 ** tolerance_factor(number - 1, 0.95, 0.95) < 15.0


RUNS = 4000


@pytest.mark.parametrize("wearers", [3, 6, 25])
def test_bound_and_limits_hold_as_often_as_they_say(wearers: int) -> None:
    # source: seeded simulation of log-normal wearers; 95 % less three standard errors of the simulation
    random = np.random.default_rng(20240701)
    mean, deviation = math.log(150), math.log(2.5)
    truth = math.exp(mean - 1.6448536269514722 * deviation)
    bound_held, mean_held = 0, 0
    for _ in range(RUNS):
        factors = [float(factor) for factor in np.exp(random.normal(mean, deviation, wearers))]
        bound_held += low_percentile_bound(factors, 0.95, 0.95) <= truth
        low, high = geometric_mean_limits(factors, 0.95)
        mean_held += low <= 150 <= high
    allowed = 3 * math.sqrt(0.95 * 0.05 / RUNS)
    assert bound_held / RUNS == pytest.approx(0.95, abs=allowed)
    assert mean_held / RUNS == pytest.approx(0.95, abs=allowed)


@pytest.mark.parametrize(
    ("factors", "message"),
    [
        ([], "found 0 values, expected at least 1"),
        ([100.0, 0.0], "factor: found 0, expected a finite number above 0"),
        ([100.0, math.inf], "factor: found inf, expected a finite number above 0"),
    ],
)
def test_factors_outside_the_range(factors: list[float], message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        geometric_mean(factors)


@pytest.mark.parametrize("factors", [[100.0], [200.0, 200.0, 200.0]])
def test_one_wearer_or_no_spread_says_nothing_of_others(factors: list[float]) -> None:
    with pytest.raises(OutsideRange, match="factors: found no two different values, expected some spread"):
        low_percentile_bound(factors, 0.95, 0.95)


def test_tolerance_factor_outside_its_range() -> None:
    with pytest.raises(OutsideRange, match="wearers beyond the first: found 0, expected a finite number above 0"):
        tolerance_factor(1, 0.95, 0.95)
    with pytest.raises(OutsideRange, match="coverage: found 1, expected more than 0 and less than 1"):
        tolerance_factor(5, 1, 0.95)
    with pytest.raises(OutsideRange, match="coverage: found 0, expected more than 0 and less than 1"):
        tolerance_factor(5, 0.95, 0)


@pytest.mark.parametrize(
    ("mean", "deviation", "least", "message"),
    [
        (0.0, 2.0, 1.0, "geometric mean: found 0"),
        (10.0, 1.0, 1.0, "logarithm of the geometric standard deviation: found 0"),
        (10.0, 2.0, -1.0, "level: found -1"),
    ],
)
def test_wearers_needed_outside_its_range(mean: float, deviation: float, least: float, message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        wearers_needed(mean, deviation, 0.95, 0.95, least)
