"""Over-breathing in closed form against quadrature and published values; directions and limits; stored air."""

from __future__ import annotations

import csv
import io
import math
import timeit
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.loading import load_reference
from generator.model.work_level import WorkLevel
from generator.scoring.over_breathing import (
    cleaner_at_best,
    covered_minute_volume,
    over_breathed_a_breath,
    over_breathed_a_minute,
    over_breathed_percent,
    over_breathed_time,
)
from generator.scoring.stored_air import (
    beyond_stored_air,
    inhaling_part,
    mixed_share,
    supplied_while_exhaling,
    times_cleaner,
)
from tests.scoring.oracle_over_breathing import mixed_share_step_by_step, share_by_quadrature

# source: computed from the closed form by an independent script of the shared reference and checked there by
# quadrature: supply L/min, minute volume L/min, r = Q / (pi VE), F; a sine that takes half of the breath.
GRID = """\
115,10,3.66056,0.0
115,35,1.04588,0.0
115,50,0.73211,0.132554
115,65,0.56316,0.27862
115,85,0.43065,0.417781
115,105,0.34863,0.51379
115,135,0.27115,0.611066
170,10,5.41127,0.0
170,35,1.54608,0.0
170,50,1.08225,0.0
170,65,0.8325,0.065187
170,85,0.63662,0.210514
170,105,0.51536,0.32648
170,135,0.40083,0.451836
200,10,6.3662,0.0
200,35,1.81891,0.0
200,50,1.27324,0.0
200,65,0.97942,0.002787
200,85,0.74896,0.120136
200,105,0.6063,0.237802
200,135,0.47157,0.372662
240,10,7.63944,0.0
240,35,2.1827,0.0
240,50,1.52789,0.0
240,65,1.1753,0.0
240,85,0.89876,0.030528
240,105,0.72757,0.135977
240,135,0.56588,0.275978
"""
ROWS = [tuple(map(float, row)) for row in csv.reader(io.StringIO(GRID))]

FLOWS = st.floats(0, 400)
PEAKS = st.floats(5, 600)
VOLUMES = st.floats(0.05, 50)
LEVELS = load_reference().work_levels


@pytest.mark.parametrize(("supply", "minute_volume", "_ratio", "share"), ROWS)
def test_the_grid_of_the_shared_reference(supply: float, minute_volume: float, _ratio: float, share: float) -> None:
    assert over_breathed_percent(supply, math.pi * minute_volume) == pytest.approx(100 * share, abs=6e-5)


@given(FLOWS, PEAKS)
def test_the_closed_form_agrees_with_quadrature(supply: float, peak: float) -> None:
    # source: scipy 1.17.1, integrate.quad
    assert over_breathed_percent(supply, peak) == pytest.approx(100 * share_by_quadrature(supply, peak), abs=1e-7)


@pytest.mark.parametrize(
    ("supply", "peak", "share"),
    [
        # source: the published peaks, with the closed form by scipy 1.17.1 integrate.quad of the half sine
        (17.0, 31.0, 29.312281),
        (170.0, 266.0, 20.833532),
        (170.0, 169.0, 0.0),
    ],
)
def test_a_tenth_of_the_usual_supply_is_over_breathed_at_rest_and_the_whole_when_speaking(
    supply: float, peak: float, share: float
) -> None:
    assert over_breathed_percent(supply, peak) == pytest.approx(share, rel=1e-7)


@pytest.mark.parametrize(
    ("ratio", "share"),
    # source: derived and checked by quadrature in the shared reference
    [
        (0.1, 0.847925),
        (0.25, 0.638717),
        (0.5, 0.342427),
        (0.67, 0.181847),
        (0.75, 0.119387),
        (0.9, 0.029966),
        (0.99, 0.000943),
    ],
)
def test_shares_by_the_ratio_of_supply_to_peak(ratio: float, share: float) -> None:
    assert over_breathed_percent(100 * ratio, 100) == pytest.approx(100 * share, abs=6e-5)


def test_just_below_the_peak_it_goes_as_the_power_of_three_halves() -> None:
    # source: series of the closed form about r = 1, shared reference: F = (2 sqrt 2 / 3) (1 - r)^1.5
    assert over_breathed_percent(99.99, 100) == pytest.approx(100 * 2 * math.sqrt(2) / 3 * 1e-4**1.5, rel=1e-3)


@given(FLOWS, FLOWS, PEAKS)
def test_more_supply_never_raises_what_comes_from_outside(one: float, other: float, peak: float) -> None:
    less, more = sorted((one, other))
    assert over_breathed_percent(more, peak) <= over_breathed_percent(less, peak) + 1e-9
    assert over_breathed_time(more, peak) <= over_breathed_time(less, peak) + 1e-9


@given(FLOWS, PEAKS, PEAKS)
def test_harder_work_never_lowers_it(supply: float, one: float, other: float) -> None:
    lighter, harder = sorted((one, other))
    assert over_breathed_percent(supply, lighter) <= over_breathed_percent(supply, harder) + 1e-9


@given(FLOWS, PEAKS)
def test_a_share_is_between_none_and_all(supply: float, peak: float) -> None:
    assert 0 <= over_breathed_percent(supply, peak) <= 100
    assert 0 <= over_breathed_time(supply, peak) <= 100
    assert (over_breathed_percent(supply, peak) == 0) >= (supply >= peak)


@pytest.mark.parametrize(
    ("supply", "ratio", "covered"),
    [
        # source: shared reference, Q / pi and the published ratios 2.4 and 3.9, given to a tenth
        (115, math.pi, 36.6),
        (170, math.pi, 54.1),
        (170, 2.4, 70.8),
        (170, 3.9, 43.6),
    ],
)
def test_the_largest_minute_volume_covered(supply: float, ratio: float, covered: float) -> None:
    assert covered_minute_volume(supply, ratio) == pytest.approx(covered, abs=0.05)
    assert over_breathed_percent(supply, ratio * covered_minute_volume(supply, ratio) * (1 - 1e-12)) == 0
    assert over_breathed_percent(supply, ratio * covered_minute_volume(supply, ratio) * 1.01) > 0


def test_published_volumes_of_a_breath() -> None:
    # source: Bergman et al. 2017 (abstract): supplies of 185, 210 and 235 L/min at 88 L/min, with 30 breaths a minute
    # assumed; worked by quadrature in the shared reference: 0.535, 0.330 and 0.162 L, and 1/F of 5.5, 8.9 and 18.1.
    for supply, litres, factor in ((185, 0.535, 5.5), (210, 0.330, 8.9), (235, 0.162, 18.1)):
        percent = over_breathed_percent(supply, math.pi * 88)
        assert over_breathed_a_breath(percent, 88, 30) == pytest.approx(litres, abs=6e-4)
        assert over_breathed_a_minute(percent, 88) == pytest.approx(30 * litres, abs=0.02)
        assert cleaner_at_best(percent) == pytest.approx(factor, abs=0.06)


def test_a_protection_factor_times_the_contaminated_volume_is_a_breath() -> None:
    # source: Johnson et al. 2011 (abstract): a factor of 1.1 and 2.02 L of outside air in a breath; a breath of 2.22 L
    assert cleaner_at_best(100 * 2.02 / 2.22) == pytest.approx(1.1, rel=1e-2)
    assert beyond_stored_air(2.22, 0.20) == pytest.approx(2.02, rel=1e-12)


# Stored air, well mixed.


@pytest.mark.parametrize(
    ("volume", "share"),
    # source: periodic Runge-Kutta solution of the shared reference: Q = 185, VE = 88, f = 30, a sine, e = 0
    [(0.5, 0.1651), (1, 0.1335), (2, 0.0939), (5, 0.0642), (50, 0.0557)],
)
def test_the_table_of_mixed_hoods(volume: float, share: float) -> None:
    assert mixed_share(185, 88, math.pi * 88, 30, volume, 0) == pytest.approx(share, abs=6e-5)


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: level.id)
@pytest.mark.parametrize(("supply", "volume", "returned"), [(17.0, 6.0, 1.0), (120.0, 2.0, 0.0)])
def test_one_breath_by_integrating_factors_is_many_by_a_general_solver(
    level: WorkLevel, supply: float, volume: float, returned: float
) -> None:
    # source: scipy 1.17.1, integrate.solve_ivp, breath after breath
    case = (supply, level.minute_volume, level.peak, 20.0, volume, returned)
    assert mixed_share(*case) == pytest.approx(mixed_share_step_by_step(*case), abs=1e-7)


@settings(max_examples=200)
@given(st.sampled_from(LEVELS), FLOWS, VOLUMES, VOLUMES, st.floats(5, 60))
def test_stored_air_never_makes_it_worse(
    level: WorkLevel, supply: float, one: float, other: float, breaths: float
) -> None:
    demand = (supply, level.minute_volume, level.peak, breaths)
    less, more = sorted((one, other))
    without = over_breathed_percent(supply, level.peak) / 100
    assert mixed_share(*demand, more, 0.0) <= mixed_share(*demand, less, 0.0) + 1e-9
    assert mixed_share(*demand, less, 0.0) <= mixed_share(*demand, less, 1.0) + 1e-9
    assert mixed_share(*demand, less, 0.0) <= without + 1e-9
    # Particles that were breathed out wait in the hood for the next breath: the general solver finds 0.99187 where
    # 0.99183 are over-breathed, and no more than 0.0011 above in 60 000 cases drawn at random.
    assert mixed_share(*demand, less, 1.0) <= without + 2e-3
    assert beyond_stored_air(1.0, more) <= beyond_stored_air(1.0, less)


@pytest.mark.parametrize("returned", [0.0, 1.0])
def test_a_hood_that_holds_nothing_is_the_closed_form(returned: float) -> None:
    without = over_breathed_percent(120, 266) / 100
    assert mixed_share(120, 45.1, 266, 20, 1e-6, returned) == pytest.approx(without, rel=1e-6)


def test_an_endless_hood_is_the_balance_of_volumes() -> None:
    # source: shared reference: V_ob / (V_ob + Q T + VT), 0.0556 for these
    tidal = 88 / 30
    over = tidal * over_breathed_percent(185, math.pi * 88) / 100
    expected = over / (over + 185 / 30 + tidal)
    assert mixed_share(185, 88, math.pi * 88, 30, 1e5, 0) == pytest.approx(expected, rel=1e-4)
    assert expected == pytest.approx(0.0556, abs=6e-5)


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: level.id)
def test_every_printed_demand_leaves_time_for_breathing_out(level: WorkLevel) -> None:
    part = inhaling_part(level.minute_volume, level.peak)
    assert 0.2 < part < 0.7
    # By definition: what is supplied in the rest of the breath.
    assert supplied_while_exhaling(100, level.minute_volume, level.peak, 20) == pytest.approx(5 * (1 - part), rel=1e-12)


def test_mixed_air_is_quickly_reckoned() -> None:
    # A catalogue asks for it 14 times for each flow run; 400 runs are to take less than a few seconds.
    assert timeit.timeit(lambda: mixed_share(120, 45.1, 266, 20, 2, 1), number=50) / 50 < 0.01


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (lambda: over_breathed_percent(-1, 31), r"supply flow \[L/min\]: found -1"),
        (lambda: over_breathed_percent(17, 0), r"peak inspiratory flow \[L/min\]: found 0"),
        (lambda: over_breathed_time(math.nan, 31), r"supply flow \[L/min\]: found nan"),
        (lambda: over_breathed_time(17, -31), r"peak inspiratory flow \[L/min\]: found -31"),
        (lambda: over_breathed_a_minute(101, 8), r"share \[%\]: found 101, expected 0 to 100"),
        (lambda: over_breathed_a_minute(10, 0), r"minute volume \[L/min\]: found 0"),
        (lambda: over_breathed_a_breath(-1, 8, 20), r"share \[%\]: found -1, expected 0 to 100"),
        (lambda: over_breathed_a_breath(10, 0, 20), r"minute volume \[L/min\]: found 0"),
        (lambda: over_breathed_a_breath(10, 8, 0), r"breaths a minute: found 0"),
        (lambda: cleaner_at_best(0), r"share \[%\]: found 0"),
        (lambda: cleaner_at_best(100.1), r"share \[%\]: found 100.1, expected 0 to 100"),
        (lambda: covered_minute_volume(-1, 3), r"supply flow \[L/min\]: found -1"),
        (lambda: covered_minute_volume(17, 0), r"peak over minute volume: found 0"),
        (lambda: inhaling_part(0, 31), r"minute volume \[L/min\]: found 0"),
        (lambda: inhaling_part(8, 0), r"peak inspiratory flow \[L/min\]: found 0"),
        (lambda: inhaling_part(20, 31), r"left for breathing out: found -0.01"),
        (lambda: supplied_while_exhaling(-1, 8, 31, 20), r"supply flow \[L/min\]: found -1"),
        (lambda: supplied_while_exhaling(17, 8, 31, 0), r"breaths a minute: found 0"),
        (lambda: beyond_stored_air(-1, 2), r"over-breathed volume \[L\]: found -1"),
        (lambda: beyond_stored_air(1, 0), r"volume of the hood \[L\]: found 0"),
        (lambda: mixed_share(-1, 8, 31, 20, 2, 0), r"supply flow \[L/min\]: found -1"),
        (lambda: mixed_share(17, 8, 31, 0, 2, 0), r"breaths a minute: found 0"),
        (lambda: mixed_share(17, 8, 31, 20, 0, 0), r"volume of the hood \[L\]: found 0"),
        (lambda: mixed_share(17, 8, 31, 20, 2, 1.1), r"breathed out: found 1.1, expected 0 to 1"),
        (lambda: times_cleaner(0), r"concentration outside: found 0"),
        (lambda: times_cleaner(1.1), r"concentration outside: found 1.1, expected 0 to 1"),
    ],
)
def test_outside_its_range_nothing_is_computed(wrong: Callable[[], float], words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        wrong()
