"""Several donnings of each wearer: one-way analysis, directions, and how often bounds and limits hold."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest

from generator.errors import OutsideRange
from generator.scoring.lognormal import geometric_mean_limits, low_percentile_bound
from generator.scoring.nested_bounds import between_wearer_limits, new_donning_bound
from generator.scoring.nested_coverage import (
    RUNS,
    SHARES_BETWEEN,
    bound_holds,
    bounded_new_donnings,
    simulated_coverage,
)
from generator.scoring.nested_lognormal import (
    _restricted_deviances,
    _restricted_fit,
    between_and_within_wearers,
    grouped_logs,
    nested_mean_limits,
    new_donning_percentile,
)

FACTORS = [180.0, 220.0, 95.0, 60.0, 410.0, 300.0, 150.0, 190.0, 75.0, 120.0]
WEARERS = ["A", "A", "B", "B", "C", "C", "D", "D", "E", "E"]


def test_sums_of_squares_of_an_analysis_of_variance() -> None:
    # source: R 4.2.2: anova(aov(log(x) ~ wearer)), tapply(log(x), wearer, mean); three, two and one donning
    logs = grouped_logs([20.0, 30.0, 45.0, 100.0, 80.0, 10.0], ["A", "A", "A", "B", "B", "C"])
    assert logs.means == pytest.approx([3.4011973816622, 4.4935984103310, 2.302585092994])
    assert list(logs.donnings) == [3, 2, 1]
    assert logs.within_squares == pytest.approx(0.35370043, rel=1e-7)
    assert logs.degrees_within == 3
    assert logs.mean == pytest.approx(np.mean(logs.means))
    assert logs.between_squares == pytest.approx(2 * np.var(logs.means, ddof=1))
    assert logs.inverse_donnings == pytest.approx((1 / 3 + 1 / 2 + 1) / 3)


def test_with_one_donning_each_it_is_the_tolerance_bound() -> None:
    # source: the noncentral t distribution, exact for one donning each; here the same comes from an integral
    wearers = [str(number) for number in range(len(FACTORS))]
    found = new_donning_bound(FACTORS, wearers, 0.95, 0.95)
    assert found == pytest.approx(low_percentile_bound(FACTORS, 0.95, 0.95), rel=1e-6)
    assert nested_mean_limits(FACTORS, wearers, 0.9) == pytest.approx(geometric_mean_limits(FACTORS, 0.9))


def test_equal_numbers_of_donnings_give_the_analysis_of_variance_estimates() -> None:
    # source: balanced data: REML equals the analysis of variance where that is not negative (Searle et al. 1992)
    logs = grouped_logs(FACTORS, WEARERS)
    within = logs.within_squares / 5
    between = (2 * logs.between_squares / 4 - within) / 2
    mean, found_between, found_within = between_and_within_wearers(FACTORS, WEARERS)
    assert mean == pytest.approx(math.exp(logs.mean))
    assert math.log(found_between) ** 2 == pytest.approx(between, rel=1e-6)
    assert math.log(found_within) ** 2 == pytest.approx(within, rel=1e-6)


def test_a_worse_wearer_never_raises_the_estimate_or_the_bound() -> None:
    # source: direction. The lowest wearer does ever worse.
    found = []
    for worse in (1.0, 2.0, 5.0, 20.0):
        factors = [factor / worse if wearer == "B" else factor for factor, wearer in zip(FACTORS, WEARERS, strict=True)]
        found.append((new_donning_percentile(factors, WEARERS, 0.95), new_donning_bound(factors, WEARERS, 0.95, 0.95)))
    assert found == sorted(found, reverse=True)
    assert all(bound < estimate for estimate, bound in found)


def test_more_confidence_or_a_greater_share_lowers_the_bound() -> None:
    # source: direction of the definition
    bounds = [
        new_donning_bound(FACTORS, WEARERS, share, confidence)
        for share, confidence in ((0.9, 0.9), (0.9, 0.95), (0.95, 0.95), (0.95, 0.99))
    ]
    assert bounds == sorted(bounds, reverse=True)


def test_order_and_names_of_wearers_do_not_matter() -> None:
    # source: the definition, which knows neither
    order = [7, 2, 9, 0, 4, 1, 8, 3, 6, 5]
    other = {"A": "w", "B": "v", "C": "z", "D": "x", "E": "y"}
    factors, wearers = [FACTORS[place] for place in order], [other[WEARERS[place]] for place in order]
    assert between_and_within_wearers(factors, wearers) == pytest.approx(between_and_within_wearers(FACTORS, WEARERS))
    assert new_donning_bound(factors, wearers, 0.95, 0.95) == pytest.approx(
        new_donning_bound(FACTORS, WEARERS, 0.95, 0.95)
    )


def test_enough_wearers_give_a_bound() -> None:
    found = bounded_new_donnings(FACTORS, WEARERS, 0.95, 0.95, 1.0)
    assert found.bound == new_donning_bound(FACTORS, WEARERS, 0.95, 0.95)
    assert found.estimate == new_donning_percentile(FACTORS, WEARERS, 0.95)
    assert (found.wearers, found.wearers_needed) == (5, 5)


def test_too_few_wearers_give_a_number_that_would_do() -> None:
    # source: regression only, for the number six; that three wearers do not reach a factor of 1 is asserted with it
    factors, wearers = [30.0, 50.0, 40.0, 12.0, 80.0, 200.0], ["A", "A", "B", "B", "C", "C"]
    found = bounded_new_donnings(factors, wearers, 0.95, 0.95, 1.0)
    assert (found.bound, found.wearers, found.wearers_needed) == (None, 3, 6)


def test_where_the_estimate_itself_is_too_low_no_number_would_do() -> None:
    found = bounded_new_donnings([1.5, 4.0, 2.0, 9.0], ["A", "A", "B", "B"], 0.95, 0.95, 1.0)
    assert found.estimate < 1
    assert (found.bound, found.wearers_needed) == (None, None)


def test_a_bound_that_does_not_hold_as_often_as_it_says_is_withheld(monkeypatch: pytest.MonkeyPatch) -> None:
    # source: the rule as it is stated. No design was found to fall short, so that one is made to: 5 and 10 wearers.
    def holds(donnings: tuple[int, ...], share: float, confidence: float) -> bool:
        return len(donnings) > 10

    monkeypatch.setattr("generator.scoring.nested_coverage.bound_holds", holds)
    found = bounded_new_donnings(FACTORS, WEARERS, 0.95, 0.95, 1.0)
    assert found.bound is None
    assert found.wearers_needed is not None
    assert found.wearers_needed > 10


DESIGNS = [(2,) * 2, (2,) * 3, (2,) * 6, (2,) * 25, (3, 1, 1), (10, 1, 1), (4, 3, 2, 1), (8, 8, 8, 1, 1, 1)]


@pytest.mark.parametrize("donnings", DESIGNS, ids=str)
def test_the_bound_holds_as_often_as_it_says(donnings: tuple[int, ...]) -> None:
    # source: seeded simulation in the code; the next test shows by itself that the simulation is right
    assert bound_holds(donnings, 0.95, 0.95)


@pytest.mark.parametrize(("donnings", "between"), [((2,) * 3, 0.5), ((3, 1, 1, 1), 0.9)])
def test_the_simulation_agrees_with_one_that_computes_every_bound(donnings: tuple[int, ...], between: float) -> None:
    # source: independent simulation that shares nothing but the bound: whole data sets, each bound computed
    random, runs = np.random.default_rng(20240704), 150
    wearers = [str(number) for number, count in enumerate(donnings) for _ in range(count)]
    truth, held = math.exp(-1.6448536269514722), 0
    for _ in range(runs):
        offsets = random.normal(0, math.sqrt(between), len(donnings))
        logs = np.array([offsets[int(wearer)] for wearer in wearers])
        factors = np.exp(logs + random.normal(0, math.sqrt(1 - between), len(wearers)))
        held += new_donning_bound([float(factor) for factor in factors], wearers, 0.95, 0.95) <= truth
    expected = simulated_coverage(donnings, between, 0.95, 0.95, RUNS, 1)
    assert held / runs == pytest.approx(expected, abs=4 * math.sqrt(expected * (1 - expected) / runs))


@pytest.mark.parametrize("wearers", [3, 6, 25])
def test_the_simulation_finds_a_bound_that_falls_short(wearers: int) -> None:
    # source: statistics: where one donning each is exact, a bound with less confidence holds that much less often
    found = simulated_coverage((1,) * wearers, 1.0, 0.95, 0.9, RUNS, 7)
    assert found == pytest.approx(0.9, abs=3 * math.sqrt(0.09 / RUNS))


@pytest.mark.parametrize("between", [0.3, 0.8])
def test_limits_between_wearers_hold_as_often_as_they_say(between: float) -> None:
    # source: seeded simulation of six wearers with two donnings each; 95 % less three standard errors
    random, runs, held = np.random.default_rng(20240705), 500, 0
    wearers = [letter for letter in "ABCDEF" for _ in range(2)]
    for _ in range(runs):
        logs = np.repeat(random.normal(0, math.sqrt(between), 6), 2) + random.normal(0, math.sqrt(1 - between), 12)
        low, high = between_wearer_limits([float(factor) for factor in np.exp(logs)], wearers, 0.95)
        held += low <= math.exp(math.sqrt(between)) <= high
    assert held / runs >= 0.95 - 3 * math.sqrt(0.95 * 0.05 / runs)


@pytest.mark.parametrize(
    ("factors", "wearers", "message"),
    [
        ([100.0, 90.0], ["A", "A"], "wearers: found 1 values, expected at least 2"),
        ([100.0, 90.0], ["A"], "factors and wearers: found 2, 1 values, expected the same number"),
        ([100.0, 0.0], ["A", "B"], "factor: found 0, expected a finite number above 0"),
        ([100.0, 90.0], ["A", "B"], "spread of one wearer's donnings: found 0, expected a finite number above 0"),
    ],
)
def test_what_cannot_be_parted(factors: Sequence[float], wearers: Sequence[str], message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        between_and_within_wearers(factors, wearers)


def test_wearers_who_do_not_differ_at_all_give_no_bound() -> None:
    with pytest.raises(OutsideRange, match="spread of the wearers' means: found 0, expected a finite number above 0"):
        new_donning_bound([100.0, 100.0], ["A", "B"], 0.95, 0.95)


@pytest.mark.parametrize(
    ("donnings", "between", "runs", "message"),
    [
        ((2,), 0.5, 10, "wearers: found 1 values"),
        ((2, 0), 0.5, 10, "donnings of a wearer: found 0"),
        ((2, 2), -0.5, 10, "share of variance between wearers: found -0.5"),
        ((2, 2), 1.5, 10, "share of variance within wearers: found -0.5"),
        ((2, 2), 0.5, 0, "runs: found 0"),
    ],
)
def test_simulation_outside_its_range(donnings: tuple[int, ...], between: float, runs: int, message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        simulated_coverage(donnings, between, 0.95, 0.95, runs, 1)


def test_every_share_between_wearers_is_a_share() -> None:
    assert all(0 <= share < 1 for share in SHARES_BETWEEN)


def test_deviances_of_many_shares_are_those_of_each() -> None:
    """An identity: the same equation, once for one share and once for all."""
    logs = grouped_logs([120.0, 180.0, 60.0, 900.0, 400.0, 410.0], ["a", "a", "b", "c", "c", "c"])
    shares = np.linspace(0.0, 0.99, 34)
    singly = [_restricted_fit(float(share), logs)[0] for share in shares]
    assert _restricted_deviances(shares, logs) == pytest.approx(singly, rel=1e-13)
