"""How many wearers a statement takes: published tables, a general library, directions."""

from __future__ import annotations

import math

import pytest
from scipy import stats

from generator.errors import OutsideRange
from generator.scoring.lognormal import wearers_needed
from generator.scoring.proportions import exact_share_limits, wearers_without_failures
from generator.scoring.sample_sizes import (
    chance_of_so_few_failures,
    pairs_to_tell_apart,
    wearers_for_limits,
    wearers_with_failures,
)

# source: published tables of Wilks sample sizes, first to tenth order (from memory); each is held against scipy 1.17.1
WILKS = {
    (0.95, 0.95): (59, 93, 124, 153, 181, 208, 234, 260, 286, 311),
    (0.90, 0.90): (22, 38, 52, 65, 78, 91, 104, 116, 128, 140),
    (0.90, 0.95): (29, 46, 61, 76, 89, 103, 116, 129, 142, 154),
}
ROWS = [(share, c, k, n) for (share, c), sizes in WILKS.items() for k, n in enumerate(sizes)]


@pytest.mark.parametrize(("share", "confidence", "failures", "wearers"), ROWS)
def test_published_sizes_with_failures(share: float, confidence: float, failures: int, wearers: int) -> None:
    assert wearers_with_failures(failures, share, confidence) == wearers
    # source: scipy 1.17.1: stats.beta.ppf(1 - c, n - k, k + 1), the one-sided exact lower limit of the share
    lower = [stats.beta.ppf(1 - confidence, n - failures, failures + 1) for n in (wearers - 1, wearers)]
    assert lower[0] < share <= lower[1]


# source: the published one-sided tolerance factors for 95 of 100 with 95 % confidence, n = 5 to 50, in three decimals
PUBLISHED_FACTORS = (
    (5, 4.203),
    (6, 3.708),
    (7, 3.399),
    (8, 3.187),
    (10, 2.911),
    (15, 2.566),
    (20, 2.396),
    (25, 2.292),
    (30, 2.220),
    (50, 2.065),
)


@pytest.mark.parametrize(("wearers", "factor"), PUBLISHED_FACTORS)
def test_sizes_of_a_limit_for_wearers_turn_at_the_published_factors(wearers: int, factor: float) -> None:
    # With GSD = e the bound GM / GSD^k(n) reaches 1 where ln GM reaches k(n); the last printed digit is left open.
    for shift, enough in ((0.0006, True), (-0.0006, False)):
        needed = wearers_needed(math.exp(factor + shift), math.e, 0.95, 0.95, 1.0)
        assert needed is not None
        assert (needed <= wearers) is enough


def test_a_share_without_failures_as_printed() -> None:
    # source: one-sided Clopper-Pearson 95 % limit of 35 in 35, 0.917968: with 35 wearers that share and no larger one
    assert wearers_without_failures(0.917968, 0.95) == 35
    assert wearers_without_failures(0.917970, 0.95) == 36


@pytest.mark.parametrize(("share", "confidence"), [(0.95, 0.95), (0.9, 0.9), (0.9, 0.95), (0.99, 0.95), (0.5, 0.75)])
def test_without_failures_it_is_the_closed_form(share: float, confidence: float) -> None:
    # source: two ways to one number, a sum of binomial terms and logarithms
    assert wearers_with_failures(0, share, confidence) == wearers_without_failures(share, confidence)


def test_it_is_the_exact_limit_turned_round() -> None:
    # source: the exact interval of coverage 2 c - 1 has the one-sided limit of confidence c
    for failures in range(6):
        wearers = wearers_with_failures(failures, 0.9, 0.95)
        assert exact_share_limits(wearers - failures, wearers, 0.9)[0] >= 0.9
        assert exact_share_limits(wearers - 1 - failures, wearers - 1, 0.9)[0] < 0.9


def test_more_failures_a_larger_share_and_more_confidence_take_more_wearers() -> None:
    # source: direction of the definition
    by_failures = [wearers_with_failures(failures, 0.9, 0.9) for failures in range(20)]
    by_share = [wearers_with_failures(1, share / 100, 0.9) for share in range(50, 99)]
    by_confidence = [wearers_with_failures(1, 0.9, confidence / 100) for confidence in range(50, 99)]
    for sizes in (by_failures, by_share, by_confidence):
        assert sizes == sorted(sizes)
        assert sizes[0] < sizes[-1]


@pytest.mark.parametrize(("failures", "wearers", "share"), [(0, 59, 0.95), (1, 93, 0.95), (3, 20, 0.8)])
def test_chance_of_so_few_failures(failures: int, wearers: int, share: float) -> None:
    # source: scipy 1.17.1: stats.binom.cdf(k, n, 1 - q)
    expected = stats.binom.cdf(failures, wearers, 1 - share)
    assert chance_of_so_few_failures(failures, wearers, share) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("deviation", [1.1, 1.5, 2.0, 3.0])
@pytest.mark.parametrize("times", [1.2, 1.5, 2.0])
def test_wearers_for_limits(deviation: float, times: float) -> None:
    wearers = wearers_for_limits(deviation, 0.95, times)
    assert wearers is not None

    def half(number: int) -> float:
        # source: scipy 1.17.1: stats.t.interval(0.95, n - 1, scale=ln(GSD)/sqrt(n)), Student's interval of a mean
        return float(stats.t.interval(0.95, number - 1, scale=math.log(deviation) / math.sqrt(number))[1])

    assert half(wearers) <= math.log(times)
    assert wearers == 2 or half(wearers - 1) > math.log(times)


def test_where_a_thousand_would_not_do_no_number_is_named() -> None:
    assert wearers_for_limits(20.0, 0.95, 1.1) is None


@pytest.mark.parametrize(("differences", "pairs"), [(1, 6), (2, 7), (3, 7), (4, 8), (10, 9), (28, 11)])
def test_pairs_that_can_tell_apart(differences: int, pairs: int) -> None:
    assert pairs_to_tell_apart(differences, 0.05) == pairs
    # source: scipy 1.17.1: stats.wilcoxon of pairs that all have one sign, times the number of differences (Holm)
    least = [differences * stats.wilcoxon(range(1, number + 1), method="exact").pvalue for number in (pairs - 1, pairs)]
    assert least[0] > 0.05 >= least[1]


def test_numbers_outside_their_range() -> None:
    with pytest.raises(OutsideRange, match="wearers who do not reach the level: found -1"):
        wearers_with_failures(-1, 0.9, 0.9)
    with pytest.raises(OutsideRange, match="coverage: found 1, expected more than 0 and less than 1"):
        wearers_with_failures(0, 1, 0.9)
    with pytest.raises(OutsideRange, match="wearers: found 0"):
        chance_of_so_few_failures(0, 0, 0.9)
    with pytest.raises(OutsideRange, match="logarithm of the geometric standard deviation: found 0"):
        wearers_for_limits(1.0, 0.95, 1.5)
    with pytest.raises(OutsideRange, match="logarithm of the factor: found 0"):
        wearers_for_limits(2.0, 0.95, 1.0)
    with pytest.raises(OutsideRange, match="differences: found 0"):
        pairs_to_tell_apart(0, 0.05)
