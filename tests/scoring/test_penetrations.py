"""Average and peak penetration of each exercise of a log, and the peaks at which a test is to be stopped."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.model.fit_result import FitResult
from generator.model.log import Log
from generator.model.reference import Protocol
from generator.model.result import RecordResult
from generator.scoring.penetrations import OF_ONE_READING, OF_THE_FACTOR
from tests.scoring.builders import a_catalogue, a_counter, a_device, a_session, a_test, readings, score_one
from tests.scoring.log_builders import a_log_file, a_logged_session, around_each, during_each, two_channels
from tests.scoring.test_methods import check_symbols


def scored(log: Log, device: str = "elastomeric_half_facepiece", protocol: Protocol | None = None) -> RecordResult:
    channels = 2 if log.second_channel else 1
    test = a_test([a_logged_session(log, channels=channels)])
    return score_one(test, a_catalogue(test, device=a_device(device), protocol=protocol, logs={log.file: log}))


def fit_of(result: RecordResult) -> FitResult:
    topic = result.topics["fit"]
    assert isinstance(topic, FitResult)
    return topic


def test_average_and_peak_are_shares_of_the_ambient_concentration() -> None:
    (session,) = fit_of(scored(around_each())).sessions
    exercise = session.exercises[0]
    average, peak = exercise.average_penetration, exercise.peak_penetration
    assert average is not None
    assert peak is not None
    # source: by hand: 4.2 and 4.8 in turn inside, 3000 and 3006 in turn outside
    assert average.value == pytest.approx(100 * 4.5 / 3003, rel=1e-12)
    assert peak.value == pytest.approx(100 * 4.8 / 3003, rel=1e-12)
    assert (average.key, peak.key) == ("fit.am.standing.average", "fit.am.standing.peak")
    for figure, why in ((average, OF_THE_FACTOR), (peak, OF_ONE_READING)):
        assert (figure.unit, figure.sample_size, figure.sample_of) == ("%", 40, "readings")
        assert (figure.interval, figure.no_interval) == (None, why)
        assert figure.working is not None
        check_symbols(figure.working)
    # The first of several readings that are alike is named.
    assert peak.working is not None
    assert peak.working.inputs[0].where == "fit[am].log: in-mask sample at 13 s"


def test_the_average_is_the_reciprocal_of_the_factor_and_never_above_the_peak() -> None:
    for exercise in fit_of(scored(around_each((0.6, 40.2, 3.0, 5.4) * 10))).sessions[0].exercises:
        average, peak, factor = exercise.average_penetration, exercise.peak_penetration, exercise.fit_factor
        assert average is not None
        assert peak is not None
        assert average.value is not None
        assert peak.value is not None
        assert factor.value == pytest.approx(100 / average.value, rel=1e-12)
        assert average.value <= peak.value


def test_they_are_figures_of_the_record_and_need_no_particles() -> None:
    keys = [figure.key for figure in fit_of(scored(around_each((0.0,) * 40))).figures]
    assert keys[:3] == ["fit.am.standing", "fit.am.standing.average", "fit.am.standing.peak"]
    (session,) = fit_of(scored(around_each((0.0,) * 40))).sessions
    assert [each.average_penetration.value for each in session.exercises if each.average_penetration] == [0, 0, 0]


def test_with_two_channels_they_are_shares_of_the_matched_second_one() -> None:
    (session,) = fit_of(scored(two_channels(), protocol=during_each())).sessions
    average = session.exercises[2].average_penetration
    assert average is not None
    # source: by hand: 31.8 inside, 3183 as the inside channel would have read it
    assert average.value == pytest.approx(100 * 31.8 / 3183, rel=1e-12)


def test_a_session_without_a_log_has_none_and_an_exercise_without_readings_neither() -> None:
    test = a_test([a_session(readings(40, 44, 38))])
    (session,) = fit_of(score_one(test, a_catalogue(test))).sessions
    assert all(each.average_penetration is None and each.peak_penetration is None for each in session.exercises)
    short = a_log_file(("ambient", "", [3000, 3006]), ("in-mask", "standing", [3.0, 3.6]), ("ambient", "", [3000]))
    (session,) = fit_of(scored(short)).sessions
    assert [each.average_penetration is not None for each in session.exercises] == [True, False, False]


PEAKS = two_channels(inside=(30, 33.6, 160.2, 30) * 10)
"""The highest reading is 160.2 of 3183 outside: 5.03 %."""
LIMITS = [
    {"kinds": ["elastomeric_half_facepiece"], "percent": 5},
    {"kinds": ["elastomeric_full_facepiece"], "percent": 1},
]


def test_peaks_above_the_limit_are_found_with_exercise_peak_and_limit() -> None:
    result = scored(PEAKS, protocol=during_each(peak_limits=LIMITS))
    (finding,) = (each for each in result.all_findings if each.rule == "peak-above-limit")
    assert finding.where == "fit[am]"
    # source: by hand, as above; the limit of 29 CFR 1910.134 Appendix A, Part I.C.2(b)(4)
    assert finding.facts == {
        "exercises": "standing, talking, bending",
        "count": 3,
        "worst_exercise": "standing",
        "largest_peak_percent": pytest.approx(100 * 160.2 / 3183, rel=1e-12),
        "limit_percent": 5,
    }


@pytest.mark.parametrize(
    ("device", "limits", "found"),
    [
        ("elastomeric_full_facepiece", LIMITS, True),
        # A protocol without limits is stopped by none, and a kind of device without a limit neither.
        ("elastomeric_half_facepiece", [], False),
        ("filtering_facepiece", LIMITS, False),
    ],
)
def test_the_limit_is_that_of_the_protocol_and_the_kind_of_device(
    device: str, limits: list[dict[str, object]], found: bool
) -> None:
    result = scored(PEAKS, device, during_each(peak_limits=limits))
    assert any(each.rule == "peak-above-limit" for each in result.all_findings) is found


def test_a_peak_on_the_limit_is_within_it() -> None:
    # source: by hand: with a ratio of one, 150.15 of 3003 is 5 %
    log = two_channels(side_by_side=(3000, 3006) * 10, inside=(30, 33.6, 150.15, 30) * 10)
    result = scored(log, protocol=during_each(peak_limits=LIMITS))
    assert all(each.rule != "peak-above-limit" for each in result.all_findings)


def test_no_stuck_reading_is_looked_for_where_single_particles_are_not_counted() -> None:
    stuck = around_each((30.0,) * 40)
    test = a_test([a_logged_session(stuck)])
    catalogue = a_catalogue(test, logs={stuck.file: stuck})
    smoothed = replace(
        catalogue, instruments={**catalogue.instruments, "counter": a_counter(counter={"single_particle": False})}
    )
    rules = [{each.rule for each in score_one(test, one).all_findings} for one in (catalogue, smoothed)]
    assert ["readings-repeat" in each for each in rules] == [True, False]
