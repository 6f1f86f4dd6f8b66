"""Records, reference data and results as tables. Every table of the open data is put together here."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from generator.model.base import NotRecorded
from generator.model.device import Device, Filter
from generator.model.published import PublishedTest
from generator.model.quantity import Quantity
from generator.model.reference import Criterion, Method, Protocol
from generator.presenting.page_views import OpenData
from generator.rendering.result_tables import RESULT_TABLES
from generator.rendering.spreadsheets import csv_bytes, csv_rows
from generator.rendering.table_fields import (
    DEVICE,
    ID,
    PAGE,
    VERSION,
    Field,
    Reference,
    Row,
    Table,
    json_cell,
    model_field,
)

_WITHDRAWN = (
    Field("withdrawn", "date", "When it was withdrawn; empty where it stands."),
    Field("withdrawn_reason", "string", "Why it was withdrawn."),
    Field("replaced_by", "string", "The id of what stands in its place."),
)
_SOURCE = (
    Field("document", "string", "The first document that it is taken from.", required=True),
    Field("edition", "string", "The document's edition.", required=True),
    Field("clause", "string", "The clause in it.", required=True),
    Field("source_status", "string", "Whether the document was seen, or is told from memory.", required=True),
)

TableFile = tuple[Table, bytes]
"""A table, and it as it is published."""


def _withdrawal(item: Device | PublishedTest) -> Row:
    if item.withdrawn is None:
        return (None, None, None)
    return (item.withdrawn.date, item.withdrawn.reason, item.withdrawn.replaced_by)


def _recorded(value: object) -> object:
    """Return what was recorded, or nothing: the record's file says why it is missing."""
    return None if isinstance(value, NotRecorded) else value


def _devices(data: OpenData) -> TableFile:
    def row(device: Device) -> Row:
        price, _, currency = str(_recorded(device.price) or "").partition(" ")
        stated = _recorded(device.filter.stated_class) if isinstance(device.filter, Filter) else None
        return (
            *(device.id, device.version, device.name, device.maker, device.kind.value),
            *(device.home_built, device.breath_responsive, stated),
            *(float(price) if price else None, currency),
            device.mass.to("g") if isinstance(device.mass, Quantity) else None,
            *_withdrawal(device),
            f"devices/{device.id}.html",
        )

    fields = (
        ID,
        VERSION,
        model_field(Device, "name", required=True),
        model_field(Device, "maker", required=True),
        model_field(Device, "kind", required=True),
        model_field(Device, "home_built", "boolean", required=True),
        model_field(Device, "breath_responsive", "boolean", required=True),
        model_field(Filter, "stated_class", heading="filter_class"),
        Field("price", "number", "What the device costs, in `currency`.", minimum=0),
        Field("currency", "string", "The currency code of the price."),
        Field("mass_g", "number", "What the wearer carries.", unit="g", minimum=0),
        *_WITHDRAWN,
        PAGE,
    )
    own = Reference(("replaced_by",), "", ("id",))
    return _filled(Table("devices", fields, ("id",), (own,)), map(row, data.catalogue.devices.values()))


def _records(data: OpenData) -> TableFile:
    def row(test: PublishedTest) -> Row:
        return (
            *(test.id, test.version, test.device, test.configuration.state.value, test.configuration.description),
            *(test.tester, test.dates.received, test.dates.performed, test.dates.issued),
            *(len(test.amendments), test.amendments[-1].date if test.amendments else None),
            *_withdrawal(test),
            *(data.catalogue.record_sha256.get(test.id), f"records/{test.id}.html"),
        )

    fields = (
        ID,
        VERSION,
        DEVICE,
        Field("configuration", "string", "Whether it was tested as supplied or modified.", required=True),
        Field("configuration_description", "string", "The state in which it was tested."),
        model_field(PublishedTest, "tester", required=True),
        Field("received", "date", "When the item arrived.", required=True),
        Field("performed", "date", "The day of the test.", required=True),
        Field("issued", "date", "When the record was issued.", required=True),
        Field("amendments", "integer", "How often it was changed since.", required=True, minimum=0),
        Field("last_amended", "date", "When it was last changed; empty where it reads as it was issued."),
        *_WITHDRAWN,
        Field("sha256", "string", "SHA-256 of the record's file: which version this is."),
        PAGE,
    )
    references = (Reference(("device",), "devices", ("id",)), Reference(("replaced_by",), "", ("id",)))
    return _filled(Table("records", fields, ("id",), references), map(row, data.catalogue.device_tests.values()))


def _criteria(data: OpenData) -> TableFile:
    def row(criterion: Criterion) -> Row:
        source, kinds = criterion.sources[0], [kind.value for kind in criterion.kinds]
        return (
            *(criterion.id, criterion.title, criterion.quantity, criterion.limit, criterion.unit, criterion.bound),
            *(
                criterion.decision_rule,
                json_cell(kinds),
                json_cell(criterion.protocols),
            ),
            *(source.document, source.edition, source.clause, source.status),
        )

    fields = (
        ID,
        *(model_field(Criterion, name, required=True) for name in ("title", "quantity")),
        model_field(Criterion, "limit", "number", required=True),
        *(model_field(Criterion, name, required=True) for name in ("unit", "bound", "decision_rule")),
        *(model_field(Criterion, name, "array", required=True) for name in ("kinds", "protocols")),
        *_SOURCE,
    )
    return _filled(Table("criteria", fields, ("id",)), map(row, data.catalogue.criteria.values()))


def _protocols(data: OpenData) -> TableFile:
    def row(protocol: Protocol) -> Row:
        source = protocol.source
        return (
            *(protocol.id, protocol.title, protocol.ambient, protocol.principle, protocol.generated_aerosol),
            json_cell([exercise.id for exercise in protocol.exercises]),
            *(source.document, source.edition, source.clause, source.status),
        )

    fields = (
        ID,
        *(model_field(Protocol, name, required=True) for name in ("title", "ambient", "principle")),
        model_field(Protocol, "generated_aerosol", "boolean", required=True),
        model_field(Protocol, "exercises", "array", required=True),
        *_SOURCE,
    )
    return _filled(Table("protocols", fields, ("id",)), map(row, data.catalogue.protocols.values()))


def _methods(data: OpenData) -> TableFile:
    def row(method: Method) -> Row:
        return (method.id, method.title, method.purpose, method.range, f"methods/{method.id}.html")

    fields = (
        ID,
        Field("title", "string", "What it computes.", required=True),
        Field("purpose", "string", "What it is for.", required=True),
        Field("range", "string", "The range in which its equation holds.", required=True),
        PAGE,
    )
    return _filled(Table("methods", fields, ("id",)), map(row, data.catalogue.methods.values()))


def _filled(table: Table, rows: Iterable[Row]) -> TableFile:
    return table, csv_bytes(table.heading, rows)


def data_tables(data: OpenData, rows_of: Callable[[str, str], bytes]) -> tuple[TableFile, ...]:
    """Return the tables of a catalogue.

    `rows_of` gives the rows of results, by the names of a table and of a record, as `rows_of_record` makes them.
    """

    def joined(table: Table) -> TableFile:
        rows = (rows_of(table.name, record) for record in data.catalogue.device_tests)
        return table, b"".join((csv_rows([table.heading]), *rows))

    return (
        *(_devices(data), _records(data)),
        *(joined(each.table) for each in RESULT_TABLES),
        *(_criteria(data), _protocols(data), _methods(data)),
    )
