"""The figures of a fit session: each exercise's factor, the overall one and the inward leakage, with their working."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.result import Figure, Input, Interval, Relation, Working
from generator.scoring.above_zero import pooled_fit_factor_above_zero
from generator.scoring.fit_factors import exercise_fit_factor, inward_leakage, overall_fit_factor, pooled_fit_factor
from generator.scoring.fit_inputs import (
    concentration_input,
    count_inputs,
    exercise_ambient,
    zero_inputs,
)
from generator.scoring.fit_intervals import (
    Counts,
    all_counts,
    at_least_interval,
    exercise_interval,
    overall_interval,
    why_no_interval,
)
from generator.scoring.given_factors import AS_GIVEN, exercise_as_given, overall_between_bounds
from generator.scoring.samples import ExerciseSamples, Measured, Particles
from generator.scoring.zero_check import concentration_above_zero

COUNTED_INSIDE = "particles counted in the mask"
_EXERCISE, _OVERALL, _POOLED = "exercise-fit-factor", "overall-fit-factor", "pooled-fit-factor"


def exercise_figure(session: str, samples: ExerciseSamples, zero: Particles | None) -> Figure:
    """Return the fit factor of one exercise, without what the counter counted by itself in the zero check."""
    key, name = f"fit.{session}.{samples.exercise}", f"fit factor, {samples.name}"
    if samples.fit_factor is not None or samples.at_least is not None:
        return exercise_as_given(key, name, samples)
    measured = samples.measured
    if measured is None:
        return not_scored(key, name, _EXERCISE, samples.missing or "nothing was measured")
    particles = measured.in_mask.particles
    if particles is not None and particles.count == 0:
        return _unseen(key, name, ([measured], [particles]), 0, COUNTED_INSIDE)
    if measured.in_mask.concentration == 0:
        reason = "the in-mask reading is zero, and without a count of particles no bound can be given"
        return not_scored(key, name, _EXERCISE, reason)
    interval = exercise_interval(measured, particles, zero) if particles is not None else None
    inside = inside_above_zero(measured, zero)
    if inside.value <= 0:
        if interval is None or particles is None:
            reason = (
                "the zero check read no less than was read inside, and without a count of particles no bound follows"
            )
            return not_scored(key, name, _EXERCISE, reason)
        return _at_least(key, name, interval, particles.count, COUNTED_INSIDE)
    return Figure(
        key=key,
        name=name,
        value=exercise_fit_factor(measured.ambient, inside.value),
        unit="1",
        interval=interval,
        no_interval=None if interval is not None else why_no_interval([measured]),
        sample_size=particles.count if particles else 1,
        sample_of=COUNTED_INSIDE if particles else "reading",
        method=_EXERCISE,
        working=Working(method=_EXERCISE, inputs=(exercise_ambient(measured), inside)),
    )


def overall_figure(
    session: str,
    samples: Sequence[ExerciseSamples],
    factors: Sequence[Figure],
    zero: Particles | None,
    name: str = "overall fit factor",
) -> Figure:
    """Return the overall fit factor from the samples and fit factors of a session's exercises, in the same order."""
    key = f"fit.{session}.overall"
    pairs = [(item, factor) for item, factor in zip(samples, factors, strict=True) if item.counted]
    if not pairs:
        return not_scored(key, name, _OVERALL, "no exercise that counts was done")
    for item, factor in pairs:
        if factor.value is None:
            return not_scored(key, name, _OVERALL, f"{item.name} has no fit factor: {factor.not_scored}")
    bounds = [item for item, factor in pairs if factor.relation is Relation.AT_LEAST]
    unseen = [item.name for item in bounds if item.at_least is None]
    counts = all_counts(samples)
    if not bounds:
        figure = _harmonic(key, name, pairs)
    elif not unseen:
        return overall_between_bounds(key, name, pairs)
    elif counts is None:
        reason = f"no particle was counted in {', '.join(unseen)}, and not all other exercises have counts to pool"
        return not_scored(key, name, _POOLED, reason)
    elif all(particles.count == 0 for particles in counts[1]):
        return _unseen(key, name, counts, len(pairs), "exercises")
    else:
        pooled = _pooled(key, name, counts, zero)
        if pooled is None:
            return _of_lower_limit(key, name, overall_interval(samples, zero), counts[0], len(pairs))
        figure = pooled
    given = any(item.fit_factor is not None for item, _ in pairs)
    interval = overall_interval(samples, zero)
    measured = [item.measured for item, _ in pairs if item.measured is not None]
    no_interval = None if interval is not None else AS_GIVEN if given else why_no_interval(measured)
    return figure.model_copy(update={"interval": interval, "no_interval": no_interval})


def _harmonic(key: str, name: str, pairs: Sequence[tuple[ExerciseSamples, Figure]]) -> Figure:
    values = [factor.value for _, factor in pairs if factor.value is not None]
    inputs = tuple(
        Input(
            symbol=rf"\mathrm{{FF}}_{{{number}}}",
            meaning=factor.name,
            value=value,
            unit="1",
            where=f"{item.where}: {factor.key}",
        )
        for number, (value, (item, factor)) in enumerate(zip(values, pairs, strict=True), start=1)
    )
    return _of_exercises(key, name, overall_fit_factor(values), _OVERALL, inputs, len(pairs))


def _pooled(key: str, name: str, counts: Counts, zero: Particles | None) -> Figure | None:
    """Return the factor from all counts together, or None where the zero check leaves nothing of them."""
    measured, particles = counts
    inputs = count_inputs(measured, particles, "mean ambient concentration", "C", [item.ambient for item in measured])
    numbers, volumes = [item.count for item in particles], [item.volume for item in particles]
    ambients = [item.ambient for item in measured]
    if zero is None:
        value: float | None = pooled_fit_factor(numbers, volumes, ambients)
        return _of_exercises(key, name, value, _POOLED, inputs, len(measured))
    value = pooled_fit_factor_above_zero(numbers, volumes, ambients, zero.count, zero.volume)
    inputs += zero_inputs(zero)
    return _of_exercises(key, name, value, "pooled-above-zero", inputs, len(measured)) if value is not None else None


def _of_exercises(
    key: str, name: str, value: float | None, method: str, inputs: tuple[Input, ...], exercises: int
) -> Figure:
    return Figure(
        key=key,
        name=name,
        value=value,
        unit="1",
        sample_size=exercises,
        sample_of="exercises",
        method=method,
        working=Working(method=method, inputs=inputs),
    )


def inside_above_zero(measured: Measured, zero: Particles | None) -> Input:
    """Return the concentration inside, without what the counter counts by itself where that was checked."""
    read = concentration_input("c", "in-mask concentration", measured.in_mask)
    if zero is None:
        return read
    method = "concentration-above-zero"
    as_read = read.model_copy(
        update={"symbol": r"c_{\mathrm{read}}", "meaning": "in-mask concentration as read or counted"}
    )
    return Input(
        symbol="c",
        meaning="in-mask concentration without what the counter counts by itself",
        value=concentration_above_zero(measured.in_mask.concentration, zero.count, zero.volume),
        unit="/cm3",
        where=f"{measured.in_mask.where}, less the zero check",
        working=Working(method=method, inputs=(as_read, *zero_inputs(zero))),
    )


def leakage_figure(session: str, overall: Figure) -> Figure:
    """Return the inward leakage that the overall fit factor means."""
    key, name = f"fit.{session}.leakage", "inward leakage seen by the counter"
    if overall.value is None:
        reason = f"there is no overall fit factor: {overall.not_scored}"
        return not_scored(key, name, "inward-leakage", reason, unit="%")
    factor = Input(
        symbol=r"\mathrm{FF}",
        meaning="overall fit factor",
        value=overall.value,
        unit="1",
        where=f"fit[{session}]: {overall.key}",
    )
    interval = _leakage_interval(factor, overall.interval) if overall.interval is not None else None
    return Figure(
        key=key,
        name=name,
        value=inward_leakage(overall.value),
        unit="%",
        relation=Relation.AT_MOST if overall.relation is Relation.AT_LEAST else overall.relation,
        interval=interval,
        no_interval=overall.no_interval,
        other_bound=None if overall.other_bound is None else inward_leakage(overall.other_bound),
        sample_size=overall.sample_size,
        sample_of=overall.sample_of,
        method="inward-leakage",
        working=Working(method="inward-leakage", inputs=(factor,)),
    )


def _leakage_interval(factor: Input, of_factor: Interval) -> Interval:
    ends = {"lower": of_factor.low, "upper": of_factor.high}
    inputs = tuple(
        factor.model_copy(update={"meaning": f"{end} limit of the overall fit factor", "value": limit})
        for end, limit in ends.items()
        if limit is not None
    )
    return Interval(
        low=None if of_factor.high is None else inward_leakage(of_factor.high),
        high=None if of_factor.low is None else inward_leakage(of_factor.low),
        coverage=of_factor.coverage,
        method="inward-leakage",
        covers=of_factor.covers,
        working=Working(method="inward-leakage", inputs=inputs),
    )


def not_scored(key: str, name: str, method: str, reason: str, unit: str = "1") -> Figure:
    """Return a figure without a value, and why."""
    return Figure(
        key=key,
        name=name,
        value=None,
        unit=unit,
        sample_size=0,
        sample_of="exercises",
        method=method,
        not_scored=reason,
    )


def _unseen(key: str, name: str, counts: Counts, size: int, of: str) -> Figure:
    """Return what a factor is at least where no particle was counted inside.

    A zero check cannot be taken off nothing; the bound holds whatever the counter counts by itself.
    """
    return _of_lower_limit(key, name, at_least_interval(*counts), counts[0], size, of)


def _of_lower_limit(
    key: str, name: str, interval: Interval | None, measured: Sequence[Measured], size: int, of: str = "exercises"
) -> Figure:
    if interval is None:
        return not_scored(key, name, "at-least-bound", f"no particle inside, and {why_no_interval(measured)}")
    return _at_least(key, name, interval, size, of)


def _at_least(key: str, name: str, interval: Interval, size: int, of: str) -> Figure:
    """Return a figure that is known only to be at least the lower limit of an interval."""
    return Figure(
        key=key,
        name=name,
        value=interval.low,
        unit="1",
        relation=Relation.AT_LEAST,
        interval=interval.model_copy(update={"high": None}),
        sample_size=size,
        sample_of=of,
        method=interval.method,
        working=interval.working,
    )
