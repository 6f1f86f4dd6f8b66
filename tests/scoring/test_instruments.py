"""Instruments: states of calibrations, records that a bad one touches, check standards, and findings from both."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.device_test import DeviceTest
from generator.model.instrument_result import CalibrationState, InstrumentResult, ReadingState
from generator.model.result import Finding
from generator.scoring.instruments import is_affected, limits_of, reading_state
from tests.scoring.builders import (
    Data,
    a_calibration,
    a_catalogue,
    a_check_standard,
    a_counter,
    a_meter,
    a_run,
    a_test,
    score_all,
    score_one,
)

FLOW = [a_run([200.0, 201.0])]
OUT: Data = {"within_tolerance": False, "found": "read 7 % high; 3 % was agreed"}
WITHIN: Data = {"within_tolerance": True, "found": "read 1 % high; 3 % was agreed"}
GOOD_THEN_BAD = [
    a_calibration(date="2025-01-10", due="2026-01-10", certificate="C1"),
    a_calibration(date="2025-06-10", due="2026-06-10", certificate="C2", as_found=OUT),
]


def a_test_on(day: str, name: str = "test", **changes: Any) -> DeviceTest:
    dates = {"received": "2024-01-01", "performed": day, "issued": "2026-12-31"}
    return a_test(flow=FLOW, id=name, dates=dates, **changes)


def scored(*tests: DeviceTest, **meter: Any) -> InstrumentResult:
    return score_all(a_catalogue(*tests, meter=a_meter(**meter))).instruments["meter"]


def raised(test: DeviceTest, **meter: Any) -> list[Finding]:
    found = score_one(test, a_catalogue(test, meter=a_meter(**meter))).findings
    return [each for each in found if each.rule in ("calibration-out-of-tolerance", "check-standard-beyond-limits")]


def day(text: str) -> datetime.date:
    return datetime.date.fromisoformat(text)


@pytest.mark.parametrize(
    ("performed", "affected"),
    # source: by definition, from the day of the calibration before to the day of the one that found it, both included
    [
        ("2025-01-09", False),
        ("2025-01-10", True),
        ("2025-01-11", True),
        ("2025-06-09", True),
        ("2025-06-10", True),
        ("2025-06-11", False),
    ],
)
def test_which_days_are_in_doubt(performed: str, affected: bool) -> None:
    assert is_affected(day(performed), day("2025-01-10"), day("2025-06-10")) is affected
    test = a_test_on(performed)
    assert scored(test, calibrations=GOOD_THEN_BAD).calibrations[1].affected == (("test",) if affected else ())
    assert [each.rule for each in raised(test, calibrations=GOOD_THEN_BAD)] == (
        ["calibration-out-of-tolerance"] if affected else []
    )


@pytest.mark.parametrize(("performed", "affected"), [("1999-01-01", True), ("2025-06-10", True), ("2025-06-11", False)])
def test_without_a_calibration_before_every_earlier_test_is_in_doubt(performed: str, affected: bool) -> None:
    assert is_affected(day(performed), None, day("2025-06-10")) is affected


def test_the_finding_says_what_was_found_and_when() -> None:
    (finding,) = raised(a_test_on("2025-03-01"), calibrations=GOOD_THEN_BAD)
    assert finding.where == "instruments.flow_meter"
    assert finding.facts == {
        "instrument": "meter",
        "found": "read 7 % high; 3 % was agreed",
        "calibrated": "2025-06-10",
        "calibrated_before": "2025-01-10",
    }
    only = [a_calibration(date="2025-06-10", due="2026-06-10", as_found=OUT)]
    (finding,) = raised(a_test_on("2025-03-01"), calibrations=only)
    assert finding.facts["calibrated_before"] == "never"


@pytest.mark.parametrize("as_found", [None, WITHIN])
def test_a_calibration_within_tolerance_or_silent_touches_nothing(as_found: Data | None) -> None:
    calibrations = [GOOD_THEN_BAD[0], GOOD_THEN_BAD[1] | {"as_found": as_found}]
    assert raised(a_test_on("2025-03-01"), calibrations=calibrations) == []
    result = scored(a_test_on("2025-03-01"), calibrations=calibrations)
    assert [each.affected for each in result.calibrations] == [(), ()]


def test_only_records_that_used_the_instrument_are_touched() -> None:
    user = a_test_on("2025-03-01", "user")
    other = a_test_on("2025-03-01", "other", instruments={"particle_counter": "counter"})
    catalogue = a_catalogue(user, other, meter=a_meter(calibrations=GOOD_THEN_BAD))
    result = score_all(catalogue)
    assert result.instruments["meter"].calibrations[1].affected == ("user",)
    assert result.instruments["meter"].records == ("user",)
    assert result.instruments["counter"].records == ("other", "user")
    assert [each.affected for each in result.instruments["counter"].calibrations] == [()]
    assert {name: [each.rule for each in record.findings] for name, record in result.records.items()} == {
        "user": ["calibration-out-of-tolerance"],
        "other": [],
    }


def test_two_instruments_found_out_raise_a_finding_each() -> None:
    test = a_test_on("2025-03-01")
    catalogue = a_catalogue(
        test, meter=a_meter(calibrations=GOOD_THEN_BAD), counter=a_counter(calibrations=GOOD_THEN_BAD)
    )
    assert [each.where for each in score_one(test, catalogue).findings] == [
        "instruments.particle_counter",
        "instruments.flow_meter",
    ]


def test_a_calibration_that_had_lapsed_before_it_was_found_out_raises_both() -> None:
    calibrations = [GOOD_THEN_BAD[0] | {"due": "2025-02-10"}, GOOD_THEN_BAD[1]]
    test = a_test_on("2025-03-01")
    found = score_one(test, a_catalogue(test, meter=a_meter(calibrations=calibrations))).findings
    assert [each.rule for each in found] == ["calibration-lapsed", "calibration-out-of-tolerance"]


def test_after_two_bad_calibrations_each_touches_the_tests_since_the_one_before() -> None:
    third = a_calibration(date="2025-09-10", due="2026-09-10", certificate="C3", as_found=OUT)
    tests = [
        a_test_on("2025-03-01", "a"),
        a_test_on("2025-06-10", "b"),
        a_test_on("2025-07-01", "c"),
        a_test_on("2025-10-01", "d"),
    ]
    result = scored(*tests, calibrations=[*GOOD_THEN_BAD, third])
    assert [each.affected for each in result.calibrations] == [(), ("a", "b"), ("b", "c")]
    assert [each.before for each in result.calibrations] == [None, day("2025-01-10"), day("2025-06-10")]


def test_a_withdrawn_record_is_listed_too() -> None:
    withdrawn = a_test_on("2025-03-01", withdrawn={"date": "2027-01-01", "reason": "a wrong filter"})
    assert scored(withdrawn, calibrations=GOOD_THEN_BAD).calibrations[1].affected == ("test",)


@pytest.mark.parametrize(
    ("newest_test", "states", "state"),
    # source: by definition; the day that counts is that of the newest test
    [
        ("2025-01-09", ["made_later", "made_later"], None),
        ("2025-01-10", ["in_force", "made_later"], "in_force"),
        ("2025-06-09", ["in_force", "made_later"], "in_force"),
        ("2025-06-10", ["superseded", "in_force"], "in_force"),
        ("2026-06-10", ["superseded", "in_force"], "in_force"),
        ("2026-06-11", ["superseded", "lapsed"], "lapsed"),
    ],
)
def test_states_of_calibrations(newest_test: str, states: list[str], state: str | None) -> None:
    elsewhere = a_test_on(newest_test, "newest", instruments={"particle_counter": "counter"})
    result = scored(a_test_on("2024-03-01"), elsewhere, calibrations=list(reversed(GOOD_THEN_BAD)))
    assert [each.state.value for each in result.calibrations] == states
    assert [each.certificate for each in result.calibrations] == ["C1", "C2"]
    assert result.state == (None if state is None else CalibrationState(state))
    assert result.as_of == day(newest_test)


def test_without_a_test_the_newest_calibration_gives_the_day() -> None:
    result = scored(calibrations=GOOD_THEN_BAD)
    assert (result.as_of, result.state, result.records) == (day("2025-06-10"), CalibrationState.IN_FORCE, ())


@pytest.mark.parametrize(
    ("value", "state"),
    # source: by definition, centre 50 and standard deviation 0.4: warning at 49.2 and 50.8, action at 48.8 and 51.2
    [
        (50.0, "inside"),
        (50.8, "inside"),
        (49.2, "inside"),
        (50.81, "beyond_warning"),
        (49.19, "beyond_warning"),
        (51.2, "beyond_warning"),
        (48.8, "beyond_warning"),
        (51.2001, "beyond_action"),
        (48.7999, "beyond_action"),
        (1e9, "beyond_action"),
        (-1e9, "beyond_action"),
    ],
)
def test_where_a_reading_lies(value: float, state: str) -> None:
    (check,) = scored(check_standards=[a_check_standard(("2025-02-01", value))]).checks
    assert [each.state for each in check.readings] == [ReadingState(state)]


@pytest.mark.parametrize(("centre", "deviation"), [(0.1, 0.1), (1.1, 0.1), (0.3, 0.1), (2.2, 0.7)])
def test_a_reading_on_a_limit_is_within_it_though_binary_numbers_are_not_decimal(
    centre: float, deviation: float
) -> None:
    changes = {"centre": centre, "standard_deviation": deviation}
    standard = a_meter(check_standards=[a_check_standard(("2025-02-01", 0), **changes)]).check_standards[0]
    limits = limits_of(standard)
    for factor in (-3, 3):
        assert reading_state(round(centre + factor * deviation, 6), limits) is ReadingState.BEYOND_WARNING
    for factor in (-2, 2):
        assert reading_state(round(centre + factor * deviation, 6), limits) is ReadingState.INSIDE


def test_limits_and_mean_of_a_check_standard() -> None:
    readings = (("2025-02-01", 49.8), ("2025-02-08", 50.3), ("2025-02-15", 50.1), ("2025-02-22", 49.7))
    (check,) = scored(check_standards=[a_check_standard(*readings)]).checks
    limits = check.limits
    # source: arithmetic by hand: 50 -+ 2 * 0.4 and 50 -+ 3 * 0.4
    assert (limits.action_low, limits.warning_low, limits.centre, limits.warning_high, limits.action_high) == (
        pytest.approx((48.8, 49.2, 50.0, 50.8, 51.2), rel=1e-12)
    )
    mean = check.mean
    assert mean.low is not None
    assert mean.high is not None
    # source: scipy 1.17.1: t.interval(0.95, 3, mean(readings), sem(readings))
    assert (mean.value, mean.low, mean.high) == pytest.approx((49.975, 49.536811311517496, 50.41318868848249), rel=1e-9)
    assert (mean.readings, mean.coverage, mean.holds_centre) == (4, 0.95, True)


@pytest.mark.parametrize(
    ("values", "reason"), [([50.1], "there is one reading"), ([50.1, 50.1, 50.1], "the readings do not differ")]
)
def test_a_mean_without_scatter_has_no_interval(values: list[float], reason: str) -> None:
    (check,) = scored(check_standards=[a_check_standard(*(("2025-02-01", value) for value in values))]).checks
    assert check.mean.value == pytest.approx(50.1, rel=1e-12)
    assert (check.mean.low, check.mean.high, check.mean.holds_centre) == (None, None, None)
    assert check.mean.no_interval == reason


def test_readings_that_have_moved_do_not_hold_the_centre() -> None:
    readings = [(f"2025-02-{number:02}", 50.5 + 0.01 * (number % 2)) for number in range(1, 9)]
    (check,) = scored(check_standards=[a_check_standard(*readings)]).checks
    assert {each.state for each in check.readings} == {ReadingState.INSIDE}
    assert check.mean.holds_centre is False


@pytest.mark.parametrize(
    ("readings", "found"),
    # The test is of 2025-06-01.
    [
        ([("2025-05-31", 51.3)], True),
        ([("2025-06-01", 51.3)], True),
        ([("2025-06-02", 51.3)], False),
        ([("2025-05-31", 51.1)], False),
        ([("2025-05-30", 51.3), ("2025-05-31", 50.0)], False),
        ([("2025-05-30", 50.0), ("2025-05-31", 48.7), ("2025-06-02", 50.0)], True),
        ([("2025-06-01", 51.3), ("2025-06-01", 50.0)], False),
    ],
)
def test_the_last_check_by_the_day_of_the_test_decides(readings: list[tuple[str, float]], found: bool) -> None:
    test = a_test(flow=FLOW)
    findings = raised(test, check_standards=[a_check_standard(*readings)])
    assert [each.rule for each in findings] == (["check-standard-beyond-limits"] if found else [])


def test_the_finding_of_a_check_says_what_was_read_and_between_which_limits() -> None:
    second = a_check_standard(("2025-05-01", 50.1), id="tube")
    first = a_check_standard(("2025-05-31", 51.3))
    (finding,) = raised(a_test(flow=FLOW), check_standards=[first, second])
    assert finding.where == "instruments.flow_meter"
    low, high = finding.facts.pop("action_low"), finding.facts.pop("action_high")
    # source: arithmetic by hand: 50 -+ 3 * 0.4
    assert (low, high) == pytest.approx((48.8, 51.2), rel=1e-12)
    assert finding.facts == {
        "instrument": "meter",
        "check_standard": "orifice",
        "read": "2025-05-31",
        "value": 51.3,
        "unit": "L/min",
    }


def test_a_check_before_the_first_test_and_a_clean_one_raise_nothing() -> None:
    standards = [a_check_standard(("2025-05-01", 50.2), ("2025-05-31", 49.9))]
    test = a_test(flow=FLOW)
    assert score_one(test, a_catalogue(test, meter=a_meter(check_standards=standards))).findings == ()


def test_methods_that_results_name_exist() -> None:
    (check,) = scored(check_standards=[a_check_standard(("2025-02-01", 50.0))]).checks
    assert {check.limits.method, check.mean.method} <= set(load_reference().methods)
