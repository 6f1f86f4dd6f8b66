"""The figures of a fit session: each exercise's factor, the overall one and the inward leakage, with their working."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.result import Figure, Input, Interval, Relation, Working
from generator.scoring.counting import (
    COVERAGE,
    at_least_fit_factor,
    exercise_fit_factor_limits,
    overall_fit_factor_limits,
)
from generator.scoring.fit_factors import exercise_fit_factor, inward_leakage, overall_fit_factor, pooled_fit_factor
from generator.scoring.fit_inputs import (
    ambient_input,
    concentration_input,
    count_input,
    count_inputs,
    exercise_ambient,
    volume_input,
)
from generator.scoring.samples import ExerciseSamples, Measured, Particles
from generator.scoring.two_channel_intervals import has_two_channels, two_channel_interval, why_no_interval

NO_COUNTS = "counting interval not available: the in-mask particles were not counted, or the counted time is missing"
AS_GIVEN = "counting interval not available: the factor is recorded as the instrument gave it"


def exercise_figure(session: str, samples: ExerciseSamples) -> Figure:
    """Return the fit factor of one exercise."""
    key, name = f"fit.{session}.{samples.exercise}", f"fit factor, {samples.name}"
    if samples.fit_factor is not None:
        return _figure_as_given(key, name, samples, samples.fit_factor)
    measured = samples.measured
    if measured is None:
        return _not_scored(key, name, "exercise-fit-factor", samples.missing or "nothing was measured")
    particles = measured.in_mask.particles
    if particles is not None and particles.count == 0:
        if has_two_channels([measured]):
            return _two_channel_bound(key, name, [measured], [particles], 0, "particles counted in the mask")
        return _at_least_figure(key, name, [measured], [particles], 0, "particles counted in the mask")
    if measured.in_mask.concentration == 0:
        reason = "the in-mask reading is zero, and without a count of particles no bound can be given"
        return _not_scored(key, name, "exercise-fit-factor", reason)
    inputs = (exercise_ambient(measured), concentration_input("c", "in-mask concentration", measured.in_mask))
    interval = _exercise_interval(measured, particles) if particles else None
    return Figure(
        key=key,
        name=name,
        value=exercise_fit_factor(measured.ambient, measured.in_mask.concentration),
        unit="1",
        interval=interval,
        no_interval=None if interval is not None else _no_interval([measured]),
        sample_size=particles.count if particles else 1,
        sample_of="particles counted in the mask" if particles else "reading",
        method="exercise-fit-factor",
        working=Working(method="exercise-fit-factor", inputs=inputs),
    )


def overall_figure(session: str, samples: Sequence[ExerciseSamples], factors: Sequence[Figure]) -> Figure:
    """Return the overall fit factor from the samples and fit factors of a session's exercises, in the same order."""
    key, name = f"fit.{session}.overall", "overall fit factor"
    pairs = [(item, factor) for item, factor in zip(samples, factors, strict=True) if item.counted]
    if not pairs:
        return _not_scored(key, name, "overall-fit-factor", "no exercise that counts was done")
    for item, factor in pairs:
        if factor.value is None:
            reason = f"{item.name} has no fit factor: {factor.not_scored}"
            return _not_scored(key, name, "overall-fit-factor", reason)
    counts = _all_counts([item for item, _ in pairs])
    unseen = [item.name for item, factor in pairs if factor.relation is Relation.AT_LEAST]
    if not unseen:
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
        value, method = overall_fit_factor(values), "overall-fit-factor"
    elif counts is None:
        reason = f"no particle was counted in {', '.join(unseen)}, and not all other exercises have counts to pool"
        return _not_scored(key, name, "pooled-fit-factor", reason)
    elif len(unseen) == len(pairs) and has_two_channels(counts[0]):
        return _two_channel_bound(key, name, *counts, len(pairs), "exercises")
    elif len(unseen) == len(pairs):
        return _at_least_figure(key, name, *counts, len(pairs), "exercises")
    else:
        measured, particles = counts
        inputs = count_inputs(*counts, "mean ambient concentration", "C", [item.ambient for item in measured])
        volumes, ambients = [item.volume for item in particles], [item.ambient for item in measured]
        value, method = pooled_fit_factor([item.count for item in particles], volumes, ambients), "pooled-fit-factor"
    given = any(item.fit_factor is not None for item, _ in pairs)
    interval = _counting_interval(*counts) if counts else None
    measured_all = [item.measured for item, _ in pairs if item.measured is not None]
    return Figure(
        key=key,
        name=name,
        value=value,
        unit="1",
        interval=interval,
        no_interval=None if interval is not None else AS_GIVEN if given else _no_interval(measured_all),
        sample_size=len(pairs),
        sample_of="exercises",
        method=method,
        working=Working(method=method, inputs=inputs),
    )


def leakage_figure(session: str, overall: Figure) -> Figure:
    """Return the inward leakage that the overall fit factor means."""
    key, name = f"fit.{session}.leakage", "inward leakage seen by the counter"
    if overall.value is None:
        reason = f"there is no overall fit factor: {overall.not_scored}"
        return _not_scored(key, name, "inward-leakage", reason, unit="%")
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


def _not_scored(key: str, name: str, method: str, reason: str, unit: str = "1") -> Figure:
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


def _figure_as_given(key: str, name: str, samples: ExerciseSamples, factor: float) -> Figure:
    given = Input(
        symbol=r"\mathrm{FF}",
        meaning="fit factor as the instrument gave it",
        value=factor,
        unit="1",
        where=f"{samples.where}.fit_factor",
    )
    return Figure(
        key=key,
        name=name,
        value=factor,
        unit="1",
        no_interval=AS_GIVEN,
        sample_size=1,
        sample_of="reading",
        method="exercise-fit-factor",
        working=Working(method="exercise-fit-factor", inputs=(given,)),
    )


def _at_least_figure(
    key: str, name: str, measured: Sequence[Measured], particles: Sequence[Particles], size: int, of: str
) -> Figure:
    volumes, lower = [item.volume for item in particles], [item.ambient_lower for item in measured]
    bound = at_least_fit_factor(volumes, lower, COVERAGE)
    inputs = count_inputs(measured, particles, "lower ambient concentration", "C", lower)
    working = Working(method="at-least-bound", inputs=inputs)
    return Figure(
        key=key,
        name=name,
        value=bound,
        unit="1",
        relation=Relation.AT_LEAST,
        interval=Interval(
            low=bound,
            high=None,
            coverage=COVERAGE,
            method="at-least-bound",
            covers=_covers("in-mask counting", measured),
            working=working,
        ),
        sample_size=size,
        sample_of=of,
        method="at-least-bound",
        working=working,
    )


def _covers(counting: str, measured: Sequence[Measured]) -> str:
    """Say what an interval covers. How far that holds is measured by a simulation in the tests."""
    if all(item.around_each for item in measured):
        change, swings = "ambient change between its samples", ""
    else:
        change, swings = "a steady ambient change from the first sample to the last", "swings between these, or "
    return f"{counting} and {change}; not {swings}wearer, donning or probe differences"


def _all_counts(samples: Sequence[ExerciseSamples]) -> tuple[list[Measured], list[Particles]] | None:
    measured = [item.measured for item in samples if item.measured is not None]
    particles = [item.in_mask.particles for item in measured if item.in_mask.particles is not None]
    return (measured, particles) if len(particles) == len(samples) else None


def _two_channel_bound(
    key: str, name: str, measured: Sequence[Measured], particles: Sequence[Particles], size: int, of: str
) -> Figure:
    """Return what the factor is at least where two channels counted and the one inside counted nothing."""
    interval = two_channel_interval(measured, particles, None, COVERAGE)
    if interval is None:
        return _not_scored(key, name, "two-channel-interval", f"no particle inside, and {why_no_interval(measured)}")
    return Figure(
        key=key,
        name=name,
        value=interval.low,
        unit="1",
        relation=Relation.AT_LEAST,
        interval=interval,
        sample_size=size,
        sample_of=of,
        method=interval.method,
        working=interval.working,
    )


def _no_interval(measured: Sequence[Measured]) -> str:
    return why_no_interval(measured) if has_two_channels(measured) else NO_COUNTS


def _exercise_interval(measured: Measured, particles: Particles) -> Interval | None:
    if has_two_channels([measured]):
        return two_channel_interval([measured], [particles], None, COVERAGE)
    before, after = measured.before.particles, measured.after.particles
    if before is None or after is None or before.count + after.count == 0:
        return _counting_interval([measured], [particles])
    low, high = exercise_fit_factor_limits(
        particles.count,
        particles.volume,
        before.count + after.count,
        before.volume + after.volume,
        measured.ambient_lower,
        measured.ambient_higher,
        COVERAGE,
    )
    inputs = (
        count_input("n", "particles counted in the mask", particles),
        volume_input("V", "volume counted in the mask", particles),
        count_input("m_1", "particles counted outside before", before),
        count_input("m_2", "particles counted outside after", after),
        volume_input("V_1", "volume counted outside before", before),
        volume_input("V_2", "volume counted outside after", after),
        ambient_input(r"C_{\mathrm{low}}", "lower ambient concentration", measured.ambient_lower, measured),
        ambient_input(r"C_{\mathrm{high}}", "higher ambient concentration", measured.ambient_higher, measured),
    )
    method = "exercise-counting-interval"
    working = Working(method=method, inputs=inputs)
    return Interval(
        low=low, high=high, coverage=COVERAGE, method=method, covers=_covers("counting", [measured]), working=working
    )


def _counting_interval(measured: Sequence[Measured], particles: Sequence[Particles]) -> Interval | None:
    if has_two_channels(measured):
        return two_channel_interval(measured, particles, None, COVERAGE)
    lower, higher = [item.ambient_lower for item in measured], [item.ambient_higher for item in measured]
    low, high = overall_fit_factor_limits(
        [item.count for item in particles], [item.volume for item in particles], lower, higher, COVERAGE
    )
    method = "overall-counting-interval"
    inputs = count_inputs(measured, particles, "lower ambient concentration", r"C^{\mathrm{low}}", lower)
    inputs += tuple(
        ambient_input(
            rf"C^{{\mathrm{{high}}}}_{{{number}}}", f"higher ambient concentration, exercise {number}", value, item
        )
        for number, (value, item) in enumerate(zip(higher, measured, strict=True), start=1)
    )
    working = Working(method=method, inputs=inputs)
    return Interval(
        low=low,
        high=high,
        coverage=COVERAGE,
        method=method,
        covers=_covers("in-mask counting", measured),
        working=working,
    )
