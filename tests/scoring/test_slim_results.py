"""Results without their workings: nothing else is gone, and what is made of all results comes out the same."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.catalogue import Catalogue
from generator.model.catalogue_result import CatalogueResult
from generator.model.fit_result import FitResult
from generator.model.published import PublishedCatalogue, published
from generator.presenting.comparisons import present_comparison, present_comparisons_index
from generator.presenting.context import Context
from generator.presenting.method_uses import (
    method_uses,
    together,
    uses_beside,
    uses_in_compared,
    uses_in_device,
    uses_in_record,
)
from generator.presenting.whole_site import present
from generator.scoring.catalogue import sum_up
from generator.scoring.comparisons import compared_devices
from generator.scoring.same_day import same_day_wear, sessions_worn
from generator.scoring.slim_results import without_workings

WHOLE_CATALOGUE = (
    *("index", "data_page", "letterhead", "requirements", "caution_rules", "corrections", "about", "feed"),
    *("instruments_index", "comparisons_index", "last_changes", "traced_log"),
)
"""Parts of a site that are about all records or devices at once."""


@pytest.fixture(scope="module")
def catalogue(demo: Catalogue) -> PublishedCatalogue:
    """The demo as published."""
    return published(demo)


@pytest.fixture(scope="module")
def slim(catalogue: PublishedCatalogue, scored: CatalogueResult) -> CatalogueResult:
    """The demo summed up from records without workings, with devices that have none either."""
    summed = sum_up({name: without_workings(result) for name, result in scored.records.items()}, catalogue)
    devices = {name: without_workings(result) for name, result in summed.devices.items()}
    return summed.model_copy(update={"devices": devices})


def bare(dumped: Any) -> Any:
    """Return what was dumped with nothing in place of every working."""
    if isinstance(dumped, dict):
        return {name: None if name == "working" else bare(item) for name, item in dumped.items()}
    return [bare(item) for item in dumped] if isinstance(dumped, list) else dumped


def test_only_workings_are_gone_from_a_record(scored: CatalogueResult, slim: CatalogueResult) -> None:
    full = {name: result.model_dump(mode="json") for name, result in scored.records.items()}
    assert {name: result.model_dump(mode="json") for name, result in slim.records.items()} == bare(full)
    assert bare(full) != full


def test_only_workings_are_gone_from_a_device(scored: CatalogueResult, slim: CatalogueResult) -> None:
    full = {name: result.model_dump(mode="json") for name, result in scored.devices.items()}
    assert {name: result.model_dump(mode="json") for name, result in slim.devices.items()} == bare(full)
    assert bare(full) != full


def test_what_stands_in_two_places_is_one_copy(slim: CatalogueResult) -> None:
    topics = [result.topics["fit"] for result in slim.records.values() if "fit" in result.topics]
    sessions = [(topic, session) for topic in topics if isinstance(topic, FitResult) for session in topic.sessions]
    overall = [(topic, session.overall) for topic, session in sessions if session.overall is not None]
    assert overall
    assert all(any(factor is figure for figure in topic.figures) for topic, factor in overall)


def test_what_holds_no_working_is_not_copied(slim: CatalogueResult) -> None:
    assert all(without_workings(result) is result for result in slim.records.values())
    assert all(without_workings(result) is result for result in slim.devices.values())


def test_differences_of_comparisons_are_the_same(scored: CatalogueResult, slim: CatalogueResult) -> None:
    assert {name: each.differences for name, each in slim.comparisons.items()} == {
        name: each.differences for name, each in scored.comparisons.items()
    }
    full = {name: each.model_dump(mode="json") for name, each in scored.comparisons.items()}
    assert bare({name: each.model_dump(mode="json") for name, each in slim.comparisons.items()}) == bare(full)


def test_wear_of_the_same_day_is_the_same_but_for_workings(
    catalogue: PublishedCatalogue, scored: CatalogueResult, slim: CatalogueResult
) -> None:
    worn = sessions_worn(slim.records, catalogue)
    for device, result in scored.devices.items():
        full = [each.model_dump(mode="json") for each in result.meaning.same_day]
        assert [each.model_dump(mode="json") for each in same_day_wear(device, worn, catalogue)] == bare(full)


def test_what_is_said_of_the_whole_catalogue_is_the_same(
    catalogue: PublishedCatalogue, scored: CatalogueResult, slim: CatalogueResult
) -> None:
    of_full, of_slim = present(catalogue, scored), present(catalogue, slim)
    assert {name: getattr(of_slim, name) for name in WHOLE_CATALOGUE} == {
        name: getattr(of_full, name) for name in WHOLE_CATALOGUE
    }
    assert tuple(of_slim.papers) == tuple(of_full.papers)
    assert tuple(of_slim.instruments) == tuple(of_full.instruments)


def test_pages_of_comparisons_are_the_same(
    catalogue: PublishedCatalogue, scored: CatalogueResult, slim: CatalogueResult
) -> None:
    of_full, of_slim = Context(catalogue, scored), Context(catalogue, slim)
    for name, comparison in scored.comparisons.items():
        assert present_comparison(slim.comparisons[name], of_slim) == present_comparison(comparison, of_full)
    assert present_comparisons_index(of_slim) == present_comparisons_index(of_full)


def test_uses_of_methods_are_counted_part_by_part(
    catalogue: PublishedCatalogue, scored: CatalogueResult, slim: CatalogueResult
) -> None:
    compared = compared_devices(catalogue, scored.records, scored.devices)
    parts = (
        *(uses_in_record(result) for result in scored.records.values()),
        *(uses_in_device(result, slim.records) for result in scored.devices.values()),
        uses_beside(slim, {name: uses_in_compared(device) for name, device in compared.items()}),
    )
    whole = method_uses(scored)
    assert together(parts) == whole
    assert method_uses(slim) != whole
