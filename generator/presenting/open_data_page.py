"""The page of open data: what files there are, under which licence, how they are read, cited and checked."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.published import CATALOGUE_DATA
from generator.presenting.citations import cite_catalogue
from generator.presenting.context import Context
from generator.presenting.data_licences import LICENCE_ADDRESSES
from generator.presenting.feed import FEED_FILE, LONGEST_FEED
from generator.presenting.letterhead import page_head
from generator.presenting.open_data_views import DataPage
from generator.presenting.views import Cell, Column, Fact, Row, Table

DATA_PAGE = "data.html"
DATA_PACKAGE = "data/datapackage.json"
CATALOGUE_SCHEMA = "data/schemas/catalogue.schema.json"
RECORD_SCHEMA = "data/schemas/record.schema.json"
TABLES = {
    "devices": "Each device: kind, maker, filter, price, mass, whether it was withdrawn.",
    "records": "Each test record: device, configuration, days, version, amendments, SHA-256.",
    "figures": "Each figure of each record: value or bound, interval, sample size, method, or why there is none.",
    "verdicts": "Each figure that was held against a requirement, and what came out by which rule.",
    "sessions": "Each attempt at a fit session, aborted and voided ones too, and whether it counts.",
    "findings": "What scoring noticed in each record.",
    "criteria": "The requirements: quantity, limit, device kinds, document, edition, clause.",
    "protocols": "The protocols of fit sessions, and their exercises.",
    "methods": "The methods that figures name, with the address of equation, symbols and sources.",
}
"""Tables of the data package, by their names, and what each row is."""


def _listed(id_: str, caption: str, rows: Sequence[tuple[str, str | None, str]]) -> Table:
    """Return a table of files: name, where it leads, what it holds."""
    columns = (Column("File"), Column("What it holds"))
    return Table(id_, caption, columns, tuple(Row((Cell(name, href), Cell(words))) for name, href, words in rows))


def _file(place: str, words: str) -> tuple[str, str, str]:
    return place.rpartition("/")[2], place, words


def _tables() -> Table:
    package = (
        "All tables with their fields, types, units, keys and relations, as a Data Package with Table Schemas (version "
        "1); bytes and SHA-256 of each file. Opened by any program that knows the format."
    )
    tables = (_file(f"data/{name}.csv", words) for name, words in TABLES.items())
    logs = "Raw logs as published: particles, flow, pressure, voltage, current against time. Linked from each record."
    rows = (_file(DATA_PACKAGE, package), *tables, ("logs/", None, logs))
    return _listed("tables", "Tables, as comma-separated values, below data/", rows)


def _whole_files() -> Table:
    catalogue = "Devices, instruments, protocols, requirements, comparisons and their results."
    rows = (
        _file(CATALOGUE_DATA, catalogue),
        ("records/<id>.json", None, "Each published record with its results. Linked from each record’s page."),
        ("records/<id>.csv", None, "The figures of one record, as a table."),
        _file(CATALOGUE_SCHEMA, "JSON Schema (2020-12) of the catalogue’s file: each key, with its words."),
        _file(RECORD_SCHEMA, "JSON Schema (2020-12) of a record’s file."),
    )
    return _listed("files", "The same as JSON, and what may stand in it", rows)


_READING = (
    Fact(
        "Bounds",
        "Where relation is at_least or at_most, value is a bound: the true value lies at it or beyond. Where "
        "other_bound stands too, it lies between the two. A bound is no measured value; leave it out of means.",
    ),
    Fact(
        "Intervals",
        "low and high are the limits of the interval with the coverage probability beside them; covers says "
        "what is in it. An empty limit means that the data set none on that side.",
    ),
    Fact("Empty cells", "There is no such value. It is never zero; not_scored and no_interval say why."),
    Fact(
        "Numbers",
        "At full precision, with a decimal point, in the unit that the field or the row names; 1 for a ratio.",
    ),
    Fact(
        "Texts",
        "A text that a spreadsheet would take for a formula begins with an apostrophe more than in the record.",
    ),
    Fact("Withdrawn records", "They are in every table; withdrawn in records says so. They count for no result."),
    Fact("Wearers", "Letters. The same letter is the same person in every record."),
)


def present_data_page(context: Context) -> DataPage:
    """Return the page of open data."""
    licence = context.catalogue.publication.data_licence
    feed = (
        f"{FEED_FILE} tells of each record and device that is new, amended or withdrawn, newest first, at most "
        f"{LONGEST_FEED} of them. Records know days, not hours: every entry begins with its day, 00:00 UTC."
    )
    return DataPage(
        head=page_head(
            DATA_PAGE,
            "Open data",
            "All records, readings and results as files, their licence, and how to cite and check them.",
            records=context.state,
        ),
        licence=licence,
        licence_address=LICENCE_ADDRESSES.get(licence),
        citation=cite_catalogue(context),
        files=(_tables(), _whole_files()),
        reading=_READING,
        feed=feed if context.history.events else None,
    )
