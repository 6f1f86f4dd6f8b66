"""What happened to records and devices, day by day, as the records tell it. Feed and versions are made of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from generator.model.base import Day
from generator.model.corrections import Amendment, Withdrawal
from generator.model.device import Device
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.presenting.record_places import in_words


class Happened(StrEnum):
    """What can happen to a record or a device; the words are the categories of the feed."""

    NEW = "new"
    AMENDED = "amended"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True)
class Event:
    """What happened on one day. `place` is the page without its ending; `key` tells events of one page apart."""

    day: Day
    what: Happened
    place: str
    key: str
    subject: str
    detail: str


def _changes(
    place: str, subject: str, amendments: Iterable[Amendment], withdrawn: Withdrawal | None
) -> Iterable[Event]:
    for number, each in enumerate(amendments, start=1):
        # Amendments are only ever added, so that the number of one stays.
        detail = f"{_ended(in_words(each.changed))} Reason: {_ended(each.reason)}"
        yield Event(each.date, Happened.AMENDED, place, f"amended-{number}", subject, detail)
    if withdrawn is not None:
        detail = f"Reason: {_ended(withdrawn.reason)}"
        yield Event(withdrawn.date, Happened.WITHDRAWN, place, "withdrawn", subject, detail)


def _ended(text: str) -> str:
    return text if text.endswith((".", "?", "!", "…")) else f"{text}."


def _record_events(test: PublishedTest, catalogue: PublishedCatalogue) -> tuple[Event, ...]:
    place, device = f"records/{test.id}", catalogue.devices[test.device].name
    subject = f"Test report {test.id} of {device}"
    issued = Event(test.dates.issued, Happened.NEW, place, "new", subject, f"A test of {device} is on record.")
    return (issued, *_changes(place, subject, test.amendments, test.withdrawn))


def _device_events(device: Device, records: Sequence[Event]) -> tuple[Event, ...]:
    """Return what happened to a device itself. It is new when its first record is issued."""
    place = f"devices/{device.id}"
    changes = tuple(_changes(place, device.name, device.amendments, device.withdrawn))
    issued = [event.day for event in records if event.what is Happened.NEW]
    if not issued:
        return changes
    return (Event(min(issued), Happened.NEW, place, "new", device.name, "Its first test record was issued."), *changes)


@dataclass(frozen=True)
class History:
    """All events, oldest first, and those that changed a page, by its path without the ending."""

    events: tuple[Event, ...]
    of_page: Mapping[str, tuple[Event, ...]]

    def on(self, page: str) -> tuple[Event, ...]:
        """Return the events that changed a page, oldest first; of a device's page those of its records too."""
        return self.of_page.get(page, ())


def history_of(catalogue: PublishedCatalogue) -> History:
    """Return what happened to all records and devices of a catalogue."""
    of_page: dict[str, tuple[Event, ...]] = {}
    of_records: dict[str, list[Event]] = {name: [] for name in catalogue.devices}
    for test in catalogue.device_tests.values():
        events = _record_events(test, catalogue)
        of_page[f"records/{test.id}"] = _in_order(events)
        of_records[test.device] += events
    everything: list[Event] = []
    for device in catalogue.devices.values():
        own, records = _device_events(device, of_records[device.id]), of_records[device.id]
        # That a device is new is told by its first record.
        changes = (event for event in own if event.what is not Happened.NEW)
        of_page[f"devices/{device.id}"] = _in_order((*records, *changes))
        everything += (*records, *own)
    return History(_in_order(everything), of_page)


def _in_order(events: Iterable[Event]) -> tuple[Event, ...]:
    # Of what happened to one thing on one day, the order of the record stays.
    return tuple(sorted(events, key=lambda event: (event.day, event.place)))
