"""Twelve logs written in twelve ways, each beside what is to be read from it: written by hand before the code."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.contributing.taking_in.raw_text import raw_text
from generator.contributing.taking_in.readings import Readings, read_readings
from generator.contributing.taking_in.told import Told, Unclear

FOLDER = Path(__file__).parent.parent / "logs_as_written"
LOGS = sorted(path for path in FOLDER.iterdir() if path.suffix != ".yaml")
MOST_QUESTIONS = 5


def expectation(path: Path) -> dict[str, Any]:
    read: dict[str, Any] = yaml.safe_load(path.with_suffix(".yaml").read_text(encoding="utf-8"))
    return read


def read_as_told(path: Path) -> tuple[Readings, list[str]]:
    """Read a log with the answers beside it, and return what had to be asked as well."""
    answers = expectation(path).get("told", {})
    told = Told(**{key: answers[key] for key in ("time", "concentration") if key in answers})
    asked: list[str] = []
    for _ in range(MOST_QUESTIONS):
        try:
            content = path.read_bytes()
            readings = read_readings(raw_text(content, told.encoding), path.name, told)
        except Unclear as unclear:
            key = unclear.option.removeprefix("--").replace("-", "_")
            assert key in {each.name for each in fields(told)}
            asked.append(unclear.option)
            told = replace(told, **{key: answers[key]})
            continue
        assert isinstance(readings, Readings), [str(problem) for problem in readings]
        return readings, asked
    raise AssertionError(f"{asked} asked again and again")


def test_there_are_twelve() -> None:
    assert len(LOGS) == 12


@pytest.mark.parametrize("path", LOGS, ids=lambda path: path.name)
def test_it_is_read_as_was_written_down_before(path: Path) -> None:
    expected = expectation(path)
    readings, asked = read_as_told(path)
    columns, number = readings.columns, readings.number
    cells = [readings.cells(place) for place in range(len(readings.time_s))]
    assert {
        "asked": asked,
        "encoding": readings.raw.encoding,
        "delimiter": readings.layout.delimiter,
        "decimal": {",": "comma", ".": "point"}[readings.layout.decimal],
        "headings": readings.layout.headings_line,
        "time_format": readings.form.name,
        "unit": readings.unit,
        "times": [readings.written_time(place, 0) for place in range(len(readings.time_s))],
        "concentrations": [number(row[columns.concentration]) for row in cells],
        "outside": None if columns.outside is None else [number(row[columns.outside]) for row in cells],
        "exercise": readings.exercise,
        "sampling": readings.sampling,
        "skipped": list(readings.skipped),
        "without_reading": list(readings.without_reading),
        "gaps": [[gap.line, gap.seconds] for gap in readings.gaps],
        "midnights": readings.days[-1],
    } == {
        **dict.fromkeys(("outside", "exercise", "sampling")),
        "without_reading": [],
        "gaps": [],
        "midnights": 0,
        **{key: value for key, value in expected.items() if key not in ("made", "told")},
    }


@pytest.mark.parametrize("path", LOGS, ids=lambda path: path.name)
def test_the_numbers_are_those_that_are_looked_at(path: Path) -> None:
    # The floats of plot and table, and the digits of the written log, come from one cell each.
    readings, _ = read_as_told(path)
    expected = expectation(path)
    assert readings.concentration.tolist() == [float(text) for text in expected["concentrations"]]
    assert readings.time_s.tolist() == pytest.approx([float(text) for text in expected["times"]], abs=1e-5)
