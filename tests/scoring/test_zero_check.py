"""A zero check is taken off every factor of a session, never to below zero, and never to a factor without end."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.model.fit_result import FitResult, SessionResult
from generator.model.result import Relation, Working
from generator.scoring.above_zero import fit_factor_limits_above_zero, pooled_fit_factor_above_zero
from generator.scoring.counting import exercise_fit_factor_limits
from generator.scoring.fit_figures import exercise_figure, overall_figure
from generator.scoring.samples import AirSample, ExerciseSamples, Measured, Particles
from generator.scoring.zero_check import concentration_above_zero
from tests.scoring.builders import EXERCISES, Data, a_catalogue, a_counter, a_session, a_test, readings, score_one
from tests.scoring.test_methods import check_symbols

WORKING = Working(method="counted-volume", inputs=())
INSIDE, OUTSIDE, ZERO = 200 / 3, 25 / 3, 100.0
"""Volumes of 40, 5 and 60 s at 100 cm3/min. [cm3]"""


def scored(session: Data, **parts: Any) -> SessionResult:
    test = a_test([session])
    result = score_one(test, a_catalogue(test, **parts)).topics.get("fit")
    assert isinstance(result, FitResult)
    for figure in result.figures:
        for of in (figure, figure.interval):
            if of is not None and of.working is not None:
                check_symbols(of.working)
    return result.sessions[0]


def checked(count: int, *inside: Any, **changes: Any) -> Data:
    return a_session(readings(*inside), zero_check={"count": count, "time": "60 s"}, **changes)


def test_what_the_counter_counts_by_itself_is_taken_off_each_exercise() -> None:
    found = scored(checked(20, "0.8 /cm3", "0.5 /cm3", "1.2 /cm3"))
    # source: a zero of 20 in 100 cm3 is 0.2 /cm3; 3000 over 0.6, 0.3 and 1.0 is 5000, 10000 and 3000; the harmonic mean
    # 3 / (1/5000 + 1/10000 + 1/3000) = 4736.842, by hand
    assert [each.fit_factor.value for each in found.exercises] == pytest.approx([5000, 10000, 3000], rel=1e-9)
    assert found.overall is not None
    assert found.overall.value == pytest.approx(4736.8421, rel=1e-8)
    assert found.overall.interval is not None
    assert found.overall.interval.method == "simulated-overall-interval"
    assert found.overall.interval.covers.startswith("counting inside, outside and in the zero check, and ambient")
    first = found.exercises[0].fit_factor
    assert first.working is not None
    inside = first.working.inputs[1]
    assert inside.working is not None
    assert inside.working.method == "concentration-above-zero"
    # source: 0.8 - 0.2 by hand
    assert inside.value == pytest.approx(0.6, rel=1e-9)
    assert first.interval is not None
    # source: R 4.2.2: limits of the leak 1 / rev(poisson.test(c(50000, 53), c(50/3, 200/3))$conf.int), of the zero
    # poisson.test(20, 100)$conf.int / 3000, put together by the equation of the method
    assert (first.interval.low, first.interval.high) == pytest.approx((3520.657186, 8159.840187), rel=1e-8)
    assert first.interval.method == "limits-above-zero"
    assert first.interval.covers.startswith("counting, in the zero check too, and ambient change")


def test_without_ambient_counts_the_overall_interval_has_the_zero_check_too() -> None:
    session = checked(20, 53, 33, 80)
    del session["ambient_time"]
    found = scored(session).overall
    assert found is not None
    assert found.interval is not None
    assert found.value is not None
    assert found.interval.method == "limits-above-zero"
    # source: R 4.2.2: limits of the leak poisson.test(166, 200)$conf.int / 3000, of the zero as before
    assert (found.interval.low, found.interval.high) == pytest.approx((3812.108253, 6425.652357), rel=1e-8)
    assert found.interval.low is not None
    assert found.interval.high is not None
    assert found.interval.low < found.value < found.interval.high


def test_an_exercise_with_less_than_the_zero_check_is_at_least_and_the_counts_are_pooled() -> None:
    found = scored(checked(60, 36, 200, 300))
    first = found.exercises[0].fit_factor
    # 36 in 66.7 cm3 are 0.54 /cm3, less than the 0.6 /cm3 of the zero check
    assert (first.relation, first.method) == (Relation.AT_LEAST, "limits-above-zero")
    assert first.interval is not None
    assert first.value == first.interval.low
    assert first.interval.high is None
    overall = found.overall
    assert overall is not None
    assert (overall.relation, overall.method) == (Relation.EQUAL, "pooled-above-zero")
    # source: R 4.2.2: 1 / mean((c(36, 200, 300) / (200/3) - 0.6) / 3000), 3000 / 2.08
    assert overall.value == pytest.approx(1442.307692, rel=1e-9)


def test_where_nothing_is_left_in_all_the_overall_is_at_least_its_lower_limit() -> None:
    overall = scored(checked(60, 39, 40, 41)).overall
    assert overall is not None
    assert (overall.relation, overall.method) == (Relation.AT_LEAST, "simulated-overall-interval")
    assert overall.interval is not None
    assert overall.interval.high is None
    assert overall.value is not None
    assert overall.value == overall.interval.low
    # source: R 4.2.2: limits of poisson.test(120, 200) and poisson.test(60, 100), put together by the equation, 16270;
    # the simulation draws both counts instead, and agrees within a few percent
    assert overall.value == pytest.approx(16_270, rel=0.05)


def test_a_zero_check_that_contradicts_the_counts_leaves_what_they_say_alone() -> None:
    with_check, without = scored(checked(5000, 5, 6, 7)), scored(a_session(readings(5, 6, 7)))
    assert with_check.overall is not None
    assert without.overall is not None
    assert without.overall.interval is not None
    assert with_check.overall.relation is Relation.AT_LEAST
    assert with_check.overall.value == without.overall.interval.low
    first, alone = with_check.exercises[0].fit_factor, without.exercises[0].fit_factor
    assert alone.interval is not None
    assert (first.relation, first.value) == (Relation.AT_LEAST, alone.interval.low)


def test_no_count_inside_gives_the_same_bound_with_a_zero_check() -> None:
    with_check, without = scored(checked(5, 0, 0, 0)).overall, scored(a_session(readings(0, 0, 0))).overall
    assert with_check is not None
    assert without is not None
    assert with_check.value == without.value


def test_without_counts_inside_the_reading_is_corrected_and_has_no_interval() -> None:
    session = checked(20, "0.8 /cm3", "0.8 /cm3", "0.8 /cm3")
    del session["in_mask_time"]
    found = scored(session)
    assert found.overall is not None
    # source: 3000 / (0.8 - 0.2) by hand
    assert found.overall.value == pytest.approx(5000, rel=1e-9)
    assert found.overall.interval is None
    session = checked(20, "0.2 /cm3", "0.8 /cm3", "0.8 /cm3")
    del session["in_mask_time"]
    assert scored(session).exercises[0].fit_factor.not_scored == (
        "the zero check read no less than was read inside, and without a count of particles no bound follows"
    )


def test_a_counter_of_many_particles_has_no_zero_to_take_off() -> None:
    many = a_counter(counter={"single_particle": False})
    found = scored(checked(20, "0.8 /cm3", "0.8 /cm3", "0.8 /cm3"), counter=many).overall
    assert found is not None
    # source: 3000 / 0.8 by hand
    assert found.value == pytest.approx(3750, rel=1e-9)


def air(count: int, volume: float) -> AirSample:
    return AirSample(count / volume, "here", particles=Particles(count, volume, "here", None, "there", WORKING))


def session_of(counts: list[int], outside: int) -> tuple[ExerciseSamples, ...]:
    return tuple(
        ExerciseSamples(
            name, name, True, name, Measured(air(count, INSIDE), air(outside, OUTSIDE), air(outside, OUTSIDE), True)
        )
        for name, count in zip(EXERCISES, counts, strict=True)
    )


def overall(counts: list[int], outside: int, zero: int | None) -> tuple[float, Relation]:
    particles = Particles(zero, ZERO, "zero", None, "zero", WORKING) if zero is not None else None
    samples = session_of(counts, outside)
    figure = overall_figure("s", samples, [exercise_figure("s", item, particles) for item in samples], particles)
    assert figure.value is not None
    assert figure.value > 0
    if figure.interval is not None and figure.interval.low is not None:
        assert figure.interval.low <= figure.value
    return figure.value, figure.relation


COUNTS = st.lists(st.integers(1, 400), min_size=3, max_size=3)
OUTSIDES = st.integers(2_000, 40_000)


@settings(max_examples=25, deadline=None)
@given(COUNTS, OUTSIDES, st.integers(0, 2))
def test_fewer_counts_inside_never_lower_the_factor(counts: list[int], outside: int, place: int) -> None:
    fewer = [max(1, count // 2) if at == place else count for at, count in enumerate(counts)]
    assert overall(fewer, outside, None)[0] >= overall(counts, outside, None)[0] * (1 - 1e-12)


@settings(max_examples=25, deadline=None)
@given(COUNTS, OUTSIDES, st.integers(0, 2), st.integers(0, 40))
def test_one_worse_exercise_never_raises_the_overall(counts: list[int], outside: int, place: int, zero: int) -> None:
    worse = [count * 2 if at == place else count for at, count in enumerate(counts)]
    before, after = overall(counts, outside, zero), overall(worse, outside, zero)
    if before[1] is after[1] is Relation.EQUAL:
        assert after[0] <= before[0] * (1 + 1e-12)


@settings(max_examples=40, deadline=None)
@given(COUNTS, OUTSIDES, st.integers(0, 400))
def test_a_zero_check_never_lowers_the_factor(counts: list[int], outside: int, zero: int) -> None:
    value, relation = overall(counts, outside, zero)
    if relation is Relation.EQUAL:
        assert value >= overall(counts, outside, None)[0] * (1 - 1e-12)
    else:
        samples = session_of(counts, outside)
        figure = overall_figure("s", samples, [exercise_figure("s", item, None) for item in samples], None)
        assert figure.interval is not None
        assert figure.interval.low is not None
        # A bound is set beside the limit that the counts give alone; two simulations scatter by a few percent.
        assert value >= figure.interval.low * 0.97


@given(st.integers(1, 500), st.integers(0, 500))
def test_limits_above_zero_are_never_below_those_of_the_counts_alone(count: int, zero: int) -> None:
    low, high = exercise_fit_factor_limits(count, INSIDE, 50_000, 2 * OUTSIDE, 3000, 3000, 0.95)
    assert high is not None
    above, _ = fit_factor_limits_above_zero(count / INSIDE / 3000, 1 / high, 1 / low, [3000.0], zero, ZERO, 0.95)
    assert above is None or above >= low * (1 - 1e-12)


def test_values_outside_the_range_are_refused() -> None:
    with pytest.raises(OutsideRange, match=r"concentration as read \[/cm3\]: found -1"):
        concentration_above_zero(-1, 0, 1)
    with pytest.raises(OutsideRange, match="particles counted in the zero check: found -1"):
        concentration_above_zero(1, -1, 1)
    with pytest.raises(OutsideRange, match=r"volume counted in the zero check \[cm3\]: found 0"):
        concentration_above_zero(1, 0, 0)
    with pytest.raises(OutsideRange, match="counts and volumes: found 1, 2 values"):
        pooled_fit_factor_above_zero([1], [1, 2], [1, 2], 0, 1)
    with pytest.raises(OutsideRange, match="particles counted: found -1"):
        pooled_fit_factor_above_zero([-1], [1], [1], 0, 1)
    with pytest.raises(OutsideRange, match="particles counted in the zero check: found -1"):
        pooled_fit_factor_above_zero([1], [1], [1], -1, 1)
    with pytest.raises(OutsideRange, match=r"volume counted in the zero check \[cm3\]: found 0"):
        pooled_fit_factor_above_zero([1], [1], [1], 1, 0)
    with pytest.raises(OutsideRange, match="lower limit of the leak: found -1"):
        fit_factor_limits_above_zero(1, -1, 2, [1], 0, 1, 0.95)
    with pytest.raises(OutsideRange, match="lower limit of the leak, and the leak: found 2 to 1"):
        fit_factor_limits_above_zero(1, 2, 3, [1], 0, 1, 0.95)
    with pytest.raises(OutsideRange, match=r"the leak, and its upper limit: found 1 to 0\.5"):
        fit_factor_limits_above_zero(1, 0, 0.5, [1], 0, 1, 0.95)
    with pytest.raises(OutsideRange, match="ambient concentrations: found 0 values"):
        fit_factor_limits_above_zero(1, 0, 2, [], 0, 1, 0.95)
    with pytest.raises(OutsideRange, match=r"ambient concentration \[/cm3\]: found 0"):
        fit_factor_limits_above_zero(1, 0, 2, [0], 0, 1, 0.95)
    with pytest.raises(OutsideRange, match=r"volume counted in the zero check \[cm3\]: found 0"):
        fit_factor_limits_above_zero(1, 0, 2, [1], 0, 0, 0.95)
