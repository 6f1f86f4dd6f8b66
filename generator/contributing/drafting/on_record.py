"""What a records folder holds that a draft must know of, even where records have problems or are drafts themselves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from typing import Any, TypeVar

from generator.loading import read_records
from generator.loading.records import Records
from generator.model.device import DeviceKind
from generator.model.instrument import Instrument, InstrumentKind
from generator.model.people import Publication
from generator.model.reference import Protocol

_Kind = TypeVar("_Kind", bound=Enum)


@dataclass(frozen=True)
class DeviceOnRecord:
    """What a draft must know of a device."""

    kind: DeviceKind | None
    """None where its record does not say it in a way that can be read."""
    settings: tuple[str, ...]


@dataclass(frozen=True)
class OnRecord:
    """The names that are taken in a records folder, and what is known of what has them."""

    publication_file: bool
    publication: Publication | None
    """None where it is not there or not filled in."""
    devices: Mapping[str, DeviceOnRecord]
    instruments: Mapping[str, InstrumentKind | None]
    good_instruments: Mapping[str, Instrument]
    testers: tuple[str, ...]
    wearers: tuple[str, ...]
    letters: frozenset[str]
    protocols: Mapping[str, Protocol]
    tests: Mapping[str, Any]
    """The device tests as they were read, drafts too; None where one cannot be read as YAML."""


def on_record(folder: Path) -> OnRecord:
    """Read what a draft must know of a records folder, which may be empty.

    Raises
    ------
    WrongUsage
        There is no such folder.
    """
    records = read_records(folder)
    own = {name: entry.record for name, entry in records.protocols.items() if entry.record is not None}
    publication = records.publication
    return OnRecord(
        publication_file=publication is not None,
        publication=publication.record if publication is not None else None,
        devices={name: _device(entry.source.data) for name, entry in records.devices.items()},
        instruments={
            name: _of_kind(InstrumentKind, _mapping(entry.source.data).get("kind"))
            for name, entry in records.instruments.items()
        },
        good_instruments={
            name: entry.record for name, entry in records.instruments.items() if entry.record is not None
        },
        testers=tuple(records.testers),
        wearers=tuple(records.wearers),
        letters=_letters(records),
        protocols={**records.reference.protocols, **own},
        tests={name: entry.source.data for name, entry in records.device_tests.items()},
    )


def _letters(records: Records) -> frozenset[str]:
    given = (_mapping(entry.source.data).get("catalogue_letter") for entry in records.wearers.values())
    return frozenset(letter for letter in given if isinstance(letter, str))


def _device(data: Any) -> DeviceOnRecord:
    kind = _of_kind(DeviceKind, _mapping(data).get("kind"))
    settings = _mapping(_mapping(data).get("power")).get("settings")
    named = tuple(each for each in settings if isinstance(each, str)) if isinstance(settings, list) else ()
    return DeviceOnRecord(kind, named)


def _of_kind(kinds: type[_Kind], value: Any) -> _Kind | None:
    return kinds(value) if value in [kind.value for kind in kinds] else None


def _mapping(data: Any) -> Mapping[str, Any]:
    return data if isinstance(data, dict) else {}
