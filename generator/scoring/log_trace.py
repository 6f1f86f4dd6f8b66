"""One log of a catalogue, from its rows to the overall fit factor: every number on the way, as scoring has it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.model.fit_result import ExerciseResult, FitResult, SessionResult
from generator.model.log import Log, LogSample, Sampling
from generator.model.published import PublishedCatalogue, PublishedSession, PublishedTest
from generator.model.reference import AmbientRule
from generator.model.result import RecordResult, Relation
from generator.scoring.fit_figures import inside_above_zero
from generator.scoring.logs import LogBlock, cut_log
from generator.scoring.samples import AirSample, CountingAir, Particles, counting_air, session_samples
from generator.scoring.zero_reading import zero_particles


@dataclass(frozen=True)
class TracedBlock:
    """Readings of one kind of air that belong together."""

    air: Sampling
    name: str
    """The exercise's name; empty for the air outside."""
    start: float
    """Time of the first reading in s."""
    end: float
    """Time of the last reading in s."""
    rows: tuple[LogSample, ...]
    total: float
    """Sum of the readings in /cm3."""
    mean: float
    """In /cm3."""
    particles: Particles


@dataclass(frozen=True)
class TracedExercise:
    """How the factor of one exercise comes about; concentrations in /cm3."""

    result: ExerciseResult
    before: float
    after: float
    outside: float
    inside: float
    """What the factor was computed with: the mean inside, less the zero check where there is one."""
    penetration: float
    """Reciprocal of the factor."""


@dataclass(frozen=True)
class LogTrace:
    """A session that is followed through."""

    test: PublishedTest
    session: PublishedSession
    result: SessionResult
    log: Log
    air: CountingAir
    zero: Particles | None
    rows: Mapping[Sampling, int]
    """How many rows of each kind there are."""
    blocks: tuple[TracedBlock, ...]
    """In order of time."""
    exercises: tuple[TracedExercise, ...]
    counted: int
    """How many exercises count towards the overall factor."""
    sum_of_penetrations: float
    """Over the exercises that count."""
    overall: float
    inside: int
    """Particles counted inside in the exercises that count."""
    outside: int
    """Particles counted outside in all blocks."""


def log_to_trace(catalogue: PublishedCatalogue, records: Mapping[str, RecordResult]) -> tuple[str, str] | None:
    """Return record and session of the log to follow through, or None where the catalogue has none that shows all.

    Of the sessions that count, with ambient air around each exercise and particles in all of them: the one of most
    exercises, of those the one in which scoring noticed least, of those the newest.
    """
    found = []
    for test in catalogue.device_tests.values():
        # The record is looked at first: a result may have to be read from a file, and few records have such a log.
        logged = {session.id for session in test.fit if _has_such_a_log(session, test, catalogue)}
        topic = records[test.id].topics.get("fit") if logged else None
        if test.withdrawn is not None or not isinstance(topic, FitResult):
            continue
        for session, result in zip(test.fit, topic.sessions, strict=True):
            if session.id not in logged or not _shows_all(result):
                continue
            noticed = sum(each.where.startswith(f"fit[{session.id}]") for each in records[test.id].all_findings)
            place = (len(result.exercises), -noticed, test.dates.performed, test.id, session.id)
            found.append((place, (test.id, session.id)))
    return max(found)[1] if found else None


def trace_of(record: str, session_id: str, catalogue: PublishedCatalogue, result: FitResult) -> LogTrace:
    """Follow a session with a log through; it must be one that `log_to_trace` may choose."""
    test = catalogue.device_tests[record]
    (session,) = (each for each in test.fit if each.id == session_id)
    (scored,) = (each for each in result.sessions if each.session == session_id)
    air = counting_air(test, catalogue)
    assert session.log is not None, "only sessions with a log are followed through"
    assert air is not None, "and only those with a counted flow"
    log = catalogue.logs[session.log.file]
    zero = zero_particles(session, air)
    exercises = tuple(_exercises(session, scored, zero, test, catalogue))
    penetrations = [each.penetration for each in exercises if each.result.counted]
    blocks = tuple(_blocks(session, test, catalogue, log))
    names = [each.result.name for each in exercises if each.result.counted]
    total = math.fsum(penetrations)
    return LogTrace(
        test=test,
        session=session,
        result=scored,
        log=log,
        air=air,
        zero=zero,
        rows={kind: sum(row.sampling is kind for row in log.samples) for kind in Sampling},
        blocks=blocks,
        exercises=exercises,
        counted=len(penetrations),
        sum_of_penetrations=total,
        overall=len(penetrations) / total,
        inside=sum(block.particles.count for block in blocks if block.air is Sampling.IN_MASK and block.name in names),
        outside=sum(block.particles.count for block in blocks if block.air is Sampling.AMBIENT),
    )


def _has_such_a_log(session: PublishedSession, test: PublishedTest, catalogue: PublishedCatalogue) -> bool:
    if session.log is None or catalogue.protocols[session.protocol].ambient is not AmbientRule.AROUND_EACH_EXERCISE:
        return False
    air = counting_air(test, catalogue)
    return air is not None and air.single_particle


def _shows_all(result: SessionResult) -> bool:
    if not result.counted or result.overall is None or result.overall.interval is None:
        return False
    factors = [each.fit_factor for each in result.exercises]
    return all(each.relation is Relation.EQUAL and each.interval is not None for each in factors)


def _blocks(
    session: PublishedSession, test: PublishedTest, catalogue: PublishedCatalogue, log: Log
) -> Iterator[TracedBlock]:
    """Yield each block once, in order of time: the sample after an exercise is the one before the next."""
    seen: dict[float, TracedBlock] = {}
    cuts = cut_log(log, catalogue.protocols[session.protocol])
    for cut, samples in zip(cuts, session_samples(session, test, catalogue), strict=True):
        measured = samples.measured
        if measured is None or cut.in_mask is None or cut.before is None or cut.after is None:
            continue
        for air, name, block, sample in (
            (Sampling.AMBIENT, "", cut.before, measured.before),
            (Sampling.IN_MASK, cut.step.name, cut.in_mask, measured.in_mask),
            (Sampling.AMBIENT, "", cut.after, measured.after),
        ):
            seen[block.start] = _block(air, name, block, sample, log)
    yield from (seen[start] for start in sorted(seen))


def _block(air: Sampling, name: str, block: LogBlock, sample: AirSample, log: Log) -> TracedBlock:
    rows = tuple(row for row in log.samples if row.sampling is air and block.start <= row.time_s <= block.end)
    assert sample.particles is not None, "only counters of single particles are followed through"
    return TracedBlock(
        air=air,
        name=name,
        start=block.start,
        end=block.end,
        rows=rows,
        total=math.fsum(row.concentration_per_cm3 for row in rows),
        mean=sample.concentration,
        particles=sample.particles,
    )


def _exercises(
    session: PublishedSession,
    result: SessionResult,
    zero: Particles | None,
    test: PublishedTest,
    catalogue: PublishedCatalogue,
) -> Iterator[TracedExercise]:
    for exercise, samples in zip(result.exercises, session_samples(session, test, catalogue), strict=True):
        measured, factor = samples.measured, exercise.fit_factor
        assert measured is not None, "every exercise was measured"
        assert factor.value is not None, "and has a factor"
        yield TracedExercise(
            result=exercise,
            before=measured.before.concentration,
            after=measured.after.concentration,
            outside=measured.ambient,
            inside=inside_above_zero(measured, zero).value,
            penetration=1 / factor.value,
        )
