"""The simulated interval of a session's overall fit factor, with its working."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from functools import lru_cache

from generator.model.result import Input, Interval, Working
from generator.scoring.fit_inputs import count_input, volume_input, zero_inputs
from generator.scoring.overall_simulation import simulated_fit_factor_limits
from generator.scoring.samples import ExerciseSamples, Particles
from generator.scoring.shared_ambient import shared_ambient

METHOD = "simulated-overall-interval"


def simulated_interval(samples: Sequence[ExerciseSamples], zero: Particles | None, coverage: float) -> Interval | None:
    """Return the interval of a session's overall fit factor by simulation, or None where something was not counted.

    The seed is a hash of the very numbers that go in, so that the same counts give the same limits anywhere, and a
    change of words in a record moves no figure.
    """
    ambient = shared_ambient(samples)
    read = [item.measured.in_mask.particles for item in samples if item.counted and item.measured is not None]
    particles = [each for each in read if each is not None]
    if ambient is None or not particles or len(particles) < len(read) or min(ambient.counts) == 0:
        return None
    inside = tuple(each.count for each in particles), tuple(each.volume for each in particles)
    outside = ambient.stretches, ambient.counts, ambient.volumes
    low, high = _limits(*inside, *outside, *((zero.count, zero.volume) if zero is not None else (0, None)), coverage)
    return Interval(
        low=low,
        high=high,
        coverage=coverage,
        method=METHOD,
        covers=_covers(len(ambient.moments), zero is not None),
        working=Working(method=METHOD, inputs=(*_inside(particles), *ambient.inputs(), *zero_inputs(zero))),
    )


@lru_cache(maxsize=4096)
def _limits(
    counts: tuple[int, ...],
    volumes: tuple[float, ...],
    stretches: tuple[int, ...],
    ambient_counts: tuple[int, ...],
    ambient_volumes: tuple[float, ...],
    zero_count: int,
    zero_volume: float | None,
    coverage: float,
) -> tuple[float, float | None]:
    """Return the limits. The same numbers give the same limits, so that they need be drawn but once in a run."""
    outside = stretches, ambient_counts, ambient_volumes
    seed = seed_from((counts, volumes, *outside, zero_count, zero_volume, coverage))
    return simulated_fit_factor_limits(counts, volumes, *outside, zero_count, zero_volume, coverage, seed)


def seed_from(numbers: object) -> int:
    """Return a seed that follows from the numbers alone."""
    return int.from_bytes(hashlib.sha256(json.dumps(numbers).encode()).digest()[:8])


def _covers(moments: int, zero_checked: bool) -> str:
    """Say what the interval covers. How far that holds is measured by simulations in the tests."""
    counting = "counting inside, outside and in the zero check" if zero_checked else "counting inside and outside"
    samples = "two ambient samples" if moments == 2 else f"{moments} ambient samples"
    return (
        f"{counting}, and ambient change as the {samples} show it; not swings between them that come and go, a counter "
        "that miscounts in bursts, or wearer, donning or probe differences"
    )


def _inside(particles: Sequence[Particles]) -> tuple[Input, ...]:
    return tuple(
        part
        for number, each in enumerate(particles, start=1)
        for part in (
            count_input(f"n_{{{number}}}", f"particles counted in the mask, exercise {number}", each),
            volume_input(f"V_{{{number}}}", f"volume counted in the mask, exercise {number}", each),
        )
    )
