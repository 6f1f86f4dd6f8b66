"""Results to the whole site as reader's data."""

from __future__ import annotations

from generator import __version__
from generator.model.base import Day
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue
from generator.presenting.catalogue_paper import catalogue_paper
from generator.presenting.caution_rules import present_caution_rules
from generator.presenting.comparing import present_comparing
from generator.presenting.comparisons import (
    comparison_paper,
    present_comparison,
    present_comparisons_index,
)
from generator.presenting.context import Context
from generator.presenting.device_page import present_device_page
from generator.presenting.feed import present_feed
from generator.presenting.glossary import present_glossary
from generator.presenting.index_page import present_index
from generator.presenting.instrument_pages import present_instrument, present_instruments
from generator.presenting.letterhead import letterhead
from generator.presenting.method_pages import present_method, present_methods_index
from generator.presenting.method_uses import method_uses
from generator.presenting.open_data_page import present_data_page
from generator.presenting.page_views import OpenData, Site
from generator.presenting.pictures import picture_files
from generator.presenting.reading_page import present_reading
from generator.presenting.record_page import present_record_page
from generator.presenting.reference_pages import present_about, present_requirements
from generator.presenting.sheet import present_sheet
from generator.presenting.still_views import Still
from generator.presenting.stills import present_stills, with_links
from generator.presenting.traced_log import present_traced_log


def _open_data(context: Context) -> OpenData:
    events = context.history.events
    newest = events[-1].day if events else None
    return OpenData(context.catalogue, context.result, __version__, context.records_sha256, newest)


def _last_changes(context: Context) -> dict[str, Day]:
    pages = {f"{page}.html": events for page, events in context.history.of_page.items()}
    pages["index.html"] = context.history.events
    return {path: events[-1].day for path, events in pages.items() if events}


def present(catalogue: PublishedCatalogue, result: CatalogueResult, with_stills: bool = False) -> Site:
    """Return everything to render, from the checked records and their results; stills only where asked for."""
    context = Context(catalogue, result)
    devices = tuple(present_device_page(device, context) for device in catalogue.devices.values())
    stills: dict[str, tuple[Still, ...]] = {}
    if with_stills:
        stills = {
            page.id: present_stills(catalogue.devices[page.id], result.devices[page.id], context) for page in devices
        }
        devices = tuple(with_links(page, stills[page.id]) for page in devices)
    records = {test.id: present_record_page(test, context) for test in catalogue.device_tests.values()}
    sheets = tuple(
        present_sheet(page, [records[test.id] for test in catalogue.tests_of(page.id)], context) for page in devices
    )
    comparisons = tuple(present_comparison(result, context) for result in result.comparisons.values())
    index = present_index(context)
    traced_log = present_traced_log(context)
    uses = method_uses(result)
    return Site(
        data=_open_data(context),
        data_page=present_data_page(context),
        letterhead=letterhead(context),
        index=index,
        devices=devices,
        records=tuple(records.values()),
        sheets=sheets,
        methods_index=present_methods_index(context, traced_log, uses),
        methods=tuple(present_method(method, uses.get(method.id)) for method in catalogue.methods.values()),
        requirements=present_requirements(context),
        caution_rules=present_caution_rules(context),
        about=present_about(context),
        reading=present_reading(),
        glossary=present_glossary(),
        instruments_index=present_instruments(context),
        instruments=tuple(present_instrument(each, context) for each in catalogue.instruments.values()),
        comparisons_index=present_comparisons_index(context),
        comparisons=comparisons,
        comparing=present_comparing(devices, context),
        papers=(*(comparison_paper(page, context) for page in comparisons), catalogue_paper(index, context)),
        pictures=picture_files(catalogue),
        feed=present_feed(context),
        last_changes=_last_changes(context),
        traced_log=traced_log,
        stills=tuple(still for of_device in stills.values() for still in of_device),
    )
