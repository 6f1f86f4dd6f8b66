"""The results of a whole catalogue, without workings, from the scores of its devices."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.build.kept_results import KeptScores
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue
from generator.presenting.method_uses import Uses, together, uses_beside
from generator.presenting.views import IndexCell
from generator.scoring.catalogue import put_together


@dataclass(frozen=True)
class CatalogueScores:
    """All results without workings, and which methods stand behind them."""

    result: CatalogueResult
    uses: Mapping[str, Uses]
    cells: Mapping[str, tuple[IndexCell, ...]]
    """What topics show of each device in its row of the first page, by its id."""
    sha256_of_records: Mapping[str, str]
    """A hash over the results of each record."""


def catalogue_scores(catalogue: PublishedCatalogue, scores: Mapping[str, KeptScores]) -> CatalogueScores:
    """Return the results of a catalogue from the scores of each of its devices, by id."""
    of_record = {name: result for each in scores.values() for name, result in each.records.items()}
    records = {name: of_record[name] for name in catalogue.device_tests}
    devices = {name: scores[name].device for name in catalogue.devices}
    compared = {name: scores[name].compared for name in catalogue.devices}
    result = put_together(records, devices, compared, catalogue)
    in_records = {name: uses for each in scores.values() for name, uses in each.uses_in_records.items()}
    uses_in_compared = {name: each.uses_in_compared for name, each in scores.items()}
    parts = (
        *(in_records[name] for name in records),
        *(scores[name].uses_in_device for name in devices),
        uses_beside(result, uses_in_compared),
    )
    sha256 = {name: hash_ for each in scores.values() for name, hash_ in each.sha256_of_records.items()}
    cells = {name: each.cells for name, each in scores.items()}
    return CatalogueScores(result, together(parts), cells, sha256)
