"""The demo's logs are what their source makes, and hold what real ones do: drift, a knocked tube, a stuck display."""

import hashlib
from pathlib import Path

from generator.model.catalogue import Catalogue
from generator.model.log import Sampling
from tests.demo_air_balance_source import PRESSURE_LOGS
from tests.demo_chamber_source import CHAMBER_LOGS
from tests.demo_filter_source import LOG, loading_log
from tests.demo_log_source import DEMO_LOGS
from tests.demo_run_time_source import RUN_DOWNS
from tests.example_log_source import EXAMPLE_LOG, example_log

RECORDS = Path(__file__).parent.parent / "records"


def test_the_logs_are_what_their_source_makes_and_what_the_records_state(demo: Catalogue) -> None:
    sessions = [session for test in demo.device_tests.values() for session in test.fit]
    stated = {session.log.file: session.log.sha256 for session in sessions if session.log is not None}
    assert len(DEMO_LOGS) + len(CHAMBER_LOGS) == len(stated) == 6
    for log in (*DEMO_LOGS, *CHAMBER_LOGS):
        content = (RECORDS / "logs" / log.file).read_bytes()
        assert log.content() == content
        assert stated[f"logs/{log.file}"] == hashlib.sha256(content).hexdigest()


def test_the_logs_of_flow_and_pressure_are_what_their_sources_make(demo: Catalogue) -> None:
    made = {f"logs/{log.file}": log.content() for log in (*RUN_DOWNS, *PRESSURE_LOGS)}
    made[f"logs/{LOG.name}"] = loading_log()
    assert set(made) == set(demo.series)
    for file, content in made.items():
        assert (RECORDS / file).read_bytes() == content
        assert demo.series[file].sha256 == hashlib.sha256(content).hexdigest()


def test_every_log_has_one_reading_a_second_but_one_that_lost_four(demo: Catalogue) -> None:
    for file, log in demo.logs.items():
        times = [sample.time_s for sample in log.samples]
        lost = set(range(int(times[-1]) + 1)) - {int(time) for time in times}
        assert len(lost) == (4 if file == "logs/quillback-half-2025-11-b-s4.csv" else 0)
        assert times == sorted(set(range(int(times[-1]) + 1)) - lost)


def test_channels_stood_side_by_side_in_two_of_three_logs_with_two(demo: Catalogue) -> None:
    two = [log for log in demo.logs.values() if log.samples[0].outside_per_cm3 is not None]
    beside = [sum(sample.sampling is Sampling.SIDE_BY_SIDE for sample in log.samples) for log in two]
    assert sorted(beside) == [0, 80, 80]


def test_one_log_was_disturbed_and_one_stood_still(demo: Catalogue) -> None:
    knocked = demo.logs["logs/cinderpool-cup-2025-06-c2.csv"].samples[281:292]
    assert sum(sample.concentration_per_cm3 > 75 for sample in knocked) == 5
    stuck = demo.logs["logs/leatfoot-full-2025-10-f2.csv"].samples[62:72]
    assert len({sample.concentration_per_cm3 for sample in stuck}) == 1


def test_one_log_runs_ten_minutes_at_one_reading_a_second_through_all_exercises(demo: Catalogue) -> None:
    log = demo.logs["logs/wallstone-half-2025-09-c2.csv"]
    assert [sample.time_s for sample in log.samples] == list(range(625))
    protocol = demo.protocols["eight-standard-exercises"]
    in_mask = [sample.exercise for sample in log.samples if sample.sampling is Sampling.IN_MASK]
    assert {name: in_mask.count(name) for name in in_mask} == {
        exercise.id: exercise.duration.to("s") for exercise in protocol.exercises
    }
    ambient = [sample.concentration_per_cm3 for sample in log.samples if sample.sampling is Sampling.AMBIENT]
    assert all(2000 < concentration < 6000 for concentration in ambient)


def test_the_log_of_the_readmes_example_is_what_its_source_makes() -> None:
    assert EXAMPLE_LOG.read_bytes() == example_log()
