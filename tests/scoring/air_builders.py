"""Logs of pressure, exhausts and inhaled air; a test changes the one thing it is about."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.model.series import Series
from tests.scoring.builders import Data

LOG = "logs/pressure.csv"


def pressures(
    values: Sequence[float],
    times: Sequence[float] | None = None,
    exercise: Sequence[str] | None = None,
    file: str = LOG,
) -> Series:
    """Return a log of pressure, one reading a second where no times are given."""
    return Series(
        file=file,
        sha256="0" * 64,
        time_s=tuple(times) if times is not None else tuple(float(number) for number in range(len(values))),
        pressure_pa=tuple(values),
        exercise=tuple(exercise) if exercise is not None else None,
    )


def a_trace(setting: str = "high", file: str = LOG, **changes: Any) -> Data:
    column = {"heading": "p", "unit": "Pa"}
    log = {"file": file, "sha256": "0" * 64, "time": "t", "pressure": column, "exercise": "e"}
    return {"id": f"trace-{setting}", "setting": setting, "where": "at the cheek", "log": log} | changes


def an_exhaust(values: Sequence[float], setting: str = "high", **changes: Any) -> Data:
    readings = {"unit": "L/min", "values": list(values)}
    return {"id": f"exhaust-{setting}", "setting": setting, "where": "at the fan", "readings": readings} | changes


def inhaled(oxygen: float, carbon_dioxide: float, uncertainty: float | None = 0.1, **changes: Any) -> Data:
    """Return a reading of inhaled air; shares and their expanded uncertainty in percent."""
    stated: Any = {"not_recorded": "not stated"} if uncertainty is None else f"{uncertainty} %"
    return {
        "id": "standing",
        "blower": "high",
        "work": "standing",
        "oxygen": f"{oxygen} %",
        "oxygen_uncertainty": stated,
        "carbon_dioxide": f"{carbon_dioxide} %",
        "carbon_dioxide_uncertainty": stated,
        "how": "at the lip",
    } | changes
