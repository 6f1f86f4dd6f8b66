"""Logs with a second channel and logs that a timetable cuts, read as they stand and read back as they are published."""

from __future__ import annotations

import json
from pathlib import Path

from generator.loading import load_catalogue
from generator.loading.logs import read_log
from generator.loading.published_site import _log
from generator.model.log import Log, LogSample, Sampling
from generator.model.session import LogReference
from generator.rendering.open_data import _log_csv
from tests.loading.example_records import REFERENCE, change, good_copy

TWO_CHANNELS = """\
t,in,out,step,air
0,30,3000,,side-by-side
1,31,3010,,side-by-side
2,0.25,3020,standing,in-mask
3,0.5,2990,,purge
"""
COLUMNS = {"time": "t", "concentration": "in"}
MARKED = COLUMNS | {"exercise": "step", "sampling": "air"}


def reference(**parts: object) -> LogReference:
    data = {"file": "logs/a.csv", "sha256": "0" * 64, "unit": "/cm3"} | parts
    return LogReference.model_validate_json(json.dumps(data))


def read(content: str, known: LogReference) -> Log:
    log, problems = read_log(content.encode(), "logs/a.csv", known, ("standing", "talking"))
    assert problems == ()
    assert log is not None
    return log


def test_both_channels_are_read_in_the_same_unit() -> None:
    log = read(TWO_CHANNELS, reference(unit="/L", columns=MARKED | {"outside": "out"}))
    assert log.second_channel
    # source: by definition, 1000 cm3 in a litre
    assert log.samples[2] == LogSample(
        time_s=2.0,
        concentration_per_cm3=0.00025,
        exercise="standing",
        sampling=Sampling.IN_MASK,
        outside_per_cm3=3.02,
    )
    assert [sample.sampling.value for sample in log.samples] == ["side-by-side", "side-by-side", "in-mask", "purge"]


def test_a_second_channel_of_zero_is_a_reading() -> None:
    log = read(TWO_CHANNELS.replace("3020", "0"), reference(columns=MARKED | {"outside": "out"}))
    assert [sample.outside_per_cm3 for sample in log.samples] == [3000, 3010, 0, 2990]


def test_a_log_with_one_channel_has_no_second_one() -> None:
    log = read("t,in,step,air\n0,3,standing,in-mask\n", reference(columns=MARKED))
    assert not log.second_channel
    assert log.samples[0].outside_per_cm3 is None


def test_a_timetable_marks_the_lines() -> None:
    timetable = [
        {"sampling": "ambient", "start": "0 s", "end": "2 s"},
        {"sampling": "in-mask", "exercise": "standing", "start": "2.5 s", "end": "4.5 s"},
        {"sampling": "in-mask", "exercise": "talking", "start": "4.5 s", "end": "0.1 min"},
    ]
    content = "t,in\n" + "".join(f"{second},{second + 10}\n" for second in range(8))
    log = read(content, reference(columns=COLUMNS, timetable=timetable))
    # source: the timetable above, by hand; an entry holds its start and not its end, and what is outside is purge
    assert [(sample.time_s, sample.exercise, sample.sampling.value) for sample in log.samples] == [
        (0, "", "ambient"),
        (1, "", "ambient"),
        (2, "", "purge"),
        (3, "standing", "in-mask"),
        (4, "standing", "in-mask"),
        (5, "talking", "in-mask"),
        (6, "", "purge"),
        (7, "", "purge"),
    ]
    assert [sample.concentration_per_cm3 for sample in log.samples] == list(range(10, 18))


def test_a_record_with_a_timetable_gives_the_log_that_marks_give(tmp_path: Path) -> None:
    marked = load_catalogue(good_copy(tmp_path / "marked"), REFERENCE).catalogue
    folder = good_copy(tmp_path / "timed")
    change(
        folder,
        "device_tests/half-april.yaml",
        "      columns: {time: time, concentration: conc, exercise: step, sampling: where}\n",
        """\
      columns: {time: time, concentration: conc}
      timetable:
        - {sampling: ambient, start: 0 s, end: 2 s}
        - {sampling: in-mask, exercise: standing, start: 3 s, end: 5 s}
        - {sampling: ambient, start: 5 s, end: 6 s}
        - {sampling: in-mask, exercise: talking, start: 6 s, end: 8 s}
        - {sampling: ambient, start: 8 s, end: 9 s}
""",
    )
    timed = load_catalogue(folder, REFERENCE).catalogue
    assert marked is not None
    assert timed is not None
    one, other = (each.logs["logs/half-talk.csv"].samples for each in (marked, timed))
    in_mask = [(row.time_s, row.concentration_per_cm3, row.exercise) for row in one if row.sampling is Sampling.IN_MASK]
    assert in_mask == [
        (row.time_s, row.concentration_per_cm3, row.exercise) for row in other if row.sampling is Sampling.IN_MASK
    ]
    assert [row.sampling for row in one] == [row.sampling for row in other]


def test_what_is_published_reads_back_the_same(tmp_path: Path) -> None:
    for content, columns in (
        (TWO_CHANNELS, MARKED | {"outside": "out"}),
        ("t,in,step,air\n0,3,standing,in-mask\n", MARKED),
    ):
        log = read(content, reference(columns=columns))
        (tmp_path / "data" / "logs").mkdir(parents=True, exist_ok=True)
        (tmp_path / "data" / "logs" / "a.csv").write_bytes(_log_csv(log))
        assert _log(tmp_path, "logs/a.csv", "0" * 64) == log
    # A log with one channel is published as it always was.
    assert _log_csv(log).splitlines()[0] == b"time_s,concentration_per_cm3,exercise,sampling"
