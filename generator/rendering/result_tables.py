"""Results as tables: figures, verdicts, sessions, findings of all records."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from pydantic import BaseModel

from generator.model.fit_result import FitResult, SessionResult
from generator.model.published import PublishedTest
from generator.model.result import Figure, Finding, Interval, RecordResult, Relation, Verdict
from generator.rendering.spreadsheets import csv_rows
from generator.rendering.table_fields import (
    DEVICE,
    OF_RECORD,
    RECORD,
    Field,
    Reference,
    Row,
    Table,
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


@dataclass(frozen=True)
class ResultTable:
    """A table with rows of every record: what it is, and the rows of one record."""

    table: Table
    rows_of: Callable[[PublishedTest, RecordResult], Iterable[Row]]


def _rows_of_figures(_: PublishedTest, result: RecordResult) -> Iterator[Row]:
    for name, topic in result.topics.items():
        for figure in topic.figures:
            yield (result.record, result.device, name, *figure_row(figure))


_FIGURES = ResultTable(
    Table(
        "figures",
        (RECORD, DEVICE, _TOPIC, *FIGURE_FIELDS),
        ("record", "key"),
        (*OF_RECORD, Reference(("method",), "methods", ("id",))),
    ),
    _rows_of_figures,
)

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


def _rows_of_verdicts(_: PublishedTest, result: RecordResult) -> Iterator[Row]:
    for name, topic in result.topics.items():
        for verdict in topic.verdicts:
            yield (result.record, result.device, name, *_named(verdict, _VERDICT_FIELDS))


def _named(item: BaseModel, fields: Iterable[Field]) -> Row:
    return tuple(getattr(item, field.name) for field in fields)


_VERDICTS = ResultTable(
    Table(
        "verdicts",
        (RECORD, DEVICE, _TOPIC, *_VERDICT_FIELDS),
        ("record", "key"),
        (
            *OF_RECORD,
            Reference(("record", "figure"), "figures", ("record", "key")),
            Reference(("criterion",), "criteria", ("id",)),
        ),
    ),
    _rows_of_verdicts,
)

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


def _rows_of_sessions(test: PublishedTest, result: RecordResult) -> Iterator[Row]:
    logs = {session.id: session.log.file for session in test.fit if session.log is not None}
    fit = result.topics.get("fit")
    for session in fit.sessions if isinstance(fit, FitResult) else ():
        overall = session.overall.key if session.overall else None
        yield (result.record, result.device, *_named(session, _SESSION_FIELDS), overall, logs.get(session.session))


_SESSIONS = ResultTable(
    Table(
        "sessions",
        (
            *(RECORD, DEVICE, *_SESSION_FIELDS),
            Field("overall", "string", "The key of its overall fit factor among the figures."),
            Field("log", "string", "Its raw log, beside this file."),
        ),
        ("record", "session"),
        (*OF_RECORD, Reference(("protocol",), "protocols", ("id",))),
    ),
    _rows_of_sessions,
)


def _rows_of_findings(_: PublishedTest, result: RecordResult) -> Iterator[Row]:
    for finding in result.all_findings:
        yield (result.record, result.device, finding.rule, finding.where, json_cell(finding.facts))


_FINDINGS = ResultTable(
    Table(
        "findings",
        (
            *(RECORD, DEVICE),
            model_field(Finding, "rule", required=True),
            model_field(Finding, "where", required=True),
            model_field(Finding, "facts", "object", required=True),
        ),
        (),
        OF_RECORD,
    ),
    _rows_of_findings,
)

RESULT_TABLES = (_FIGURES, _VERDICTS, _SESSIONS, _FINDINGS)


def rows_of_record(test: PublishedTest, result: RecordResult) -> dict[str, bytes]:
    """Return the rows of a record in each of these tables, by the table's name; its result needs no workings."""
    return {each.table.name: csv_rows(each.rows_of(test, result)) for each in RESULT_TABLES}
