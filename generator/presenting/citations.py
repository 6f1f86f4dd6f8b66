"""How pages are cited: publisher, year, title, version, a stable address, and the hash that pins the version down."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from generator.model.base import Day
from generator.model.device import Device
from generator.model.published import PublishedTest
from generator.presenting.context import Context
from generator.presenting.history import Event, Happened
from generator.presenting.open_data_views import Citation, VersionView
from generator.presenting.wording import day_text, without_full_stop

SHORT_HASH = 16
"""Hexadecimal digits of a hash in a citation: 64 bits tell the few versions of a page apart."""
_INVENTED = "Invented demonstration data."
_KEPT_OF_RECORD = (
    "This address leads to the record as it reads today. Earlier versions are not kept whole: each change stands "
    "under Amendments, with the figures that it touched. The SHA-256 says which version a copy is."
)
_KEPT_OF_DEVICE = (
    "This address leads to the page as it reads today. Earlier versions are not kept whole: what changed stands with "
    "the records and amendments. The SHA-256 over the device’s records says which state a copy belongs to."
)
_KEPT_OF_CATALOGUE = (
    "The address leads to the catalogue as it reads today. To cite one state for good, keep a copy of the folder: it "
    "holds all that it was made from."
)


def version_id(day: Day) -> str:
    """Return the address, on a page, of the version that stands since a day."""
    return f"version-of-{day.isoformat()}"


def _citation(parts: Iterable[str], path: str, sha256: str, events: Sequence[Event], context: Context) -> str:
    publication = context.catalogue.publication
    year = str(events[-1].day.year) if events else "undated"
    fragment = f"#{version_id(events[-1].day)}" if events and path else ""
    sentences = [
        f"{without_full_stop(publication.publisher)} ({year})",
        *(without_full_stop(part) for part in parts),
        # A dot right behind an address would be taken for a part of it.
        f"{publication.base_address}{path}{fragment} (SHA-256 {sha256[:SHORT_HASH]})",
    ]
    invented = f" {_INVENTED}" if publication.invented else ""
    return f"{'. '.join(sentences)}.{invented}"


_SAID = {Happened.NEW: "issued", Happened.AMENDED: "amended", Happened.WITHDRAWN: "withdrawn"}


def _versions(events: Sequence[Event], own: str) -> tuple[VersionView, ...]:
    """Return one version for each day on which something happened, since an address has to be there only once."""
    return tuple(
        VersionView(version_id(day), day_text(day), f"{'; '.join(_said(event, own) for event in same)}.")
        for day, same in groupby(events, key=lambda event: event.day)
    )


def _said(event: Event, own: str) -> str:
    if event.place == own:
        return _SAID[event.what]
    return f"{event.place.rpartition('/')[2]} {_SAID[event.what]}"


def _last(events: Sequence[Event]) -> str:
    return f"{_SAID[events[-1].what]} {day_text(events[-1].day)}"


def cite_record(test: PublishedTest, context: Context) -> Citation:
    """Return how a test record is cited."""
    device, events = context.catalogue.devices[test.device], context.history.on(f"records/{test.id}")
    parts = (
        f"Test report {test.id}: {device.name}",
        f"Version {test.version}, {_last(events)}",
        context.catalogue.publication.title,
    )
    sha256 = context.catalogue.record_sha256.get(test.id, "")
    text = _citation(parts, f"records/{test.id}.html", sha256, events, context)
    return Citation(text, _versions(events, f"records/{test.id}"), _KEPT_OF_RECORD)


def cite_device(device: Device, context: Context) -> Citation:
    """Return how a device's page and data sheet are cited: the state of their records is part of it."""
    events = context.history.on(f"devices/{device.id}")
    state = f"state of {day_text(events[-1].day)}" if events else "no test on record"
    withdrawn = ", withdrawn" if device.withdrawn is not None else ""
    parts = (
        f"{device.name} ({device.id}): what tests gave",
        f"Device file version {device.version}{withdrawn}, {state}",
        context.catalogue.publication.title,
    )
    text = _citation(parts, f"devices/{device.id}.html", context.state_of([device.id]).sha256, events, context)
    return Citation(text, _versions(events, f"devices/{device.id}"), _KEPT_OF_DEVICE)


def cite_catalogue(context: Context) -> Citation:
    """Return how the catalogue and its data are cited as a whole."""
    publication, events = context.catalogue.publication, context.history.events
    state = f"State of {day_text(events[-1].day)}" if events else "No test on record"
    parts = (f"{publication.title}: {publication.subtitle}", state)
    return Citation(_citation(parts, "", context.records_sha256, events, context), (), _KEPT_OF_CATALOGUE)
