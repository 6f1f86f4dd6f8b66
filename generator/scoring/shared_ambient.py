"""The ambient samples of a session in order of time, each shared by the exercises beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.model.result import Input
from generator.scoring.fit_inputs import count_input, volume_input
from generator.scoring.samples import ExerciseSamples, Particles


@dataclass(frozen=True)
class SharedAmbient:
    """What was counted outside, and where between it the counted exercises lie."""

    moments: tuple[tuple[Particles, ...], ...]
    """The ambient samples in order of time; mostly one for each moment, sometimes two."""
    stretches: tuple[int, ...]
    """For each exercise that counts, the stretch between two moments that it lies in, from 0."""

    @property
    def counts(self) -> tuple[int, ...]:
        """Particles counted outside, by moment."""
        return tuple(sum(each.count for each in moment) for moment in self.moments)

    @property
    def volumes(self) -> tuple[float, ...]:
        """Volumes counted outside in cm3, by moment."""
        return tuple(sum(each.volume for each in moment) for moment in self.moments)

    def inputs(self) -> tuple[Input, ...]:
        """Return every sample's count and volume, numbered from one."""
        samples = [each for moment in self.moments for each in moment]
        return tuple(
            part
            for number, each in enumerate(samples, start=1)
            for part in (
                count_input(f"m_{{{number}}}", f"particles counted outside, sample {number}", each),
                volume_input(f"A_{{{number}}}", f"volume counted outside, sample {number}", each),
            )
        )


def shared_ambient(samples: Sequence[ExerciseSamples]) -> SharedAmbient | None:
    """Return the ambient samples of a session in order, or None where one was not counted or there are no moments.

    An exercise that does not count still stands between two samples of its own. The sample after an exercise is the one
    before the next where both read the same; otherwise they are two samples of the same moment, and are put together.
    Air that was sampled all the time during the exercises has no moments between which it could wander.
    """
    measured = [item.measured for item in samples if item.measured is not None]
    if any(item.during for item in measured):
        return None
    outside = [
        (item.before.particles, item.after.particles)
        for item in measured
        if item.before.particles is not None and item.after.particles is not None
    ]
    if not outside or len(outside) < len(samples):
        return None
    counted = tuple(at for at, item in enumerate(samples) if item.counted)
    if not all(item.around_each for item in measured):
        first, last = outside[0]
        return SharedAmbient(((first,), (last,)), (0,) * len(counted))
    moments = [[outside[0][0]]]
    for before, after in outside:
        if not _same(before, moments[-1][-1]):
            moments[-1].append(before)
        moments.append([after])
    return SharedAmbient(tuple(tuple(moment) for moment in moments), counted)


def _same(first: Particles, second: Particles) -> bool:
    return (first.count, first.volume) == (second.count, second.volume)
