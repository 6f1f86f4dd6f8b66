"""What a reader sees of a device's evidence and of its configurations."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.comparison_views import DifferenceWorking, SideLine
from generator.presenting.views import Fact, Link, ScaleChart, Table


@dataclass(frozen=True)
class Line:
    """A sentence, and the record that it stands in; None where it follows from all of them."""

    text: str
    record: Link | None = None


@dataclass(frozen=True)
class EvidenceView:
    """What the results of a device rest on: a strip of short facts, the same in words, and what was left out."""

    strip: tuple[Fact, ...]
    sentences: tuple[str, ...]
    tables: tuple[Table, ...]
    """The results of each item, where there are several."""
    deviations: tuple[Line, ...]
    not_tested: tuple[Line, ...]


@dataclass(frozen=True)
class SideBySide:
    """What was measured before and after a change in the same way, and what they differ by."""

    heading: str
    note: str | None
    chart: ScaleChart | None
    table: Table
    difference: tuple[SideLine, ...] = ()
    """What before and after differ by, or why that is not stated; nothing for flows."""
    working: DifferenceWorking | None = None


@dataclass(frozen=True)
class ConfigurationView:
    """One configuration: what it is, what it was made from, what the change costs, and both side by side."""

    anchor: str
    heading: str
    facts: tuple[Fact, ...]
    records: tuple[Link, ...]
    note: str | None
    pairs: tuple[SideBySide, ...]


@dataclass(frozen=True)
class ConfigurationsView:
    """All configurations of a device that has several."""

    sentences: tuple[str, ...]
    configurations: tuple[ConfigurationView, ...]
