"""Descriptions of catalogue, devices and records for programs, by the terms of schema.org.

They say what data there is, who published it, when and under which licence. They hold no figure: without its interval
and its cautions one could mislead. There is no rating and no review.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from generator.model.device import Device
from generator.model.published import CATALOGUE_DATA, PublishedTest
from generator.model.result import Figure
from generator.presenting.context import Context
from generator.presenting.data_licences import LICENCE_ADDRESSES
from generator.presenting.history import Event, Happened
from generator.presenting.open_data_page import DATA_PACKAGE
from generator.presenting.page_parts import LinkedData

_SCHEMA = "https://schema.org"
_INVENTED = "Invented demonstration: every device, maker, person and figure is made up."
_JSON, _CSV, _PDF = "application/json", "text/csv", "application/pdf"


def _address(path: str, context: Context) -> str:
    return f"{context.catalogue.publication.base_address}{path}"


def _publisher(context: Context) -> LinkedData:
    publication = context.catalogue.publication
    return {"@type": "Organization", "name": publication.publisher, "email": publication.contact}


def _licence(context: Context) -> object:
    """Return the licence as its address, or by its name where the text is none of the known ones."""
    licence = context.catalogue.publication.data_licence
    return LICENCE_ADDRESSES.get(licence, {"@type": "CreativeWork", "name": licence})


def _described(words: str, context: Context) -> str:
    return f"{_INVENTED} {words}" if context.catalogue.publication.invented else words


def _file(name: str, path: str, form: str, context: Context) -> LinkedData:
    return {"@type": "DataDownload", "name": name, "contentUrl": _address(path, context), "encodingFormat": form}


def _dates(events: Sequence[Event]) -> LinkedData:
    """Return when a thing was published and last changed; nothing where no event has a date."""
    if not events:
        return {}
    new = [event.day for event in events if event.what is Happened.NEW]
    return {
        "datePublished": min(new, default=events[0].day).isoformat(),
        "dateModified": events[-1].day.isoformat(),
    }


def _dataset(page: str, name: str, words: str, more: LinkedData, context: Context) -> LinkedData:
    """Return a description; `page` is the path of the page without its ending, empty for the catalogue as a whole."""
    address, publisher = _address(f"{page}.html" if page else "", context), _publisher(context)
    events = context.history.on(page) if page else context.history.events
    described = {
        "@context": _SCHEMA,
        "@type": "Dataset",
        "@id": address,
        "url": address,
        "name": name,
        "description": _described(words, context),
        "license": _licence(context),
        "creator": publisher,
        "publisher": publisher,
        "isAccessibleForFree": True,
        **_dates(events),
        **more,
    }
    return {term: value for term, value in described.items() if value not in (None, [])}


def _about(device: Device) -> LinkedData:
    """Return what the data is about. What was built at home is no product of anybody."""
    thing: dict[str, object] = {"@type": "Thing" if device.home_built else "Product", "name": device.name}
    if not device.home_built:
        thing["manufacturer"] = {"@type": "Organization", "name": device.maker}
    return thing


def _whole(context: Context) -> LinkedData:
    return {"@type": "Dataset", "@id": _address("", context), "name": context.catalogue.publication.title}


def _variables(figures: Iterable[Figure], context: Context) -> list[LinkedData]:
    """Return what was measured or computed, once for each method and unit."""
    known = dict.fromkeys((figure.method, figure.unit) for figure in figures if figure.value is not None)
    return [
        {
            "@type": "PropertyValue",
            "name": context.method(method).title,
            "unitText": unit,
            "measurementTechnique": _address(f"methods/{method}.html", context),
        }
        for method, unit in known
    ]


def _state(item: Device | PublishedTest) -> str | None:
    return "Withdrawn" if item.withdrawn is not None else None


def describe_catalogue(context: Context) -> LinkedData:
    """Return the description of the catalogue as a whole."""
    publication, records = context.catalogue.publication, context.result.records.values()
    methods = dict.fromkeys(method for record in records for method in record.methods)
    more = {
        "identifier": context.records_sha256,
        "variableMeasured": [context.method(method).title for method in methods],
        "distribution": [
            _file("Data package", DATA_PACKAGE, _JSON, context),
            _file("Catalogue", CATALOGUE_DATA, _JSON, context),
            _file("Catalogue on paper", "catalogue.pdf", _PDF, context),
        ],
    }
    words = f"{publication.subtitle}. Records, readings, results with their intervals, and what they rest on."
    return _dataset("", publication.title, words, more, context)


def describe_device(device: Device, context: Context) -> LinkedData:
    """Return the description of what is on record of a device."""
    records = context.catalogue.standing_tests_of(device.id)
    more = {
        "identifier": device.id,
        "version": device.version,
        "creativeWorkStatus": _state(device),
        "about": _about(device),
        "isPartOf": _whole(context),
        "isBasedOn": [_address(f"records/{test.id}.html", context) for test in records],
        "distribution": [_file("Data sheet", f"devices/{device.id}.pdf", _PDF, context)],
    }
    words = f"What tests of {device.name} gave, with intervals, requirements and cautions."
    return _dataset(f"devices/{device.id}", f"Tests of {device.name}", words, more, context)


def describe_record(test: PublishedTest, context: Context) -> LinkedData:
    """Return the description of a test record."""
    device, topics = context.catalogue.devices[test.device], context.result.records[test.id].topics
    protocols = dict.fromkeys(session.protocol for session in test.fit)
    logs = [session.log.file for session in test.fit if session.log is not None]
    more = {
        "identifier": test.id,
        "version": test.version,
        "creativeWorkStatus": _state(test),
        "temporalCoverage": test.dates.performed.isoformat(),
        "about": _about(device),
        "isPartOf": _whole(context),
        "isBasedOn": [_address(f"data/{log}", context) for log in logs],
        "measurementTechnique": [context.catalogue.protocols[name].title for name in protocols],
        "variableMeasured": _variables((figure for topic in topics.values() for figure in topic.figures), context),
        "distribution": [
            _file("Published record and results", f"records/{test.id}.json", _JSON, context),
            _file("Figures", f"records/{test.id}.csv", _CSV, context),
        ],
    }
    words = f"One test of {device.name}: readings, results with their intervals, and how each comes about."
    return _dataset(f"records/{test.id}", f"Test report {test.id}", words, more, context)
