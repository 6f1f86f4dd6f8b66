"""The JSON files of a published site, key by key. Their JSON Schemas are made of these models."""

from __future__ import annotations

from pydantic import Field

from generator.model.base import Frozen, Sha256
from generator.model.comparison import Comparison
from generator.model.comparison_result import ComparisonResult
from generator.model.device import Device
from generator.model.instrument import Instrument
from generator.model.instrument_result import InstrumentResult
from generator.model.people import Publication, Tester
from generator.model.published import Letter, PublishedTest
from generator.model.reference import Criterion, Protocol
from generator.model.result import Figure, Finding, Verdict


class ListedSession(Frozen):
    """An attempt at a fit session. What it gave stands among the figures."""

    session: str
    """The session's id in the record."""
    wearer: str
    """The wearer's letter."""
    donning: int
    """Which time this was that the wearer put the device on for this record, from 1."""
    outcome: str
    """How it ended: `completed`, `aborted` or `voided`."""
    reason: str | None
    """Why it was aborted or voided; null where it was completed."""
    counted: bool
    """Whether it counts towards the results: it was completed, and the record's rule does not leave it out."""


class Attempts(Frozen):
    """How many fit sessions of a device ended how."""

    completed: int
    """Completed sessions in records that stand, whether they count or not."""
    aborted: int
    """Aborted sessions in records that stand."""
    voided: int
    """Voided sessions in records that stand."""
    not_counted: int
    """Completed sessions that a record's rule leaves out; they are among `completed`."""
    withdrawn: int
    """Sessions of withdrawn records, however they ended; they are in no other count."""


class RecordResults(Frozen):
    """What was scored from a record, without workings: these are derived anew from the record."""

    sessions: tuple[ListedSession, ...]
    """Every attempt at a fit session."""
    figures: tuple[Figure, ...]
    """Every figure, topic by topic."""
    verdicts: tuple[Verdict, ...]
    """Every figure that was held against a requirement."""
    findings: tuple[Finding, ...]
    """What scoring noticed."""


class RecordFile(Frozen):
    """A published test record with its results."""

    schema_address: str = Field(alias="$schema")
    """The address of the JSON Schema that describes this file."""
    published_record: PublishedTest
    """The test record as published: wearers by their letters, without what stays in the house."""
    record_sha256: Sha256 | None
    """SHA-256 of the record's file."""
    made_with: dict[str, str]
    """The version of this program and of each library that took part, by name."""
    results: RecordResults
    """What was scored from it."""


class CatalogueFile(Frozen):
    """The published catalogue, without its test records, each of which has a file of its own."""

    schema_address: str = Field(alias="$schema")
    """The address of the JSON Schema that describes this file."""
    made_with: dict[str, str]
    """The version of this program and of each library that took part, by name."""
    publication: Publication
    """Who publishes the catalogue."""
    wearers: tuple[Letter, ...]
    """The letters of all wearers."""
    devices: dict[str, Device]
    """Each device, by id."""
    instruments: dict[str, Instrument]
    """Each instrument, by id."""
    instrument_results: dict[str, InstrumentResult]
    """What was scored for each instrument, by id."""
    testers: dict[str, Tester]
    """Each tester, by id."""
    protocols: dict[str, Protocol]
    """Each protocol, by id, published ones too."""
    criteria: dict[str, Criterion]
    """Each requirement, by id, published ones too."""
    comparisons: dict[str, Comparison]
    """Each comparison that a reviewer made, by id."""
    comparison_results: dict[str, ComparisonResult]
    """What was scored for each comparison, by id, those of kinds too, without workings."""
    records: tuple[str, ...]
    """The ids of the test records."""
    attempts: dict[str, Attempts]
    """How many fit sessions of each device ended how, by device."""
    pictures: dict[str, Sha256]
    """SHA-256 of each picture, by its place in the site."""
    logs: dict[str, Sha256]
    """SHA-256 of each raw log as it was recorded, by its place below `data/`."""
    series: dict[str, Sha256]
    """The same of logs of flow, pressure, voltage and current."""
    published_logs: dict[str, Sha256]
    """SHA-256 of each log as it is published below `data/`: without other columns, in base units."""
