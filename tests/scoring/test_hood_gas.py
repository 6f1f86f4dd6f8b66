"""Carbon dioxide and oxygen of a hood's mixed air: published values, the differential equation, directions."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from generator.errors import OutsideRange
from generator.loading import load_reference
from generator.model.work_gas import StatedGas
from generator.scoring.hood_gas import (
    carbon_dioxide_from_oxygen,
    least_supply,
    mixed_hood_carbon_dioxide,
    mixed_hood_oxygen,
    sealed_hood_time,
)
from generator.scoring.hood_gas_figures import tabled_production

LEVELS = load_reference().work_gas


@pytest.mark.parametrize(
    ("production", "supply", "carbon_dioxide", "oxygen"),
    # source: computed from the closed form by an independent script, shared reference: production of Persily and de
    # Jonge 2017, Table 4 (men of 30 to 40 years at 1, 1.2, 2 and 4 met), 0.04 % outside, 20.94 % oxygen, quotient 0.85
    [
        (0.222, 30, 0.78, 20.0694),
        (0.222, 170, 0.1706, 20.7864),
        (0.276, 60, 0.5, 20.3988),
        (0.276, 240, 0.155, 20.8047),
        (0.456, 30, 1.56, 19.1518),
        (0.456, 115, 0.4365, 20.4735),
        (0.912, 30, 3.08, 17.3635),
        (0.912, 170, 0.5765, 20.3089),
        (0.912, 200, 0.496, 20.4035),
    ],
)
def test_steady_state_of_both_gases(production: float, supply: float, carbon_dioxide: float, oxygen: float) -> None:
    assert mixed_hood_carbon_dioxide(0.04, production, supply) == pytest.approx(carbon_dioxide, rel=2e-4)
    assert mixed_hood_oxygen(20.94, production, 0.85, supply) == pytest.approx(oxygen, rel=5e-6)


@pytest.mark.parametrize(
    ("uptake", "quotient", "percent"),
    # source: worked out from quotient times uptake at 170 L/min, without the room's own share: 0.5, 1.06 and 1.76 %,
    # with 0.04 % 0.54, 1.10 and 1.81 % (shared reference, three digits)
    [(1.0, 0.85, 0.54), (2.0, 0.90, 1.10), (3.0, 1.0, 1.81)],
)
def test_heavy_work_raises_carbon_dioxide_above_one_percent(uptake: float, quotient: float, percent: float) -> None:
    production = carbon_dioxide_from_oxygen(uptake, quotient)
    assert mixed_hood_carbon_dioxide(0.04, production, 170) == pytest.approx(percent, abs=0.006)


def test_the_steady_state_is_where_the_differential_equation_ends() -> None:
    # source: scipy 1.17.1: solve_ivp of V dC/dt = 100 G - Q (C - C_a) over many time constants
    volume, room, production, supply = 6.0, 0.05, 0.5, 80.0
    solved = solve_ivp(
        lambda _, share: [(100 * production - supply * (share[0] - room)) / volume],
        (0, 40 * volume / supply),
        [room],
        rtol=1e-11,
        atol=1e-12,
    )
    assert mixed_hood_carbon_dioxide(room, production, supply) == pytest.approx(solved.y[0, -1], rel=1e-8)


@pytest.mark.parametrize(
    ("production", "to_one", "to_three"),
    # source: 5 L from 0.2 %: 8.7 and 30 s at 0.276 L/min, 2.8 and 9.9 s at 0.85 L/min (shared reference, two digits)
    [(0.276, 8.7, 30), (0.85, 2.8, 9.9)],
)
def test_a_sealed_hood(production: float, to_one: float, to_three: float) -> None:
    assert sealed_hood_time(5, 0.2, 1, production) == pytest.approx(to_one, rel=0.01)
    assert sealed_hood_time(5, 0.2, 3, production) == pytest.approx(to_three, rel=0.02)


@pytest.mark.parametrize(
    ("inside", "room", "most"),
    # source: Echt and others 1998, abstract: means of 0.55 and 1.17 % inside, 0.045 % in the room on the mean; with at
    # most 0.69 L/min given off, at most 137 and 62 L/min of fresh air (derived with room air of 0.0375 to 0.0575 %)
    [(0.55, 0.045, 137), (1.17, 0.0575, 62)],
)
def test_published_means_inside_surgical_helmets_imply_their_dilution(inside: float, room: float, most: float) -> None:
    assert least_supply(room, 0.69, inside) == pytest.approx(most, rel=0.005)


def test_one_percent_at_four_met_asks_for_89_litres_a_minute() -> None:
    # source: 1 % and 0.85 L/min: 89 L/min (shared reference, two digits)
    assert least_supply(0.04, 0.85, 1.0) == pytest.approx(89, rel=0.006)


def test_levels_of_work_are_those_of_the_published_table() -> None:
    # source: Persily and de Jonge 2017, Table 4, men of 30 to <40 years: 0.0037, 0.0046, 0.0076 and 0.0152 L/s at 1.0,
    # 1.2, 2 and 4 met, at 0 degC
    table = {"desk-work": (1.2, 0.0046), "light": (2.0, 0.0076), "moderate": (4.0, 0.0152)}
    for name, (met, litres_a_second) in table.items():
        assert LEVELS[name].stated is StatedGas.CARBON_DIOXIDE
        tabled = LEVELS[name].flow
        assert tabled.to("L/min") == pytest.approx(60 * litres_a_second, rel=1e-12)
        # The table is linear in met within its rounding to 0.0001 L/s: 0.0038 L/s for each.
        assert tabled.to("L/s") == pytest.approx(0.0038 * met, abs=1e-4)


def test_levels_of_work_rise_and_those_by_oxygen_have_their_published_quotients() -> None:
    production = [tabled_production(level).value for level in LEVELS.values()]
    # source: uptakes of 2 and 3 L/min with quotients of 0.90 and 1.0: 1.8 and 3.0 L/min, by arithmetic
    assert production == pytest.approx([0.276, 0.456, 0.912, 1.8, 3.0], rel=1e-12)
    assert [level.everyday for level in LEVELS.values()] == [True, True, True, False, False]
    assert [level.quotient for level in LEVELS.values()] == [0.85, 0.85, 0.85, 0.9, 1.0]


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: carbon_dioxide_from_oxygen(0, 0.9), "oxygen uptake"),
        (lambda: carbon_dioxide_from_oxygen(1, 0), "respiratory quotient"),
        (lambda: mixed_hood_carbon_dioxide(-0.1, 1, 1), "carbon dioxide of the room"),
        (lambda: mixed_hood_carbon_dioxide(0, 0, 1), "carbon dioxide given off"),
        (lambda: mixed_hood_carbon_dioxide(0, 1, 0), "supply flow"),
        (lambda: mixed_hood_oxygen(0, 1, 1, 1), "oxygen of fresh air"),
        (lambda: mixed_hood_oxygen(20, 0, 1, 1), "carbon dioxide given off"),
        (lambda: mixed_hood_oxygen(20, 1, 0, 1), "respiratory quotient"),
        (lambda: mixed_hood_oxygen(20, 1, 1, 0), "supply flow"),
        (lambda: least_supply(-1, 1, 1), "carbon dioxide of the room"),
        (lambda: least_supply(0, 0, 1), "carbon dioxide given off"),
        (lambda: least_supply(1, 1, 1), "limit less the carbon dioxide of the room"),
        (lambda: sealed_hood_time(0, 0, 1, 1), "air in the hood"),
        (lambda: sealed_hood_time(1, -1, 1, 1), "carbon dioxide at the start"),
        (lambda: sealed_hood_time(1, 1, 1, 1), "limit less the start"),
        (lambda: sealed_hood_time(1, 0, 1, 0), "carbon dioxide given off"),
    ],
)
def test_formulas_refuse_what_they_do_not_hold_for(call: Any, message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        call()


FLOWS, GIVEN_OFF = st.floats(1, 500), st.floats(0.1, 4)


@given(FLOWS, st.floats(0, 500), GIVEN_OFF)
def test_more_flow_never_raises_carbon_dioxide_nor_lowers_oxygen(supply: float, more: float, production: float) -> None:
    low, high = (mixed_hood_carbon_dioxide(0.04, production, flow) for flow in (supply + more, supply))
    assert low <= high
    assert mixed_hood_oxygen(20.94, production, 0.85, supply + more) >= mixed_hood_oxygen(
        20.94, production, 0.85, supply
    )


@given(FLOWS, GIVEN_OFF, st.floats(0, 4))
def test_a_heavier_load_never_lowers_carbon_dioxide_nor_raises_oxygen(
    supply: float, production: float, more: float
) -> None:
    loads = (production, production + more)
    light, heavy = (mixed_hood_carbon_dioxide(0.04, load, supply) for load in loads)
    assert light <= heavy
    before, after = (mixed_hood_oxygen(20.94, load, 0.85, supply) for load in loads)
    assert after <= before


@given(GIVEN_OFF, st.floats(0, 0.9))
def test_the_least_supply_holds_the_limit_to_the_last_digits(production: float, room: float) -> None:
    held = mixed_hood_carbon_dioxide(room, production, least_supply(room, production, 1.0))
    assert held == pytest.approx(1.0, rel=1e-12)
    assert np.isfinite(held)
