"""Which records differ between two states of a catalogue, and whether each says of itself that it was changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from generator.model.base import Frozen
from generator.model.corrections import Amendment
from generator.model.device import Device
from generator.model.published import PublishedCatalogue, PublishedTest

ENTRIES = ("devices", "device_tests", "instruments", "testers", "criteria", "protocols", "comparisons")
"""Kinds of records that are looked at one by one, the folders that they stand in."""


class RecordState(StrEnum):
    """What became of a record."""

    NEW = "new"
    GONE = "gone"
    RENAMED = "renamed"
    WITHDRAWN = "withdrawn"
    RESTORED = "restored"
    AMENDED = "amended"
    CHANGED = "changed"
    REWRITTEN = "rewritten"
    """Its file differs, and says the same."""


class Unsaid(StrEnum):
    """What a changed record does not say of the change."""

    VERSION_STAYS = "version_stays"
    """Its version is not higher than before."""
    NO_AMENDMENT = "no_amendment"
    """No amendment or withdrawal was added that says what was changed and why."""
    AMENDMENTS_LOST = "amendments_lost"
    """An earlier amendment was changed or removed."""


@dataclass(frozen=True)
class RecordChange:
    """One record that differs."""

    kind: str
    """The folder that it stands in."""
    id: str
    state: RecordState
    version_before: str | None
    version_after: str | None
    renamed_from: str | None = None
    unsaid: tuple[Unsaid, ...] = ()


def record_changes(before: PublishedCatalogue, after: PublishedCatalogue) -> tuple[RecordChange, ...]:
    """Return every record that differs, kind by kind; what only comes with the program is no record."""
    found = []
    for kind in ENTRIES:
        renames = renamed_tests(before, after) if kind == "device_tests" else {}
        old: Mapping[str, Frozen] = getattr(before, kind)
        new: Mapping[str, Frozen] = getattr(after, kind)
        for name in sorted({*old, *new} - renames.keys() - set(renames.values())):
            change = _change(kind, name, old.get(name), new.get(name), before, after)
            if change is not None:
                found.append(change)
        for was, name in renames.items():
            version = after.device_tests[name].version
            found.append(RecordChange(kind, name, RecordState.RENAMED, before.device_tests[was].version, version, was))
    if before.publication != after.publication:
        found.append(RecordChange("", "publication", RecordState.CHANGED, None, None))
    return tuple(found)


def renamed_tests(before: PublishedCatalogue, after: PublishedCatalogue) -> dict[str, str]:
    """Return the test records that say the same under another id, by the id that they had."""
    gone = [test for name, test in before.device_tests.items() if name not in after.device_tests]
    new = [test for name, test in after.device_tests.items() if name not in before.device_tests]
    found: dict[str, str] = {}
    for old in gone:
        same = (test.id for test in new if test.id not in found.values() and _but_for_its_name(old, test))
        name = next(same, None)
        if name is not None:
            found[old.id] = name
    return found


def _but_for_its_name(old: PublishedTest, new: PublishedTest) -> bool:
    unnamed = [each.model_copy(update={"id": new.id, "version": new.version, "amendments": ()}) for each in (old, new)]
    return unnamed[0] == unnamed[1]


def _change(
    kind: str,
    name: str,
    old: Frozen | None,
    new: Frozen | None,
    before: PublishedCatalogue,
    after: PublishedCatalogue,
) -> RecordChange | None:
    versions = (_version(old), _version(new))
    if old is None or new is None:
        return RecordChange(kind, name, RecordState.NEW if old is None else RecordState.GONE, *versions)
    hashes = [side.record_sha256.get(name) for side in (before, after)]
    same_file = kind == "device_tests" and hashes[0] is not None and hashes[0] == hashes[1]
    if old == new:
        rewritten = kind == "device_tests" and hashes[0] != hashes[1]
        return RecordChange(kind, name, RecordState.REWRITTEN, *versions) if rewritten else None
    if isinstance(old, PublishedTest | Device) and isinstance(new, PublishedTest | Device):
        # A record whose own file is as it was follows another one, such as that of a wearer.
        unsaid = () if same_file else tuple(_unsaid(old, new))
        return RecordChange(kind, name, _state(old, new), *versions, unsaid=unsaid)
    return RecordChange(kind, name, RecordState.CHANGED, *versions)


def _state(old: PublishedTest | Device, new: PublishedTest | Device) -> RecordState:
    if (old.withdrawn is None) != (new.withdrawn is None):
        return RecordState.WITHDRAWN if new.withdrawn is not None else RecordState.RESTORED
    return RecordState.AMENDED if len(new.amendments) > len(old.amendments) else RecordState.CHANGED


def _unsaid(old: PublishedTest | Device, new: PublishedTest | Device) -> Iterator[Unsaid]:
    if _parts(new.version) <= _parts(old.version):
        yield Unsaid.VERSION_STAYS
    added = len(new.amendments) > len(old.amendments)
    withdrawn = old.withdrawn is None and new.withdrawn is not None
    if not added and not withdrawn:
        yield Unsaid.NO_AMENDMENT
    kept: tuple[Amendment, ...] = new.amendments[: len(old.amendments)]
    if kept != old.amendments:
        yield Unsaid.AMENDMENTS_LOST


def _parts(version: str) -> tuple[int, ...]:
    """Return a version's numbers without idle zeros at its end: 1 and 1.0 are the same."""
    numbers = [int(part) for part in version.split(".")]
    while numbers and numbers[-1] == 0:
        numbers.pop()
    return tuple(numbers)


def _version(entry: Frozen | None) -> str | None:
    version = getattr(entry, "version", None)
    return version if isinstance(version, str) else None
