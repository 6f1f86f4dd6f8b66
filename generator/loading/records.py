"""Everything that was read from a records folder, for the rules that look across files."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from generator.errors import Problem
from generator.loading.reference import Reference
from generator.loading.yaml_source import Steps, YamlSource
from generator.model.base import Frozen
from generator.model.comparison import Comparison
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.instrument import Instrument
from generator.model.people import Publication, Tester, Wearer
from generator.model.reference import Criterion, Protocol

RecordModel = TypeVar("RecordModel", bound=Frozen)


@dataclass(frozen=True)
class Entry(Generic[RecordModel]):
    """One file, and the record in it where it could be read."""

    source: YamlSource
    record: RecordModel | None

    def problem(
        self, steps: Steps, slug: str, found: str, expected: str, remedy: str, *, of_key: bool = False
    ) -> Problem:
        """Make a problem with what stands at the end of the steps."""
        return self.source.problem(steps, slug, found, expected, remedy, of_key=of_key)


Entries = Mapping[str, Entry[RecordModel]]
"""Entries by the name of their file without its ending."""


@dataclass(frozen=True)
class Records:
    """All entries by kind, and the reference data that comes with the generator."""

    publication: Entry[Publication] | None
    devices: Entries[Device]
    device_tests: Entries[DeviceTest]
    instruments: Entries[Instrument]
    testers: Entries[Tester]
    wearers: Entries[Wearer]
    criteria: Entries[Criterion]
    protocols: Entries[Protocol]
    comparisons: Entries[Comparison]
    reference: Reference

    def protocol(self, name: str) -> Protocol | None:
        """Return a protocol, published or the reviewer's own; None where it does not exist or has problems."""
        published = self.reference.protocols.get(name)
        return published if published is not None else record_of(self.protocols, name)

    def protocol_names(self) -> tuple[str, ...]:
        """Return the names of all protocols."""
        return (*self.reference.protocols, *self.protocols)


def good(entries: Entries[RecordModel]) -> Iterator[tuple[Entry[RecordModel], RecordModel]]:
    """Go through the entries whose record could be read."""
    for entry in entries.values():
        if entry.record is not None:
            yield entry, entry.record


def record_of(entries: Entries[RecordModel], name: str) -> RecordModel | None:
    """Return a record by its name; None where it does not exist or has problems."""
    entry = entries.get(name)
    return None if entry is None else entry.record
