"""What a reader sees of how a device is made and what it costs. Templates print these and compute nothing."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.page_parts import PictureView
from generator.presenting.views import Fact, Link, Table


@dataclass(frozen=True)
class Way:
    """A way for air into or out of a device."""

    text: str
    filtered: bool


@dataclass(frozen=True)
class AirPathChart:
    """A diagram of the air path as it is on record: no picture of the device, and no measure in it means anything."""

    id: str
    title: str
    description: str
    caption: str
    outline: str
    """What covers the wearer: `mask`, `half`, `full`, `visor` or `hood`."""
    blower: bool
    inlets: tuple[Way, ...]
    outlets: tuple[Way, ...]
    exhaust: str | None
    """Where a fan draws air out."""
    beside_inlet: bool
    """Whether that fan and an inlet draw on the same air."""
    seals: str


@dataclass(frozen=True)
class DesignNotes:
    """How a device is made: diagram and facts of its air path, what bears on it, and what else is on record of it."""

    chart: AirPathChart
    air_path: tuple[Fact, ...]
    sentences: tuple[str, ...]
    cautions: tuple[Link, ...]
    """Cautions that come from how it is made; each leads to its box on the page."""
    facts: tuple[Fact, ...]
    pictures: tuple[PictureView, ...]


@dataclass(frozen=True)
class CostView:
    """What a device and the parts that it uses up cost; of an hour of use only where a record says how it is used."""

    facts: tuple[Fact, ...]
    sentence: str
    hour: Table | None


@dataclass(frozen=True)
class Correction:
    """A change after the issue, or a withdrawal: when, of what, what it was, and why."""

    date: str
    of: Link | None
    """The record; None where it is about the device itself."""
    what: str
    text: str
    earlier: Link | None
    """Where figures stand as they were published before."""
    with_it: tuple[Link, ...] = ()
    """Records that were withdrawn with the device on the same day."""
