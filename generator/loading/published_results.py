"""Reads the results that a published site holds, as they were published, whatever the records would give today."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.errors import PublishedSiteUnreadable
from generator.loading.published_site import checked, published_json
from generator.model.published import CATALOGUE_DATA
from generator.model.published_files import RecordResults

Dumped = Mapping[str, Any]
"""A result as its model is dumped to JSON, without workings."""


@dataclass(frozen=True)
class PublishedResults:
    """Results as published, by id. What the records of a device say together stands on its page, not among the data."""

    records: Mapping[str, RecordResults]
    comparisons: Mapping[str, Dumped]
    instruments: Mapping[str, Dumped]


def load_published_results(site: Path) -> PublishedResults:
    """Return the results that a published site holds.

    Raises
    ------
    PublishedSiteUnreadable
        The folder is no published site, or its data do not read as published data any more.
    """
    data = published_json(site, CATALOGUE_DATA)
    records = {}
    for name in data.get("records", ()):
        where = f"records/{name}.json"
        records[str(name)] = checked(RecordResults, published_json(site, where).get("results"), f"{where}: results")
    return PublishedResults(
        records=records,
        comparisons=_mappings(data.get("comparison_results"), "comparison_results"),
        instruments=_mappings(data.get("instrument_results"), "instrument_results"),
    )


def _mappings(data: object, name: str) -> dict[str, Dumped]:
    if not isinstance(data, Mapping) or not all(isinstance(item, Mapping) for item in data.values()):
        raise PublishedSiteUnreadable(f"{CATALOGUE_DATA}: {name}: found no mapping, expected published data")
    return {str(each): item for each, item in data.items()}
