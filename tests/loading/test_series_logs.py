"""Logs of flow, pressure, voltage and current: read as they stand, bounded, and read back as they are published."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from generator.errors import PublishedSiteUnreadable
from generator.loading.log_cells import MOST_LINES
from generator.loading.published_site import _series
from generator.loading.series_logs import read_series
from generator.model.series import Series, SeriesReference
from generator.rendering.open_data import _series_csv

FLOW = {"time": "t", "flow": {"heading": "f", "unit": "L/s"}}


def reference(**parts: object) -> SeriesReference:
    return SeriesReference.model_validate_json(json.dumps({"file": "logs/a.csv", "sha256": "0" * 64} | parts))


def told(text: str, **parts: object) -> list[str]:
    series, problems = read_series(text.encode(), "a.csv", reference(**(FLOW | parts)))
    assert (series is None) == bool(problems)
    return [f"{problem.line}:{problem.column} {problem.slug}" for problem in problems]


def test_other_columns_quotes_and_the_line_ends_of_another_system_do_not_matter() -> None:
    text = '\ufeffnote,"t",f\r\n"a, ""b""",0,2\r\n,1.5,"3"\r\n'
    series, problems = read_series(text.encode(), "a.csv", reference(**FLOW))
    assert problems == ()
    # 1 L/s is 60 L/min.
    assert series == Series(file="logs/a.csv", sha256="0" * 64, time_s=(0.0, 1.5), flow_l_per_min=(120.0, 180.0))


def test_only_the_first_problems_are_told() -> None:
    lines = told("t,f\n" + "".join(f"{number},x\n" for number in range(30)))
    # The numbers 0 to 9 take one character, 10 to 19 two, before the comma and the wrong cell.
    assert lines[:20] == [f"{number + 2}:{len(f'{number},') + 1} log-number" for number in range(20)]
    assert lines[20:] == ["22:1 log-more-problems"]


def test_a_log_that_is_longer_than_any_test_is_not_read_to_its_end() -> None:
    assert told("t,f\n" + "".join(f"{number},1\n" for number in range(MOST_LINES))) == [
        f"{MOST_LINES + 1}:1 log-too-long"
    ]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", ["1:1 log-heading-missing", "1:1 log-heading-missing"]),
        ("t,f\n", ["1:1 log-empty"]),
        ("t,f\n0,1\n\n", ["3:1 log-row"]),
        ("t,f\n0,1," + "," * 200, ["2:1 log-row"]),
        ("t,f\n0," + "9" * 12 + "e99", ["2:3 log-number"]),
        ("t,f\n1e9,1", ["2:1 log-number"]),
        ("t,f\n0,NaN\n1,inf\n2,-1\n3,1;5", [f"{line}:3 log-number" for line in (2, 3, 4, 5)]),
        ("t,f\n0,1\n0,1", ["3:1 log-time-order"]),
        # The line with a bad flow still has a time, which the next one must follow.
        ("t,f\n0,1\n5,x\n3,1", ["3:3 log-number", "4:1 log-time-order"]),
        ("t,f\n" + "0,1\n1,1\n", []),
    ],
)
def test_what_is_told_of_hostile_texts(text: str, expected: list[str]) -> None:
    assert told(text) == expected


NUMBER = st.floats(min_value=0, max_value=1e6)


@given(
    rows=st.lists(st.tuples(st.floats(0.001, 1e3), NUMBER, NUMBER), min_size=1, max_size=20),
    words=st.sampled_from(["", "walking", "Gehen, schnell", "a-b (c)"]),
)
def test_a_published_log_reads_back_to_the_last_digit(
    rows: list[tuple[float, float, float]], words: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    site = tmp_path_factory.mktemp("site")
    times = [sum(step for step, _, _ in rows[: number + 1]) for number in range(len(rows))]
    series = Series(
        file="logs/a.csv",
        sha256="0" * 64,
        time_s=tuple(times),
        flow_l_per_min=tuple(flow for _, flow, _ in rows),
        pressure_pa=tuple(-pressure for _, _, pressure in rows),
        exercise=(words,) * len(rows),
    )
    (site / "data" / "logs").mkdir(parents=True)
    (site / "data" / series.file).write_bytes(_series_csv(series))
    assert _series(site, series.file, series.sha256) == series


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("", "not enough values"),
        ("time_s,flow_l_per_min\r\n", "zip"),
        ("time_s,flow_l_per_min\r\n0,1\r\n1\r\n", "zip"),
        ("time_s,flow_l_per_min\r\n0,1\r\n1,x\r\n", "could not convert"),
        ("time_s,flow_l_per_min\r\n0,1\r\n1,nan\r\n", "finite number"),
        ("time_s,flow_l_per_min\r\n0,1\r\n0,1\r\n", "does not go up"),
        ("time_s,flow_l_per_min\r\n0,-1\r\n", "below zero"),
        ("time_s,surplus\r\n0,1\r\n", "surplus"),
    ],
)
def test_a_published_log_that_was_damaged_is_named(content: str, words: str, tmp_path: Path) -> None:
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "a.csv").write_bytes(content.encode())
    with pytest.raises(PublishedSiteUnreadable, match=rf"a\.csv: found no log as it was published (?s:.*){words}"):
        _series(tmp_path, "a.csv", "0" * 64)


def test_columns_are_of_one_length() -> None:
    with pytest.raises(ValidationError, match="columns that differ in length"):
        Series(file="logs/a.csv", sha256="0" * 64, time_s=(0.0, 1.0), flow_l_per_min=(1.0,))
