"""Results to the whole site as reader's data."""

from __future__ import annotations

from generator import __version__
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue
from generator.presenting.catalogue_paper import catalogue_paper
from generator.presenting.caution_rules import present_caution_rules
from generator.presenting.comparisons import (
    comparison_paper,
    present_comparison,
    present_comparisons_index,
)
from generator.presenting.context import Context
from generator.presenting.device_page import present_device_page
from generator.presenting.index_page import present_index
from generator.presenting.instrument_pages import present_instrument, present_instruments
from generator.presenting.letterhead import letterhead
from generator.presenting.page_views import OpenData, Site
from generator.presenting.pictures import picture_files
from generator.presenting.record_page import present_record_page
from generator.presenting.reference_pages import (
    present_about,
    present_method,
    present_methods_index,
    present_requirements,
)
from generator.presenting.sheet import present_sheet
from generator.presenting.traced_log import present_traced_log


def present(catalogue: PublishedCatalogue, result: CatalogueResult) -> Site:
    """Return everything to render, from the checked records and their results."""
    context = Context(catalogue, result)
    devices = tuple(present_device_page(device, context) for device in catalogue.devices.values())
    records = {test.id: present_record_page(test, context) for test in catalogue.device_tests.values()}
    sheets = tuple(
        present_sheet(page, [records[test.id] for test in catalogue.tests_of(page.id)], context) for page in devices
    )
    comparisons = tuple(present_comparison(result, context) for result in result.comparisons.values())
    index = present_index(context)
    traced_log = present_traced_log(context)
    return Site(
        data=OpenData(catalogue, result, __version__),
        letterhead=letterhead(context),
        index=index,
        devices=devices,
        records=tuple(records.values()),
        sheets=sheets,
        methods_index=present_methods_index(context, traced_log),
        methods=tuple(present_method(method) for method in catalogue.methods.values()),
        requirements=present_requirements(context),
        caution_rules=present_caution_rules(context),
        about=present_about(context),
        instruments_index=present_instruments(context),
        instruments=tuple(present_instrument(each, context) for each in catalogue.instruments.values()),
        comparisons_index=present_comparisons_index(context),
        comparisons=comparisons,
        papers=(*(comparison_paper(page, context) for page in comparisons), catalogue_paper(index, context)),
        pictures=picture_files(catalogue),
        traced_log=traced_log,
    )
