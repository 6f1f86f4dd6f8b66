"""Flow statistics against the Guide's tables, a general uncertainty library and the standard atmosphere."""

from __future__ import annotations

import math

import fluids
import GTC
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.scoring.flow_statistics import (
    certificate_uncertainty,
    combined_uncertainty,
    corrected_flow,
    coverage_factor,
    effective_degrees_of_freedom,
    expanded_uncertainty,
    flow_at_room_conditions,
    mean_flow,
    standard_deviation,
    uncertainty_of_mean,
)

# source: JCGM 100:2008 (GUM), Table G.2 (the same as NIST TN 1297, Table B.1). The columns headed 68.27, 95.45 and
# 99.73 mean one, two and three standard deviations of a normal distribution, not those rounded percentages.
SIGMAS = [math.erf(number / math.sqrt(2)) for number in (1, 2, 3)]
COVERAGES = [SIGMAS[0], 0.90, 0.95, SIGMAS[1], 0.99, SIGMAS[2]]
TABLE_G2: list[tuple[float | None, list[str]]] = [
    (1, ["1.84", "6.31", "12.71", "13.97", "63.66", "235.80"]),
    (2, ["1.32", "2.92", "4.30", "4.53", "9.92", "19.21"]),
    (3, ["1.20", "2.35", "3.18", "3.31", "5.84", "9.22"]),
    (4, ["1.14", "2.13", "2.78", "2.87", "4.60", "6.62"]),
    (5, ["1.11", "2.02", "2.57", "2.65", "4.03", "5.51"]),
    (6, ["1.09", "1.94", "2.45", "2.52", "3.71", "4.90"]),
    (7, ["1.08", "1.89", "2.36", "2.43", "3.50", "4.53"]),
    (8, ["1.07", "1.86", "2.31", "2.37", "3.36", "4.28"]),
    (9, ["1.06", "1.83", "2.26", "2.32", "3.25", "4.09"]),
    (10, ["1.05", "1.81", "2.23", "2.28", "3.17", "3.96"]),
    (15, ["1.03", "1.75", "2.13", "2.18", "2.95", "3.59"]),
    (16, ["1.03", "1.75", "2.12", "2.17", "2.92", "3.54"]),
    (20, ["1.03", "1.72", "2.09", "2.13", "2.85", "3.42"]),
    (50, ["1.01", "1.68", "2.01", "2.05", "2.68", "3.16"]),
    (100, ["1.005", "1.660", "1.984", "2.025", "2.626", "3.077"]),
    (None, ["1.000", "1.645", "1.960", "2.000", "2.576", "3.000"]),
]


@pytest.mark.parametrize(("degrees", "printed"), TABLE_G2)
def test_coverage_factor_of_the_table(degrees: float | None, printed: list[str]) -> None:
    for coverage, cell in zip(COVERAGES, printed, strict=True):
        decimals = len(cell.split(".")[1])
        assert f"{coverage_factor(degrees, coverage):.{decimals}f}" == cell


# source: JCGM 100:2008, 4.4.3 (readings from memory; mean 100.145, s 1.489, s of the mean 0.333 close exactly)
TEMPERATURES = [
    96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
    100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
]  # fmt: skip


def test_type_a_example_of_the_guide() -> None:
    deviation = standard_deviation(TEMPERATURES)
    assert mean_flow(TEMPERATURES) == pytest.approx(100.145, abs=5e-4)
    assert deviation == pytest.approx(1.489, abs=5e-4)
    assert uncertainty_of_mean(deviation, len(TEMPERATURES)) == pytest.approx(0.333, abs=5e-4)


@pytest.mark.parametrize("certificate", [0.05, 0.3, 1.7, 3.0])
def test_budget_agrees_with_a_general_uncertainty_library(certificate: float) -> None:
    # source: GTC 1.5.1: type_a.estimate, ureal, uncertainty and df of the sum, reporting.k_factor
    readings = [171.2, 172.4, 170.9, 171.8, 172.0]
    total = GTC.type_a.estimate(readings) + GTC.ureal(0, certificate)
    scatter = uncertainty_of_mean(standard_deviation(readings), len(readings))
    combined = combined_uncertainty([scatter, certificate])
    degrees = effective_degrees_of_freedom([scatter, certificate], [len(readings) - 1, None])
    assert degrees is not None
    factor = coverage_factor(degrees, 0.95)
    assert combined == pytest.approx(total.u, rel=1e-12)
    assert degrees == pytest.approx(total.df, rel=1e-9)
    assert factor == pytest.approx(GTC.rp.k_factor(total.df), rel=1e-9)
    assert expanded_uncertainty(combined, factor) == pytest.approx(GTC.rp.k_factor(total.df) * total.u, rel=1e-9)


@pytest.mark.parametrize("height", [0, 500, 1000, 1500, 2000, 3000])
def test_room_conditions_agree_with_the_standard_atmosphere(height: float) -> None:
    # source: fluids 1.3.1, ATMOSPHERE_1976(height): the same mass of air takes rho_0 / rho of the volume
    ground, there = fluids.ATMOSPHERE_1976(0), fluids.ATMOSPHERE_1976(height)
    flow = flow_at_room_conditions(100, ground.T, ground.P, there.T, there.P)
    assert flow == pytest.approx(100 * ground.rho / there.rho, rel=1e-5)


# source: independent computation of the ideal gas law, volume of the same gas relative to 0 degC and 101.325 kPa, at
# reference conditions in use (ISO 13443: 15 degC; occupational hygiene: 25 degC; IUPAC: 100 kPa). The check from
# outside is the standard atmosphere above.
@pytest.mark.parametrize(
    ("kelvin", "pascal", "relative"),
    [(288.15, 101325, 1.05491), (293.15, 101325, 1.07322), (298.15, 101325, 1.09152), (273.15, 100000, 1.01325)],
)
def test_room_conditions_of_usual_references(kelvin: float, pascal: float, relative: float) -> None:
    assert flow_at_room_conditions(1, 273.15, 101325, kelvin, pascal) == pytest.approx(relative, abs=5e-6)


@given(st.floats(0, 500), st.floats(250, 330), st.floats(60_000, 110_000))
def test_room_conditions_there_and_back(flow: float, kelvin: float, pascal: float) -> None:
    there = flow_at_room_conditions(flow, 294.26, 101325, kelvin, pascal)
    assert flow_at_room_conditions(there, kelvin, pascal, 294.26, 101325) == pytest.approx(flow, rel=1e-12)


@given(st.lists(st.floats(1, 500), min_size=2, max_size=20))
def test_same_readings_shifted_scatter_the_same(flows: list[float]) -> None:
    shifted = [flow + 10 for flow in flows]
    assert standard_deviation(shifted) == pytest.approx(standard_deviation(flows), rel=1e-6, abs=1e-9)


@given(st.floats(0.01, 10), st.floats(0.01, 10), st.integers(1, 50))
def test_effective_degrees_are_never_fewer_than_those_of_the_scatter(u: float, other: float, degrees: int) -> None:
    effective = effective_degrees_of_freedom([u, other], [degrees, None])
    assert effective is None or effective >= degrees * (1 - 1e-12)


def test_no_scatter_leaves_infinite_degrees_of_freedom() -> None:
    assert effective_degrees_of_freedom([0.0, 1.0], [4, None]) is None


def test_values_outside_the_range_are_refused() -> None:
    with pytest.raises(OutsideRange, match=r"flow as read \[L/min\]: found -1, expected a finite number of 0 or more"):
        corrected_flow(-1, 0, 0)
    with pytest.raises(OutsideRange, match="flows: found 0 values, expected at least 1"):
        mean_flow([])
    with pytest.raises(OutsideRange, match="flows: found 1 values, expected at least 2"):
        standard_deviation([1.0])
    with pytest.raises(OutsideRange, match="number of readings: found 0"):
        uncertainty_of_mean(1, 0)
    with pytest.raises(OutsideRange, match="standard deviation"):
        uncertainty_of_mean(-1, 3)
    with pytest.raises(OutsideRange, match="coverage factor on the certificate: found 0"):
        certificate_uncertainty(1, 0)
    with pytest.raises(OutsideRange, match="expanded uncertainty on the certificate"):
        certificate_uncertainty(-1, 2)
    with pytest.raises(OutsideRange, match="standard uncertainty: found -1"):
        combined_uncertainty([-1.0])
    with pytest.raises(OutsideRange, match="standard uncertainties: found 0 values"):
        combined_uncertainty([])
    with pytest.raises(OutsideRange, match="degrees of freedom: found 0"):
        effective_degrees_of_freedom([1.0], [0])
    with pytest.raises(OutsideRange, match="components and degrees of freedom: found 1, 2 values"):
        effective_degrees_of_freedom([1.0], [1, 2])
    with pytest.raises(OutsideRange, match="degrees of freedom: found -2"):
        coverage_factor(-2, 0.95)
    with pytest.raises(OutsideRange, match="coverage: found 0"):
        coverage_factor(2, 0)
    with pytest.raises(OutsideRange, match="coverage factor: found 0"):
        expanded_uncertainty(1, 0)
    with pytest.raises(OutsideRange, match="combined standard uncertainty"):
        expanded_uncertainty(-1, 2)
    for place, name in enumerate(("reference temperature", "reference pressure", "room temperature", "room pressure")):
        values = [300.0, 1e5, 300.0, 1e5]
        values[place] = 0
        with pytest.raises(OutsideRange, match=rf"{name} \[(K|Pa)\]: found 0"):
            flow_at_room_conditions(1, *values)
