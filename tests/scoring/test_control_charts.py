"""Limits of control charts and means of check readings: directions, symmetry, and where the formulas do not hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.scoring.control_charts import control_limits, mean_interval

CENTRES = st.floats(min_value=-1e6, max_value=1e6)
DEVIATIONS = st.floats(min_value=1e-6, max_value=1e6)


def test_the_worked_example_of_a_handbook() -> None:
    # source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.2, individuals chart: mean 50.81, mean moving range
    # 1.8778, d2 = 1.128; control limits 45.8159 and 55.8041 (from memory)
    action_low, _, _, action_high = control_limits(50.81, 1.8778 / 1.128)
    assert (action_low, action_high) == pytest.approx((45.8159, 55.8041), abs=5e-5)


@given(centre=CENTRES, deviation=DEVIATIONS)
def test_limits_stand_in_order_and_as_far_to_either_side(centre: float, deviation: float) -> None:
    action_low, warning_low, warning_high, action_high = control_limits(centre, deviation)
    assert action_low <= warning_low <= centre <= warning_high <= action_high
    slack = 1e-9 * max(abs(centre), deviation)
    assert centre - action_low == pytest.approx(action_high - centre, abs=slack)
    assert centre - warning_low == pytest.approx(warning_high - centre, abs=slack)


def test_more_scatter_gives_wider_limits() -> None:
    narrow, wide = control_limits(50, 0.4), control_limits(50, 0.5)
    assert wide[0] < narrow[0]
    assert wide[3] > narrow[3]


@pytest.mark.parametrize("deviation", [0.0, -0.1, float("nan"), float("inf")])
def test_limits_need_a_scatter(deviation: float) -> None:
    with pytest.raises(OutsideRange, match=r"standard deviation: found .*, expected a finite number above 0"):
        control_limits(50, deviation)


def test_a_mean_lies_in_the_middle_of_its_interval_and_a_higher_coverage_widens_it() -> None:
    readings = [49.8, 50.3, 50.1, 49.7]
    mean, low, high = mean_interval(readings, 0.95)
    # source: arithmetic by hand, 199.9 / 4
    assert mean == pytest.approx(49.975, rel=1e-12)
    assert mean - low == pytest.approx(high - mean, rel=1e-9)
    _, lower, higher = mean_interval(readings, 0.99)
    assert lower < low
    assert higher > high


def test_a_mean_with_an_interval_needs_two_readings_and_a_coverage() -> None:
    with pytest.raises(OutsideRange, match="readings: found 1 values, expected at least 2"):
        mean_interval([50.0], 0.95)
    with pytest.raises(OutsideRange, match="coverage: found 1, expected more than 0 and less than 1"):
        mean_interval([50.0, 51.0], 1.0)
