"""One log of the demo, from its readings once a second to the overall factor and its interval, against another way."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.loading import load_catalogue
from generator.model.fit_result import FitResult
from generator.model.published import published
from generator.scoring.catalogue import score_record
from generator.scoring.counting import COVERAGE
from generator.scoring.samples import counting_air, session_samples
from generator.scoring.session_checks import readings_that_are_missing, readings_that_repeat, times_unlike_the_protocol
from generator.scoring.simulated_interval import simulated_interval
from generator.scoring.zero_reading import zero_particles

RECORD, SESSION = "wallstone-half-2025-09", "c2"


def test_a_log_gives_the_factor_and_the_interval_that_a_script_of_its_own_gives(demo_records: Path) -> None:
    loaded = load_catalogue(demo_records).catalogue
    assert loaded is not None
    catalogue = published(loaded)
    test = catalogue.device_tests[RECORD]
    (session,) = (each for each in test.fit if each.id == SESSION)
    topic = score_record(test, catalogue).topics["fit"]
    assert isinstance(topic, FitResult)
    (overall,) = (each.overall for each in topic.sessions if each.session == SESSION)
    assert overall is not None
    # source: independent script, R 4.2.2: tests/scoring/oracle_log.R, from the log itself
    assert overall.value == pytest.approx(462.53230768, rel=1e-9)
    air = counting_air(test, catalogue)
    assert air is not None
    found = simulated_interval(session_samples(session, test, catalogue), zero_particles(session, air), COVERAGE)
    assert found is not None
    # source: the same, 2,000,000 draws; the limits scatter by a hundredth of the half width of 3 %
    assert (found.low, found.high) == pytest.approx((449.677393, 475.834121), rel=0.001)


def test_nothing_is_wrong_with_that_log(demo_records: Path) -> None:
    loaded = load_catalogue(demo_records).catalogue
    assert loaded is not None
    (log,) = loaded.logs.values()
    assert readings_that_are_missing("here", log) is None
    # source: the demo's counter, 100 cm3/min
    assert readings_that_repeat("here", log, 100.0) is None
    seconds = {row.exercise: 0.0 for row in log.samples}
    for row in log.samples:
        seconds[row.exercise] += row.sampling.value == "in-mask"
    assert times_unlike_the_protocol("here", seconds, loaded.protocols["eight-standard-exercises"]) is None
