"""The intervals of a fit session's figures, each with its working and with what it covers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from generator.errors import OutsideRange
from generator.model.result import Input, Interval, Working
from generator.scoring.above_zero import fit_factor_limits_above_zero
from generator.scoring.counting import (
    COVERAGE,
    at_least_fit_factor,
    exercise_fit_factor_limits,
    overall_fit_factor_limits,
)
from generator.scoring.fit_factors import pooled_fit_factor
from generator.scoring.fit_inputs import ambient_input, count_input, count_inputs, volume_input, zero_inputs
from generator.scoring.samples import ExerciseSamples, Measured, Particles
from generator.scoring.simulated_interval import simulated_interval
from generator.scoring.two_channel_intervals import has_two_channels, two_channel_interval, why_no_two_channel_interval

NO_COUNTS = "counting interval not available: the in-mask particles were not counted, or the counted time is missing"

COUNTING, COUNTING_INSIDE = "counting", "in-mask counting"
Counts = tuple[list[Measured], list[Particles]]
"""What was measured in each exercise, and the particles counted inside."""


def all_counts(samples: Sequence[ExerciseSamples]) -> Counts | None:
    """Return the counts of all exercises that count, or None where one of them has none."""
    counted = [item for item in samples if item.counted]
    measured = [item.measured for item in counted if item.measured is not None]
    particles = [item.in_mask.particles for item in measured if item.in_mask.particles is not None]
    return (measured, particles) if counted and len(particles) == len(counted) else None


def why_no_interval(measured: Sequence[Measured]) -> str:
    """Say why a factor that was measured has no interval."""
    return why_no_two_channel_interval(measured) if has_two_channels(measured) else NO_COUNTS


def at_least_interval(measured: Sequence[Measured], particles: Sequence[Particles]) -> Interval | None:
    """Return the one-sided interval of exercises in which no particle was counted inside.

    The simulation of the overall interval gives such a limit too. This one is kept because it follows in closed form
    from the pooled count, so that a reader can work it out by hand.
    """
    if has_two_channels(measured):
        return two_channel_interval(measured, particles, None, COVERAGE)
    volumes, lower = [item.volume for item in particles], [item.ambient_lower for item in measured]
    method, inputs = "at-least-bound", count_inputs(measured, particles, "lower ambient concentration", "C", lower)
    return Interval(
        low=at_least_fit_factor(volumes, lower, COVERAGE),
        high=None,
        coverage=COVERAGE,
        method=method,
        covers=_covers(COUNTING_INSIDE, measured),
        working=Working(method=method, inputs=inputs),
    )


def exercise_interval(measured: Measured, particles: Particles, zero: Particles | None) -> Interval | None:
    """Return the interval of one exercise in which particles were counted inside."""
    if has_two_channels([measured]):
        return _unless_contradicted(partial(two_channel_interval, [measured], [particles], coverage=COVERAGE), zero)
    counting = _exercise_counting_interval(measured, particles)
    return counting if zero is None else _above_zero(counting, [measured], [particles], zero)


def overall_interval(samples: Sequence[ExerciseSamples], zero: Particles | None) -> Interval | None:
    """Return the interval of a session: simulated where everything was counted, else of the counting inside."""
    counts = all_counts(samples)
    if counts is None:
        return None
    if has_two_channels(counts[0]):
        return _unless_contradicted(partial(two_channel_interval, *counts, coverage=COVERAGE), zero)
    simulated = _unless_contradicted(partial(simulated_interval, samples, coverage=COVERAGE), zero)
    if simulated is not None:
        return simulated
    counting = _counting_interval(*counts)
    return counting if zero is None else _above_zero(counting, *counts, zero)


def _unless_contradicted(simulate: Callable[..., Interval | None], zero: Particles | None) -> Interval | None:
    """Return a simulated interval, without the zero check where that contradicts what was counted inside."""
    try:
        return simulate(zero=zero)
    except OutsideRange:
        # The zero check counted so much more than was counted inside that nothing is left in any draw. What was
        # counted inside still sets a lower limit; it is only not made tighter by a zero check that contradicts it.
        return simulate(zero=None)


def _covers(counting: str, measured: Sequence[Measured]) -> str:
    """Say what an interval covers. How far that holds is measured by a simulation in the tests."""
    if any(item.during for item in measured):
        # Measured by simulation: 90 % at a factor of 3, 93 % at 5, 94 % at 10 where 95 % are meant.
        missing = "counting outside, without which it is too narrow below a factor of 10, or "
        outside = missing if counting == COUNTING_INSIDE else ""
        return f"{counting}, with ambient air sampled all the time; not {outside}wearer, donning or probe differences"
    if all(item.around_each for item in measured):
        change, swings = "ambient change between its samples", ""
    else:
        change, swings = "a steady ambient change from the first sample to the last", "swings between these, or "
    return f"{counting} and {change}; not {swings}wearer, donning or probe differences"


def _exercise_counting_interval(measured: Measured, particles: Particles) -> Interval:
    before, after = measured.before.particles, measured.after.particles
    if before is None or after is None or before.count + after.count == 0:
        return _counting_interval([measured], [particles])
    outside = [before] if measured.during else [before, after]
    low, high = exercise_fit_factor_limits(
        particles.count,
        particles.volume,
        sum(sample.count for sample in outside),
        sum(sample.volume for sample in outside),
        measured.ambient_lower,
        measured.ambient_higher,
        COVERAGE,
    )
    moments = ["during"] if measured.during else ["before", "after"]
    inputs = (
        count_input("n", "particles counted in the mask", particles),
        volume_input("V", "volume counted in the mask", particles),
        *(
            count_input(f"m_{number}", f"particles counted outside {moment}", sample)
            for number, (moment, sample) in enumerate(zip(moments, outside, strict=True), start=1)
        ),
        *(
            volume_input(f"V_{number}", f"volume counted outside {moment}", sample)
            for number, (moment, sample) in enumerate(zip(moments, outside, strict=True), start=1)
        ),
        ambient_input(r"C_{\mathrm{low}}", "lower ambient concentration", measured.ambient_lower, measured),
        ambient_input(r"C_{\mathrm{high}}", "higher ambient concentration", measured.ambient_higher, measured),
    )
    method = "exercise-counting-interval"
    working = Working(method=method, inputs=inputs)
    return Interval(
        low=low, high=high, coverage=COVERAGE, method=method, covers=_covers(COUNTING, [measured]), working=working
    )


def _counting_interval(measured: Sequence[Measured], particles: Sequence[Particles]) -> Interval:
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
        covers=_covers(COUNTING_INSIDE, measured),
        working=working,
    )


def _above_zero(
    counting: Interval, measured: Sequence[Measured], particles: Sequence[Particles], zero: Particles
) -> Interval:
    """Combine the limits of what was counted inside with those of the zero check."""
    assert counting.low is not None, "something was counted inside"
    volumes, ambients = [item.volume for item in particles], [item.ambient for item in measured]
    leak = 1 / pooled_fit_factor([item.count for item in particles], volumes, ambients)
    leak_low, leak_high = 0.0 if counting.high is None else 1 / counting.high, 1 / counting.low
    low, high = fit_factor_limits_above_zero(
        leak, leak_low, leak_high, ambients, zero.count, zero.volume, counting.coverage
    )
    if low is None:
        # The zero check contradicts what was counted inside, which still sets a lower limit by itself.
        return counting.model_copy(update={"high": None})
    method, where = "limits-above-zero", f"{measured[0].in_mask.where} and what follows"
    inputs = (
        *(
            Input(symbol=symbol, meaning=meaning, value=value, unit="1", where=where, working=counting.working)
            for symbol, meaning, value in (
                (r"\lambda_{\mathrm{low}}", "lower limit of the share counted inside", leak_low),
                (r"\lambda_{\mathrm{high}}", "upper limit of the share counted inside", leak_high),
            )
        ),
        *count_inputs(measured, particles, "mean ambient concentration", "C", ambients),
        *zero_inputs(zero),
    )
    return Interval(
        low=low,
        high=high,
        coverage=counting.coverage,
        method=method,
        covers=counting.covers.replace("counting", "counting, in the zero check too,", 1),
        working=Working(method=method, inputs=inputs),
    )
