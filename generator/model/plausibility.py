"""Where the numbers of records lie as a rule; reference data that finds slips of unit and decimal point."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field, StringConstraints, model_validator

from generator.model.base import Frozen, Id, Text
from generator.model.device import DeviceKind
from generator.model.instrument import InstrumentKind
from generator.model.units import find_unit


class RecordKind(StrEnum):
    """The kinds of record in which numbers are looked at, by the name of their folder."""

    DEVICE_TESTS = "device_tests"
    DEVICES = "devices"
    INSTRUMENTS = "instruments"
    PROTOCOLS = "protocols"


class PlausibleSpan(Frozen):
    """The span for some kinds of device or instrument, or for all."""

    kinds: tuple[DeviceKind | InstrumentKind, ...] = ()
    """The kinds that it is for; without any, all that no span before it is for."""
    low: float
    """The lowest value, in the unit of the range."""
    high: float
    """The highest value."""
    source: Text
    """Where it comes from."""


class PlausibleRange(Frozen):
    """Where one quantity lies as a rule. A value outside may be right: it is a finding, never a problem."""

    id: Id
    """The slug of the finding."""
    what: Text
    """The quantity with its article, such as `a supply flow`."""
    record: RecordKind
    """The kind of record that holds it."""
    places: Annotated[
        tuple[Annotated[str, StringConstraints(pattern=r"^[a-z_]+(\[\])?(\.[a-z_]+(\[\])?)*$")], ...],
        Field(min_length=1),
    ]
    """Where it stands, such as `fit[].in_mask_time`; `[]` is each item of a list."""
    unit: str
    """The unit of the spans."""
    spans: Annotated[tuple[PlausibleSpan, ...], Field(min_length=1)]
    """The first one that is for the kind at hand counts."""

    @model_validator(mode="after")
    def _spans_are_spans(self) -> PlausibleRange:
        if find_unit(self.unit) is None:
            raise ValueError(f"{self.id}: the unit {self.unit!r} is not in the table")
        if not all(span.low < span.high for span in self.spans):
            raise ValueError(f"{self.id}: a span that ends before it begins")
        return self
