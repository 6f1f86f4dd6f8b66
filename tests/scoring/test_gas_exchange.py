"""Inhaled oxygen and carbon dioxide that belong together: published pairs, intervals, what is refused."""

from __future__ import annotations

from math import sqrt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm
from uncertainties import ufloat

from generator.errors import OutsideRange
from generator.scoring.gas_exchange import gas_exchange_interval, gas_exchange_ratio, stated_interval


@pytest.mark.parametrize(
    ("oxygen", "carbon_dioxide", "ratio"),
    # source: Beeckman, Turner and Campbell 1998, abstract, 0.04 % and 20.94 % outside. The first two are paired there;
    # the others are ranges (16.90 to 18.52 % and 1.98 to 3.69 %), of which the ends are taken as pairs: an assumption.
    [(17.69, 2.78, 0.843), (18.27, 2.21, 0.813), (16.90, 3.69, 0.903), (18.52, 1.98, 0.802)],
)
def test_published_pairs_lie_where_breath_lies(oxygen: float, carbon_dioxide: float, ratio: float) -> None:
    found = gas_exchange_ratio(carbon_dioxide, oxygen, 0.04, 20.94)
    assert found == pytest.approx(ratio, abs=6e-4)
    assert 0.7 < found < 1.0


def test_with_small_uncertainties_the_limits_are_those_of_first_order() -> None:
    # source: uncertainties 3.2.3: ufloat(2.74, 0.005) / ufloat(3.25, 0.006), 1.96 standard deviations to either side
    ratio = ufloat(2.74, 0.005) / ufloat(3.25, 0.006)
    k = norm.ppf(0.975)
    low, high = gas_exchange_interval(2.74, 0.005, 3.25, 0.006, 0.95)
    assert low == pytest.approx(ratio.n - k * ratio.s, rel=2e-5)
    assert high == pytest.approx(ratio.n + k * ratio.s, rel=2e-5)


def test_the_limits_hold_the_ratio_as_often_as_they_say() -> None:
    # source: the law itself: the chance that limits hold a ratio is that of |n - q d| <= k s at the true q, exactly p
    n, d, u_n, u_d = 1.2, 0.9, 0.1, 0.25
    for limit in gas_exchange_interval(n, u_n, d, u_d, 0.9):
        away = abs(n - limit * d) / sqrt(u_n**2 + (limit * u_d) ** 2)
        assert 2 * norm.cdf(away) - 1 == pytest.approx(0.9, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: stated_interval(-1, 1), "share of gas"),
        (lambda: stated_interval(1, 0), "expanded uncertainty"),
        (lambda: gas_exchange_ratio(-1, 20, 0.04, 20.94), "inhaled carbon dioxide"),
        (lambda: gas_exchange_ratio(1, -1, 0.04, 20.94), "inhaled oxygen"),
        (lambda: gas_exchange_ratio(1, 20, -1, 20.94), "carbon dioxide of the room"),
        (lambda: gas_exchange_ratio(1, 20.94, 0.04, 20.94), "oxygen lost"),
        (lambda: gas_exchange_interval(1, 0, 1, 0.1, 0.95), "carbon dioxide gained"),
        (lambda: gas_exchange_interval(1, 0.1, 1, 0, 0.95), "uncertainty of the oxygen lost"),
        (lambda: gas_exchange_interval(1, 0.1, 1, 0.1, 0), "coverage"),
        (lambda: gas_exchange_interval(1, 0.1, 0.19, 0.1, 0.95), "oxygen lost .%., less k times"),
    ],
)
def test_formulas_refuse_what_they_do_not_hold_for(call: Any, message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        call()


@given(st.floats(0.05, 5), st.floats(0.01, 0.5), st.floats(1, 5), st.floats(0.01, 0.2), st.floats(0, 0.1))
def test_more_uncertainty_never_makes_the_interval_narrower(
    gained: float, of_gained: float, lost: float, of_lost: float, more: float
) -> None:
    narrow = gas_exchange_interval(gained, of_gained, lost, of_lost, 0.95)
    wide = gas_exchange_interval(gained, of_gained + more, lost, of_lost + more, 0.95)
    assert narrow[0] <= gained / lost <= narrow[1]
    assert wide[1] - wide[0] >= (narrow[1] - narrow[0]) * (1 - 1e-9)
