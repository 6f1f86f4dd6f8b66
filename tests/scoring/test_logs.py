"""A log is cut by its marks, and gives the same figures as the same numbers written into the record."""

from __future__ import annotations

import pytest

from generator.model.fit_result import FitResult
from generator.model.log import Log, LogSample, Sampling
from generator.scoring.logs import cut_log
from tests.scoring.builders import EXERCISES, a_catalogue, a_protocol, a_session, a_test, readings, score_one

FILE = "logs/session.csv"
SHA = "0" * 64
REFERENCE = {
    "file": FILE,
    "sha256": SHA,
    "unit": "/cm3",
    "columns": {"time": "t", "concentration": "c", "exercise": "e", "sampling": "s"},
}
Part = tuple[str, Sampling, list[float]]


def a_log(*parts: Part, step: float = 1.0) -> Log:
    samples: list[LogSample] = []
    for exercise, sampling, values in parts:
        for value in values:
            samples.append(
                LogSample(time_s=len(samples) * step, concentration_per_cm3=value, exercise=exercise, sampling=sampling)
            )
    return Log(file=FILE, sha256=SHA, samples=tuple(samples))


def a_whole_session() -> Log:
    parts: list[Part] = []
    for exercise, outside in zip(EXERCISES, (3000.0, 3010.0, 3020.0), strict=True):
        parts += [
            (exercise, Sampling.AMBIENT, [outside - 3, outside + 3]),
            (exercise, Sampling.PURGE, [900.0, 300.0]),
            (exercise, Sampling.IN_MASK, [24.0, 36.0, 30.0]),
            (exercise, Sampling.PURGE, [700.0]),
        ]
    return a_log(*parts, (EXERCISES[-1], Sampling.AMBIENT, [3030.0, 3030.0]))


def test_blocks_are_means_of_the_marked_rows() -> None:
    cuts = cut_log(a_whole_session(), a_protocol())
    assert [cut.step.id for cut in cuts] == list(EXERCISES)
    for cut, before, after in zip(cuts, (3000, 3010, 3020), (3010, 3020, 3030), strict=True):
        assert cut.in_mask is not None
        assert cut.before is not None
        assert cut.after is not None
        # source: means of the rows above, by arithmetic
        assert cut.in_mask.concentration == pytest.approx(30, rel=1e-12)
        assert cut.in_mask.seconds == 3
        assert cut.before.concentration == pytest.approx(before, rel=1e-12)
        assert cut.after.concentration == pytest.approx(after, rel=1e-12)
        assert cut.before.seconds == 2


def test_the_log_and_the_same_numbers_in_the_record_agree() -> None:
    rows = readings("30 /cm3", "30 /cm3", "30 /cm3")
    for row, before, after in zip(rows, (3000, 3010, 3020), (3010, 3020, 3030), strict=True):
        row |= {"ambient_before": f"{before} /cm3", "ambient_after": f"{after} /cm3"}
    written = a_test([a_session(rows, in_mask_time="3 s", ambient_time="2 s")])
    logged = a_test([a_session(log=REFERENCE)])
    by_hand = score_one(written, a_catalogue(written)).topics.get("fit")
    by_log = score_one(logged, a_catalogue(logged, logs={FILE: a_whole_session()})).topics.get("fit")
    assert by_hand is not None
    assert by_log is not None
    # A log gives penetrations too, which readings of a record do not.
    factors = [figure for figure in by_log.figures if not figure.key.endswith((".average", ".peak"))]
    for one, other in zip(by_hand.figures, factors, strict=True):
        assert other.value == pytest.approx(one.value, rel=1e-12)
        assert one.interval is not None
        assert other.interval is not None
        assert other.interval.low == pytest.approx(one.interval.low, rel=1e-12)
        assert other.interval.high == pytest.approx(one.interval.high, rel=1e-12)


def test_first_and_last_takes_the_ends_of_the_log() -> None:
    cuts = cut_log(a_whole_session(), a_protocol("first_and_last"))
    assert {cut.before.concentration for cut in cuts if cut.before} == {3000}
    assert {cut.after.concentration for cut in cuts if cut.after} == {3030}


def test_time_counts_not_rows() -> None:
    log = a_log(
        ("standing", Sampling.AMBIENT, [3000.0]),
        ("standing", Sampling.IN_MASK, [30.0] * 10),
        ("standing", Sampling.AMBIENT, [3000.0]),
        step=0.5,
    )
    cut = cut_log(log, a_protocol())[0]
    assert cut.in_mask is not None
    assert cut.in_mask.seconds == 5


def test_exercises_that_the_log_does_not_hold_are_not_scored() -> None:
    log = a_log(
        ("standing", Sampling.AMBIENT, [3000.0]),
        ("standing", Sampling.IN_MASK, [30.0, 30.0]),
        ("talking", Sampling.AMBIENT, [3000.0]),
        ("talking", Sampling.IN_MASK, [30.0, 30.0]),
    )
    test = a_test([a_session(log=REFERENCE)])
    result = score_one(test, a_catalogue(test, logs={FILE: log})).topics.get("fit")
    assert isinstance(result, FitResult)
    session = result.sessions[0]
    assert [exercise.fit_factor.not_scored for exercise in session.exercises] == [
        None,
        "the log has no ambient samples on both sides of it",
        "the log has no in-mask samples of it",
    ]
    assert session.overall is not None
    assert session.overall.value is None


def test_an_empty_log_gives_nothing() -> None:
    assert all(cut.in_mask is None for cut in cut_log(a_log(), a_protocol()))
