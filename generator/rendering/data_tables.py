"""Records and results as tables: what the columns of each are, and its rows."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from generator.model.base import NotRecorded
from generator.model.device import Device, Filter
from generator.model.fit_result import FitResult, SessionResult
from generator.model.published import PublishedTest
from generator.model.quantity import Quantity
from generator.model.reference import Criterion, Method, Protocol
from generator.model.result import Figure, Finding, Interval, RecordResult, Relation, Verdict
from generator.presenting.open_data_page import TABLES
from generator.presenting.page_views import OpenData

Row = tuple[object, ...]


@dataclass(frozen=True)
class Field:
    """A column, as Table Schema describes one. `name` is its heading."""

    name: str
    type: str
    description: str
    unit: str | None = None
    required: bool = False
    minimum: float | None = None
    maximum: float | None = None
    enum: tuple[str, ...] = ()


@dataclass(frozen=True)
class Reference:
    """Columns that hold the key of a row of another table, or of the same one where `table` is empty."""

    fields: tuple[str, ...]
    table: str
    key: tuple[str, ...]


@dataclass(frozen=True)
class DataTable:
    """A table with its rows. No two rows have the same key."""

    name: str
    fields: tuple[Field, ...]
    rows: tuple[Row, ...]
    key: tuple[str, ...] = ()
    references: tuple[Reference, ...] = ()

    @property
    def description(self) -> str:
        """What a row is."""
        return TABLES[self.name]


def _words(model: type[BaseModel], name: str) -> str:
    """Return what the model says of one of its fields, in one line, as a reader of tables says it."""
    words = " ".join((model.model_fields[name].description or "").split())
    return words.replace("null", "empty").replace("None", "empty")


def _field(model: type[BaseModel], name: str, kind: str = "string", heading: str = "", **more: Any) -> Field:
    return Field(heading or name, kind, _words(model, name), **more)


_RECORD = Field("record", "string", "The id of the test record.", required=True)
_DEVICE = Field("device", "string", "The id of the device.", required=True)
_TOPIC = Field("topic", "string", "The part of the record that it belongs to, such as fit or flow.", required=True)
_PAGE = Field("page", "string", "Its page, from the root of the site.", required=True)
_WITHDRAWN = (
    Field("withdrawn", "date", "When it was withdrawn; empty where it stands."),
    Field("withdrawn_reason", "string", "Why it was withdrawn."),
    Field("replaced_by", "string", "The id of what stands in its place."),
)
_OF_RECORD = (Reference(("record",), "records", ("id",)), Reference(("device",), "devices", ("id",)))
FIGURE_FIELDS = (
    _field(Figure, "key", required=True),
    _field(Figure, "name", required=True),
    _field(Figure, "value", "number"),
    _field(Figure, "unit", required=True),
    _field(Figure, "relation", required=True, enum=tuple(each.value for each in Relation)),
    _field(Figure, "other_bound", "number"),
    _field(Interval, "low", "number"),
    _field(Interval, "high", "number"),
    _field(Interval, "coverage", "number", minimum=0, maximum=1),
    _field(Interval, "covers"),
    _field(Figure, "sample_size", "integer", required=True, minimum=0),
    _field(Figure, "sample_of", required=True),
    _field(Figure, "method", required=True),
    _field(Figure, "not_scored"),
    _field(Figure, "no_interval"),
)
"""Columns of figures, in the table of all of them and in that of one record."""


def figure_row(figure: Figure) -> Row:
    """Return the cells of a figure, in the order of its fields."""
    limits = figure.interval
    interval = (limits.low, limits.high, limits.coverage, limits.covers) if limits else (None,) * 4
    return (
        *(figure.key, figure.name, figure.value, figure.unit, figure.relation.value, figure.other_bound),
        *interval,
        *(figure.sample_size, figure.sample_of, figure.method, figure.not_scored, figure.no_interval),
    )


def _withdrawal(item: Device | PublishedTest) -> Row:
    if item.withdrawn is None:
        return (None, None, None)
    return (item.withdrawn.date, item.withdrawn.reason, item.withdrawn.replaced_by)


def _recorded(value: object) -> object:
    """Return what was recorded, or nothing: the record's file says why it is missing."""
    return None if isinstance(value, NotRecorded) else value


def _devices(data: OpenData) -> DataTable:
    def row(device: Device) -> Row:
        price = str(_recorded(device.price) or " ").split(" ")
        stated = _recorded(device.filter.stated_class) if isinstance(device.filter, Filter) else None
        return (
            *(device.id, device.version, device.name, device.maker, device.kind.value),
            *(device.home_built, device.breath_responsive, stated),
            *(float(price[0]) if price[0] else None, price[1]),
            device.mass.to("g") if isinstance(device.mass, Quantity) else None,
            *_withdrawal(device),
            f"devices/{device.id}.html",
        )

    fields = (
        _field(Device, "id", required=True),
        _field(Device, "version", required=True),
        _field(Device, "name", required=True),
        _field(Device, "maker", required=True),
        _field(Device, "kind", required=True),
        _field(Device, "home_built", "boolean", required=True),
        _field(Device, "breath_responsive", "boolean", required=True),
        _field(Filter, "stated_class", heading="filter_class"),
        Field("price", "number", "What the device costs, in `currency`.", minimum=0),
        Field("currency", "string", "The currency code of the price."),
        Field("mass_g", "number", "What the wearer carries.", unit="g", minimum=0),
        *_WITHDRAWN,
        _PAGE,
    )
    own = Reference(("replaced_by",), "", ("id",))
    return DataTable("devices", fields, tuple(map(row, data.catalogue.devices.values())), ("id",), (own,))


def _records(data: OpenData) -> DataTable:
    def row(test: PublishedTest) -> Row:
        return (
            *(test.id, test.version, test.device, test.configuration.state.value, test.configuration.description),
            *(test.tester, test.dates.received, test.dates.performed, test.dates.issued),
            *(len(test.amendments), test.amendments[-1].date if test.amendments else None),
            *_withdrawal(test),
            *(data.catalogue.record_sha256.get(test.id), f"records/{test.id}.html"),
        )

    fields = (
        _field(PublishedTest, "id", required=True),
        _field(PublishedTest, "version", required=True),
        _DEVICE,
        Field("configuration", "string", "Whether it was tested as supplied or modified.", required=True),
        Field("configuration_description", "string", "The state in which it was tested."),
        _field(PublishedTest, "tester", required=True),
        Field("received", "date", "When the item arrived.", required=True),
        Field("performed", "date", "The day of the test.", required=True),
        Field("issued", "date", "When the record was issued.", required=True),
        Field("amendments", "integer", "How often it was changed since.", required=True, minimum=0),
        Field("last_amended", "date", "When it was last changed; empty where it reads as it was issued."),
        *_WITHDRAWN,
        Field("sha256", "string", "SHA-256 of the record's file: which version this is."),
        _PAGE,
    )
    references = (Reference(("device",), "devices", ("id",)), Reference(("replaced_by",), "", ("id",)))
    return DataTable("records", fields, tuple(map(row, data.catalogue.device_tests.values())), ("id",), references)


def _results(data: OpenData) -> Iterator[RecordResult]:
    return (data.result.records[name] for name in data.catalogue.device_tests)


def _figures(data: OpenData) -> DataTable:
    rows = (
        (result.record, result.device, name, *figure_row(figure))
        for result in _results(data)
        for name, topic in result.topics.items()
        for figure in topic.figures
    )
    references = (*_OF_RECORD, Reference(("method",), "methods", ("id",)))
    return DataTable("figures", (_RECORD, _DEVICE, _TOPIC, *FIGURE_FIELDS), tuple(rows), ("record", "key"), references)


_VERDICT_FIELDS = (
    _field(Verdict, "key", required=True),
    _field(Verdict, "figure", required=True),
    _field(Verdict, "criterion"),
    _field(Verdict, "outcome", required=True),
    _field(Verdict, "rule", enum=("guarded", "plain")),
    _field(Verdict, "benchmark_only", "boolean", required=True),
    _field(Verdict, "limit", "number"),
    _field(Verdict, "unit"),
    _field(Verdict, "ratio", "number"),
    _field(Verdict, "probability_of_conformity", "number", minimum=0, maximum=1),
    _field(Verdict, "reason", required=True),
)


def _verdicts(data: OpenData) -> DataTable:
    rows = (
        (result.record, result.device, name, *_named(verdict, _VERDICT_FIELDS))
        for result in _results(data)
        for name, topic in result.topics.items()
        for verdict in topic.verdicts
    )
    references = (
        *_OF_RECORD,
        Reference(("record", "figure"), "figures", ("record", "key")),
        Reference(("criterion",), "criteria", ("id",)),
    )
    return DataTable(
        "verdicts", (_RECORD, _DEVICE, _TOPIC, *_VERDICT_FIELDS), tuple(rows), ("record", "key"), references
    )


def _named(item: BaseModel, fields: Iterable[Field]) -> Row:
    return tuple(getattr(item, field.name) for field in fields)


_SESSION_FIELDS = (
    _field(SessionResult, "session", required=True),
    _field(SessionResult, "wearer", required=True),
    _field(SessionResult, "donning", "integer", required=True, minimum=1),
    _field(SessionResult, "protocol", required=True),
    _field(SessionResult, "blower"),
    _field(SessionResult, "outcome", required=True, enum=("completed", "aborted", "voided")),
    _field(SessionResult, "reason"),
    _field(SessionResult, "counted", "boolean", required=True),
    _field(SessionResult, "level"),
    _field(SessionResult, "basis", required=True),
)


def _sessions(data: OpenData) -> DataTable:
    def logs(record: str) -> dict[str, str]:
        sessions = data.catalogue.device_tests[record].fit
        return {session.id: session.log.file for session in sessions if session.log is not None}

    rows = (
        (
            *(result.record, result.device, *_named(session, _SESSION_FIELDS)),
            *(session.overall.key if session.overall else None, logs(result.record).get(session.session)),
        )
        for result in _results(data)
        if isinstance(fit := result.topics.get("fit"), FitResult)
        for session in fit.sessions
    )
    fields = (
        *(_RECORD, _DEVICE, *_SESSION_FIELDS),
        Field("overall", "string", "The key of its overall fit factor among the figures."),
        Field("log", "string", "Its raw log, beside this file."),
    )
    references = (
        *_OF_RECORD,
        Reference(("protocol",), "protocols", ("id",)),
    )
    return DataTable("sessions", fields, tuple(rows), ("record", "session"), references)


def _findings(data: OpenData) -> DataTable:
    rows = (
        (result.record, result.device, finding.rule, finding.where, _json(finding.facts))
        for result in _results(data)
        for finding in result.all_findings
    )
    fields = (
        *(_RECORD, _DEVICE),
        _field(Finding, "rule", required=True),
        _field(Finding, "where", required=True),
        _field(Finding, "facts", "object", required=True),
    )
    return DataTable("findings", fields, tuple(rows), (), _OF_RECORD)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _criteria(data: OpenData) -> DataTable:
    def row(criterion: Criterion) -> Row:
        source = criterion.sources[0]
        return (
            *(criterion.id, criterion.title, criterion.quantity, criterion.limit, criterion.unit, criterion.bound),
            *(criterion.decision_rule, _json([kind.value for kind in criterion.kinds]), _json(criterion.protocols)),
            *(source.document, source.edition, source.clause, source.status),
        )

    fields = (
        *(_field(Criterion, name, required=True) for name in ("id", "title", "quantity")),
        _field(Criterion, "limit", "number", required=True),
        *(_field(Criterion, name, required=True) for name in ("unit", "bound", "decision_rule")),
        *(_field(Criterion, name, "array", required=True) for name in ("kinds", "protocols")),
        *_SOURCE,
    )
    return DataTable("criteria", fields, tuple(map(row, data.catalogue.criteria.values())), ("id",))


_SOURCE = (
    Field("document", "string", "The first document that it is taken from.", required=True),
    Field("edition", "string", "The document's edition.", required=True),
    Field("clause", "string", "The clause in it.", required=True),
    Field("source_status", "string", "Whether the document was seen, or is told from memory.", required=True),
)


def _protocols(data: OpenData) -> DataTable:
    def row(protocol: Protocol) -> Row:
        source = protocol.source
        return (
            *(protocol.id, protocol.title, protocol.ambient, protocol.principle, protocol.generated_aerosol),
            _json([exercise.id for exercise in protocol.exercises]),
            *(source.document, source.edition, source.clause, source.status),
        )

    fields = (
        *(_field(Protocol, name, required=True) for name in ("id", "title", "ambient", "principle")),
        _field(Protocol, "generated_aerosol", "boolean", required=True),
        _field(Protocol, "exercises", "array", required=True),
        *_SOURCE,
    )
    return DataTable("protocols", fields, tuple(map(row, data.catalogue.protocols.values())), ("id",))


def _methods(data: OpenData) -> DataTable:
    def row(method: Method) -> Row:
        return (method.id, method.title, method.purpose, method.range, f"methods/{method.id}.html")

    fields = (
        Field("id", "string", "The id that figures name.", required=True),
        Field("title", "string", "What it computes.", required=True),
        Field("purpose", "string", "What it is for.", required=True),
        Field("range", "string", "The range in which its equation holds.", required=True),
        _PAGE,
    )
    return DataTable("methods", fields, tuple(map(row, data.catalogue.methods.values())), ("id",))


def data_tables(data: OpenData) -> tuple[DataTable, ...]:
    """Return the tables of a catalogue."""
    makers = (_devices, _records, _figures, _verdicts, _sessions, _findings, _criteria, _protocols, _methods)
    return tuple(make(data) for make in makers)
