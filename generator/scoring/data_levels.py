"""What a session's factors are made from, and how much of its protocol they stand for."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.fit_result import Basis, DataLevel
from generator.model.published import PublishedSession
from generator.scoring.samples import ExerciseSamples

_BEST_FIRST = tuple(DataLevel)


def data_level(session: PublishedSession, samples: Sequence[ExerciseSamples]) -> DataLevel:
    """Return the lowest level among a completed session's exercises: a chain is as good as its weakest link."""
    if session.overall_only:
        return DataLevel.OVERALL_ONLY
    if session.log is not None:
        return DataLevel.RAW_LOG
    return max((_exercise_level(item) for item in samples), key=_BEST_FIRST.index, default=DataLevel.CONCENTRATIONS)


def _exercise_level(samples: ExerciseSamples) -> DataLevel:
    if samples.fit_factor is not None or samples.at_least is not None:
        return DataLevel.EXERCISE_FACTORS
    if samples.measured is not None and samples.measured.in_mask.particles is not None:
        return DataLevel.COUNTS
    return DataLevel.CONCENTRATIONS


def basis_of(session: PublishedSession) -> Basis:
    """Return how much of its protocol a session stands for, by what its record says."""
    if session.overall_only:
        return Basis.OVERALL_ONLY
    return Basis.PARTIAL if session.partial is not None else Basis.WHOLE_PROTOCOL
