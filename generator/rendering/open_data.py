"""The published records and results as files: JSON, CSV and logs, from which a site can be computed anew."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from typing import Any

from pydantic import BaseModel

from generator.model.fit_result import FitResult, FitSummary
from generator.model.log import Log
from generator.model.published import CATALOGUE_DATA, PublishedTest
from generator.model.published_files import Attempts, ListedSession
from generator.model.result import Figure, RecordResult
from generator.model.series import Series
from generator.presenting.open_data_page import CATALOGUE_SCHEMA, DATA_PACKAGE, RECORD_SCHEMA
from generator.presenting.page_parts import PictureFile
from generator.presenting.page_views import OpenData
from generator.rendering.data_package import PublishedLog, data_package, published_log
from generator.rendering.data_tables import data_tables
from generator.rendering.published_schemas import published_schemas
from generator.rendering.result_tables import FIGURE_FIELDS, figure_row, rows_of_record
from generator.rendering.spreadsheets import csv_bytes

LOG_COLUMNS = ("time_s", "concentration_per_cm3", "exercise", "sampling")


def _json(data: object) -> bytes:
    return (json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def _json_in_lines(data: Mapping[str, Any]) -> bytes:
    """Return a large object with a line for each of its members and, where one is an object, for each of that one's.

    So what is one device's stands on one line, and two such files can be compared. With a line for each value the file
    would be a third longer, and take several times as long to write.
    """
    compact = partial(json.dumps, ensure_ascii=False, allow_nan=False)

    def in_lines(members: Iterable[tuple[str, str]], indent: str) -> str:
        lines = ",\n".join(f"{indent} {compact(name)}: {text}" for name, text in members)
        return f"{{\n{lines}\n{indent}}}"

    def member(value: object) -> str:
        if not (isinstance(value, dict) and value):
            return compact(value)
        return in_lines(((name, compact(item)) for name, item in value.items()), " ")

    return f"{in_lines(((name, member(value)) for name, value in data.items()), '')}\n".encode()


def _address(place: str, data: OpenData) -> str:
    return f"{data.catalogue.publication.base_address}{place}"


def _dumped(models: Mapping[str, BaseModel]) -> dict[str, Any]:
    return {name: model.model_dump(mode="json") for name, model in models.items()}


def without_workings(data: Any) -> Any:
    """Return dumped results without their workings: the site derives them anew."""
    if isinstance(data, dict):
        return {name: without_workings(item) for name, item in data.items() if name != "working"}
    if isinstance(data, list):
        return [without_workings(item) for item in data]
    return data


def figures_of(result: RecordResult) -> list[Figure]:
    """Return all figures of a record, topic by topic."""
    return [figure for topic in result.topics.values() for figure in topic.figures]


def record_json(test: PublishedTest, data: OpenData) -> bytes:
    """Return a published record with its results. Workings are left out: the site derives them anew."""
    result = data.result.records[test.id]
    figures = [
        figure.model_dump(mode="json", exclude={"working": True, "interval": {"working"}})
        for figure in figures_of(result)
    ]
    return _json(
        {
            "$schema": _address(RECORD_SCHEMA, data),
            "published_record": test.model_dump(mode="json"),
            "record_sha256": data.catalogue.record_sha256.get(test.id),
            "made_with": {"inward": data.version, **data.result.libraries},
            "results": {
                "sessions": _sessions(result),
                "figures": figures,
                "verdicts": [
                    verdict.model_dump(mode="json") for topic in result.topics.values() for verdict in topic.verdicts
                ],
                "findings": [finding.model_dump(mode="json") for finding in result.all_findings],
            },
        }
    )


def _sessions(result: RecordResult) -> list[dict[str, Any]]:
    """Return every attempt of a record and whether it counts; what it gave stands among the figures."""
    fit = result.topics.get("fit")
    shown = set(ListedSession.model_fields)
    sessions = fit.sessions if isinstance(fit, FitResult) else ()
    return [session.model_dump(mode="json", include=shown) for session in sessions]


def _attempts(data: OpenData) -> dict[str, Any]:
    """Return how many sessions of each device were completed, left out, aborted, voided or withdrawn."""
    shown = set(Attempts.model_fields)
    summaries = {name: device.topics.get("fit") for name, device in data.result.devices.items()}
    return {
        name: summary.model_dump(mode="json", include=shown)
        for name, summary in summaries.items()
        if isinstance(summary, FitSummary)
    }


def _log_csv(log: Log) -> bytes:
    rows = [(row.time_s, row.concentration_per_cm3, row.exercise, row.sampling.value) for row in log.samples]
    if log.second_channel:
        both = zip(rows, log.samples, strict=True)
        return csv_bytes((*LOG_COLUMNS, "outside_per_cm3"), ((*row, sample.outside_per_cm3) for row, sample in both))
    return csv_bytes(LOG_COLUMNS, rows)


def _series_csv(series: Series) -> bytes:
    columns = {name: values for name, values in series if name not in ("file", "sha256") and values is not None}
    return csv_bytes(columns, zip(*columns.values(), strict=True))


def published_logs(data: OpenData) -> dict[str, bytes]:
    """Return every log of a catalogue, or of a part of it, as it is published, by its place below `data/`."""
    made = {name: _log_csv(log) for name, log in data.catalogue.logs.items()}
    return made | {name: _series_csv(series) for name, series in data.catalogue.series.items()}


def _catalogue_json(data: OpenData, pictures: Sequence[PictureFile], logs: Mapping[str, PublishedLog]) -> bytes:
    catalogue = data.catalogue
    return _json_in_lines(
        {
            "$schema": _address(CATALOGUE_SCHEMA, data),
            "made_with": {"inward": data.version, **data.result.libraries},
            "publication": catalogue.publication.model_dump(mode="json"),
            "wearers": list(catalogue.wearers),
            "devices": _dumped(catalogue.devices),
            "instruments": _dumped(catalogue.instruments),
            "instrument_results": _dumped(data.result.instruments),
            "testers": _dumped(catalogue.testers),
            "protocols": _dumped(catalogue.protocols),
            "criteria": _dumped(catalogue.criteria),
            "comparisons": _dumped(catalogue.comparisons),
            "comparison_results": without_workings(_dumped(data.result.comparisons)),
            "records": list(catalogue.device_tests),
            "attempts": _attempts(data),
            "pictures": {picture.path: hashlib.sha256(picture.content).hexdigest() for picture in pictures},
            "logs": {name: log.sha256 for name, log in catalogue.logs.items()},
            "series": {name: series.sha256 for name, series in catalogue.series.items()},
            "published_logs": {name: log.sha256 for name, log in logs.items()},
        }
    )


def record_files(test: PublishedTest, data: OpenData) -> dict[str, bytes]:
    """Return the data files of one test record, by their paths; its result needs no workings."""
    figures = figures_of(data.result.records[test.id])
    return {
        f"records/{test.id}.json": record_json(test, data),
        f"records/{test.id}.csv": csv_bytes((field.name for field in FIGURE_FIELDS), map(figure_row, figures)),
    }


def catalogue_files(
    data: OpenData,
    pictures: Sequence[PictureFile],
    logs: Mapping[str, PublishedLog],
    rows_of: Callable[[str, str], bytes],
) -> dict[str, bytes]:
    """Return the data files of the catalogue as a whole, by their paths; results need no workings.

    `logs` are told of by their places below `data/`, in any order; for `rows_of` see `data_tables`.
    """
    in_order = {name: logs[name] for name in (*data.catalogue.logs, *data.catalogue.series)}
    tables = data_tables(data, rows_of)
    made = {CATALOGUE_DATA: _catalogue_json(data, pictures, in_order)}
    made |= {place: _json(schema) for place, schema in published_schemas(_address("", data)).items()}
    made[DATA_PACKAGE] = _json(data_package(data, tables, in_order))
    return made | {f"data/{table.name}.csv": content for table, content in tables}


def open_data(data: OpenData, pictures: Sequence[PictureFile]) -> dict[str, bytes]:
    """Return every data file of the site by its path."""
    logs = published_logs(data)
    told = {name: published_log(content) for name, content in logs.items()}
    rows = {name: rows_of_record(test, data.result.records[name]) for name, test in data.catalogue.device_tests.items()}
    made = catalogue_files(data, pictures, told, lambda table, record: rows[record][table])
    for test in data.catalogue.device_tests.values():
        made |= record_files(test, data)
    return made | {f"data/{name}": content for name, content in logs.items()}
