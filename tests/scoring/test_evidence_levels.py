"""Sessions of each level of data, each scored as far as it goes and named; no basis stands with another."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.claim_result import ClaimOutcome
from generator.model.fit_result import Basis, DataLevel, FitResult, FitSummary, SessionResult
from generator.model.log import Log, LogSample, Sampling
from generator.model.result import Outcome, Relation
from tests.scoring.builders import (
    EXERCISES,
    Data,
    a_catalogue,
    a_counter,
    a_device,
    a_protocol,
    a_session,
    a_test,
    readings,
    score_all,
    score_one,
)
from tests.scoring.comparison_builders import several, worn
from tests.scoring.test_methods import check_symbols, methods_used

MANY = a_counter(counter={"single_particle": False})
FOUR = "four-exercises-elastomeric"
FOUR_STEPS = [step.id for step in load_reference().protocols[FOUR].exercises]
HALF = a_device("elastomeric_half_facepiece")


def scored(session: Data, **parts: Any) -> SessionResult:
    test = a_test([session])
    result = score_one(test, a_catalogue(test, **parts)).topics.get("fit")
    assert isinstance(result, FitResult)
    (found,) = result.sessions
    for figure in result.figures:
        assert set(methods_used(figure)) <= set(load_reference().methods)
        for of in (figure, figure.interval):
            if of is not None and of.working is not None:
                check_symbols(of.working)
    return found


def values(session: SessionResult) -> list[float | None]:
    return [exercise.fit_factor.value for exercise in session.exercises]


def ceilings(*given: float | str, **changes: Any) -> Data:
    """Return a session of the four modified exercises with factors as given; text is what they were more than."""
    rows: list[Data] = [
        {"exercise": name, "fit_factor" if isinstance(value, float) else "fit_factor_at_least": float(value)}
        for name, value in zip(FOUR_STEPS, given, strict=True)
    ]
    return a_session(rows, protocol=FOUR, **changes)


A_LOG = Log(
    file="logs/a.csv",
    sha256="0" * 64,
    samples=tuple(
        LogSample(time_s=float(second), concentration_per_cm3=value, exercise=exercise, sampling=sampling)
        for second, (value, exercise, sampling) in enumerate(
            [
                (3000.0, "", Sampling.AMBIENT),
                (30.0, "standing", Sampling.IN_MASK),
                (3000.0, "", Sampling.AMBIENT),
                (10.0, "talking", Sampling.IN_MASK),
                (3000.0, "", Sampling.AMBIENT),
                (20.0, "bending", Sampling.IN_MASK),
                (3000.0, "", Sampling.AMBIENT),
            ]
        )
    ),
)
LOGGED = {
    "file": "logs/a.csv",
    "sha256": "0" * 64,
    "unit": "/cm3",
    "columns": {"time": "t", "concentration": "c", "exercise": "e", "sampling": "s"},
}
GIVEN = [{"exercise": name, "fit_factor": value} for name, value in zip(EXERCISES, (100.0, 300.0, 150.0), strict=True)]


@pytest.mark.parametrize(
    ("session", "parts", "level", "interval"),
    [
        (a_session(log=LOGGED), {"logs": {"logs/a.csv": A_LOG}}, DataLevel.RAW_LOG, "simulated-overall-interval"),
        # source: 3000 particles in 100 cm3/min for 60 s are 30 /cm3, by hand; likewise the others
        (
            a_session(readings(3000, 1000, 2000), in_mask_time="60 s"),
            {},
            DataLevel.COUNTS,
            "simulated-overall-interval",
        ),
        (
            a_session(readings("30 /cm3", "10 /cm3", "20 /cm3")),
            {},
            DataLevel.COUNTS,
            "simulated-overall-interval",
        ),
        (a_session(readings("30 /cm3", "10 /cm3", "20 /cm3")), {"counter": MANY}, DataLevel.CONCENTRATIONS, None),
        (a_session(GIVEN), {}, DataLevel.EXERCISE_FACTORS, None),
        (a_session(fit_factor=150.0), {}, DataLevel.OVERALL_ONLY, None),
    ],
    ids=["log", "counts", "single counts follow", "concentrations", "factors", "overall"],
)
def test_each_level_gives_the_same_factor_and_is_named(
    session: Data, parts: Any, level: DataLevel, interval: str | None
) -> None:
    found = scored(session, **parts)
    assert found.level is level
    assert found.overall is not None
    # source: 3000 over 30, 10 and 20 is 100, 300 and 150; 3 / (1/100 + 1/300 + 1/150) = 3 / 0.02 = 150, by hand
    assert found.overall.value == pytest.approx(150, rel=1e-12)
    assert (found.overall.interval.method if found.overall.interval else None) == interval
    assert (found.overall.no_interval is None) == (interval is not None)
    if level is not DataLevel.OVERALL_ONLY:
        assert values(found) == pytest.approx([100, 300, 150], rel=1e-12)


def test_the_weakest_exercise_sets_the_level() -> None:
    rows = readings(4000, "30 /cm3", 100.0)
    assert scored(a_session(rows)).level is DataLevel.EXERCISE_FACTORS
    assert scored(a_session(readings("30 /cm3", 4000, 4000)), counter=MANY).level is DataLevel.CONCENTRATIONS


def test_a_session_that_was_not_completed_has_no_level() -> None:
    assert scored(a_session([], outcome="aborted", reason="the strap broke")).level is None


def test_three_exercises_above_the_ceiling_leave_the_overall_between_two_bounds() -> None:
    found = scored(ceilings(60.0, "200", "200", "200"), device=HALF)
    overall, leakage = found.overall, found.inward_leakage
    assert overall is not None
    assert overall.relation is Relation.AT_LEAST
    # source: 4 / (1/60 + 3/200) = 126.3158 (arithmetic from the rule of 29 CFR 1910.134 App. A), 4 x 60 = 240 by hand
    assert overall.value == pytest.approx(126.3158, rel=1e-6)
    assert overall.other_bound == pytest.approx(240, rel=1e-12)
    assert overall.interval is None
    assert overall.no_interval is not None
    assert "by arithmetic and without a probability" in overall.no_interval
    assert leakage is not None
    assert leakage.relation is Relation.AT_MOST
    # source: reciprocals in percent, by hand
    assert leakage.value == pytest.approx(100 / 126.3158, rel=1e-6)
    assert leakage.other_bound == pytest.approx(100 / 240, rel=1e-12)
    one = found.exercises[1].fit_factor
    assert (one.value, one.relation, one.interval, one.other_bound) == (200, Relation.AT_LEAST, None, None)
    assert one.no_interval is not None
    assert "what the instrument's ceiling says: a bound, and no probability" in one.no_interval
    assert one.working is not None
    assert one.working.inputs[0].where.endswith(".fit_factor_at_least")


def test_nothing_but_ceilings_leaves_the_overall_open_upwards() -> None:
    overall = scored(ceilings("200", "200", "200", "200"), device=HALF).overall
    assert overall is not None
    # source: harmonic mean of equal numbers, by definition
    assert (overall.value, overall.relation, overall.other_bound) == (200, Relation.AT_LEAST, None)


@pytest.mark.parametrize(
    ("given", "outcome"),
    [
        # source: 29 CFR 1910.134(f)(7), 100 for half facepieces (secondary page); bounds by hand as above
        ((60.0, "200", "200", "200"), Outcome.MEETS),
        # lower 4 / (1/20 + 3/200) = 61.5, upper 4 x 20 = 80: both below 100
        ((20.0, "200", "200", "200"), Outcome.DOES_NOT_MEET),
        # lower 4 / (1/30 + 3/200) = 82.8, upper 120: on both sides
        ((30.0, "200", "200", "200"), Outcome.UNDECIDED),
        # lower 4 / (1/25 + 3/200) = 72.7, upper exactly 100
        ((25.0, "200", "200", "200"), Outcome.UNDECIDED),
        (("60", "60", "60", "60"), Outcome.UNDECIDED),
        (("100", "100", "100", "100"), Outcome.MEETS),
    ],
)
def test_a_pass_level_is_held_against_both_bounds(given: Any, outcome: Outcome) -> None:
    verdict = scored(ceilings(*given), device=HALF).verdict
    assert verdict is not None
    assert (verdict.outcome, verdict.limit) == (outcome, 100)


def test_a_ceiling_beside_counts_uses_what_was_counted() -> None:
    rows = [*readings(3000, 1000, names=EXERCISES[:2]), {"exercise": "bending", "fit_factor_at_least": 200.0}]
    found = scored(a_session(rows, in_mask_time="60 s"))
    assert found.overall is not None
    # source: 3 / (1/100 + 1/300 + 1/200) = 163.636 and 3 / (1/100 + 1/300) = 225, by hand
    assert (found.overall.value, found.overall.other_bound) == pytest.approx((163.636364, 225), rel=1e-8)
    assert found.overall.interval is None


def test_a_count_of_zero_beside_a_ceiling_is_not_scored() -> None:
    rows = [*readings(0, 1000, names=EXERCISES[:2]), {"exercise": "bending", "fit_factor_at_least": 200.0}]
    found = scored(a_session(rows))
    assert found.overall is not None
    assert found.overall.not_scored == (
        "no particle was counted in Standing, and not all other exercises have counts to pool"
    )


def test_an_overall_factor_alone_has_no_pass_level() -> None:
    found = scored(a_session(fit_factor_at_least=200.0, protocol=FOUR), device=HALF)
    assert (found.basis, found.exercises) == (Basis.OVERALL_ONLY, ())
    assert found.overall is not None
    assert (found.overall.name, found.overall.value, found.overall.relation) == (
        "overall fit factor as given",
        200,
        Relation.AT_LEAST,
    )
    assert found.verdict is not None
    assert found.verdict.outcome is Outcome.NOT_APPLICABLE
    assert found.verdict.reason == (
        "no fit-test pass level applies: only an overall factor is on record, and not whether every exercise was done"
    )


def test_a_part_of_a_protocol_is_named_and_has_no_pass_level() -> None:
    rows = [{"exercise": name, "in_mask": "30 /cm3"} for name in FOUR_STEPS[:3]]
    ends = {"ambient_before": "3000 /cm3", "ambient_after": "3000 /cm3"}
    found = scored(a_session(rows, protocol=FOUR, partial="the wearer was called away", **ends), device=HALF)
    assert found.basis is Basis.PARTIAL
    assert found.overall is not None
    # source: 3000 / 30 by hand
    assert found.overall.value == pytest.approx(100, rel=1e-12)
    assert found.overall.name == "partial fit factor, 3 of 4 counted exercises"
    assert found.verdict is not None
    assert found.verdict.reason == "no fit-test pass level applies: only a part of the protocol was done"


def test_a_part_of_a_log_is_named_too() -> None:
    short = replace(A_LOG, samples=(*A_LOG.samples[:4], A_LOG.samples[4]))
    found = scored(a_session(log=LOGGED, partial="the pump stopped"), logs={"logs/a.csv": short})
    assert found.basis is Basis.PARTIAL
    assert found.overall is not None
    assert found.overall.name == "partial fit factor, 2 of 3 counted exercises"
    # source: 2 / (1/100 + 1/300) = 150, by hand
    assert found.overall.value == pytest.approx(150, rel=1e-12)


def test_sessions_of_different_bases_are_never_pooled() -> None:
    whole = a_session(readings("30 /cm3", "30 /cm3", "30 /cm3"), id="whole")
    part = a_session(readings("3 /cm3", names=EXERCISES[:1]), id="part", partial="called away")
    number = a_session(id="number", fit_factor=20.0)
    device = score_all(a_catalogue(a_test([whole, part, number]))).devices["device"]
    summary = device.topics["fit"]
    assert isinstance(summary, FitSummary)
    # source: 3000 / 30, 3000 / 3 and 20, by hand
    assert [(group.basis, group.lowest.value, group.highest.value) for group in summary.groups] == [
        (Basis.WHOLE_PROTOCOL, pytest.approx(100), pytest.approx(100)),
        (Basis.PARTIAL, pytest.approx(1000), pytest.approx(1000)),
        (Basis.OVERALL_ONLY, 20, 20),
    ]
    assert summary.lowest is not None
    assert summary.highest is not None
    assert (summary.lowest.value, summary.highest.value) == pytest.approx((100, 100))
    assert device.evidence is not None
    # source: one session of each, by hand
    assert [(found.level, found.sessions) for found in device.evidence.levels] == [
        (DataLevel.COUNTS, 2),
        (DataLevel.OVERALL_ONLY, 1),
    ]


def during(*pairs: tuple[str, str], **changes: Any) -> Data:
    rows = [
        {"exercise": name, "ambient_during": outside, "in_mask": inside}
        for name, (outside, inside) in zip(EXERCISES, pairs, strict=True)
    ]
    return a_session(rows, **changes)


DURING = (("3000 /cm3", "30 /cm3"), ("2000 /cm3", "10 /cm3"), ("4500 /cm3", "30 /cm3"))


def test_ambient_air_sampled_during_each_exercise_is_its_own() -> None:
    found = scored(during(*DURING, ambient_time="40 s"), protocol=a_protocol("during_each_exercise"))
    # source: 3000 / 30, 2000 / 10, 4500 / 30 by hand; 3 / (1/100 + 1/200 + 1/150) = 138.4615
    assert values(found) == pytest.approx([100, 200, 150], rel=1e-12)
    assert found.overall is not None
    assert found.overall.value == pytest.approx(138.461538, rel=1e-8)
    assert found.overall.interval is not None
    assert found.overall.interval.method == "overall-counting-interval"
    assert found.overall.interval.covers == (
        "in-mask counting, with ambient air sampled all the time; not counting outside, without which it is too narrow "
        "below a factor of 10, or wearer, donning or probe differences"
    )
    interval = found.exercises[0].fit_factor.interval
    assert interval is not None
    # source: R 4.2.2: poisson.test(c(200000, 2000), c(200/3, 200/3))$conf.int, each sample counted once
    assert (interval.low, interval.high) == pytest.approx((95.68991, 104.55437), rel=1e-7)
    assert (
        interval.covers == "counting, with ambient air sampled all the time; not wearer, donning or probe differences"
    )


def test_the_second_counter_has_its_own_flow() -> None:
    test = a_test(
        [during(*DURING, ambient_time="40 s")],
        instruments={"particle_counter": "counter", "outside_counter": "other", "flow_meter": "meter"},
    )
    catalogue = a_catalogue(test, protocol=a_protocol("during_each_exercise"))
    other = a_counter(counter={"counted_flow": "300 cm3/min"}, id="other")
    catalogue = type(catalogue)(**{**vars(catalogue), "instruments": {**catalogue.instruments, "other": other}})
    result = score_one(test, catalogue).topics.get("fit")
    assert isinstance(result, FitResult)
    interval = result.sessions[0].exercises[0].fit_factor.interval
    assert interval is not None
    assert interval.working is not None
    # source: 3000 /cm3 x 300 cm3/min x 40 s, by hand
    assert {item.symbol: item.value for item in interval.working.inputs}["m_1"] == 600_000


def test_without_an_ambient_sample_during_it_there_is_no_factor() -> None:
    rows = [{"exercise": name, "in_mask": "30 /cm3"} for name in EXERCISES]
    found = scored(a_session(rows), protocol=a_protocol("during_each_exercise"))
    assert found.exercises[0].fit_factor.not_scored == "no ambient concentration during it is on record"


def test_a_factor_by_negative_pressure_is_no_leakage_and_asks_for_no_counter() -> None:
    protocol = load_reference().protocols["controlled-negative-pressure-redonning"]
    rows = [{"exercise": step.id, "fit_factor": 400.0} for step in protocol.exercises]
    rows[0]["fit_factor"] = 40.0
    test = a_test([a_session(rows, protocol=protocol.id)], instruments={})
    result = score_all(a_catalogue(test, device=HALF))
    fit = result.records["test"].topics["fit"]
    assert isinstance(fit, FitResult)
    (found,) = fit.sessions
    assert found.inward_leakage is None
    assert [figure.key for figure in fit.figures if "leakage" in figure.key] == []
    assert found.overall is not None
    # source: 5 / (1/40 + 4/400) = 142.8571, arithmetic from the rule of 29 CFR 1910.134 App. A
    assert found.overall.value == pytest.approx(142.8571, rel=1e-6)
    assert found.verdict is not None
    # source: 29 CFR 1910.134(f)(7), 100 for half facepieces, for these protocols from memory
    assert (found.verdict.outcome, found.verdict.limit) == (Outcome.MEETS, 100)
    summary = result.devices["device"].topics["fit"]
    assert isinstance(summary, FitSummary)
    assert [group.counter for group in summary.groups] == [None]


def part(**changes: Any) -> Data:
    return a_session(readings("3000 /cm3", names=EXERCISES[:1]), id="part", partial="called away", **changes)


def test_partial_and_overall_factors_decide_no_claim() -> None:
    claims = [{"quotation": "So much", "where": "leaflet", "date": "2025-02-03", "means": {"fit_factor_at_least": 500}}]
    sessions = [a_session(readings("3 /cm3", "3 /cm3", "3 /cm3")), part(), a_session(id="number", fit_factor=20.0)]
    (claim,) = score_all(a_catalogue(a_test(sessions), device=a_device(claims=claims))).devices["device"].claims
    # source: 3000 / 3 is 1000, its interval about 970 to 1030; the factors of 1 and 20 are not asked
    assert (claim.outcome, claim.figures) == (ClaimOutcome.SUPPORTED, 1)


def test_a_ceiling_decides_no_claim() -> None:
    claims = [{"quotation": "So much", "where": "leaflet", "date": "2025-02-03", "means": {"fit_factor_at_least": 100}}]
    session = ceilings("200", "200", "200", "200")
    device = a_device("elastomeric_half_facepiece", claims=claims)
    (claim,) = score_all(a_catalogue(a_test([session]), device=device)).devices["device"].claims
    assert (claim.outcome, claim.reason) == (ClaimOutcome.UNDECIDED, "A figure without an interval cannot decide it.")


def test_partial_and_overall_factors_are_not_compared() -> None:
    both = [part(), a_session(id="number", fit_factor_at_least=20.0), a_session(readings("3 /cm3", "3 /cm3", "3 /cm3"))]
    tests = [worn("ash", both), worn("elm", both)]
    compared = score_all(several(tests, {"ash": {}, "elm": {}})).comparisons["kind-filtering-facepiece"]
    assert [
        (session.session, session.basis, session.as_given, session.conditions and session.conditions.basis)
        for session in compared.devices["ash"].sessions
    ] == [
        ("part", Basis.PARTIAL, False, Basis.PARTIAL),
        ("number", Basis.OVERALL_ONLY, True, Basis.OVERALL_ONLY),
        ("am", Basis.WHOLE_PROTOCOL, False, Basis.WHOLE_PROTOCOL),
    ]


def test_before_and_after_stand_side_by_side_only_with_the_same_basis() -> None:
    modified = {"state": "modified", "description": "with a third strap", "changes": ["a strap"]}
    before = a_test([part(), a_session(id="number", fit_factor=20.0)], id="before")
    after = a_test([part()], id="later", configuration=modified)
    configurations = score_all(a_catalogue(before, after)).devices["device"].configurations
    (pair,) = next(found for found in configurations if found.fit).fit
    assert pair.basis is Basis.PARTIAL
    assert [session.session for session in pair.sessions] == ["part", "part"]
