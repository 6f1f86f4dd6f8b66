"""The ambient samples of a session in order of time, each shared by the exercises beside it, for the simulation."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass

from generator.scoring.overall_simulation import simulated_fit_factor_limits
from generator.scoring.samples import ExerciseSamples, Measured, Particles


@dataclass(frozen=True)
class SharedAmbient:
    """What was counted outside, and where between it the counted exercises lie."""

    counts: tuple[int, ...]
    """Particles, per ambient sample in order of time."""
    volumes: tuple[float, ...]
    """Counted volumes in cm3."""
    stretches: tuple[int, ...]
    """For each exercise that counts, the stretch between two samples that it lies in, from 0."""


@dataclass(frozen=True)
class CountedZero:
    """What the counter counted in the zero check."""

    count: int
    volume: float
    """In cm3."""


def shared_ambient(samples: Sequence[ExerciseSamples]) -> SharedAmbient | None:
    """Return the ambient samples of a session in order, or None where one of them was not counted.

    An exercise that does not count still stands between two samples of its own. The sample after an exercise is the one
    before the next where both read the same; otherwise they are two samples of the same moment, and are put together.
    """
    if not all(item.measured is not None for item in samples):
        return None
    measured = [item.measured for item in samples if item.measured is not None]
    outside = [(item.before.particles, item.after.particles) for item in measured]
    if not outside or any(each is None for pair in outside for each in pair):
        return None
    pairs = [(before, after) for before, after in outside if before is not None and after is not None]
    counted = [at for at, item in enumerate(samples) if item.counted]
    if not all(item.around_each for item in measured):
        first, last = pairs[0]
        return SharedAmbient((first.count, last.count), (first.volume, last.volume), (0,) * len(counted))
    moments = [[pairs[0][0]]]
    for before, after in pairs:
        if not _same(before, moments[-1][-1]):
            moments[-1].append(before)
        moments.append([after])
    return SharedAmbient(
        counts=tuple(sum(each.count for each in moment) for moment in moments),
        volumes=tuple(sum(each.volume for each in moment) for moment in moments),
        stretches=tuple(counted),
    )


def _same(first: Particles, second: Particles) -> bool:
    return (first.count, first.volume) == (second.count, second.volume)


def simulated_limits(
    samples: Sequence[ExerciseSamples], zero: CountedZero | None, coverage: float
) -> tuple[float, float | None] | None:
    """Return the limits of a session's overall fit factor by simulation, or None where something was not counted.

    The seed is a hash of the very numbers that go in, so that the same counts give the same limits anywhere, and a
    change of words in a record moves no figure.
    """
    ambient = shared_ambient(samples)
    inside = [_in_mask(item.measured) for item in samples if item.counted and item.measured is not None]
    particles = [each for each in inside if each is not None]
    if ambient is None or not particles or len(particles) < len(inside) or min(ambient.counts) == 0:
        return None
    counts, volumes = [each.count for each in particles], [each.volume for each in particles]
    zero_count, zero_volume = (zero.count, zero.volume) if zero is not None else (0, None)
    outside = (ambient.stretches, ambient.counts, ambient.volumes)
    numbers = (counts, volumes, *outside, zero_count, zero_volume, coverage)
    return simulated_fit_factor_limits(
        counts,
        volumes,
        *outside,
        zero_count,
        zero_volume,
        coverage,
        seed_from(numbers),
    )


def seed_from(numbers: object) -> int:
    """Return a seed that follows from the numbers alone."""
    return int.from_bytes(hashlib.sha256(json.dumps(numbers).encode()).digest()[:8])


def _in_mask(measured: Measured) -> Particles | None:
    return measured.in_mask.particles
