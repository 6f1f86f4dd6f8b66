"""Flow measured properly: meter kinds, the air it is of, budgets, the meter's resistance, steadiness, states."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import fluids
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.model.flow_result import BackPressure, FlowResult, FlowRunResult, FlowSummary
from generator.model.instrument import ReferenceConditions
from generator.model.result import Outcome
from tests.scoring.builders import (
    NONE,
    Data,
    a_calibration,
    a_catalogue,
    a_device,
    a_meter,
    a_run,
    a_session,
    a_test,
    readings,
    score_all,
    score_one,
)

LOOSE = "loose_powered_hood"
STEADY = [180.0, 181.0, 180.5]
WARM: Data = {"temperature": "30 degC", "pressure": "95 kPa", "humidity": "0 %"}
MADE_FOR: Data = {"temperature": "20 degC", "pressure": "101.325 kPa"}
POINTS = ((0, 610), (100, 520), (180, 360), (230, 200), (280, 30))


def scored(*runs: Data, meter: Any = None, device: Any = None, criterion: Any = None, **changes: Any) -> FlowResult:
    test = a_test(flow=list(runs), **changes)
    catalogue = a_catalogue(test, device=device or a_device(LOOSE), meter=meter)
    if criterion is not None:
        changed = catalogue.criteria["supply-flow-loose-fitting"].model_copy(update=criterion)
        catalogue = replace(catalogue, criteria={**catalogue.criteria, changed.id: changed})
    result = score_one(test, catalogue).topics.get("flow")
    assert isinstance(result, FlowResult)
    return result


def one(values: list[float], meter: Any = None, run: Data | None = None, **changes: Any) -> FlowRunResult:
    return scored(a_run(values, **(run or {})), meter=meter, **changes).runs[0]


def half_width(run: FlowRunResult) -> float:
    interval = run.mean.interval
    assert interval is not None
    assert interval.low is not None
    assert interval.high is not None
    return (interval.high - interval.low) / 2


def row(run: FlowRunResult, name: str) -> Any:
    assert run.budget is not None
    (found,) = (each for each in run.budget.rows if each.id == name)
    return found


def float_meter(**changes: Any) -> Any:
    return a_meter("variable_area_flow_meter", **({"reference_conditions": MADE_FOR} | changes))


def test_a_float_meter_is_read_by_the_densities_of_both_airs() -> None:
    # source: fluids 1.3.1: the standard atmosphere at 1000 m against the ground, where the scale was made
    ground, there = fluids.ATMOSPHERE_1976(0), fluids.ATMOSPHERE_1976(1000)
    air = {"temperature": f"{there.T:.9f} K", "pressure": f"{there.P:.9f} Pa", "humidity": "0 %"}
    scale = {"temperature": f"{ground.T:.9f} K", "pressure": f"{ground.P:.9f} Pa"}
    run = one([100.0, 102.0], float_meter(reference_conditions=scale), environment=air)
    assert run.mean.value == pytest.approx(101 * math.sqrt(ground.rho / there.rho), rel=1e-5)
    assert run.meter_air is not None
    assert (run.meter_air.temperature, run.room.temperature) == pytest.approx((ground.T, there.T), rel=1e-9)


def test_damp_air_counts_where_it_is_recorded_and_is_named_where_not() -> None:
    # source: CoolProp, shared reference: 1.199359 and 1.204603 kg/m3 at 20 degC and 101.325 kPa, 50 % and dry
    room: Data = {"temperature": "20 degC", "pressure": "101.325 kPa"}
    damp = one([100.0, 100.0], float_meter(), environment=room | {"humidity": "50 %"})
    assert damp.mean.value == pytest.approx(100 * math.sqrt(1.204603 / 1.199359), rel=1e-5)
    unknown = one([100.0, 100.0], float_meter(), environment=room | {"humidity": NONE})
    assert unknown.mean.value == pytest.approx(100, rel=1e-12)
    assert row(unknown, "humidity").missing == "not on record; the air was taken as dry"
    assert unknown.mean.interval is not None
    assert "humidity of the room's air" in unknown.mean.interval.covers
    scale = float_meter(reference_conditions=MADE_FOR | {"humidity": "50 %"})
    same = one([100.0, 100.0], scale, environment=room | {"humidity": "50 %"})
    assert same.mean.value == pytest.approx(100, rel=1e-12)


def test_a_correction_that_leaves_less_than_nothing_leaves_nothing() -> None:
    meter = float_meter(calibrations=[a_calibration(correction="-1 L/min")])
    run = one([0.5, 0.5], meter)
    assert run.mean.value == 0
    assert run.variation.not_scored == "not estimated: the mean is not above zero"


def test_step_and_drift_of_a_meter_are_in_the_budget() -> None:
    meter = a_meter(resolution="0.5 L/min", drift_per_year="1 %")
    run = one(STEADY, meter)
    # source: JCGM 100:2008, F.2.2.1: a step of 0.5 is 0.5 / sqrt(12)
    assert row(run, "resolution").standard_uncertainty == pytest.approx(0.5 / math.sqrt(12), rel=1e-12)
    # 1 January to 1 June 2025 are 151 days; 1 % of 180.5 L/min in a Julian year, rectangular (JCGM 100:2008, 4.3.7)
    drift = 1.805 * 151 / 365.25 / math.sqrt(3)
    assert row(run, "drift").standard_uncertainty == pytest.approx(drift, rel=1e-12)
    parts = [0.5 / math.sqrt(3), 1.805, 0.5 / math.sqrt(12), drift]
    assert run.standard_uncertainty == pytest.approx(math.sqrt(sum(part**2 for part in parts)), rel=1e-12)
    assert run.mean.interval is not None
    assert run.mean.interval.covers == (
        "scatter of the readings, certificate of the meter, step of the meter's display and drift of the meter since "
        "its calibration; not differences between units, hoods or days"
    )


def test_what_is_not_recorded_is_named_and_adds_nothing() -> None:
    run = one(STEADY, a_meter(drift_per_year=NONE), run={"meter": None})
    assert run.budget is not None
    assert [(each.id, each.contribution) for each in run.budget.missing] == [
        ("resolution", 0.0),
        ("drift", 0.0),
        ("meter-resistance", 0.0),
    ]
    assert run.mean.interval is not None
    assert run.mean.interval.covers == (
        "scatter of the readings and certificate of the meter; not on record and so not in it: step of the meter's "
        "display, drift of the meter since its calibration, resistance of the meter in the air path; not differences "
        "between units, hoods or days"
    )


@settings(max_examples=30, deadline=None)
@given(st.floats(0.01, 5), st.floats(0.01, 5))
def test_a_coarser_display_never_narrows(step: float, more: float) -> None:
    finer, coarser = (one(STEADY, a_meter(resolution=f"{size:.6f} L/min")) for size in (step, step + more))
    assert half_width(coarser) > half_width(finer)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(1700, 1900), min_size=2, max_size=8), st.floats(0.01, 20), st.floats(0.01, 20))
def test_more_uncertainty_never_narrows_however_few_the_readings(tenths: list[int], step: float, more: float) -> None:
    values = [tenth / 10 for tenth in tenths]
    widths = [half_width(one(values, a_meter(resolution=f"{size:.6f} L/min"))) for size in (step, step + more)]
    assert widths[1] >= widths[0] * (1 - 1e-12)


def test_few_readings_are_held_at_what_their_scatter_asks_for() -> None:
    run = one([175.0, 185.0], a_meter(calibrations=[a_calibration(uncertainty="4 %")]))
    # source: JCGM 100:2008, Table G.2: t of 95 % and 1 degree of freedom is 12.71; u_A is 10 / sqrt(2) / sqrt(2)
    assert half_width(run) == pytest.approx(12.71 * 5, rel=1e-3)
    assert run.budget is not None
    assert run.budget.expanded_uncertainty == pytest.approx(
        run.budget.coverage_factor * run.budget.standard_uncertainty, rel=1e-12
    )
    assert run.mean.interval is not None
    assert run.mean.interval.working is not None
    factor = run.mean.interval.working.inputs[0]
    assert factor.working is not None
    assert (factor.working.method, factor.value) == ("widened-coverage-factor", run.budget.coverage_factor)


@pytest.mark.parametrize(
    ("meter", "of_temperature", "of_pressure"),
    [
        # source: the derivatives of Q T p_ref / (T_ref p): Q / T and -Q / p; of its square root half of them
        (a_meter("thermal_mass_flow_meter"), 1 / 303.15, 1 / 95000),
        (float_meter(), 0.5 / 303.15, 0.5 / 95000),
    ],
)
def test_the_room_is_in_the_budget_of_a_meter_that_refers_to_other_air(
    meter: Any, of_temperature: float, of_pressure: float
) -> None:
    air = WARM | {"temperature_uncertainty": "1.96 K", "pressure_uncertainty": "196 Pa"}
    run = one([100.0, 102.0], meter, environment=air)
    assert run.mean.value is not None
    assert row(run, "room-temperature").contribution == pytest.approx(run.mean.value * of_temperature, rel=1e-4)
    assert row(run, "room-pressure").contribution == pytest.approx(run.mean.value * of_pressure * 100, rel=1e-4)
    bare = one([100.0, 102.0], meter, environment=WARM)
    assert bare.budget is not None
    assert {"room-temperature", "room-pressure"} <= {each.id for each in bare.budget.missing}
    assert half_width(bare) <= half_width(run)


def test_the_room_is_not_in_that_of_a_meter_that_reads_the_volume() -> None:
    run = one(STEADY, environment=WARM)
    assert run.budget is not None
    assert [each.id for each in run.budget.rows] == ["readings", "certificate", "resolution", "drift"]
    assert run.meter_air is None


def curve(points: tuple[tuple[float, float], ...] = POINTS, **changes: Any) -> Data:
    return {
        "id": "curve",
        "setting": "high",
        "battery": "fresh",
        "where": "at the outlet",
        "uncertainty": "6 Pa",
        "points": [{"flow": f"{flow} L/min", "pressure": f"{pressure} Pa"} for flow, pressure in points],
    } | changes


def behind(drop: str, values: list[float] | None = None, points: Data | None = None, **meter: Any) -> FlowRunResult:
    in_path = {"pressure_drop": drop, "blower_curve": "curve"} | meter
    return one(values or [172.0, 172.0, 172.0], run={"meter": in_path}, blower_curves=[points or curve()])


def test_what_the_meter_held_back_is_given_back() -> None:
    run = behind("25 Pa", drop_uncertainty="2 Pa")
    # source: scipy 1.17.1, optimize.brentq of numpy.interp of the points less the resistance times the flow
    assert run.mean.value == pytest.approx(178.18705035971223, rel=1e-9)
    assert run.measured is not None
    assert run.measured.value == pytest.approx(172, rel=1e-12)
    assert (run.mean.method, run.measured.key) == ("flow-without-meter", "flow.high.measured")
    assert run.back_pressure is BackPressure.CORRECTED
    # source: central differences of the same solution, brentq with 24.999 and 25.001 Pa: 0.256384 L/min per Pa
    assert row(run, "meter-drop").sensitivity == pytest.approx(0.256384, rel=1e-4)
    assert row(run, "meter-drop").standard_uncertainty == pytest.approx(2 / 1.959964, rel=1e-6)
    assert run.verdict.ratio == pytest.approx(178.18705035971223 / 170, rel=1e-9)


def test_the_correction_may_reach_beyond_the_next_point() -> None:
    # source: scipy 1.17.1, optimize.brentq of numpy.interp of the points: 172 L/min and 100 Pa lost in the meter
    run = behind("100 Pa")
    assert run.mean.value == pytest.approx(194.811229428848, rel=1e-6)
    assert run.budget is not None
    assert [each.id for each in run.budget.rows if each.id.startswith("curve")] == [
        "curve-point-1",
        "curve-point-2",
        "curve-point-3",
    ]
    assert row(run, "meter-drop").missing == "not on record"


def test_a_curve_whose_uncertainty_is_not_on_record_is_used_and_named() -> None:
    run = behind("25 Pa", points=curve(uncertainty=NONE))
    assert run.mean.value == pytest.approx(178.18705035971223, rel=1e-9)
    assert row(run, "curve-point-1").missing == "not on record"
    share = behind("25 Pa", points=curve(uncertainty="1 %"))
    # 1 % of 520 Pa, 95 %
    assert row(share, "curve-point-1").standard_uncertainty == pytest.approx(5.2 / 1.959964, rel=1e-6)


@pytest.mark.parametrize(
    ("drop", "values", "points", "reason"),
    [
        ("25 Pa", [290.0, 290.0], None, "the flow that was read lies outside the blower's curve"),
        ("25 Pa", [90.0, 90.0], curve(POINTS[1:]), "the flow that was read lies outside the blower's curve"),
        ("25 Pa", [0.0, 0.0], None, "the flow that was read lies outside the blower's curve"),
        (
            "400 Pa",
            [172.0, 172.0],
            None,
            "the pressure lost across the meter is more than the blower holds at this flow",
        ),
        (
            "25 Pa",
            [172.0, 172.0],
            curve(((100, 400), (180, 420))),
            "the blower's curve rises where it would be used",
        ),
        ("90 Pa", [172.0, 172.0], curve(POINTS[:3]), "the blower's curve ends before the flow without the meter"),
    ],
)
def test_a_curve_that_does_not_serve_is_not_used(
    drop: str, values: list[float], points: Data | None, reason: str
) -> None:
    run = behind(drop, values, points)
    assert (run.back_pressure, run.back_pressure_reason) == (BackPressure.NOT_CORRECTED, reason)
    assert run.measured is None
    assert run.mean.value == pytest.approx(values[0], rel=1e-12)
    assert row(run, "meter-resistance").missing == reason


def test_without_a_curve_the_reading_stands_as_a_lower_bound() -> None:
    run = one(STEADY, run={"meter": {"pressure_drop": "20 Pa"}})
    assert run.back_pressure_reason == "no blower curve at this setting is named"
    null = one(STEADY, run={"meter": {"null_method": "a fan behind it"}})
    assert (null.back_pressure, null.back_pressure_reason) == (BackPressure.NULL_METHOD, "a fan behind it")
    assert null.budget is not None
    assert "meter-resistance" not in {each.id for each in null.budget.rows}
    assert one(STEADY, run={"meter": None}).back_pressure is BackPressure.UNKNOWN


@settings(max_examples=30, deadline=None)
@given(st.floats(1, 100), st.floats(1, 100))
def test_the_correction_never_lowers_and_more_doubt_never_narrows(drop: float, doubt: float) -> None:
    run = behind(f"{drop:.6f} Pa", drop_uncertainty=f"{doubt:.6f} Pa")
    assert run.mean.value is not None
    assert run.mean.value >= 172 * (1 - 1e-12)
    assert half_width(behind(f"{drop:.6f} Pa", drop_uncertainty=f"{doubt + 1:.6f} Pa")) > half_width(run)


def test_one_reading_is_corrected_but_has_no_interval() -> None:
    run = behind("25 Pa", [172.0])
    assert run.mean.value == pytest.approx(178.18705035971223, rel=1e-9)
    assert run.mean.no_interval == "repeatability not estimated: there is one reading"
    assert (run.budget, run.standard_uncertainty) == (None, None)


def test_a_flow_is_compared_in_the_air_that_the_requirement_states() -> None:
    stated = ReferenceConditions.model_validate_json('{"temperature": "20 degC", "pressure": "101.325 kPa"}')
    run = one(STEADY, environment=WARM, criterion={"reference_air": stated})
    factor = (293.15 / 303.15) * (95 / 101.325)  # source: gas law, by arithmetic
    assert run.at_requirement is not None
    assert run.at_requirement.value == pytest.approx(180.5 * factor, rel=1e-12)
    assert run.at_requirement.interval is not None
    assert run.at_requirement.interval.high == pytest.approx((180.5 + half_width(run)) * factor, rel=1e-9)
    assert (run.verdict.figure, run.verdict.outcome) == ("flow.high.at-requirement", Outcome.DOES_NOT_MEET)
    assert run.compared is run.at_requirement
    plain = one(STEADY, environment=WARM)
    assert (plain.at_requirement, plain.compared_air, plain.verdict.figure) == (None, None, "flow.high.mean")
    assert plain.verdict.outcome is Outcome.MEETS
    single = one([180.0], environment=WARM, criterion={"reference_air": stated})
    assert single.at_requirement is not None
    assert single.at_requirement.interval is None


def test_steadiness_of_a_run() -> None:
    run = one([171.2, 172.4, 170.9, 171.8, 172.0])
    # source: scipy 1.17.1: 100 * stats.variation(ddof=1); 4 * stats.linregress(range(5), readings).slope
    assert run.variation.value == pytest.approx(0.35339044362351552, rel=1e-9)
    assert run.trend.value == pytest.approx(0.4, rel=1e-9)
    assert run.trend.interval is not None
    assert run.trend.interval.low == pytest.approx(-2.3223095366310877, rel=1e-9)
    two = one([171.2, 172.4])
    assert two.trend.not_scored == "not estimated: a line through fewer than three readings has no scatter about it"
    assert one([171.2]).variation.not_scored == "not estimated: there is one reading"
    assert one([100.0, 110.0, 120.0]).trend.no_interval == (
        "the readings lie on a straight line as far as they were read, so that its uncertainty is not known"
    )


def device(**power: Any) -> Any:
    parts: Data = {"source": "battery", "energy": NONE, "settings": ["low", "high"]}
    return a_device(LOOSE, power=parts | power)


def summed(*runs: Data, of: Any = None, **changes: Any) -> FlowSummary:
    test = (
        a_test(flow=list(runs)) if runs else a_test([a_session(readings("3 /cm3", "3 /cm3", "3 /cm3"), blower="high")])
    )
    found = score_all(a_catalogue(test, device=of or device())).devices["device"].topics.get("flow")
    assert isinstance(found, FlowSummary)
    return found


LOW = a_run([120.0, 120.5, 121.0], id="low", setting="low")


def test_the_worst_claimed_state_governs() -> None:
    every = summed(a_run(STEADY), LOW)
    assert every.governing is not None
    assert every.governing.run == "low"
    claimed = summed(a_run(STEADY), LOW, of=device(protective_settings=["high"]))
    assert claimed.governing is not None
    assert (claimed.governing.run, claimed.governing.claimed, claimed.runs) == ("high", True, 2)
    none = summed(LOW, of=device(protective_settings=["high"]))
    assert (none.governing, none.governing_record, none.runs) == (None, None, 1)


def test_every_claimed_state_is_listed_measured_or_not() -> None:
    alarm = a_run([150.0, 150.5, 151.0], id="alarm", battery="at_alarm", filter="loaded")
    again = a_run([175.0, 176.0, 177.0], id="again")
    found = summed(a_run(STEADY), again, alarm, LOW, of=device(protective_settings=["high"])).states
    told = [(state.setting, state.battery, state.filter, state.runs, state.outcome, state.run) for state in found]
    assert told == [
        ("high", "fresh", "new", 2, Outcome.MEETS, "again"),
        ("high", "fresh", "loaded", 0, None, None),
        ("high", "at_alarm", "new", 0, None, None),
        ("high", "at_alarm", "loaded", 1, Outcome.DOES_NOT_MEET, "alarm"),
        ("low", "fresh", "new", 1, Outcome.DOES_NOT_MEET, "low"),
    ]
    assert [state.claimed for state in found] == [True] * 4 + [False]


def test_a_blower_on_mains_has_no_battery_states() -> None:
    found = summed(a_run(STEADY, battery="mains"), of=device(settings=["high"])).states
    assert [(state.battery, state.filter, state.runs) for state in found] == [
        ("mains", "new", 1),
        ("mains", "loaded", 0),
    ]


def test_a_missing_alarm_is_told_without_any_run() -> None:
    path = {"inlets": [{"where": "front", "filtered": True}], "outlets": [], "seals": "none", "low_flow_alarm": False}
    found = summed(of=a_device(LOOSE, air_path=path))
    assert (found.runs, found.governing, [finding.rule for finding in found.findings]) == (
        0,
        None,
        ["no-low-flow-alarm"],
    )
