"""The figures of a pressure trace: over the whole of it, and over each exercise that its log names."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.model.air_balance_result import PressureStretch, PressureTraceResult
from generator.model.hood import PressureTrace
from generator.model.result import Figure, Input, Working
from generator.model.series import Series
from generator.scoring.pressure_traces import lowest_pressure, mean_pressure, share_of_time_below

NO_INTERVAL = "the uncertainty of the pressure sensor is not on record"
ONE_READING = "there is one reading, which says nothing of a time"
ROOM = 0.0
"""The pressure of the room, against which the log has its pressures. [Pa]"""


@dataclass(frozen=True)
class _Readings:
    """Readings of one stretch, and how long each is held: the last of a log has no time."""

    times: tuple[float, ...]
    pressures: tuple[float, ...]
    durations: tuple[float | None, ...]

    @property
    def held(self) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Durations and pressures of the readings that are held for a time."""
        pairs = [(d, p) for d, p in zip(self.durations, self.pressures, strict=True) if d is not None]
        return tuple(duration for duration, _ in pairs), tuple(pressure for _, pressure in pairs)


def pressure_trace_result(trace: PressureTrace, series: Series) -> PressureTraceResult:
    """Score one pressure trace from its log."""
    assert series.pressure_pa is not None, "loading asks for a column of pressure"
    durations = (*(later - earlier for earlier, later in pairwise(series.time_s)), None)
    whole = _Readings(series.time_s, series.pressure_pa, durations)
    names = list(dict.fromkeys(name for name in series.exercise or () if name))
    return PressureTraceResult(
        trace=trace.id,
        setting=trace.setting,
        where=trace.where,
        whole=_stretch(trace.id, None, "", whole),
        exercises=tuple(
            _stretch(trace.id, name, f"-{number}", _of_exercise(whole, series.exercise or (), name))
            for number, name in enumerate(names, start=1)
        ),
    )


def _of_exercise(whole: _Readings, exercises: Sequence[str], name: str) -> _Readings:
    rows = [
        row
        for row, exercise in zip(
            zip(whole.times, whole.pressures, whole.durations, strict=True), exercises, strict=True
        )
        if exercise == name
    ]
    return _Readings(tuple(row[0] for row in rows), tuple(row[1] for row in rows), tuple(row[2] for row in rows))


def _stretch(trace: str, exercise: str | None, suffix: str, readings: _Readings) -> PressureStretch:
    during = f" during {exercise}" if exercise is not None else ""
    where = f"pressure_traces[{trace}].log"
    return PressureStretch(
        exercise=exercise,
        lowest=_lowest(f"air_balance.{trace}.lowest{suffix}", during, where, readings),
        mean=_mean(f"air_balance.{trace}.mean-pressure{suffix}", during, where, readings),
        below_room=_below(f"air_balance.{trace}.below-room{suffix}", during, where, readings),
    )


def _lowest(key: str, during: str, where: str, readings: _Readings) -> Figure:
    lowest = lowest_pressure(readings.pressures)
    at = readings.times[readings.pressures.index(lowest)]
    inputs = (
        _input("n", "number of readings", len(readings.pressures), "count", where),
        _input("t", "when the lowest was read", at, "s", where),
    )
    return _figure(key, f"lowest pressure inside{during}", lowest, "Pa", "lowest-pressure", inputs, readings)


def _mean(key: str, during: str, where: str, readings: _Readings) -> Figure:
    name, method = f"mean pressure inside{during}", "mean-pressure"
    durations, pressures = readings.held
    if not durations:
        return _one_reading(key, name, "Pa", method)
    held = math.fsum(duration * pressure for duration, pressure in zip(durations, pressures, strict=True))
    inputs = (
        _input("S", "sum of pressure times duration", held, "Pa s", where),
        _input("D", "time that the readings are held", math.fsum(durations), "s", where),
    )
    return _figure(key, name, mean_pressure(durations, pressures), "Pa", method, inputs, readings)


def _below(key: str, during: str, where: str, readings: _Readings) -> Figure:
    name, method = f"share of the time below the pressure of the room{during}", "share-of-time-below-room"
    durations, pressures = readings.held
    if not durations:
        return _one_reading(key, name, "%", method)
    below = math.fsum(duration for duration, pressure in zip(durations, pressures, strict=True) if pressure < ROOM)
    inputs = (
        _input(r"D_{\mathrm{below}}", "time below the pressure of the room", below, "s", where),
        _input("D", "time that the readings are held", math.fsum(durations), "s", where),
    )
    return _figure(key, name, share_of_time_below(durations, pressures, ROOM), "%", method, inputs, readings)


def _figure(
    key: str, name: str, value: float, unit: str, method: str, inputs: tuple[Input, ...], readings: _Readings
) -> Figure:
    return Figure(
        key=key,
        name=name,
        value=value,
        unit=unit,
        no_interval=NO_INTERVAL,
        sample_size=len(readings.pressures),
        sample_of="readings",
        method=method,
        working=Working(method=method, inputs=inputs),
    )


def _one_reading(key: str, name: str, unit: str, method: str) -> Figure:
    return Figure(
        key=key,
        name=name,
        value=None,
        unit=unit,
        sample_size=1,
        sample_of="readings",
        method=method,
        not_scored=ONE_READING,
    )


def _input(symbol: str, meaning: str, value: float, unit: str, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=unit, where=where)
