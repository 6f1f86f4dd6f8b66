"""One log of the demo, from its readings once a second to the overall factor and its interval, against another way.

The numbers of the page that follows it through are worked out here from the file itself, with nothing of the code.
"""

from __future__ import annotations

import csv
import re
import statistics
from itertools import groupby
from pathlib import Path
from typing import Any

import pytest

from generator.loading import load_catalogue
from generator.model.fit_result import FitResult
from generator.model.published import PublishedCatalogue, published
from generator.model.result import RecordResult
from generator.presenting.context import Context
from generator.presenting.traced_log import TracedLogPage, present_traced_log
from generator.scoring.catalogue import score_catalogue
from generator.scoring.counting import COVERAGE
from generator.scoring.log_trace import log_to_trace
from generator.scoring.samples import counting_air, session_samples
from generator.scoring.session_checks import readings_that_are_missing, readings_that_repeat, times_unlike_the_protocol
from generator.scoring.simulated_interval import simulated_interval
from generator.scoring.zero_reading import zero_particles

RECORD, SESSION = "wallstone-half-2025-09", "c2"
LOG = f"logs/{RECORD}-{SESSION}.csv"
FLOW_CM3_PER_S = 100 / 60
"""The demo's counter: 100 cm3/min."""


@pytest.fixture(scope="module")
def context(demo_records: Path) -> Context:
    loaded = load_catalogue(demo_records).catalogue
    assert loaded is not None
    catalogue = published(loaded)
    return Context(catalogue, score_catalogue(catalogue))


@pytest.fixture(scope="module")
def page(context: Context) -> TracedLogPage:
    found = present_traced_log(context)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def blocks(demo_records: Path) -> list[tuple[str, str, list[float]]]:
    """The log cut by hand: kind of air, exercise and readings of each block in order; purge is left out."""
    with (demo_records / LOG).open(encoding="utf-8", newline="") as file:
        rows = [(row["sampling"], row["exercise"], row["concentration_per_cm3"]) for row in csv.DictReader(file)]
    cut = [
        (kind, list(group))
        for kind, group in groupby(rows, key=lambda row: row[0])  # purge always lies between two blocks
    ]
    return [(kind, part[0][1], [float(value) for _, _, value in part]) for kind, part in cut if kind != "purge"]


def fit_of(context: Context) -> FitResult:
    topic = context.result.records[RECORD].topics["fit"]
    assert isinstance(topic, FitResult)
    return topic


def texts(page: TracedLogPage) -> dict[str, str]:
    """Return what stands at each id of the page."""
    cells = [cell for step in page.steps for table in step.tables for row in table.rows for cell in row.cells]
    found = {cell.id: cell.text for cell in cells if cell.id is not None}
    return found | {fact.id: fact.text for step in page.steps for fact in step.results if fact.id is not None}


def number(text: str) -> float:
    return float(re.sub("\N{NARROW NO-BREAK SPACE}", "", text))


def test_a_log_gives_the_factor_and_the_interval_that_a_script_of_its_own_gives(context: Context) -> None:
    catalogue = context.catalogue
    test = catalogue.device_tests[RECORD]
    (session,) = (each for each in test.fit if each.id == SESSION)
    (overall,) = (each.overall for each in fit_of(context).sessions if each.session == SESSION)
    assert overall is not None
    # source: independent script, R 4.2.2: tests/scoring/oracle_log.R, from the log itself
    assert overall.value == pytest.approx(462.53230768, rel=1e-9)
    air = counting_air(test, catalogue)
    assert air is not None
    found = simulated_interval(session_samples(session, test, catalogue), zero_particles(session, air), COVERAGE)
    assert found is not None
    # source: the same, 2,000,000 draws; the limits scatter by a hundredth of the half width of 3 %
    assert (found.low, found.high) == pytest.approx((449.677393, 475.834121), rel=0.001)


def test_nothing_is_wrong_with_that_log(context: Context) -> None:
    log = context.catalogue.logs[LOG]
    assert readings_that_are_missing("here", log) is None
    # source: the demo's counter, 100 cm3/min
    assert readings_that_repeat("here", log, 100.0) is None
    seconds = {row.exercise: 0.0 for row in log.samples}
    for row in log.samples:
        seconds[row.exercise] += row.sampling.value == "in-mask"
    assert times_unlike_the_protocol("here", seconds, context.catalogue.protocols["eight-standard-exercises"]) is None
    where = f"fit[{SESSION}]"
    assert [each for each in context.result.records[RECORD].all_findings if each.where == where] == []


def test_that_log_is_the_one_that_is_followed_through(context: Context, page: TracedLogPage) -> None:
    assert log_to_trace(context.catalogue, context.result.records) == (RECORD, SESSION)
    assert page.head.path == "methods/traced-log.html"
    links = {fact.term: fact.href for fact in page.facts}
    assert links["Session"] == f"records/{RECORD}.html#fit.{SESSION}"
    assert links["Log"] == f"data/{LOG}"


def test_the_rows_are_counted(page: TracedLogPage, blocks: list[Any], demo_records: Path) -> None:
    shown = texts(page)
    # source: counted with the csv module
    with (demo_records / LOG).open(encoding="utf-8", newline="") as file:
        kinds = [row["sampling"] for row in csv.DictReader(file)]
    for kind in ("ambient", "in-mask", "purge"):
        assert shown[f"trace.rows.{kind}"] == str(kinds.count(kind))
    assert "trace.rows.side-by-side" not in shown


def test_the_first_readings_stand_as_in_the_file(page: TracedLogPage, demo_records: Path) -> None:
    shown = texts(page)
    lines = (demo_records / LOG).read_text(encoding="utf-8").splitlines()[1:]
    for key, kind in (("ambient", ",ambient"), ("in-mask", ",in-mask")):
        first = [line.split(",")[1] for line in lines if line.endswith(kind)][:6]
        assert [shown[f"trace.first.{key}.{number}"] for number in range(1, 7)] == first


def test_every_block_has_the_mean_the_volume_and_the_particles_of_its_readings(
    page: TracedLogPage, blocks: list[tuple[str, str, list[float]]]
) -> None:
    shown = texts(page)
    assert len(blocks) == 17
    assert "trace.block.18.mean" not in shown
    for place, (_, _, readings) in enumerate(blocks, start=1):
        # source: statistics.fmean, and by hand: one reading a second, 100 cm3/min
        mean, volume = statistics.fmean(readings), len(readings) * FLOW_CM3_PER_S
        assert shown[f"trace.block.{place}.readings"] == str(len(readings))
        assert number(shown[f"trace.block.{place}.mean"]) == pytest.approx(mean, abs=0.0051)
        assert number(shown[f"trace.block.{place}.volume"]) == pytest.approx(volume, abs=0.0051)
        assert number(shown[f"trace.block.{place}.particles"]) == round(mean * volume)
    for key, (_, _, readings) in (("ambient", blocks[0]), ("in-mask", blocks[1])):
        assert number(shown[f"trace.first.{key}.sum"]) == pytest.approx(sum(readings), abs=0.051)
        assert number(shown[f"trace.first.{key}.mean"]) == pytest.approx(statistics.fmean(readings), abs=0.0051)


def test_every_factor_and_the_overall_one_follow(
    page: TracedLogPage, blocks: list[tuple[str, str, list[float]]], context: Context
) -> None:
    shown = texts(page)
    means = [statistics.fmean(readings) for _, _, readings in blocks]
    counted, inside_particles = [], 0
    (session,) = (each for each in fit_of(context).sessions if each.session == SESSION)
    factors = {each.exercise: each.fit_factor for each in session.exercises}
    for place, (kind, exercise, readings) in enumerate(blocks):
        if kind != "in-mask":
            continue
        # source: by hand, the mean of the blocks before and after over the mean inside
        outside = (means[place - 1] + means[place + 1]) / 2
        assert number(shown[f"trace.{exercise}.outside"]) == pytest.approx(outside, abs=0.0051)
        assert number(shown[f"trace.{exercise}.inside"]) == pytest.approx(means[place], abs=0.0051)
        assert factors[exercise].value == pytest.approx(outside / means[place], rel=1e-9)
        # Two or three digits are shown.
        assert number(shown[f"trace.{exercise}.factor"]) == pytest.approx(outside / means[place], rel=0.01)
        if exercise != "grimace":
            counted.append(means[place] / outside)
            inside_particles += round(means[place] * len(readings) * FLOW_CM3_PER_S)
    assert shown["trace.counted"] == str(len(counted)) == "7"
    assert number(shown["trace.sum"]) == pytest.approx(sum(counted), rel=1e-5)
    # source: statistics.harmonic_mean, and the script in R above
    overall = statistics.harmonic_mean([1 / share for share in counted])
    assert overall == pytest.approx(462.53230768, rel=1e-9)
    assert number(shown["trace.quotient"]) == pytest.approx(overall, rel=1e-5)
    assert number(shown["trace.overall"]) == round(overall)
    assert number(shown["trace.particles.inside"]) == inside_particles
    ambient = [round(sum(readings) * FLOW_CM3_PER_S) for kind, _, readings in blocks if kind == "ambient"]
    assert number(shown["trace.particles.outside"]) == sum(ambient)


def test_the_record_page_writes_the_same_digits(demo_site: Path) -> None:
    page, record = ((demo_site / path).read_text() for path in ("methods/traced-log.html", f"records/{RECORD}.html"))
    cells = dict(re.findall(r'id="trace\.([a-z-]+)\.factor"><a href="[^"]+">([^<]+)</a>', page))
    assert len(cells) == 8
    for exercise, text in cells.items():
        assert f'id="fit.{SESSION}.{exercise}">{text}</td>' in record
    overall = re.search(r'id="trace\.overall"><a href="[^"]+">([^<]+)</a>', page)
    interval = re.search(r'id="trace\.interval"><a href="[^"]+">([^<]+)</a>', page)
    assert overall is not None
    assert interval is not None
    figure = record[record.index(f'id="fit.{SESSION}.overall"') :][:600]
    assert f'<span class="value">{overall[1]}</span>' in figure
    assert f'<span class="interval">{interval[1]}</span>' in figure
    assert 'href="../methods/traced-log.html"' in (demo_site / "methods" / "index.html").read_text()


def test_a_catalogue_without_a_log_has_no_such_page(context: Context) -> None:
    catalogue: PublishedCatalogue = context.catalogue
    without: dict[str, RecordResult] = {
        name: result.model_copy(update={"topics": {}}) for name, result in context.result.records.items()
    }
    assert log_to_trace(catalogue, without) is None
    assert present_traced_log(Context(catalogue, context.result.model_copy(update={"records": without}))) is None
