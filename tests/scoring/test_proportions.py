"""Shares of wearers: published pass rates, printed intervals, and how often the exact interval holds."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from scipy import stats

from generator.errors import OutsideRange
from generator.scoring.proportions import (
    exact_share_limits,
    score_share_limits,
    share_without_failures,
    wearers_without_failures,
)

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("row", rows("published_pass_rates.csv"), ids=lambda row: row["group"])
def test_published_pass_rate_agrees_with_a_general_library(row: dict[str, str]) -> None:
    # source: data/published_pass_rates.csv; scipy 1.17.1: stats.binomtest(k, n).proportion_ci(0.95, method)
    passed, tested = int(row["passed"]), int(row["tested"])
    # source: the rate that its paper prints, to the digits printed
    assert 100 * passed / tested == pytest.approx(float(row["printed_rate_pct"]), abs=0.5)
    test = stats.binomtest(passed, tested)
    assert exact_share_limits(passed, tested, 0.95) == pytest.approx(tuple(test.proportion_ci(0.95, "exact")))
    assert score_share_limits(passed, tested, 0.95) == pytest.approx(tuple(test.proportion_ci(0.95, "wilson")))


@pytest.mark.parametrize(
    ("reached", "wearers", "low", "high"),
    [
        # source: statsmodels 0.15.0: stats.proportion.proportion_confint(k, n, method="beta"), edges
        (0, 10, 0.0, 0.308497),
        (0, 30, 0.0, 0.115703),
        (25, 25, 0.862815, 1.0),
        (35, 35, 0.899968, 1.0),
        (24, 25, 0.796483, 0.998988),
        (4, 29, 0.038895, 0.316641),
    ],
)
def test_exact_limits_at_their_edges(reached: int, wearers: int, low: float, high: float) -> None:
    assert exact_share_limits(reached, wearers, 0.95) == pytest.approx((low, high), abs=5e-7)


@pytest.mark.parametrize("wearers", [1, 5, 10, 25])
def test_a_failing_wearer_never_raises_a_limit(wearers: int) -> None:
    # source: direction of the definition
    for limits in (exact_share_limits, score_share_limits):
        found = [limits(reached, wearers, 0.95) for reached in range(wearers + 1)]
        assert found == sorted(found)
        more = [limits(wearers, wearers + failing, 0.95) for failing in range(5)]
        assert more == sorted(more, reverse=True)


@pytest.mark.parametrize("wearers", [5, 10, 25])
@pytest.mark.parametrize("share", [0.02, 0.1, 0.5, 0.87, 0.99])
def test_exact_limits_hold_at_least_as_often_as_they_say(share: float, wearers: int) -> None:
    # source: scipy 1.17.1: stats.binom.pmf summed over the counts whose limits hold the share; no simulation is needed
    held = 0.0
    for reached in range(wearers + 1):
        low, high = exact_share_limits(reached, wearers, 0.95)
        held += float(stats.binom.pmf(reached, wearers, share)) * (low <= share <= high)
    assert held >= 0.95 - 1e-12


def test_without_failures_it_is_the_one_sided_exact_limit() -> None:
    # source: statsmodels 0.15.0: stats.proportion.proportion_confint(35, 35, alpha=0.1, method="beta"), lower limit
    assert share_without_failures(35, 0.95) == pytest.approx(0.917968, abs=5e-7)
    assert share_without_failures(35, 0.95) == pytest.approx(exact_share_limits(35, 35, 0.9)[0], rel=1e-12)


@pytest.mark.parametrize(
    ("share", "confidence", "wearers"),
    [
        # source: published sample sizes without failures (from memory), and exact powers
        (0.95, 0.95, 59),
        (0.90, 0.90, 22),
        (0.90, 0.95, 29),
        (0.99, 0.95, 299),
        (0.5, 0.75, 2),
    ],
)
def test_wearers_who_must_all_reach_it(share: float, confidence: float, wearers: int) -> None:
    assert wearers_without_failures(share, confidence) == wearers
    assert share_without_failures(wearers, confidence) >= share > share_without_failures(wearers - 1, confidence)


@pytest.mark.parametrize(
    ("reached", "wearers", "message"),
    [
        (0, 0, "wearers: found 0, expected a finite number above 0"),
        (-1, 5, "wearers who reached the level: found -1"),
        (6, 5, "wearers who did not reach the level: found -1"),
    ],
)
def test_counts_that_cannot_be(reached: int, wearers: int, message: str) -> None:
    for limits in (exact_share_limits, score_share_limits):
        with pytest.raises(OutsideRange, match=message):
            limits(reached, wearers, 0.95)


def test_confidence_outside_its_range() -> None:
    with pytest.raises(OutsideRange, match="coverage: found 1, expected more than 0 and less than 1"):
        share_without_failures(5, 1)
    with pytest.raises(OutsideRange, match="wearers: found 0"):
        share_without_failures(0, 0.95)
    with pytest.raises(OutsideRange, match="coverage: found 0, expected more than 0 and less than 1"):
        wearers_without_failures(0, 0.95)
