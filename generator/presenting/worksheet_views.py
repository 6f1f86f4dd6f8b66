"""What a worksheet is made of: boxes to write in, steps with their times, rules to stop by."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.page_parts import Paper
from generator.presenting.views import Fact


@dataclass(frozen=True)
class Check:
    """What is to be ticked off, with boxes to write values in, each with what belongs there."""

    ticks: tuple[str, ...]
    boxes: tuple[str, ...] = ()


@dataclass(frozen=True)
class StepRow:
    """One step of a session; a cell is a text, or None for a box."""

    number: str
    what: str
    lasts: str
    starts: str
    boxes: tuple[bool, ...]
    """For each column of readings, whether something is to be written there."""


@dataclass(frozen=True)
class SessionSheet:
    """One session on a page of its own."""

    heading: str
    facts: tuple[Fact, ...]
    conditions: tuple[str, ...]
    """Heads of the boxes for day, time and the air of the room."""
    checks: tuple[tuple[Check, ...], ...]
    """Two to a row."""
    steps_heading: str
    steps_note: str
    readings: tuple[str, ...]
    """Heads of the columns of readings."""
    steps: tuple[StepRow, ...]
    stop: tuple[str, ...]
    then: str
    """What is done once it was stopped."""
    afterwards: tuple[tuple[Check, ...], ...]


@dataclass(frozen=True)
class RunRow:
    """One flow run: its state, and boxes for the readings."""

    id: str
    state: str
    boxes: tuple[str, ...]


@dataclass(frozen=True)
class FlowSheet:
    """All flow runs."""

    conditions: tuple[str, ...]
    checks: tuple[tuple[Check, ...], ...]
    columns: tuple[str, ...]
    runs: tuple[RunRow, ...]
    note: str
    afterwards: tuple[tuple[Check, ...], ...]


@dataclass(frozen=True)
class WearerRow:
    """What a wearer is asked before anything is put on, known by a pseudonym."""

    wearer: str
    asked: tuple[str, ...]


@dataclass(frozen=True)
class InstrumentRow:
    """An instrument, and until when its calibration holds."""

    name: str
    role: str
    calibration: str
    asked: str
    box: str = ""
    """What is to be written down where the calibration is not on record."""


@dataclass(frozen=True, kw_only=True)
class Worksheet(Paper):
    """What is taken to the bench: a page for the day, a page for each session, a page for the flow runs."""

    template: str = "worksheet.html"
    title: str
    kind: str
    facts: tuple[Fact, ...]
    item: tuple[str, ...]
    """Heads of the boxes for the tested item."""
    conditions: tuple[str, ...]
    instruments: tuple[InstrumentRow, ...]
    checks: tuple[tuple[Check, ...], ...]
    wearers: tuple[WearerRow, ...]
    consent: tuple[str, ...]
    defers: str
    afterwards: tuple[tuple[Check, ...], ...]
    sessions: tuple[SessionSheet, ...]
    flow: FlowSheet | None
