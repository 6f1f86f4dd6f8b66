"""Results as tables: figures, verdicts, sessions, findings of all records."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from pydantic import BaseModel

from generator.model.fit_result import FitResult, SessionResult
from generator.model.result import Figure, Finding, Interval, RecordResult, Relation, Verdict
from generator.presenting.page_views import OpenData
from generator.rendering.table_fields import (
    DEVICE,
    OF_RECORD,
    RECORD,
    DataTable,
    Field,
    Reference,
    Row,
    json_cell,
    model_field,
)

_TOPIC = Field("topic", "string", "The part of the record that it belongs to, such as fit or flow.", required=True)
FIGURE_FIELDS = (
    model_field(Figure, "key", required=True),
    model_field(Figure, "name", required=True),
    model_field(Figure, "value", "number"),
    model_field(Figure, "unit", required=True),
    Field(
        "relation",
        "string",
        "equal: `value` is the result. at_least or at_most: `value` is a bound, never a measured value; the true value "
        "lies at it or beyond it on that side.",
        required=True,
        enum=tuple(each.value for each in Relation),
    ),
    model_field(Figure, "other_bound", "number"),
    model_field(Interval, "low", "number"),
    model_field(Interval, "high", "number"),
    model_field(Interval, "coverage", "number", minimum=0, maximum=1),
    model_field(Interval, "covers"),
    model_field(Figure, "sample_size", "integer", required=True, minimum=0),
    model_field(Figure, "sample_of", required=True),
    model_field(Figure, "method", required=True),
    model_field(Figure, "not_scored"),
    model_field(Figure, "no_interval"),
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


def _results(data: OpenData) -> Iterator[RecordResult]:
    return (data.result.records[name] for name in data.catalogue.device_tests)


def figures_table(data: OpenData) -> DataTable:
    """Return the table of every figure of every record."""
    rows = (
        (result.record, result.device, name, *figure_row(figure))
        for result in _results(data)
        for name, topic in result.topics.items()
        for figure in topic.figures
    )
    references = (*OF_RECORD, Reference(("method",), "methods", ("id",)))
    return DataTable("figures", (RECORD, DEVICE, _TOPIC, *FIGURE_FIELDS), tuple(rows), ("record", "key"), references)


_VERDICT_FIELDS = (
    model_field(Verdict, "key", required=True),
    model_field(Verdict, "figure", required=True),
    model_field(Verdict, "criterion"),
    model_field(Verdict, "outcome", required=True),
    model_field(Verdict, "rule", enum=("guarded", "plain")),
    model_field(Verdict, "benchmark_only", "boolean", required=True),
    model_field(Verdict, "limit", "number"),
    model_field(Verdict, "unit"),
    model_field(Verdict, "ratio", "number"),
    model_field(Verdict, "probability_of_conformity", "number", minimum=0, maximum=1),
    model_field(Verdict, "reason", required=True),
)


def verdicts_table(data: OpenData) -> DataTable:
    """Return the table of every figure that was held against a requirement."""
    rows = (
        (result.record, result.device, name, *_named(verdict, _VERDICT_FIELDS))
        for result in _results(data)
        for name, topic in result.topics.items()
        for verdict in topic.verdicts
    )
    references = (
        *OF_RECORD,
        Reference(("record", "figure"), "figures", ("record", "key")),
        Reference(("criterion",), "criteria", ("id",)),
    )
    return DataTable("verdicts", (RECORD, DEVICE, _TOPIC, *_VERDICT_FIELDS), tuple(rows), ("record", "key"), references)


def _named(item: BaseModel, fields: Iterable[Field]) -> Row:
    return tuple(getattr(item, field.name) for field in fields)


_SESSION_FIELDS = (
    model_field(SessionResult, "session", required=True),
    model_field(SessionResult, "wearer", required=True),
    model_field(SessionResult, "donning", "integer", required=True, minimum=1),
    model_field(SessionResult, "protocol", required=True),
    model_field(SessionResult, "blower"),
    model_field(SessionResult, "outcome", required=True, enum=("completed", "aborted", "voided")),
    model_field(SessionResult, "reason"),
    model_field(SessionResult, "counted", "boolean", required=True),
    model_field(SessionResult, "level"),
    model_field(SessionResult, "basis", required=True),
)


def sessions_table(data: OpenData) -> DataTable:
    """Return the table of every attempt at a fit session."""

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
        *(RECORD, DEVICE, *_SESSION_FIELDS),
        Field("overall", "string", "The key of its overall fit factor among the figures."),
        Field("log", "string", "Its raw log, beside this file."),
    )
    references = (
        *OF_RECORD,
        Reference(("protocol",), "protocols", ("id",)),
    )
    return DataTable("sessions", fields, tuple(rows), ("record", "session"), references)


def findings_table(data: OpenData) -> DataTable:
    """Return the table of what scoring noticed."""
    rows = (
        (result.record, result.device, finding.rule, finding.where, json_cell(finding.facts))
        for result in _results(data)
        for finding in result.all_findings
    )
    fields = (
        *(RECORD, DEVICE),
        model_field(Finding, "rule", required=True),
        model_field(Finding, "where", required=True),
        model_field(Finding, "facts", "object", required=True),
    )
    return DataTable("findings", fields, tuple(rows), (), OF_RECORD)
