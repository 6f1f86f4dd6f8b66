"""Air's density, other conditions, straight lines, uncertainties, and the blower's curve, by outside values."""

from __future__ import annotations

import math

import fluids
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import optimize, stats

from generator.errors import OutsideRange
from generator.scoring.flow_trends import (
    change_limits,
    change_over_run,
    coefficient_of_variation,
    least_squares_slope,
    slope_uncertainty,
)
from generator.scoring.gas_conditions import flow_at_stated_conditions, flow_from_scale_reading
from generator.scoring.meter_back_pressure import flow_without_meter, system_resistance
from generator.scoring.moist_air import moist_air_density, saturation_pressure
from generator.scoring.uncertainty_components import (
    drift_limit,
    rectangular_uncertainty,
    resolution_uncertainty,
    stated_uncertainty,
    uncertainty_contribution,
    widened_coverage_factor,
)
from generator.scoring.valid_range import require_between


# source: CoolProp, humid air, and where it has none CIPM-2007 at full length; shared reference, [Pa, degC, 1, kg/m3]
@pytest.mark.parametrize(
    ("pascal", "celsius", "humidity", "density"),
    [
        (101325, 20, 0.5, 1.199359),
        (101325, 20, 0.0, 1.204603),
        (101325, 25, 0.5, 1.177360),
        (101325, 37, 1.0, 1.111881),
        (100000, 20, 0.5, 1.183557),
        (101325, 0, 0.0, 1.293049),
        (90000, 20, 0.5, 1.064638),
    ],
)
def test_density_of_moist_air(pascal: float, celsius: float, humidity: float, density: float) -> None:
    assert moist_air_density(celsius + 273.15, pascal, humidity) == pytest.approx(density, rel=6e-4)


@pytest.mark.parametrize("height", [0, 500, 1000, 2000, 3000])
def test_density_of_dry_air_and_a_float_meter_in_the_standard_atmosphere(height: float) -> None:
    # source: fluids 1.3.1, ATMOSPHERE_1976(height).rho
    ground, there = fluids.ATMOSPHERE_1976(0), fluids.ATMOSPHERE_1976(height)
    assert moist_air_density(there.T, there.P, 0) == pytest.approx(there.rho, rel=1e-4)
    flow = flow_from_scale_reading(50, moist_air_density(ground.T, ground.P, 0), moist_air_density(there.T, there.P, 0))
    assert flow == pytest.approx(50 * math.sqrt(ground.rho / there.rho), rel=1e-6)
    stated = flow_at_stated_conditions(100, there.T, there.P, ground.T, ground.P)
    assert stated == pytest.approx(100 * there.rho / ground.rho, rel=1e-5)


@given(st.floats(240, 340), st.floats(6e4, 1.1e5), st.floats(0, 0.9))
def test_damp_air_is_lighter(kelvin: float, pascal: float, humidity: float) -> None:
    assert moist_air_density(kelvin, pascal, humidity + 0.1) < moist_air_density(kelvin, pascal, humidity)


# source: scipy 1.17.1, stats.linregress and stats.t
@given(st.lists(st.floats(50, 300), min_size=3, max_size=12))
def test_a_line_through_readings_agrees_with_a_general_library(flows: list[float]) -> None:
    assume(max(flows) - min(flows) > 1e-3)
    places = [float(number) for number in range(1, len(flows) + 1)]
    other = stats.linregress(places, flows)
    slope, uncertainty = least_squares_slope(places, flows), slope_uncertainty(places, flows)
    assert slope == pytest.approx(float(other.slope), rel=1e-6, abs=1e-9)
    # What the other library takes off a correlation near 1 costs it digits.
    assert uncertainty == pytest.approx(float(other.stderr), rel=1e-4, abs=1e-5)
    low, high = change_limits(slope, uncertainty, len(flows), 0.95)
    factor = stats.t.ppf(0.975, len(flows) - 2)
    assert high - low == pytest.approx(2 * factor * uncertainty * (len(flows) - 1), rel=1e-9, abs=1e-12)
    assert (low + high) / 2 == pytest.approx(change_over_run(slope, len(flows)), rel=1e-6, abs=1e-9)


# source: closed form Q = p0 / (p0 / Qmax + R + R_m), p0 600 Pa, Qmax 300 L/min, R 2 Pa.min/L, shared reference: a meter
# of 0.1 Pa.min/L reads 2.4 % low, and one of 0.5 reads 11 % low; corrected, both give the 150 L/min without a meter
@pytest.mark.parametrize(("meter", "low"), [(0.1, 0.024), (0.5, 0.111)])
def test_what_a_meter_takes_is_given_back(meter: float, low: float) -> None:
    read = 600 / (600 / 300 + 2 + meter)
    assert 1 - read / 150 == pytest.approx(low, abs=5e-4)
    system = system_resistance(read, meter * read, 0, 600, 300, 0)
    assert system == pytest.approx(2, rel=1e-12)
    assert flow_without_meter(system, 0, 600, 300, 0) == pytest.approx(150, rel=1e-12)


FLOWS, PRESSURES = [0.0, 100.0, 180.0, 230.0, 280.0], [610.0, 520.0, 360.0, 200.0, 30.0]


@given(st.floats(101, 179), st.floats(0, 100))
def test_the_correction_never_lowers_a_flow(read: float, drop: float) -> None:
    system = system_resistance(read, drop, 100, 520, 180, 360)
    assert flow_without_meter(system, 100, 520, 180, 360) >= read * (1 - 1e-12)


@given(st.floats(101, 170), st.floats(0, 40))
def test_the_crossing_is_where_a_general_solver_finds_it(read: float, drop: float) -> None:
    # source: scipy 1.17.1, optimize.brentq of numpy.interp less the resistance times the flow
    system = (float(np.interp(read, FLOWS, PRESSURES)) - drop) / read

    def excess(flow: float) -> float:
        return float(np.interp(flow, FLOWS, PRESSURES)) - system * flow

    found = optimize.brentq(excess, 1, 279, xtol=1e-12)
    assume(found < 180)
    own = system_resistance(read, drop, 100, 520, 180, 360)
    assert flow_without_meter(own, 100, 520, 180, 360) == pytest.approx(found, rel=1e-9)


@given(st.floats(0, 5), st.floats(0, 1000))
def test_a_larger_step_and_a_longer_drift_are_never_less_uncertain(step: float, days: float) -> None:
    assert resolution_uncertainty(step + 0.1) > resolution_uncertainty(step)
    assert drift_limit(1, days + 1) > drift_limit(1, days)


def test_values_outside_the_range_are_refused() -> None:
    with pytest.raises(OutsideRange, match=r"temperature of the air \[K\]: found 200, expected 233.15 to 353.15"):
        saturation_pressure(200)
    with pytest.raises(OutsideRange, match=r"temperature of the air \[K\]: found 400"):
        moist_air_density(400, 1e5, 0.5)
    with pytest.raises(OutsideRange, match=r"pressure of the air \[Pa\]: found 0"):
        moist_air_density(300, 0, 0.5)
    with pytest.raises(OutsideRange, match=r"relative humidity \[1\]: found 1.5, expected 0 to 1"):
        moist_air_density(300, 1e5, 1.5)
    with pytest.raises(OutsideRange, match="share: found nan, expected 0 to 1"):
        require_between("share", math.nan, 0, 1)
    with pytest.raises(OutsideRange, match=r"flow as read \[L/min\]: found -1"):
        flow_from_scale_reading(-1, 1.2, 1.2)
    with pytest.raises(OutsideRange, match="density that the scale was made for"):
        flow_from_scale_reading(1, 0, 1.2)
    with pytest.raises(OutsideRange, match="density of the air"):
        flow_from_scale_reading(1, 1.2, 0)
    names = ("room temperature", "room pressure", "stated temperature", "stated pressure")
    for place, name in enumerate(names):
        values = [300.0, 1e5, 300.0, 1e5]
        values[place] = 0
        with pytest.raises(OutsideRange, match=rf"{name} \[(K|Pa)\]: found 0"):
            flow_at_stated_conditions(1, *values)


def test_components_and_lines_outside_the_range_are_refused() -> None:
    with pytest.raises(OutsideRange, match="half-width: found -1"):
        rectangular_uncertainty(-1)
    with pytest.raises(OutsideRange, match="step of the display: found -1"):
        resolution_uncertainty(-1)
    with pytest.raises(OutsideRange, match="drift in a year: found -1"):
        drift_limit(-1, 3)
    with pytest.raises(OutsideRange, match="days since the calibration: found -3"):
        drift_limit(1, -3)
    with pytest.raises(OutsideRange, match="expanded uncertainty: found -1"):
        stated_uncertainty(-1, 2)
    with pytest.raises(OutsideRange, match="coverage factor: found 0"):
        stated_uncertainty(1, 0)
    with pytest.raises(OutsideRange, match="standard uncertainty: found -1"):
        uncertainty_contribution(2, -1)
    with pytest.raises(OutsideRange, match="standard uncertainty from the scatter"):
        widened_coverage_factor(2, -1, 3, 1, 0.95)
    with pytest.raises(OutsideRange, match="combined standard uncertainty"):
        widened_coverage_factor(2, 1, 3, 0, 0.95)
    with pytest.raises(OutsideRange, match=r"standard deviation \[L/min\]: found -1"):
        coefficient_of_variation(-1, 5)
    with pytest.raises(OutsideRange, match=r"mean \[L/min\]: found 0"):
        coefficient_of_variation(1, 0)
    with pytest.raises(OutsideRange, match="places and readings: found 2, 3 values"):
        least_squares_slope([1, 2], [1, 2, 3])
    with pytest.raises(OutsideRange, match="places: found no two different values"):
        least_squares_slope([1, 1], [1, 2])
    with pytest.raises(OutsideRange, match="readings: found 2 values, expected at least 3"):
        slope_uncertainty([1, 2], [1, 2])
    with pytest.raises(OutsideRange, match="number of readings: found 0"):
        change_over_run(1, 0)
    with pytest.raises(OutsideRange, match="degrees of freedom: found 0"):
        change_limits(1, 1, 2, 0.95)
    with pytest.raises(OutsideRange, match="standard uncertainty of the slope"):
        change_limits(1, -1, 3, 0.95)
    with pytest.raises(OutsideRange, match="coverage: found 1"):
        change_limits(1, 1, 3, 1)
    with pytest.raises(OutsideRange, match=r"flow \[L/min\]: found 0"):
        system_resistance(0, 1, 0, 600, 300, 0)
    with pytest.raises(OutsideRange, match="pressure lost across the meter"):
        system_resistance(10, -1, 0, 600, 300, 0)
    with pytest.raises(OutsideRange, match="step of flow on the curve"):
        system_resistance(10, 1, 300, 0, 300, 0)
    with pytest.raises(OutsideRange, match="step of flow on the curve"):
        flow_without_meter(2, 300, 0, 300, 0)
    with pytest.raises(OutsideRange, match="pressure by which the curve falls below the system's"):
        flow_without_meter(-2, 0, 600, 300, 0)
