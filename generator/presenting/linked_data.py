"""Descriptions of catalogue, devices and records for programs, by the terms of schema.org.

They say what data there is, who published it, when and under which licence. They hold no figure: without its interval
and its cautions one could mislead. There is no rating and no review.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from generator.model.device import Device
from generator.model.fit_result import FitResult
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


def _dataset(path: str, name: str, words: str, events: Sequence[Event], context: Context) -> dict[str, object]:
    address, publisher = _address(path, context), _publisher(context)
    return {
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
    }


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


def _state(withdrawn: bool) -> dict[str, object]:
    return {"creativeWorkStatus": "Withdrawn"} if withdrawn else {}


def describe_catalogue(context: Context) -> LinkedData:
    """Return the description of the catalogue as a whole."""
    publication = context.catalogue.publication
    words = f"{publication.subtitle}. Records, readings, results with their intervals, and what they rest on."
    figures = (
        figure
        for record in context.result.records.values()
        for topic in record.topics.values()
        for figure in topic.figures
    )
    return _dataset("", publication.title, words, context.history.events, context) | {
        "identifier": context.records_sha256,
        "variableMeasured": _variables(figures, context),
        "distribution": [
            _file("Data package", DATA_PACKAGE, _JSON, context),
            _file("Catalogue", CATALOGUE_DATA, _JSON, context),
            _file("Catalogue on paper", "catalogue.pdf", _PDF, context),
        ],
    }


def describe_device(device: Device, context: Context) -> LinkedData:
    """Return the description of what is on record of a device."""
    events = context.history.on(f"devices/{device.id}")
    words = f"What tests of {device.name} gave, with intervals, requirements and cautions."
    records = context.catalogue.standing_tests_of(device.id)
    return (
        _dataset(f"devices/{device.id}.html", f"Tests of {device.name}", words, events, context)
        | {
            "identifier": device.id,
            "version": device.version,
            "about": _about(device),
            "isPartOf": _whole(context),
            "isBasedOn": [_address(f"records/{test.id}.html", context) for test in records],
            "distribution": [_file("Data sheet", f"devices/{device.id}.pdf", _PDF, context)],
        }
        | _state(device.withdrawn is not None)
    )


def describe_record(test: PublishedTest, context: Context) -> LinkedData:
    """Return the description of a test record."""
    device, topics = context.catalogue.devices[test.device], context.result.records[test.id].topics
    fit = topics.get("fit")
    protocols = dict.fromkeys(session.protocol for session in fit.sessions) if isinstance(fit, FitResult) else {}
    logs = [session.log.file for session in test.fit if session.log is not None]
    words = f"One test of {device.name}: readings, results with their intervals, and how each comes about."
    return (
        _dataset(
            f"records/{test.id}.html",
            f"Test report {test.id}",
            words,
            context.history.on(f"records/{test.id}"),
            context,
        )
        | {
            "identifier": test.id,
            "version": test.version,
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
        | _state(test.withdrawn is not None)
    )
