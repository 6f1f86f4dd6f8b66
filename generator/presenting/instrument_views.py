"""What a reader sees of an instrument: the tests that a calibration puts in doubt, and its control charts, as data."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.views import Derivation, Fact, FigureView, Link, Table


@dataclass(frozen=True)
class ControlLine:
    """A line of a control chart: its value, and the label at its end."""

    key: str
    value: float
    text: str
    is_centre: bool = False
    is_action: bool = False


@dataclass(frozen=True)
class ControlMark:
    """A reading on a control chart; `day` counts days, `key` ends the id of its element.

    One beyond a limit is labelled with `text` and has a shape of its own.
    """

    key: str
    day: int
    value: float
    text: str = ""
    beyond_warning: bool = False
    beyond_action: bool = False


@dataclass(frozen=True)
class Tick:
    """A tick of an axis; one without a text is short."""

    at: float
    text: str


@dataclass(frozen=True)
class ControlChart:
    """Readings of one thing over time, between limits. What lies past `low` or `high` is drawn at that edge."""

    id: str
    title: str
    description: str
    unit: str
    low: float
    high: float
    first: int
    last: int
    """The first and the last day, counted as those of the marks."""
    lines: tuple[ControlLine, ...]
    marks: tuple[ControlMark, ...]
    value_ticks: tuple[Tick, ...]
    day_ticks: tuple[Tick, ...]
    narrow_day_ticks: tuple[Tick, ...]
    """The same for the narrow drawing, which has room for fewer labels."""
    table: str = ""
    """The id of the element of the page that has its numbers as text."""


@dataclass(frozen=True)
class ListedRecord:
    """A test record in an instrument's list; `anchor` is its element's id."""

    anchor: str
    link: Link
    text: str


@dataclass(frozen=True)
class CheckStandardView:
    """A check standard: what it is, its control chart, its limits and its readings."""

    anchor: str
    heading: str
    answer: str
    facts: tuple[Fact, ...]
    chart: ControlChart
    limits: Table
    derivation: Derivation
    mean: FigureView
    centre: str
    """What the mean says of the centre."""
    readings: Table
