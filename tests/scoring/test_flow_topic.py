"""Flow runs: correction, room conditions, uncertainty, verdicts by kind, findings, the run that governs a device."""

from __future__ import annotations

from typing import Any

import GTC
import pytest

from generator.model.device_test import DeviceTest
from generator.model.flow_result import FlowResult, FlowRunResult, FlowSummary
from generator.model.result import Outcome
from tests.scoring.builders import (
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
AROUND_172 = [171.2, 172.4, 170.9, 171.8, 172.0]


def scored(*runs: Any, kind: str = LOOSE, meter: Any = None, device: Any = None, **changes: Any) -> FlowResult:
    test = a_test(flow=list(runs), **changes)
    result = score_one(test, a_catalogue(test, device=device or a_device(kind), meter=meter)).topics.get("flow")
    assert isinstance(result, FlowResult)
    return result


def one_run(values: list[float], **parts: Any) -> FlowRunResult:
    return scored(a_run(values), **parts).runs[0]


def rules(result: FlowResult) -> list[str]:
    return [finding.rule for finding in result.findings]


def test_mean_and_expanded_uncertainty_agree_with_a_general_library() -> None:
    # source: GTC 1.5.1: type_a.estimate(readings) + ureal(0, 0.02 * mean / 2), k_factor of its df
    run = one_run(AROUND_172)
    total = GTC.type_a.estimate(AROUND_172) + GTC.ureal(0, 0.02 * 171.66 / 2)
    half_width = GTC.rp.k_factor(total.df) * total.u
    assert run.mean.value == pytest.approx(total.x, rel=1e-12)
    assert run.mean.interval is not None
    assert run.mean.interval.low == pytest.approx(total.x - half_width, rel=1e-9)
    assert run.mean.interval.high == pytest.approx(total.x + half_width, rel=1e-9)
    # source: numpy 2.4.6: numpy.std(readings, ddof=1)
    assert run.standard_deviation.value == pytest.approx(0.6066300355241268, rel=1e-9)
    assert (run.mean.key, run.standard_deviation.key) == ("flow.high.mean", "flow.high.sd")
    assert run.verdict.key == "flow.high.verdict"


def test_units_are_brought_to_litres_a_minute() -> None:
    # source: one cubic foot is 28.316846592 L, exact by the inch of 25.4 mm
    run = scored(a_run([6.0, 6.2], unit="cfm")).runs[0]
    assert run.mean.value == pytest.approx(6.1 * 28.316846592, rel=1e-12)


@pytest.mark.parametrize(
    ("correction", "mean"),
    # source: GTC 1.5.1: the mean times 1.006, and the mean plus 1.2
    [("0.6 %", 172.68996), ("1.2 L/min", 172.86), ("-1.2 L/min", 170.46)],
)
def test_correction_of_the_certificate(correction: str, mean: float) -> None:
    run = one_run(AROUND_172, meter=a_meter(calibrations=[a_calibration(correction=correction)]))
    assert run.mean.value == pytest.approx(mean, rel=1e-9)


def test_mass_flow_meter_is_brought_to_the_room() -> None:
    # source: gas law, 30 degC and 95 kPa against 20 degC and 101.325 kPa, by arithmetic
    warm = {"temperature": "30 degC", "pressure": "95 kPa", "humidity": "40 %"}
    meter = a_meter("thermal_mass_flow_meter")
    run = one_run([100.0, 102.0], meter=meter, environment=warm)
    assert run.mean.value == pytest.approx(101 * (303.15 / 293.15) * (101.325 / 95), rel=1e-12)
    plain = one_run([100.0, 102.0], environment=warm)
    assert plain.mean.value == pytest.approx(101, rel=1e-12)


def test_absolute_certificate_uncertainty_is_brought_to_the_room_too() -> None:
    warm = {"temperature": "30 degC", "pressure": "95 kPa", "humidity": "40 %"}
    certificates = [a_calibration(uncertainty="2 L/min")]
    run = one_run([100.0, 100.0], meter=a_meter("thermal_mass_flow_meter", calibrations=certificates), environment=warm)
    assert run.mean.interval is not None
    assert run.mean.interval.high is not None
    assert run.mean.value is not None
    factor = (303.15 / 293.15) * (101.325 / 95)
    # source: without scatter U = 1.959964 * (2 / 2) (GUM Table G.2, infinite), times the gas law's factor
    assert run.mean.interval.high - run.mean.value == pytest.approx(1.959964 * factor, rel=1e-6)


@pytest.mark.parametrize(
    ("values", "outcome", "finding"),
    [
        # source: 42 CFR 84.175 and 84.179: 170 L/min for loose-fitting (seen); with U of about 2 % of the flow
        ([180.0, 181.0, 180.5], Outcome.MEETS, []),
        (AROUND_172, Outcome.UNDECIDED, ["flow-undecided"]),
        ([17.0, 17.2, 17.1], Outcome.DOES_NOT_MEET, ["flow-below-requirement"]),
    ],
)
def test_guarded_verdict_of_a_loose_fitting_device(values: list[float], outcome: Outcome, finding: list[str]) -> None:
    result = scored(a_run(values))
    (verdict,) = result.verdicts
    assert verdict.outcome is outcome
    assert (verdict.criterion, verdict.rule, verdict.limit) == ("supply-flow-loose-fitting", "guarded", 170)
    assert verdict.ratio == pytest.approx(sum(values) / len(values) / 170, rel=1e-12)
    assert rules(result) == finding


def test_a_tenth_of_the_air_is_reported_as_such() -> None:
    (finding,) = scored(a_run([17.0, 17.0])).findings
    # source: 17 of 170 L/min by arithmetic
    assert finding.facts["ratio"] == pytest.approx(0.1, rel=1e-12)
    assert (finding.where, finding.facts["setting"]) == ("flow[high]", "high")


def test_tight_fitting_devices_have_their_own_limit() -> None:
    (verdict,) = scored(a_run([125.0, 125.5]), kind="tight_powered_half_facepiece").verdicts
    # source: 42 CFR 84.175 and 84.179: 115 L/min for tight-fitting (seen)
    assert (verdict.limit, verdict.outcome) == (115, Outcome.MEETS)


def test_probability_stands_beside_a_guarded_verdict() -> None:
    (verdict,) = scored(a_run(AROUND_172)).verdicts
    # source: R 4.2.2: pt((171.66 - 170) / 1.7379055095142544, 6736.107397490808), u and df of GTC 1.5.1 for U = 3.4332
    assert verdict.probability_of_conformity == pytest.approx(0.8302376923, rel=1e-8)


def test_one_reading_decides_nothing() -> None:
    result = scored(a_run([250.0]))
    run = result.runs[0]
    assert run.standard_deviation.value is None
    assert run.standard_deviation.not_scored == "not estimated: there is one reading"
    assert run.mean.no_interval == "repeatability not estimated: there is one reading"
    assert run.verdict.outcome is Outcome.UNDECIDED
    assert run.verdict.reason == (
        "there is no interval to decide with: repeatability not estimated: there is one reading"
    )
    assert rules(result) == ["single-reading", "flow-undecided"]


def test_without_a_certificate_nothing_is_decided() -> None:
    late = a_meter(calibrations=[a_calibration(date="2025-06-02")])
    run = one_run([180.0, 181.0], meter=late)
    assert run.mean.value == pytest.approx(180.5, rel=1e-12)
    assert run.mean.no_interval == "the meter has no calibration certificate of the test day or before"
    assert run.verdict.outcome is Outcome.UNDECIDED


def test_certificate_of_something_else_gives_no_interval() -> None:
    run = one_run([180.0, 181.0], meter=a_meter(calibrations=[a_calibration(uncertainty="3 /cm3")]))
    assert run.mean.no_interval == "the meter's certificate states no uncertainty of a flow"


def test_breath_responsive_devices_are_not_compared() -> None:
    result = scored(a_run([17.0, 17.2]), device=a_device(LOOSE, breath_responsive=True))
    (verdict,) = result.verdicts
    assert verdict.outcome is Outcome.NOT_APPLICABLE
    assert verdict.reason == (
        "not scored against a supply flow requirement: the device follows the wearer's breath, and the requirement is "
        "for a constant flow"
    )
    assert rules(result) == ["breath-responsive"]


def test_home_built_devices_have_a_benchmark_only() -> None:
    result = scored(a_run([17.0, 17.2]), device=a_device(LOOSE, home_built=True))
    assert result.verdicts[0].benchmark_only
    assert rules(result) == ["flow-below-requirement", "flow-benchmark-only"]


def test_a_kind_without_requirement_is_not_compared() -> None:
    (verdict,) = scored(a_run([17.0, 17.2]), kind="surgical_mask").verdicts
    assert verdict.reason == "no supply flow requirement is on record for this kind of device"


def summary(*tests: DeviceTest) -> FlowSummary | None:
    found = score_all(a_catalogue(*tests, device=a_device(LOOSE))).devices["device"].topics.get("flow")
    assert found is None or isinstance(found, FlowSummary)
    return found


def test_the_worst_run_governs() -> None:
    good, unsure, bad = [190.0, 190.5], AROUND_172, [150.0, 150.2]
    first = a_test(flow=[a_run(good), a_run(unsure, id="loaded", filter="loaded")])
    found = summary(first)
    assert found is not None
    assert found.governing is not None
    assert (found.governing.run, found.governing_record, found.runs) == ("loaded", "test", 2)
    second = a_test(flow=[a_run(bad), a_run([140.0, 140.1], id="low", setting="low")], id="later")
    found = summary(first, second)
    assert found is not None
    assert found.governing is not None
    assert (found.governing.run, found.governing_record, found.runs) == ("low", "later", 4)


def test_no_runs_no_summary() -> None:
    assert summary(a_test([a_session(readings("3 /cm3", "3 /cm3", "3 /cm3"), blower="high")])) is None


def test_more_air_never_scores_worse() -> None:
    order = [Outcome.DOES_NOT_MEET, Outcome.UNDECIDED, Outcome.MEETS]
    ranks = [order.index(one_run([level, level + 0.4]).verdict.outcome) for level in range(150, 200, 2)]
    assert ranks == sorted(ranks)
    assert set(ranks) == {0, 1, 2}
