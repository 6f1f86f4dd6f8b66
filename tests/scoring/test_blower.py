"""Blower curves: fits, resistances, predicted flows and their intervals, what stands beside them, findings."""

from __future__ import annotations

import math
from typing import Any

import GTC
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.model.blower_result import BlowerResult, BlowerSummary, PredictedFlow
from generator.model.device_test import DeviceTest
from generator.scoring.blower_curve import chosen_degree
from generator.scoring.flow_resistance import system_resistance
from generator.scoring.operating_point import operating_flow
from tests.scoring.builders import NONE, Data, a_catalogue, a_device, a_run, a_test, score_all, score_one

HOOD = "loose_powered_hood"
ONE_FILTER: Data = {"stated_class": "class 7", "media_area": NONE, "count": 1}
BENT = ((0, 612), (60, 566), (120, 499), (180, 394), (240, 262), (300, 97))


def points(*pairs: tuple[float, float]) -> list[Data]:
    return [{"flow": f"{flow} L/min", "pressure": f"{pressure} Pa"} for flow, pressure in pairs]


def a_curve(*pairs: tuple[float, float], **changes: Any) -> Data:
    """Return a blower curve; without points the straight line of 600 Pa and 300 L/min."""
    return {
        "id": "curve",
        "setting": "high",
        "battery": "fresh",
        "where": "at the outlet, no filter, no hose",
        "points": points(*(pairs or ((0, 600), (300, 0)))),
        "uncertainty": "2 %",
    } | changes


def drops(identity: str, resistance: float, of: str = "filter", **changes: Any) -> Data:
    """Return pressure drops of a resistance, measured up to 300 L/min without scatter."""
    return {
        "id": identity,
        "of": of,
        "filter": "new",
        "what": f"the {identity} part",
        "points": points(*((flow, round(resistance * flow, 6)) for flow in (100, 200, 300))),
        "uncertainty": "2 %",
    } | changes


def record(*parts: Data, curve: Data | None = None, flow: Any = (), **changes: Any) -> DeviceTest:
    return a_test(flow=flow, blower_curves=[curve or a_curve()], pressure_drops=list(parts), **changes)


def scored(*parts: Data, device: Data | None = None, **changes: Any) -> BlowerResult:
    test = record(*parts, **changes)
    held = a_device(HOOD, **({"filter": ONE_FILTER} | (device or {})))
    result = score_one(test, a_catalogue(test, device=held)).topics.get("blower")
    assert isinstance(result, BlowerResult)
    return result


def case(result: BlowerResult, name: str) -> PredictedFlow:
    (found,) = (prediction for prediction in result.curves[0].predictions if prediction.case == name)
    return found


def why_not(result: BlowerResult, name: str) -> str | None:
    figure = case(result, name).flow
    assert figure.value is None
    return figure.not_scored


def test_records_without_a_blower_curve_have_no_such_result() -> None:
    test = a_test(flow=[a_run([180, 181])])
    assert "blower" not in score_one(test, a_catalogue(test, device=a_device(HOOD))).topics


@pytest.mark.parametrize(
    ("resistance", "flow"),
    # source: closed form p0 / (p0 / Qmax + R) of the shared reference, p0 600 Pa, Qmax 300 L/min, by arithmetic; the
    # second with a meter of 0.1 Pa/(L/min) in the way, the third with one of 0.5
    [(2.0, 150.0), (2.1, 600 / 4.1), (2.5, 600 / 4.5)],
)
def test_predicted_flow_is_that_of_the_closed_form(resistance: float, flow: float) -> None:
    new = case(scored(drops("f", resistance)), "new")
    assert new.flow.value == pytest.approx(flow, rel=1e-9)
    assert new.resistance_pa_min_per_l == pytest.approx(resistance, rel=1e-9)
    assert new.flow.key == "blower.curve.new"
    assert new.flow.name == "predicted flow, not measured"


def test_filters_side_by_side_and_the_hose_behind_them() -> None:
    result = scored(drops("f", 1.0, filters_at_once=2), drops("h", 0.3, "hose"), device={"filter": ONE_FILTER})
    # source: one of two filters that together have 1.0 has 2.0 (1/R = sum 1/R_i); 600 / (2 + 2.0 + 0.3)
    assert case(result, "new").flow.value == pytest.approx(600 / 4.3, rel=1e-9)
    # source: two of them have 1.0 together; 600 / (2 + 1.0 + 0.3)
    assert case(result, "two").flow.value == pytest.approx(600 / 3.3, rel=1e-9)
    assert case(result, "new").hose_known
    unknown = scored(drops("f", 1.0, filters_at_once=2), device={"filter": NONE})
    # source: without a number on record as many as were measured; 600 / (2 + 1)
    assert case(unknown, "new").flow.value == pytest.approx(200, rel=1e-9)
    assert not case(unknown, "new").hose_known


def test_other_parts_take_the_place_of_its_own() -> None:
    result = scored(
        drops("f", 1.5),
        drops("h", 0.5, "hose"),
        drops("fine", 3.0, alternative=True),
        drops("wide", 0.1, "hose", alternative=True),
        drops("both", 1.0, "filter_and_hose", alternative=True),
    )
    # source: 600 / (2 + R) with R 3.0 + 0.5, 1.5 + 0.1 and 1.0, by arithmetic
    assert case(result, "other-fine").flow.value == pytest.approx(600 / 5.5, rel=1e-9)
    assert case(result, "other-wide").flow.value == pytest.approx(600 / 3.6, rel=1e-9)
    assert case(result, "other-both").flow.value == pytest.approx(200, rel=1e-9)
    assert case(result, "other-both").hose_known


def test_of_several_the_part_that_takes_most_is_taken() -> None:
    result = scored(drops("light", 1.0), drops("heavy", 2.0))
    assert case(result, "new").flow.value == pytest.approx(150, rel=1e-9)  # source: 600 / (2 + 2)


def test_a_loaded_filter_is_predicted_only_where_it_was_measured() -> None:
    new = drops("f", 2.0)
    assert why_not(scored(new), "loaded") == "what its loaded filter takes was not measured"
    loaded = scored(new, drops("g", 4.0, filter="loaded"))
    assert case(loaded, "loaded").flow.value == pytest.approx(100, rel=1e-9)  # source: 600 / (2 + 4)


def test_filter_and_hose_that_were_measured_together() -> None:
    together = drops("all", 2.0, "filter_and_hose")
    result = scored(together)
    assert case(result, "new").flow.value == pytest.approx(150, rel=1e-9)  # source: 600 / (2 + 2)
    by_itself = "what its new filter takes by itself, without a hose, was not measured"
    assert why_not(result, "two") == by_itself
    other_hose = scored(together, drops("wide", 0.1, "hose", alternative=True))
    assert why_not(other_hose, "other-wide") == by_itself
    two = scored(together, device={"filter": ONE_FILTER | {"count": 2}})
    assert why_not(two, "new") == "filter and hose were measured with 1 at once, and the device has 2"


def test_nothing_is_predicted_outside_what_was_measured() -> None:
    narrow = a_curve((160, 280), (300, 0))
    outside = "the operating point lies outside the measured flows of the blower"
    assert why_not(scored(drops("f", 2.0), curve=narrow), "new") == outside
    short = drops("f", 2.0, points=points((50, 100), (100, 200)))
    result = scored(short)
    assert why_not(result, "new") == "the operating point lies beyond the flows at which the filter was measured"
    # source: 600 / (2 + 1), and each of the two filters has 100 of the 200 L/min
    assert case(result, "two").flow.value == pytest.approx(200, rel=1e-9)


def test_curves_that_predict_nothing() -> None:
    part = drops("f", 2.0)
    fitted = scored(part, curve=a_curve(alone=False))
    assert why_not(fitted, "new") == "the blower's curve was measured with filter or hose fitted"
    assert (fitted.curves[0].shape, fitted.curves[0].fitted) == (None, ())
    rising = scored(part, curve=a_curve((0, 100), (300, 200)))
    assert why_not(rising, "new") == "the fitted curve does not fall throughout the measured flows"
    # A hump: the fitted parabola rises at first.
    hump = a_curve((0, 500), (60, 530), (120, 525), (180, 440), (240, 320), (300, 150))
    assert scored(part, curve=hump).curves[0].not_used == "the fitted curve does not fall throughout the measured flows"
    breathing = scored(part, device={"breath_responsive": True})
    assert why_not(breathing, "new") == "the blower follows the wearer's breath, so that no one curve holds"
    empty = scored(drops("f", 2.0, points=points((0, 0))))
    assert empty.resistances[0].resistance.not_scored == "no point has a flow"
    assert why_not(empty, "new") == "the pressure drop of a part has no flow"


@pytest.mark.parametrize(
    ("pairs", "degree"),
    [
        # source: scipy 1.17.1, stats.f.sf of the nested fits: 3.5e-5 for the bent points, 0.83 for the straight ones
        (BENT, 2),
        (((0, 604), (60, 478), (120, 361), (180, 243), (240, 119)), 1),
        # Four points are never given a bent curve (own rule).
        (BENT[:4], 1),
        (((0, 600), (100, 400), (300, 0)), 1),
    ],
)
def test_a_bent_curve_is_taken_only_where_the_points_say_so(
    pairs: tuple[tuple[float, float], ...], degree: int
) -> None:
    assert chosen_degree([flow for flow, _ in pairs], [held for _, held in pairs]) == degree
    shape = scored(drops("f", 2.0), curve=a_curve(*pairs)).curves[0].shape
    assert shape == ("line", "parabola")[degree - 1]


def test_the_drawn_curve_keeps_to_the_measured_flows() -> None:
    drawn = scored(drops("f", 2.0), curve=a_curve(*BENT)).curves[0].fitted
    assert (drawn[0].flow_l_per_min, drawn[-1].flow_l_per_min) == (0, 300)
    # source: scipy 1.17.1, optimize.curve_fit: 610.6785714 Pa at no flow
    assert drawn[0].pressure_pa == pytest.approx(610.6785714, rel=1e-7)
    assert all((point.low_pa or 0) < point.pressure_pa < (point.high_pa or 0) for point in drawn)


def test_interval_agrees_with_simulation() -> None:
    """Draw gauge errors and scatter anew, fit and cross each time, and compare the spread with the interval's."""
    bent, part = a_curve(*BENT, uncertainty="9.8 Pa"), drops("f", 1.2, uncertainty="3 %")
    flow = case(scored(part, curve=bent), "new").flow
    assert flow.interval is not None
    assert flow.interval.low is not None
    assert flow.interval.high is not None
    random = np.random.default_rng(5)
    flows, held = np.array(BENT, dtype=float).T
    fit = np.polynomial.polynomial.polyfit(flows, held, 2)
    fitted = np.polynomial.polynomial.polyval(flows, fit)
    scatter = math.sqrt(float(np.sum((held - fitted) ** 2)) / 3)
    crossings = []
    for _ in range(4000):
        # source: numpy 2.4.6, roots of the crossing; the same error in all pressures of one gauge
        drawn = fitted + random.normal(0, scatter, 6) + random.normal(0, 9.8 / 1.959964)
        a, b, c = np.polynomial.polynomial.polyfit(flows, drawn, 2)
        resistance = 1.2 * (1 + random.normal(0, 0.03 / 1.959964))
        crossings.append(max(np.roots([c, b - resistance, a]).real))
    # The interval has Student's factor for the scatter's three degrees of freedom, which widens it a little.
    half_width = (flow.interval.high - flow.interval.low) / 2
    assert half_width == pytest.approx(1.96 * float(np.std(crossings)), rel=0.06)
    assert flow.value == pytest.approx(float(np.mean(crossings)), rel=0.002)


def test_intervals_say_what_they_cover() -> None:
    unknown = {"uncertainty": {"not_recorded": "no certificate"}}
    tail = "; not the flows at the points, the shape of the curve or differences between items"

    def covers(part: Data, curve: Data) -> str | None:
        interval = case(scored(part, curve=curve), "new").flow.interval
        return interval.covers.removesuffix(tail) if interval is not None else None

    full, bent = drops("f", 1.2), a_curve(*BENT)
    both = "the scatter of the points and the stated uncertainty of their pressures"
    assert covers(full, bent) == both
    only = "the scatter of the points only, since the uncertainty of their pressures is not recorded"
    assert covers(full | unknown, bent | unknown) == only
    one = drops("f", 1.2, points=points((300, 360)))
    stated = "the stated uncertainty of the pressures only, since too few points show a scatter"
    assert covers(one, a_curve()) == stated
    assert covers(full, a_curve()) == "what is known of the scatter of the points and of their pressures' uncertainty"
    assert covers(one | unknown, bent) is None
    missing = case(scored(one | unknown, curve=bent), "new").flow
    assert missing.no_interval == (
        "too few points show their scatter, and the uncertainty of the pressures is not recorded"
    )


def test_a_resistance_has_its_own_interval() -> None:
    stated = drops("f", 1.0, points=points((30, 26), (60, 57), (85, 78), (95, 92)), uncertainty="4.9 Pa")
    figure = scored(stated).resistances[0].resistance
    # source: Python 3.11 statistics.linear_regression(..., proportional=True)
    assert figure.value == pytest.approx(0.9431325301204819, rel=1e-12)
    assert figure.interval is not None
    assert figure.interval.low is not None
    assert figure.value is not None
    # source: GTC 1.5.1: ureal(0.94313, 0.0159801, df=3) + ureal(0, 0.0130121 * 4.9 / 1.959964), k_factor of its df
    assert figure.value - figure.interval.low == pytest.approx(0.07213599417, rel=1e-7)
    share = scored(stated | {"points": points((100, 100)), "uncertainty": "2 %"}).resistances[0].resistance
    assert share.interval is not None
    assert share.interval.high == pytest.approx(1.02, rel=1e-9)  # source: 2 % of 1 Pa/(L/min), by definition


def test_prediction_stands_beside_what_was_measured_in_the_same_state() -> None:
    runs = [
        a_run([152, 153]),
        a_run([90, 91], id="low", setting="low"),
        a_run([100, 101], id="worn", filter="loaded"),
        a_run([140, 141], id="tired", battery="at_alarm"),
    ]
    result = scored(drops("f", 2.0), flow=runs)
    (beside,) = case(result, "new").measured
    assert (beside.run, beside.mean.key) == ("high", "flow.high.mean")
    assert beside.difference.key == "blower.curve.new-less-high"
    assert beside.difference.value == pytest.approx(-2.5, rel=1e-9)  # source: 150 less 152.5
    predicted = case(result, "new")
    assert beside.difference.interval is not None
    assert beside.difference.interval.low is not None
    assert predicted.standard_uncertainty is not None
    # source: GTC 1.5.1: the difference of both, the measured one as flow figures have it; k_factor of its df
    meter = GTC.type_a.estimate([152, 153]) + GTC.ureal(0, 0.02 * 152.5 / 2)
    both = GTC.ureal(150, predicted.standard_uncertainty, df=predicted.degrees_of_freedom or GTC.inf) - meter
    assert beside.difference.interval.low == pytest.approx(both.x - GTC.rp.k_factor(both.df) * both.u, rel=1e-6)
    assert beside.agrees is True
    (worn,) = case(result, "loaded").measured
    assert (worn.run, worn.agrees) == ("worn", None)
    assert worn.difference.not_scored == "nothing was predicted"
    assert [finding.rule for finding in result.findings] == ["flow-only-predicted"]
    missed = scored(drops("f", 2.0), flow=[a_run([190, 191])])
    assert [finding.rule for finding in missed.findings] == ["prediction-misses-measured", "flow-only-predicted"]
    assert missed.findings[0].facts["run"] == "high"
    alone = scored(drops("f", 2.0), flow=[a_run([190])])
    assert case(alone, "new").measured[0].agrees is None


MODIFIED: Data = {"state": "modified", "description": "two filters", "changes": ["a box for two"], "carries_out": "two"}


@pytest.mark.parametrize(
    ("configuration", "run", "agrees"),
    [
        # source: 600 / (2 + 1) = 200 L/min is predicted; the measured interval is about 2 % to either side
        (MODIFIED, a_run([199, 200]), [True]),
        (MODIFIED, a_run([230, 231]), [False]),
        (MODIFIED, a_run([199]), [None]),
        (MODIFIED, a_run([199, 200], setting="low"), []),
        (MODIFIED, a_run([199, 200], battery="at_alarm"), []),
        (MODIFIED, a_run([199, 200], filter="loaded"), []),
        (MODIFIED | {"carries_out": "fine"}, a_run([100, 101]), []),
        (MODIFIED | {"based_on": "elsewhere"}, a_run([199, 200]), []),
        ({"state": "as_supplied", "description": "as it came"}, a_run([199, 200]), []),
    ],
)
def test_a_change_that_was_carried_out_stands_beside_its_prediction(
    configuration: Data, run: Data, agrees: list[bool | None]
) -> None:
    before, after = record(drops("f", 2.0)), a_test(flow=[run], id="later", configuration=configuration)
    device = a_device(HOOD, filter=ONE_FILTER)
    summary = score_all(a_catalogue(before, after, device=device)).devices["device"].topics["blower"]
    assert isinstance(summary, BlowerSummary)
    assert [made.agrees for made in summary.carried_out] == agrees
    for made in summary.carried_out:
        assert (made.predicted_in, made.predicted) == ("test", "blower.curve.two")
        assert (made.measured_in, made.run) == ("later", "high")
    found = [finding.where for finding in summary.findings]
    assert found == (["later: flow[high]"] if agrees == [False] else [])


def test_other_parts_are_named_by_their_pressure_drops() -> None:
    named = {"state": "as_supplied", "description": "as it came", "name": "plain"}
    before = record(drops("f", 2.0), drops("fine", 4.0, alternative=True), configuration=named)
    fine = MODIFIED | {"carries_out": "fine", "based_on": "plain"}
    after = a_test(flow=[a_run([99, 100])], id="later", configuration=fine)
    device = a_device(HOOD, filter=ONE_FILTER)
    summary = score_all(a_catalogue(before, after, device=device)).devices["device"].topics["blower"]
    assert isinstance(summary, BlowerSummary)
    assert [made.predicted for made in summary.carried_out] == ["blower.curve.other-fine"]


RESISTANCES = st.floats(0.01, 20)


@settings(max_examples=60)
@given(RESISTANCES, RESISTANCES, st.floats(-3, -0.2), st.floats(-0.005, 0), st.integers(1, 6))
def test_more_resistance_never_gives_more_air_and_one_more_filter_never_less(
    filters: float, more: float, slope: float, bend: float, count: int
) -> None:
    curve, most = (600.0, slope, bend), 300.0

    def flow(resistance: float) -> float:
        found = operating_flow(curve, resistance, 0, most)
        # Less resistance than the curve reaches is as much air as was measured.
        return most if found is None else found

    assert flow(filters + more) <= flow(filters) + 1e-9
    fewer, one_more = (system_resistance(filters, 1, number, 0.1) for number in (count, count + 1))
    assert flow(one_more) >= flow(fewer) - 1e-9
