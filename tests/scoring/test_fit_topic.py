"""Fit sessions: figures from every form of reading, pass levels only where they belong, findings."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.catalogue import Catalogue
from generator.model.device_test import DeviceTest
from generator.model.fit_result import FitResult, SessionResult
from generator.model.result import Outcome, Relation
from tests.scoring.builders import (
    EXERCISES,
    a_catalogue,
    a_counter,
    a_device,
    a_protocol,
    a_session,
    a_test,
    readings,
    score_one,
)

EIGHT = [exercise.id for exercise in load_reference().protocols["eight-standard-exercises"].exercises]


def scored(catalogue: Catalogue) -> FitResult:
    (test,) = catalogue.device_tests.values()
    result = score_one(test, catalogue).topics.get("fit")
    assert isinstance(result, FitResult)
    return result


def one_session(*inside: Any, ambient: str = "3000 /cm3", **parts: Any) -> tuple[SessionResult, FitResult]:
    result = scored(a_catalogue(a_test([a_session(readings(*inside, ambient=ambient))]), **parts))
    return result.sessions[0], result


def rules(result: FitResult) -> list[str]:
    return [finding.rule for finding in result.findings]


def test_concentrations_counts_and_given_factors_agree() -> None:
    # source: 3000 / 30 = 100 by arithmetic; 2000 particles in 100 cm3/min for 40 s are 30 /cm3 (pint 0.25.3)
    session, _ = one_session("30 /cm3", 2000, 100.0)
    values = [exercise.fit_factor.value for exercise in session.exercises]
    assert values == pytest.approx([100, 100, 100], rel=1e-12)
    assert session.overall is not None
    assert session.overall.value == pytest.approx(100, rel=1e-12)
    assert session.overall.interval is None
    assert session.overall.no_interval == (
        "counting interval not available: the factor is recorded as the instrument gave it"
    )
    assert session.inward_leakage is not None
    # source: 100 / 100 by definition
    assert session.inward_leakage.value == pytest.approx(1.0, rel=1e-12)
    assert session.inward_leakage.unit == "%"


def test_keys_and_places() -> None:
    _, result = one_session("30 /cm3", "30 /cm3", "30 /cm3")
    assert [figure.key for figure in result.figures] == [
        "fit.am.standing",
        "fit.am.talking",
        "fit.am.bending",
        "fit.am.overall",
        "fit.am.leakage",
    ]
    talking = result.figures[1]
    assert talking.working is not None
    assert talking.working.inputs[1].where == "fit[am].exercises[talking].in_mask"
    assert [verdict.key for verdict in result.verdicts] == ["fit.am.verdict"]


def test_interval_holds_its_figure_and_comes_from_counts() -> None:
    session, _ = one_session(40, 52, 35)
    assert session.overall is not None
    interval = session.overall.interval
    assert interval is not None
    assert interval.low is not None
    assert interval.high is not None
    assert session.overall.value is not None
    assert interval.method == "simulated-overall-interval"
    # source: R 4.2.2: poisson.test(c(150000, 127), c(50, 200))$conf.int, exact for three equal exercises and a steady
    # ambient concentration of 3000 /cm3; the simulation stands within about a hundredth of the half width
    assert (interval.low, interval.high) == pytest.approx((3970.406, 5667.522), rel=0.003)
    assert interval.low < session.overall.value < interval.high


def test_no_particle_in_any_exercise_gives_at_least() -> None:
    session, result = one_session(0, 0, 0)
    assert session.overall is not None
    assert session.overall.relation is Relation.AT_LEAST
    # source: one-sided 95 % limit of a count of zero, 2.99573227355 (R 4.2.2: qgamma(0.95, 1)); 3 x 66.6667 cm3 x 3000
    assert session.overall.value == pytest.approx(3 * 66.6666667 * 3000 / 2.99573227355, rel=1e-6)
    assert session.inward_leakage is not None
    assert session.inward_leakage.relation is Relation.AT_MOST
    assert session.inward_leakage.interval is not None
    assert session.inward_leakage.interval.low is None
    assert rules(result) == ["zero-in-mask-count"]


def test_no_particle_in_one_exercise_is_pooled_with_the_others() -> None:
    session, result = one_session(0, 40, 60)
    assert session.exercises[0].fit_factor.relation is Relation.AT_LEAST
    assert session.overall is not None
    assert session.overall.relation is Relation.EQUAL
    assert session.overall.method == "pooled-fit-factor"
    # source: N V C / sum(n) by arithmetic, for equal volumes and ambients
    assert session.overall.value == pytest.approx(3 * (100 / 60 * 40) * 3000 / 100, rel=1e-12)
    assert "zero-in-mask-count" not in rules(result)


def test_zero_reading_without_counts_is_not_scored() -> None:
    session, _ = one_session("0 /cm3", "30 /cm3", "30 /cm3", counter=a_counter(counter={"single_particle": False}))
    assert session.exercises[0].fit_factor.value is None
    assert session.overall is not None
    assert session.overall.value is None
    assert session.overall.not_scored == (
        "Standing has no fit factor: "
        "the in-mask reading is zero, and without a count of particles no bound can be given"
    )
    assert session.inward_leakage is not None
    assert session.inward_leakage.value is None
    assert session.verdict is not None
    assert session.verdict.outcome is Outcome.NOT_APPLICABLE


def test_zero_count_beside_a_given_factor_is_not_scored() -> None:
    session, _ = one_session(0, 100.0, 200.0)
    assert session.overall is not None
    assert session.overall.not_scored == (
        "no particle was counted in Standing, and not all other exercises have counts to pool"
    )


def test_zero_count_beside_given_factors_leaves_the_pass_level_undecided() -> None:
    result = scored(a_catalogue(standard(0, *[300.0] * 7)))
    (verdict,) = result.verdicts
    assert verdict.outcome is Outcome.UNDECIDED
    assert verdict.reason.startswith("there is no figure to decide on: no particle was counted in Normal breathing")


def test_without_ambient_counts_the_interval_is_of_the_counting_inside() -> None:
    rows = readings(40, 52, 35)
    session = a_session(rows)
    del session["ambient_time"]
    result = scored(a_catalogue(a_test([session])))
    interval = result.sessions[0].exercises[0].fit_factor.interval
    assert interval is not None
    assert interval.method == "overall-counting-interval"
    # source: R 4.2.2: poisson.test(40)$conf.int is 28.5765864 to 54.4686470; one exercise of 66.6667 cm3 at 3000 /cm3
    assert interval.low == pytest.approx((200 / 3) * 3000 / 54.4686470, rel=1e-7)
    assert interval.high == pytest.approx((200 / 3) * 3000 / 28.5765864, rel=1e-7)


def test_count_without_counted_flow_is_not_scored() -> None:
    session, _ = one_session(
        3, "30 /cm3", "30 /cm3", counter=a_counter(counter={"counted_flow": {"not_recorded": "x"}})
    )
    assert session.exercises[0].fit_factor.not_scored == (
        "its particle count cannot become a concentration without a counted flow and an in-mask time"
    )


def test_counter_of_many_particles_has_no_counting_interval() -> None:
    session, _ = one_session("30 /cm3", "30 /cm3", "30 /cm3", counter=a_counter(counter={"single_particle": False}))
    assert session.overall is not None
    assert session.overall.interval is None
    assert session.overall.no_interval is not None
    assert session.overall.no_interval.startswith("counting interval not available: ")


def test_first_and_last_ambient_is_used_for_every_exercise() -> None:
    exercises = [{"exercise": name, "in_mask": "30 /cm3"} for name in EXERCISES]
    session = a_session(exercises, ambient_before="2900 /cm3", ambient_after="3100 /cm3")
    result = scored(a_catalogue(a_test([session]), protocol=a_protocol("first_and_last")))
    values = [exercise.fit_factor.value for exercise in result.sessions[0].exercises]
    # source: (2900 + 3100) / 2 / 30 by arithmetic
    assert values == pytest.approx([100, 100, 100], rel=1e-12)
    overall = result.sessions[0].overall
    assert overall is not None
    assert overall.interval is not None
    assert overall.interval.covers == (
        "counting inside and outside, and ambient change as the two ambient samples show it; not swings between them "
        "that come and go, a counter that miscounts in bursts, or wearer, donning or probe differences"
    )


def test_missing_or_zero_ambient_is_not_scored() -> None:
    session, _ = one_session("30 /cm3", "30 /cm3", "30 /cm3", protocol=a_protocol("first_and_last"))
    assert session.exercises[0].fit_factor.not_scored == "no ambient concentration before and after it is on record"
    session, _ = one_session("30 /cm3", "30 /cm3", "30 /cm3", ambient="0 /cm3")
    assert session.exercises[0].fit_factor.not_scored == (
        "an ambient concentration of zero leaves nothing to compare with"
    )


def test_a_session_without_counted_exercises_has_no_overall() -> None:
    uncounted = [{"id": name, "name": name, "duration": "40 s", "counted": False} for name in EXERCISES]
    session, _ = one_session("30 /cm3", "30 /cm3", "30 /cm3", protocol=a_protocol(exercises=uncounted))
    assert session.overall is not None
    assert session.overall.not_scored == "no exercise that counts was done"


def test_changed_ambient_and_counter_limits_are_noticed() -> None:
    rows = readings("30 /cm3", "5000 /cm3", "200000 /cm3")
    rows[0] |= {"ambient_before": "3000 /cm3", "ambient_after": "3400 /cm3"}
    rows[1] |= {"ambient_before": "900 /cm3", "ambient_after": "900 /cm3"}
    result = scored(a_catalogue(a_test([a_session(rows)])))
    facts = {finding.rule: finding.facts for finding in result.findings}
    assert set(facts) == {"ambient-changed", "in-mask-not-below-ambient", "ambient-below-minimum", "above-ceiling"}
    assert facts["ambient-changed"]["exercises"] == "standing"
    # source: 400 / 3200 by arithmetic
    assert facts["ambient-changed"]["largest_change"] == pytest.approx(0.125, rel=1e-12)
    assert facts["in-mask-not-below-ambient"]["exercises"] == "talking, bending"
    assert facts["ambient-below-minimum"]["lowest_per_cm3"] == 900
    assert facts["above-ceiling"]["highest_per_cm3"] == 200000


def test_a_change_of_a_tenth_exactly_is_not_noted() -> None:
    rows = readings("30 /cm3", "30 /cm3", "30 /cm3")
    rows[0] |= {"ambient_before": "1900 /cm3", "ambient_after": "2100 /cm3"}
    assert rules(scored(a_catalogue(a_test([a_session(rows)])))) == []


def standard(*inside: Any, **changes: Any) -> DeviceTest:
    rows = readings(*inside, names=EIGHT)
    return a_test([a_session(rows, protocol="eight-standard-exercises", **changes)])


@pytest.mark.parametrize(
    ("inside", "outcome"),
    # source: 29 CFR 1910.134(f)(7), 100 or more for filtering facepieces (secondary page)
    [("30 /cm3", Outcome.MEETS), ("30.001 /cm3", Outcome.DOES_NOT_MEET), ("29 /cm3", Outcome.MEETS)],
)
def test_pass_level_of_a_filtering_facepiece(inside: str, outcome: Outcome) -> None:
    result = scored(a_catalogue(standard(*[inside] * 8)))
    (verdict,) = result.verdicts
    assert verdict.criterion == "fit-test-pass-filtering-facepiece"
    assert (verdict.rule, verdict.limit) == ("plain", 100)
    assert verdict.outcome is outcome
    assert ("pass-level-not-reached" in rules(result)) == (outcome is Outcome.DOES_NOT_MEET)


def test_the_grimace_does_not_count() -> None:
    # source: 29 CFR 1910.134 App. A: 200,180,150,160,90,(20),120,210 gives 146.8165 without the grimace (arithmetic)
    result = scored(a_catalogue(standard(200.0, 180.0, 150.0, 160.0, 90.0, 20.0, 120.0, 210.0)))
    assert result.sessions[0].overall is not None
    assert result.sessions[0].overall.value == pytest.approx(146.8165, rel=1e-6)
    assert result.sessions[0].overall.sample_size == 7


def test_a_lower_bound_below_the_level_is_undecided() -> None:
    rows = readings(*[0] * 8, names=EIGHT, ambient="2 /cm3")
    test = a_test([a_session(rows, protocol="eight-standard-exercises", in_mask_time="5 s")])
    result = scored(a_catalogue(test))
    (verdict,) = result.verdicts
    assert verdict.outcome is Outcome.UNDECIDED
    assert verdict.reason == "the figure is known only as a lower bound, and that bound is below the limit"
    assert "pass-level-not-reached" not in rules(result)


@pytest.mark.parametrize(
    ("parts", "changes", "reason"),
    [
        ({"device": a_device("surgical_mask")}, {}, "pass levels belong to tight-fitting facepieces"),
        ({"device": a_device("loose_powered_hood")}, {}, "pass levels belong to tight-fitting facepieces"),
        (
            {"device": a_device(home_built=True)},
            {},
            "the device is home-built, and pass levels belong to facepieces that can be approved for use at work",
        ),
        (
            {"device": a_device("tight_powered_full_facepiece")},
            {"blower": "high"},
            "powered facepieces are fit tested with the blower off, and it was running",
        ),
        (
            {"counter": a_counter("optical_particle_counter")},
            {},
            "the accepted protocols count particles of the room's air with a condensation particle counter",
        ),
    ],
)
def test_no_pass_level_where_it_does_not_belong(parts: Any, changes: Any, reason: str) -> None:
    result = scored(a_catalogue(standard(*["3 /cm3"] * 8, **changes), **parts))
    (verdict,) = result.verdicts
    assert verdict.outcome is Outcome.NOT_APPLICABLE
    assert verdict.criterion is None
    assert verdict.reason == f"no fit-test pass level applies: {reason}"


def test_no_pass_level_for_an_own_or_incomplete_protocol() -> None:
    session, _ = one_session("3 /cm3", "3 /cm3", "3 /cm3")
    assert session.verdict is not None
    assert session.verdict.reason == (
        "no fit-test pass level applies: the protocol is not one that a pass level is bound to"
    )
    short = readings(*["3 /cm3"] * 7, names=EIGHT[:7])
    result = scored(a_catalogue(a_test([a_session(short, protocol="eight-standard-exercises")])))
    assert result.verdicts[0].reason == (
        "no fit-test pass level applies: not every exercise of the protocol was measured"
    )


def test_no_pass_level_where_none_is_on_record() -> None:
    test = standard(*["3 /cm3"] * 8)
    result = score_one(test, replace(a_catalogue(test), criteria={})).topics.get("fit")
    assert isinstance(result, FitResult)
    assert result.verdicts[0].reason == "no fit-test pass level applies: none is on record for this kind of device"


def test_blower_off_is_the_powered_facepieces_own_test() -> None:
    test = standard(*["3 /cm3"] * 8, blower="off")
    result = scored(a_catalogue(test, device=a_device("tight_powered_full_facepiece")))
    # source: 29 CFR 1910.134(f)(7), 500 for full facepieces (secondary page)
    assert (result.verdicts[0].limit, result.verdicts[0].outcome) == (500, Outcome.MEETS)


def test_aborted_and_voided_attempts_are_listed_without_figures() -> None:
    sessions = [
        a_session(readings("30 /cm3", "30 /cm3", "30 /cm3")),
        a_session([], id="b", outcome="aborted", reason="strap broke"),
        a_session(readings("9 /cm3", "9 /cm3", "9 /cm3"), id="c", outcome="voided", reason="mask moved"),
    ]
    result = scored(a_catalogue(a_test(sessions)))
    assert [(one.outcome, one.overall is None) for one in result.sessions] == [
        ("completed", False),
        ("aborted", True),
        ("voided", True),
    ]
    (finding,) = result.findings
    assert (finding.rule, finding.facts) == ("attempts-not-completed", {"completed": 1, "aborted": 1, "voided": 1})


def test_a_record_without_fit_has_no_fit_result() -> None:
    test = a_test(flow=[{**FLOW}])
    assert score_one(test, a_catalogue(test, device=a_device("loose_powered_hood"))).topics.get("fit") is None


FLOW = {
    "id": "high",
    "setting": "high",
    "battery": "fresh",
    "filter": "new",
    "where": "at the hood",
    "readings": {"unit": "L/min", "values": [180.0, 181.0]},
}
