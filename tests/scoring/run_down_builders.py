"""Run-downs with their logs for tests: a test changes the one thing it is about."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from generator.model.catalogue import Catalogue
from generator.model.run_time_result import RunDownResult, RunTimeResult
from generator.model.series import Series
from tests.scoring.builders import Data, a_catalogue, a_device, a_test, score_all

LOOSE = "loose_powered_hood"
"""Held against 170 L/min (42 CFR 84.175(b), 2020)."""
FALLING = (200.0, 190.0, 180.0, 170.0, 160.0)
"""A flow, every 60 min, that reaches 170 L/min after 180 min."""


def a_run_down(**changes: Any) -> Data:
    """Return a run-down at `high` whose log has columns of everything."""
    name = changes.get("id", "full")
    columns = {
        part: {"heading": part, "unit": unit} for part, unit in (("flow", "L/min"), ("voltage", "V"), ("current", "A"))
    }
    return {
        "id": name,
        "setting": "high",
        "filter": "new",
        "charge": "full",
        "where": "at the hood",
        "log": {"file": f"logs/{name}.csv", "sha256": "0" * 64, "time": "t", **columns},
        "ended": "test_ended",
    } | changes


def a_series(
    flows: Sequence[float] = FALLING, name: str = "full", step_min: float = 60, start_s: float = 0, **columns: Any
) -> Series:
    """Return a log with one line each so many minutes."""
    return Series(
        file=f"logs/{name}.csv",
        sha256="0" * 64,
        time_s=tuple(start_s + 60.0 * step_min * place for place in range(len(flows))),
        flow_l_per_min=tuple(float(flow) for flow in flows),
        **columns,
    )


def with_series(catalogue: Catalogue, *series: Series) -> Catalogue:
    """Return a catalogue that holds logs."""
    return replace(catalogue, series={each.file: each for each in series})


def a_run_down_catalogue(
    flows: Sequence[float] = FALLING,
    *,
    kind: str = LOOSE,
    device: Data | None = None,
    series: Data | None = None,
    meter: Any = None,
    test: Data | None = None,
    **changes: Any,
) -> Catalogue:
    """Return a catalogue of one record with one run-down; `changes` are of the run-down."""
    record = a_test(run_downs=[a_run_down(**changes)], **(test or {}))
    return with_series(
        a_catalogue(record, device=a_device(kind, **(device or {})), meter=meter), a_series(flows, **(series or {}))
    )


def scored_run_down(*arguments: Any, **parts: Any) -> RunDownResult:
    """Score the one run-down of `a_run_down_catalogue`."""
    result = score_all(a_run_down_catalogue(*arguments, **parts)).records["test"].topics["run_time"]
    assert isinstance(result, RunTimeResult)
    (run_down,) = result.run_downs
    return run_down
