"""A log of something over time other than particles: flow, pressure, voltage, current."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated

from pydantic import StringConstraints, model_validator

from generator.model.base import Frozen, Sha256, Text
from generator.model.quantity import check_unit, quantity_problem, unit_of
from generator.model.units import Dimension

SERIES_DIMENSIONS: dict[str, Dimension] = {
    "flow": "flow",
    "pressure": "pressure",
    "voltage": "voltage",
    "current": "current",
}
"""What a column of such a log may hold, and the dimension of its unit."""


class SeriesColumn(Frozen):
    """One column of such a log."""

    heading: Text
    """Its heading in the file."""
    unit: Annotated[str, unit_of("flow", "pressure", "voltage", "current", example="L/min")]
    """The unit of its numbers."""


class SeriesReference(Frozen):
    """A log of flow, pressure, voltage or current against time. The file is not edited after its SHA-256 was taken."""

    file: Annotated[str, StringConstraints(pattern=r"^logs/[a-z0-9]+([-_][a-z0-9]+)*\.csv$", max_length=100)]
    """The log, below the records folder."""
    sha256: Sha256
    """SHA-256 of the file, as `sha256sum` prints it, so that a later change is noticed."""
    time: Text
    """Heading of the time; it goes up from line to line."""
    time_unit: Annotated[str, unit_of("time", example="s")] = "s"
    """The unit of the time."""
    flow: SeriesColumn | None = None
    """The column of the air flow."""
    pressure: SeriesColumn | None = None
    """The column of the pressure against the room; it may be below zero."""
    voltage: SeriesColumn | None = None
    """The column of the battery's voltage."""
    current: SeriesColumn | None = None
    """The column of the current that the battery gives."""
    exercise: Text | None = None
    """Heading of what the wearer did, where the log tells it."""

    @model_validator(mode="after")
    def _units_and_columns(self) -> SeriesReference:
        check_unit(self.time_unit, "time")
        columns = {name: column for name in SERIES_DIMENSIONS if (column := getattr(self, name)) is not None}
        if not columns:
            raise quantity_problem(
                "series-columns",
                "no column",
                f"at least one of {', '.join(f'`{name}`' for name in SERIES_DIMENSIONS)}",
                "Name the heading and the unit of what was logged",
            )
        for name, column in columns.items():
            check_unit(column.unit, SERIES_DIMENSIONS[name])
        headings = [self.time, *(column.heading for column in columns.values())]
        headings += [self.exercise] if self.exercise is not None else []
        twice = next((heading for heading in headings if headings.count(heading) > 1), None)
        if twice is not None:
            raise quantity_problem(
                "series-columns", f"the heading `{twice}` twice", "a column of its own for each", "Correct a heading"
            )
        return self


class Series(Frozen):
    """Such a log, read and checked: columns of one length, in order of time."""

    file: str
    sha256: str
    time_s: tuple[float, ...]
    flow_l_per_min: tuple[float, ...] | None = None
    pressure_pa: tuple[float, ...] | None = None
    voltage_v: tuple[float, ...] | None = None
    current_a: tuple[float, ...] | None = None
    exercise: tuple[str, ...] | None = None

    @model_validator(mode="after")
    def _of_one_length_and_in_order(self) -> Series:
        columns = [values for name, values in self if name not in ("file", "sha256") and values is not None]
        if {len(values) for values in columns} != {len(self.time_s)} or not self.time_s:
            raise ValueError("columns that differ in length, or are empty")
        if any(after <= before for before, after in pairwise(self.time_s)):
            raise ValueError("a time that does not go up")
        if any(value < 0 for values in (self.flow_l_per_min, self.voltage_v) for value in values or ()):
            raise ValueError("a flow or voltage below zero")
        return self
