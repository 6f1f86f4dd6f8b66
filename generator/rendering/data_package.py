"""The data package: all tables and logs described by the Data Package and Table Schema specifications, version 1."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.model.log import Sampling
from generator.presenting.data_licences import LICENCE_ADDRESSES
from generator.presenting.open_data_page import DATA_PAGE
from generator.presenting.page_views import OpenData
from generator.rendering.table_fields import Field, Reference, Table

LOG_FIELDS = (
    Field("time_s", "number", "Time since a start of the log's own.", unit="s", required=True),
    Field("concentration_per_cm3", "number", "Particles counted.", unit="/cm3", required=True, minimum=0),
    Field("exercise", "string", "What the wearer did."),
    Field(
        "sampling",
        "string",
        "Where the counter drew its air from; lines of purge are in no figure.",
        required=True,
        enum=tuple(each.value for each in Sampling),
    ),
    Field("outside_per_cm3", "number", "What the second channel counted.", unit="/cm3", required=True, minimum=0),
    Field("flow_l_per_min", "number", "Air flow as read.", unit="L/min", required=True, minimum=0),
    Field("pressure_pa", "number", "Pressure against the room.", unit="Pa", required=True),
    Field("voltage_v", "number", "The battery's voltage.", unit="V", required=True, minimum=0),
    Field("current_a", "number", "The current that the battery gives.", unit="A", required=True),
)
"""Every column that a published log may have; each log has some of them."""
_BY_NAME = {field.name: field for field in LOG_FIELDS}


def _field(field: Field, key: Sequence[str]) -> dict[str, Any]:
    limits: dict[str, Any] = {"required": True} if field.required else {}
    limits |= {"unique": True} if key == (field.name,) else {}
    limits |= {"minimum": field.minimum} if field.minimum is not None else {}
    limits |= {"maximum": field.maximum} if field.maximum is not None else {}
    limits |= {"enum": list(field.enum)} if field.enum else {}
    made: dict[str, Any] = {"name": field.name, "type": field.type, "description": field.description}
    return made | ({"unit": field.unit} if field.unit else {}) | ({"constraints": limits} if limits else {})


def _reference(reference: Reference) -> dict[str, Any]:
    key = {"resource": reference.table, "fields": list(reference.key)}
    return {"fields": list(reference.fields), "reference": key}


def _schema(fields: Sequence[Field], key: Sequence[str], references: Sequence[Reference] = ()) -> dict[str, Any]:
    made: dict[str, Any] = {"fields": [_field(field, key) for field in fields], "missingValues": [""]}
    made |= {"primaryKey": list(key)} if key else {}
    return made | ({"foreignKeys": [_reference(each) for each in references]} if references else {})


@dataclass(frozen=True)
class PublishedLog:
    """What is told of a published log beside the log itself."""

    sha256: str
    size: int
    """Its length. [bytes]"""
    columns: tuple[str, ...]


def published_log(content: bytes) -> PublishedLog:
    """Return what is told of a log; which kind it is shows in its columns."""
    columns = content.partition(b"\r\n")[0].decode().split(",")
    return PublishedLog(hashlib.sha256(content).hexdigest(), len(content), tuple(columns))


def _resource(name: str, path: str, description: str, size: int, sha256: str, schema: dict[str, Any]) -> dict[str, Any]:
    return {
        "name": name,
        "path": path,
        "profile": "tabular-data-resource",
        "description": description,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": size,
        "hash": f"sha256:{sha256}",
        "schema": schema,
    }


def _log(path: str, log: PublishedLog) -> dict[str, Any]:
    name = path.removesuffix(".csv").replace("/", "-").replace("_", "-")
    schema = _schema([_BY_NAME[each] for each in log.columns], ("time_s",))
    return _resource(name, path, "A raw log as published.", log.size, log.sha256, schema)


def _licence(data: OpenData) -> dict[str, str]:
    """Return the licence by its identifier, or by its own words with the page that says them."""
    publication = data.catalogue.publication
    address = LICENCE_ADDRESSES.get(publication.data_licence)
    if address is None:
        return {"path": f"{publication.base_address}{DATA_PAGE}#licence", "title": publication.data_licence}
    return {"name": publication.data_licence, "path": address}


def data_package(
    data: OpenData, tables: Sequence[tuple[Table, bytes]], logs: Mapping[str, PublishedLog]
) -> dict[str, Any]:
    """Return the descriptor of the package that holds tables, each with its content, and logs, by their paths."""
    publication = data.catalogue.publication
    invented = "Invented demonstration: every device, maker, person and figure is made up. " * publication.invented
    head: dict[str, Any] = {
        "profile": "tabular-data-package",
        "name": "records-and-results",
        "id": f"{publication.base_address}data/datapackage.json",
        "title": publication.title,
        "description": f"{invented}{publication.subtitle}",
        "homepage": publication.base_address,
        "licenses": [_licence(data)],
        "contributors": [{"title": publication.publisher, "email": publication.contact, "role": "publisher"}],
        "sources": [{"title": "Published records, with all readings", "path": "catalogue.json"}],
        "records_sha256": data.records_sha256,
    }
    if data.newest is not None:
        # Records know days, and the package is what it is since the day of the newest event.
        head["created"] = f"{data.newest.isoformat()}T00:00:00Z"
    resources = [
        _resource(
            table.name,
            f"{table.name}.csv",
            table.description,
            len(content),
            hashlib.sha256(content).hexdigest(),
            _schema(table.fields, table.key, table.references),
        )
        for table, content in tables
    ]
    return head | {"resources": resources + [_log(path, log) for path, log in logs.items()]}
