"""Run-downs of a record: what is required, what a certificate says, alarms, tasks, energy, the one that governs."""

from __future__ import annotations

from typing import Any

import pytest
from scipy.stats import norm

from generator.model.claim_result import ClaimOutcome
from generator.model.result import Figure, Outcome, Relation, Working
from generator.model.run_time_result import AlarmOutcome, RunTimeResult, RunTimeSummary
from tests.scoring.builders import a_calibration, a_catalogue, a_device, a_meter, a_run, a_test, score_all
from tests.scoring.run_down_builders import (
    FALLING,
    LOOSE,
    a_run_down,
    a_run_down_catalogue,
    a_series,
    scored_run_down,
    with_series,
)
from tests.scoring.test_methods import METHODS, check_symbols, methods_used

NO_CERTIFICATE = a_meter(calibrations=[a_calibration(date="2025-06-02")])
TASK = {"what": "one round", "source": "the tester"}


def value(figure: Figure | None) -> float:
    assert figure is not None
    assert figure.value is not None
    return figure.value


def limits(figure: Figure | None) -> tuple[float | None, float | None]:
    assert figure is not None
    assert figure.interval is not None
    return figure.interval.low, figure.interval.high


def test_the_run_time_ends_where_the_flow_falls_below_what_is_required() -> None:
    # 200 L/min falling by 10 an hour is at 170, the requirement for a hood (42 CFR 84.175(b), 2020), after 180 min; the
    # line there is not below, so that the run time ends on the way to the next.
    result = scored_run_down()
    assert value(result.run_time) == pytest.approx(180)
    assert (result.run_time.relation, result.required_l_per_min) == (Relation.EQUAL, 170)
    assert result.to_stop is None
    assert result.fell_below


def test_its_limits_are_where_the_flow_less_and_plus_its_uncertainty_crosses() -> None:
    # A certificate of 2 % (k = 2) is 1.7 L/min at 170, times 1.96 (scipy 1.17.1, norm.ppf) 3.33 L/min; at 10 L/min an
    # hour that is 20.0 min. The step of 60 min adds 1.96 x 60 / sqrt(12) = 33.9 min by the root of squares.
    k = norm.ppf(0.975)
    by_flow, by_step = k * 1.7 / 10 * 60, k * 60 / 12**0.5
    half = (by_flow**2 + by_step**2) ** 0.5
    assert limits(scored_run_down((*FALLING, 150.0)).run_time) == pytest.approx((180 - half, 180 + half), rel=1e-9)


def test_a_fine_log_leaves_the_certificate_alone() -> None:
    flows = [200 - number / 12 for number in range(480)]  # every half minute, 10 L/min an hour
    low, high = limits(scored_run_down(flows, series={"step_min": 0.5}).run_time)
    assert low == pytest.approx(180 - norm.ppf(0.975) * 1.7 * 6, abs=0.02)
    assert high == pytest.approx(180 + norm.ppf(0.975) * 1.7 * 6, abs=0.02)


def test_without_a_certificate_there_is_no_interval() -> None:
    result = scored_run_down(meter=NO_CERTIFICATE)
    assert result.run_time.interval is None
    assert result.run_time.no_interval == "the meter has no calibration certificate of the test day or before"
    assert result.fell_below


def test_the_flow_is_corrected_and_brought_to_the_room_as_in_a_flow_run() -> None:
    # A mass flow meter at 20 degC in a room of 40 degC: 313.15 / 293.15 = 1.06822 (ideal gas law); its certificate adds
    # 3 L/min before that. 170 L/min are read as 170 / 1.06822 - 3 = 156.14, at 263.1 min of the flow below.
    environment = {"temperature": "40 degC", "pressure": "101325 Pa", "humidity": "40 %"}
    meter = a_meter("thermal_mass_flow_meter", calibrations=[a_calibration(correction="3 L/min")])
    result = scored_run_down((*FALLING, 150.0), meter=meter, test={"environment": environment})
    assert value(result.run_time) == pytest.approx((200 - (170 * 293.15 / 313.15 - 3)) * 6, rel=1e-9)
    run = a_test(flow=[a_run([160.0, 160.0])], environment=environment)
    topics = score_all(a_catalogue(run, device=a_device(LOOSE), meter=meter)).records["test"].topics
    mean, *_ = topics["flow"].figures
    working = result.run_time.working
    assert working is not None
    flows = {item.symbol: item.value for item in working.inputs}
    assert flows["Q_{1}"] == pytest.approx(value(mean), rel=1e-12)  # the line at 240 min was read as 160 L/min too


def test_a_test_that_ended_while_the_flow_was_enough_gives_a_lower_bound() -> None:
    result = scored_run_down((200, 195, 190))
    assert (value(result.run_time), result.run_time.relation) == (120, Relation.AT_LEAST)
    assert limits(result.run_time) == (120, None)
    assert result.alarm is AlarmOutcome.NOT_NEEDED


def test_a_bound_within_the_uncertainty_of_the_flow_is_certain_for_less_time() -> None:
    # 172 L/min at the end lies within 3.33 L/min of 170; 173.33 are crossed on the way there, at 60 + 60 x 6.67 / 8.
    low, high = limits(scored_run_down((190, 180, 172)).run_time)
    assert high is None
    assert low is not None
    assert 60 < low < 60 + 60 * 6.67 / 8


def test_a_flow_that_was_never_enough_has_no_run_time() -> None:
    result = scored_run_down((40, 38, 30), ended="blower_stopped")
    assert value(result.run_time) == 0
    assert limits(result.run_time) == (0, 0)
    assert value(result.to_stop) == 120
    assert result.alarm is AlarmOutcome.NONE_HEARD
    assert result.energy is None


def test_a_flow_that_began_within_its_uncertainty_may_have_been_enough_for_a_while() -> None:
    low, high = limits(scored_run_down((169, 168, 100)).run_time)
    assert low == 0
    assert high is not None
    assert high > 60


@pytest.mark.parametrize(
    ("kind", "changes", "reason"),
    [
        (LOOSE, {"breath_responsive": True}, "the device follows the wearer's breath"),
        ("elastomeric_half_facepiece", {}, "no supply flow requirement is on record for this kind of device"),
    ],
)
def test_without_a_requirement_there_is_no_run_time(kind: str, changes: Any, reason: str) -> None:
    columns = {"voltage_v": (12.0,) * 5, "current_a": (1.0,) * 5}
    result = scored_run_down(kind=kind, device=changes, series=columns, ended="blower_stopped")
    assert result.run_time.value is None
    assert result.run_time.not_scored is not None
    assert result.run_time.not_scored.startswith(reason)
    assert result.energy is not None
    assert result.energy.not_scored == "no run time is scored that it could be counted for"
    assert (result.alarm, result.alarm_margin) == (AlarmOutcome.NOT_SCORED, None)
    assert value(result.to_stop) == 240


def test_the_stop_is_where_the_flow_is_nothing_from_then_on() -> None:
    assert value(scored_run_down((200, 180, 0, 0, 0), ended="blower_stopped").to_stop) == 120
    assert value(scored_run_down((200, 0, 150, 0), ended="blower_stopped").to_stop) == 180
    assert value(scored_run_down((200, 180, 0.4), ended="blower_stopped").to_stop) == 120


def test_times_count_from_the_first_line_of_the_log() -> None:
    alarms = [{"at": "100 min", "what": "beeps"}]
    result = scored_run_down(series={"start_s": 600}, alarms=alarms)
    assert value(result.run_time) == pytest.approx(180)
    assert value(result.first_alarm) == 90
    assert value(result.alarm_margin) == pytest.approx(90)


@pytest.mark.parametrize(
    ("at", "outcome"),
    [
        ("130 min", AlarmOutcome.BEFORE),
        ("160 min", AlarmOutcome.UNDECIDED),  # the limits are 140.6 and 219.4 min, from the certificate and the step
        ("219 min", AlarmOutcome.UNDECIDED),
        ("220 min", AlarmOutcome.AFTER),
    ],
)
def test_an_alarm_is_held_against_the_whole_interval(at: str, outcome: AlarmOutcome) -> None:
    result = scored_run_down((*FALLING, 150.0), alarms=[{"at": at, "what": "beeps"}])
    assert result.alarm is outcome
    assert limits(result.alarm_margin) == tuple(
        end - value(result.first_alarm) for end in limits(result.run_time) if end is not None
    )


def test_without_an_interval_an_alarm_is_held_against_the_value() -> None:
    for at, outcome in (("179 min", AlarmOutcome.BEFORE), ("181 min", AlarmOutcome.AFTER)):
        alarms = [{"at": at, "what": "beeps"}]
        assert scored_run_down(meter=NO_CERTIFICATE, alarms=alarms).alarm is outcome


def test_an_alarm_before_the_end_of_a_bound_came_at_least_so_long_before() -> None:
    result = scored_run_down((200, 195, 190), alarms=[{"at": "100 min", "what": "beeps"}])
    assert result.alarm_margin is not None
    assert (value(result.alarm_margin), result.alarm_margin.relation) == (20, Relation.AT_LEAST)
    assert result.alarm is AlarmOutcome.BEFORE


@pytest.mark.parametrize(
    ("flows", "duration", "outcome"),
    [
        ((*FALLING, 150.0), "140 min", Outcome.MEETS),
        ((*FALLING, 150.0), "141 min", Outcome.UNDECIDED),
        ((*FALLING, 150.0), "219 min", Outcome.UNDECIDED),
        ((*FALLING, 150.0), "220 min", Outcome.DOES_NOT_MEET),
        ((200, 195, 190), "2 h", Outcome.MEETS),
        # The test ended before; what came later is not known.
        ((200, 195, 190), "3 h", Outcome.UNDECIDED),
        ((40, 38), "1 s", Outcome.DOES_NOT_MEET),
    ],
)
def test_a_task_is_held_against_the_whole_interval(flows: tuple[float, ...], duration: str, outcome: Outcome) -> None:
    assert scored_run_down(flows, task={**TASK, "duration": duration}).task is outcome


def test_energy_is_counted_to_the_end_of_the_run_time_and_the_share_to_the_stop() -> None:
    # 12 V x 1.5 A = 18 W; 180 min are 54 Wh, and the air is (200 + 170) / 2 x 180 = 33 300 L: 1.6216 Wh for 1000 L. To
    # the last line, 240 min, 72 Wh, of 80 Wh that are stated.
    columns = {"voltage_v": (12.0,) * 5, "current_a": (1.5,) * 5}
    power = {"source": "battery", "energy": "80 Wh", "settings": ["low", "high"]}
    result = scored_run_down(series=columns, device={"power": power}, ended="blower_stopped")
    assert value(result.energy) == pytest.approx(54)
    assert value(result.energy_for_cubic_metre) == pytest.approx(54 / 33.3)
    assert value(result.share_of_stated_energy) == pytest.approx(90)
    assert len(result.figures) == 5


def test_a_battery_that_did_not_stop_has_no_share() -> None:
    columns = {"voltage_v": (12.0,) * 5, "current_a": (1.5,) * 5}
    power = {"source": "battery", "energy": "80 Wh", "settings": ["low", "high"]}
    assert scored_run_down(series=columns, device={"power": power}).share_of_stated_energy is None


def test_a_current_the_wrong_way_round_is_no_energy() -> None:
    columns = {"voltage_v": (12.0,) * 5, "current_a": (-1.5,) * 5}
    power = {"source": "battery", "energy": "80 Wh", "settings": ["low", "high"]}
    result = scored_run_down(series=columns, device={"power": power}, ended="blower_stopped")
    for figure in (result.energy, result.energy_for_cubic_metre, result.share_of_stated_energy):
        assert figure is not None
        assert figure.not_scored == "the current as logged is not that of a battery that gives energy"


def test_a_flow_that_comes_back_is_told() -> None:
    result = scored_run_down((200, 160, 190, 150))
    assert result.came_back
    assert value(result.run_time) == pytest.approx(45)
    assert not scored_run_down().came_back


def test_what_is_read_below_within_its_uncertainty_to_the_end_has_not_surely_fallen() -> None:
    # 168 L/min lies within 3.33 L/min of 170.
    assert not scored_run_down((200, 190, 168)).fell_below
    assert scored_run_down((200, 190, 166)).fell_below
    assert scored_run_down((200, 190, 168), ended="blower_stopped").fell_below


def test_a_home_built_device_is_held_against_a_benchmark() -> None:
    assert scored_run_down(device={"home_built": True}).benchmark_only
    assert not scored_run_down().benchmark_only


def two(first: tuple[float, ...], second: tuple[float, ...]) -> RunTimeSummary:
    test = a_test(run_downs=[a_run_down(id="a"), a_run_down(id="b")])
    catalogue = a_catalogue(test, device=a_device(LOOSE))
    summary = (
        score_all(with_series(catalogue, a_series(first, "a"), a_series(second, "b")))
        .devices["device"]
        .topics["run_time"]
    )
    assert isinstance(summary, RunTimeSummary)
    assert summary.run_downs == 2
    return summary


def test_the_shortest_run_time_governs_a_device() -> None:
    summary = two(FALLING, (180, 160))
    assert summary.governing is not None
    assert (summary.governing.run_down, summary.governing_record) == ("b", "test")


def test_a_bound_governs_where_there_is_nothing_else_only() -> None:
    summary = two((200, 195), FALLING)
    assert summary.governing is not None
    assert summary.governing.run_down == "b"
    summary = two((200, 195), (200, 195, 195))
    assert summary.governing is not None
    assert summary.governing.run_down == "a"


def test_a_record_without_a_run_down_has_no_such_result() -> None:
    test = a_test(flow=[a_run([180.0])])
    result = score_all(a_catalogue(test, device=a_device(LOOSE)))
    assert "run_time" not in result.records["test"].topics
    assert result.devices["device"].topics.get("run_time") is None


@pytest.mark.parametrize(
    ("claimed", "outcome"),
    [
        ("140 min", ClaimOutcome.SUPPORTED),
        ("3 h", ClaimOutcome.UNDECIDED),
        ("220 min", ClaimOutcome.CONTRADICTED),
    ],
)
def test_a_claim_of_time_is_held_against_the_run_time(claimed: str, outcome: ClaimOutcome) -> None:
    claims = [
        {"quotation": "So long", "where": "leaflet", "date": "2025-02-03", "means": {"run_time_at_least": claimed}}
    ]
    catalogue = a_run_down_catalogue((*FALLING, 150.0), device={"claims": claims}, ended="blower_stopped")
    (result,) = score_all(catalogue).devices["device"].claims
    assert (result.outcome, result.unit) == (outcome, "min")
    assert result.figure is not None
    # Six lines an hour apart: the blower turned for 300 min, which decides nothing.
    assert result.figure.key == "run_time.full.run_time"


def test_a_claim_of_time_at_another_setting_is_not_tested() -> None:
    means = {"run_time_at_least": "3 h", "setting": "low"}
    claims = [{"quotation": "So long", "where": "leaflet", "date": "2025-02-03", "means": means}]
    (result,) = score_all(a_run_down_catalogue(device={"claims": claims})).devices["device"].claims
    assert result.outcome is ClaimOutcome.NOT_TESTED
    assert result.reason == (
        "No time above the required flow at the setting low of the device as supplied is on record."
    )


def test_a_bound_supports_what_lies_below_it_and_leaves_the_rest_open() -> None:
    for claimed, outcome in (("2 h", ClaimOutcome.SUPPORTED), ("3 h", ClaimOutcome.UNDECIDED)):
        claims = [
            {"quotation": "So long", "where": "leaflet", "date": "2025-02-03", "means": {"run_time_at_least": claimed}}
        ]
        (result,) = score_all(a_run_down_catalogue((200, 195, 190), device={"claims": claims})).devices["device"].claims
        assert result.outcome is outcome


def test_workings_name_methods_that_exist_and_symbols_that_these_explain() -> None:
    columns = {"voltage_v": (12.0,) * 6, "current_a": (1.5,) * 6}
    power = {"source": "battery", "energy": "80 Wh", "settings": ["low", "high"]}
    alarms = [{"at": "1 h", "what": "beeps"}]
    meter = a_meter("thermal_mass_flow_meter", calibrations=[a_calibration(correction="3 L/min")])
    for flows in ((*FALLING, 150.0), (200, 198, 196, 194, 192, 190), (40, 39, 38, 37, 36, 35)):
        parts: Any = {"device": {"power": power}, "series": columns, "ended": "blower_stopped", "alarms": alarms}
        result = scored_run_down(flows, meter=meter, **parts)
        assert len(result.figures) == 7
        for figure in result.figures:
            assert set(methods_used(figure)) <= set(METHODS)
            assert (figure.value is None) == (figure.not_scored is not None) == (figure.working is None)
            if figure.value is not None:
                assert (figure.interval is None) == (figure.no_interval is not None)
            for working in (figure.working, figure.interval.working if figure.interval else None):
                if working is not None:
                    check_symbols(working)
                    assert [place for place in places_in(working) if place.startswith("flow[")] == []


def places_in(working: Working) -> list[str]:
    """Return where every number of a working stands, those behind it too."""
    found = []
    for item in working.inputs:
        found += [item.where, *(places_in(item.working) if item.working is not None else ())]
    return found


def test_every_figure_of_the_topic_stands_among_the_record_s() -> None:
    catalogue = a_run_down_catalogue(alarms=[{"at": "1 h", "what": "beeps"}], ended="blower_stopped")
    result = score_all(catalogue).records["test"].topics["run_time"]
    assert isinstance(result, RunTimeResult)
    assert [figure.key for figure in result.figures] == [
        f"run_time.full.{name}" for name in ("run_time", "to_stop", "first_alarm", "alarm_margin")
    ]
