"""Air balance: net flow with its interval, velocity through the openings, pressure inside over time."""

from __future__ import annotations

from typing import Any

import GTC
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.model.air_balance_result import AirBalanceResult, AirBalanceSummary, Balance
from generator.model.result import Figure
from generator.scoring.air_balance import net_flow, net_flow_interval, outward_velocity
from generator.scoring.net_flows import DRAWN_IN, EXHAUST_NOT_MEASURED, NO_NET_INTERVAL, balance_of
from generator.scoring.pressure_stretches import ONE_READING
from generator.scoring.pressure_traces import lowest_pressure, mean_pressure, share_of_time_below
from tests.scoring.air_builders import LOG, a_trace, an_exhaust, pressures
from tests.scoring.builders import a_catalogue, a_device, a_run, a_test, score_all, score_one

HOOD = "loose_powered_hood"
SUPPLY = [38.0, 38.2, 38.1, 37.9, 38.3]
EXHAUST = [29.8, 30.1, 30.0, 29.9]
EXHAUSTING = {
    "inlets": [{"where": "front", "filtered": True}],
    "outlets": [],
    "seals": "none",
    "powered_exhaust": {"where": "crown", "beside_inlet": False},
}


def scored(**parts: Any) -> AirBalanceResult | None:
    device = a_device(HOOD, **parts.pop("device", {}))
    series = parts.pop("series", None)
    test = a_test(**parts)
    catalogue = a_catalogue(test, device=device, series={each.file: each for each in series or ()})
    result = score_one(test, catalogue).topics.get("air_balance")
    assert result is None or isinstance(result, AirBalanceResult)
    return result


def balanced(**parts: Any) -> AirBalanceResult:
    result = scored(**({"flow": [a_run(SUPPLY)]} | parts))
    assert result is not None
    return result


def net_of(result: AirBalanceResult, place: int = 0) -> Figure:
    net = result.balances[place].net
    assert net is not None
    return net


def rules(result: AirBalanceResult) -> list[str]:
    return [finding.rule for finding in result.findings]


def test_net_flow_and_its_interval_agree_with_a_general_library() -> None:
    # source: GTC 1.5.1: each mean as type_a.estimate of its readings plus half of the certificate's 2 % (k = 2). The
    # degrees of freedom of each part are those of its own mean, so that each is entered anew with them.
    parts = []
    for readings in (SUPPLY, EXHAUST):
        mean = GTC.type_a.estimate(readings) + GTC.ureal(0, 0.02 * float(np.mean(readings)) / 2)
        parts.append(GTC.ureal(mean.x, mean.u, mean.df))
    total = parts[0] - parts[1]
    half_width = GTC.rp.k_factor(total.df) * total.u
    result = balanced(exhaust=[an_exhaust(EXHAUST)])
    net = net_of(result)
    assert net.value == pytest.approx(total.x, rel=1e-12)
    assert net.interval is not None
    assert net.interval.low == pytest.approx(total.x - half_width, rel=1e-7)
    assert net.interval.high == pytest.approx(total.x + half_width, rel=1e-7)
    assert (net.key, result.balances[0].balance) == ("air_balance.high.net", Balance.OUTWARD)


def test_an_exhaust_is_read_like_a_flow_run_and_stands_where_it_is() -> None:
    result = balanced(exhaust=[an_exhaust(SUPPLY)])
    (exhaust,) = result.exhausts
    flow = score_one(*_with_flow()).topics["flow"].figures[0]
    # The same readings by the same meter: the same mean and interval as the flow run's.
    assert (exhaust.mean.value, exhaust.mean.interval is not None) == (flow.value, True)
    assert flow.interval is not None
    assert exhaust.mean.interval is not None
    assert (exhaust.mean.interval.low, exhaust.mean.interval.high) == (flow.interval.low, flow.interval.high)
    assert (exhaust.mean.key, exhaust.standard_deviation.key) == (
        "air_balance.exhaust-high.mean",
        "air_balance.exhaust-high.sd",
    )
    assert "flow[" not in exhaust.mean.model_dump_json()
    assert "exhaust[exhaust-high].readings.values[4]" in exhaust.mean.model_dump_json()


def _with_flow() -> tuple[Any, Any]:
    test = a_test(flow=[a_run(SUPPLY)])
    return test, a_catalogue(test, device=a_device(HOOD))


def test_an_exhaust_that_takes_more_is_found() -> None:
    result = balanced(exhaust=[an_exhaust([41.0, 41.2, 40.9, 41.1])])
    assert result.balances[0].balance is Balance.INWARD
    assert rules(result) == ["exhaust-exceeds-supply"]


def test_an_interval_that_holds_zero_decides_nothing() -> None:
    result = balanced(exhaust=[an_exhaust([38.4, 38.6, 38.3, 38.5])])
    assert (net_of(result).value or 0) < 0
    assert (result.balances[0].balance, rules(result)) == (Balance.UNDECIDED, [])


def test_a_single_reading_leaves_the_net_flow_without_an_interval_and_decides_nothing() -> None:
    result = balanced(exhaust=[an_exhaust([60.0])])
    assert (net_of(result).interval, net_of(result).no_interval) == (None, NO_NET_INTERVAL)
    assert (result.balances[0].balance, rules(result)) == (Balance.UNDECIDED, [])


def test_an_exhaust_at_another_setting_makes_no_net_flow() -> None:
    result = balanced(exhaust=[an_exhaust(EXHAUST, setting="low")])
    assert (net_of(result).value, net_of(result).not_scored) == (None, EXHAUST_NOT_MEASURED)
    assert result.balances[0].balance is Balance.NOT_SCORED
    assert balance_of(net_of(result)) is Balance.NOT_SCORED


def test_of_two_readings_of_an_exhaust_the_greater_is_taken_off() -> None:
    result = balanced(exhaust=[an_exhaust(EXHAUST), an_exhaust([32.0, 32.2, 32.1], id="again")])
    assert result.balances[0].exhaust == "again"
    assert net_of(result).value == pytest.approx(np.mean(SUPPLY) - 32.1, rel=1e-12)


def test_velocity_follows_the_net_flow_and_its_interval() -> None:
    openings = {"area": "20 cm2", "how": "by feeler gauge"}
    result = balanced(exhaust=[an_exhaust(EXHAUST)], openings=openings)
    velocity, net = result.balances[0].velocity, net_of(result)
    assert velocity is not None
    assert velocity.value is not None
    assert velocity.interval is not None
    assert net.value is not None
    assert net.interval is not None
    # source: 1 L/min through 1 cm2 is 1e-3 m3 / 60 s / 1e-4 m2 = 1/6 m/s, by arithmetic
    assert velocity.value == pytest.approx(net.value / 20 / 6, rel=1e-12)
    assert velocity.interval.low == pytest.approx((net.interval.low or 0) / 20 / 6, rel=1e-12)
    assert velocity.interval.high == pytest.approx((net.interval.high or 0) / 20 / 6, rel=1e-12)


def test_velocity_is_not_scored_where_air_comes_in_or_the_exhaust_is_not_known() -> None:
    openings = {"area": "20 cm2", "how": "by feeler gauge"}
    inward = balanced(exhaust=[an_exhaust([41.0, 41.2])], openings=openings).balances[0].velocity
    unknown = balanced(openings=openings, device={"air_path": EXHAUSTING}).balances[0].velocity
    assert inward is not None
    assert unknown is not None
    assert (inward.value, inward.not_scored) == (None, DRAWN_IN)
    assert (unknown.value, unknown.not_scored) == (None, EXHAUST_NOT_MEASURED)


def test_without_a_powered_exhaust_the_whole_supply_leaves_through_the_openings() -> None:
    # source: 0.2 m/s through 50 cm2 is 60 L/min (computed from the closed form, shared reference)
    openings = {"area": "50 cm2", "how": "by feeler gauge"}
    (balance,) = balanced(flow=[a_run([60.0, 60.0, 60.0])], openings=openings).balances
    assert balance.net is None
    assert balance.velocity is not None
    assert balance.velocity.value == pytest.approx(0.2, rel=1e-12)
    assert balance.balance is Balance.OUTWARD


def test_a_record_without_any_of_it_has_no_air_balance() -> None:
    assert scored(flow=[a_run(SUPPLY)]) is None


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: net_flow(-1, 1), "supply flow"),
        (lambda: net_flow(1, -1), "exhaust flow"),
        (lambda: net_flow_interval(1, 0, None, 1, 0, None, 0.95), "combined standard uncertainty"),
        (lambda: net_flow_interval(1, -1, None, 1, 1, None, 0.95), "uncertainty of the supply"),
        (lambda: net_flow_interval(1, 1, None, 1, -1, None, 0.95), "uncertainty of the exhaust"),
        (lambda: net_flow_interval(1, 1, None, 1, 1, None, 1.0), "coverage"),
        (lambda: outward_velocity(1, 0), "area of the openings"),
        (lambda: lowest_pressure(()), "pressures"),
        (lambda: mean_pressure((1.0,), ()), "durations and pressures"),
        (lambda: mean_pressure((0.0,), (1.0,)), "time that a reading is held"),
        (lambda: share_of_time_below((), (), 0.0), "durations and pressures"),
    ],
)
def test_formulas_refuse_what_they_do_not_hold_for(call: Any, message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        call()


@given(st.floats(0, 400), st.floats(0, 400), st.floats(0, 50))
def test_a_stronger_exhaust_never_leaves_more_air(supply: float, exhaust: float, more: float) -> None:
    assert net_flow(supply, exhaust + more) <= net_flow(supply, exhaust)


@given(st.floats(0.01, 20), st.floats(0.01, 20), st.floats(0, 20))
def test_more_uncertainty_never_makes_the_interval_narrower(supply: float, exhaust: float, more: float) -> None:
    narrow = net_flow_interval(100, supply, None, 50, exhaust, None, 0.95)
    wide = net_flow_interval(100, supply + more, None, 50, exhaust, None, 0.95)
    assert wide[1] - wide[0] >= narrow[1] - narrow[0]


# ---- pressure inside -------------------------------------------------------------------------------------------------

TIMES = [0.0, 0.5, 1.0, 2.0, 2.25, 3.0]
INSIDE = [3.0, -1.5, 0.0, 12.0, -0.5, -2.0]
DONE = ["standing", "standing", "bending", "bending", "", "bending"]


def traced(**changes: Any) -> AirBalanceResult:
    series = [pressures(changes.pop("values", INSIDE), changes.pop("times", TIMES), changes.pop("exercise", DONE))]
    result = scored(pressure_traces=[a_trace(**changes)], series=series)
    assert result is not None
    return result


def test_the_whole_trace_weighs_readings_by_the_time_to_the_next() -> None:
    whole = traced().traces[0].whole
    held = np.diff(TIMES)
    # source: numpy 2.4.6: numpy.min, numpy.average with the differences of the times as weights
    assert whole.lowest.value == np.min(INSIDE)
    assert whole.mean.value == pytest.approx(np.average(INSIDE[:-1], weights=held), rel=1e-12)
    assert whole.below_room.value == pytest.approx(100 * np.average(np.array(INSIDE[:-1]) < 0, weights=held), rel=1e-12)
    assert whole.lowest.no_interval is not None


def test_each_exercise_has_its_own_figures() -> None:
    standing, bending = traced().traces[0].exercises
    assert (standing.exercise, bending.exercise) == ("standing", "bending")
    # source: by hand: -1.5 for 0.5 s of 1 s; bending holds 0 for 1 s and 12 for 0.25 s, its last reading has no time
    assert (standing.lowest.value, standing.mean.value, standing.below_room.value) == (-1.5, 0.75, 50.0)
    assert bending.lowest.value == -2.0
    assert bending.mean.value == pytest.approx(2.4, rel=1e-12)
    assert bending.below_room.value == 0.0
    assert bending.lowest.key == "air_balance.trace-high.lowest-2"


def test_a_log_without_exercises_is_one_stretch() -> None:
    assert traced(exercise=None).traces[0].exercises == ()


def test_one_reading_has_a_pressure_and_no_share_of_time() -> None:
    whole = traced(values=[2.0], times=[0.0], exercise=["standing"]).traces[0].whole
    assert whole.lowest.value == 2.0
    assert (whole.mean.value, whole.mean.not_scored) == (None, ONE_READING)
    assert (whole.below_room.value, whole.below_room.not_scored) == (None, ONE_READING)


@pytest.mark.parametrize(
    ("values", "setting", "found"),
    [
        ([1.0, 0.0, 2.0], "high", []),
        ([1.0, -0.001, 2.0], "high", ["pressure-below-room"]),
        ([1.0, 2.0, -0.001], "high", ["pressure-below-room"]),
        ([1.0, -5.0, 2.0], "off", []),
    ],
)
def test_a_pressure_below_the_room_is_found_with_the_blower_running(
    values: list[float], setting: str, found: list[str]
) -> None:
    assert rules(traced(values=values, times=None, exercise=None, setting=setting)) == found


def test_a_device_is_summed_up() -> None:
    test = a_test(
        flow=[a_run(SUPPLY)],
        exhaust=[an_exhaust([41.0, 41.2, 40.9, 41.1])],
        pressure_traces=[a_trace(), a_trace("off", file="logs/off.csv"), a_trace("low", file="logs/low.csv")],
    )
    logs = {
        LOG: pressures(INSIDE),
        "logs/off.csv": pressures(INSIDE, file="logs/off.csv"),
        "logs/low.csv": pressures([1.0, 2.0], file="logs/low.csv"),
    }
    result = score_all(a_catalogue(test, device=a_device(HOOD), series=logs)).devices["device"].topics["air_balance"]
    assert isinstance(result, AirBalanceSummary)
    assert (result.inward, result.balances, result.below_room, result.running_traces) == (1, 1, 1, 2)


@given(st.lists(st.tuples(st.floats(0.01, 10), st.floats(-50, 50)), min_size=1, max_size=40), st.floats(0, 20))
def test_a_higher_pressure_is_never_longer_below_the_room(readings: list[tuple[float, float]], more: float) -> None:
    durations, inside = zip(*readings, strict=True)
    raised = [each + more for each in inside]
    assert share_of_time_below(durations, raised, 0.0) <= share_of_time_below(durations, inside, 0.0)
    assert min(inside) - 1e-9 <= mean_pressure(durations, inside) <= max(inside) + 1e-9
