"""Results to the whole site as reader's data."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import TypeVar

from generator import __version__
from generator.model.base import Day
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue
from generator.presenting.catalogue_paper import CATALOGUE_PDF, catalogue_paper
from generator.presenting.caution_rules import present_caution_rules
from generator.presenting.comparing import present_comparing
from generator.presenting.comparisons import (
    comparison_paper,
    present_comparison,
    present_comparisons_index,
)
from generator.presenting.context import Context
from generator.presenting.corrections import PATH as CORRECTIONS
from generator.presenting.corrections import present_corrections_page
from generator.presenting.feed import present_feed
from generator.presenting.glossary import present_glossary
from generator.presenting.history import Happened
from generator.presenting.index_page import present_index
from generator.presenting.instrument_pages import present_instrument, present_instruments
from generator.presenting.letterhead import letterhead
from generator.presenting.method_pages import present_method, present_methods_index
from generator.presenting.method_uses import Uses, method_uses
from generator.presenting.open_data_page import present_data_page
from generator.presenting.page_parts import Paper
from generator.presenting.page_views import OpenData, Site
from generator.presenting.pages_of_devices import AroundDevices, around_devices, present_devices
from generator.presenting.pictures import picture_files
from generator.presenting.presented import PageData, Presented
from generator.presenting.reading_page import present_reading
from generator.presenting.reference_pages import present_about, present_requirements
from generator.presenting.traced_log import present_traced_log
from generator.presenting.views import IndexCell

About = TypeVar("About")
"""What a page is about."""


def _open_data(context: Context) -> OpenData:
    events = context.history.events
    newest = events[-1].day if events else None
    return OpenData(context.catalogue, context.result, __version__, context.records_sha256, newest)


def _last_changes(context: Context) -> dict[str, Day]:
    pages = {f"{page}.html": events for page, events in context.history.of_page.items()}
    pages["index.html"] = context.history.events
    pages[CORRECTIONS] = tuple(event for event in context.history.events if event.what is not Happened.NEW)
    return {path: events[-1].day for path, events in pages.items() if events}


def present(
    catalogue: PublishedCatalogue,
    result: CatalogueResult,
    with_stills: bool = False,
    uses: Mapping[str, Uses] | None = None,
    around: AroundDevices | None = None,
    cells: Mapping[str, tuple[IndexCell, ...]] | None = None,
) -> Site:
    """Return everything to render, from the checked records and their results; stills only where asked for.

    Where results come without their workings, `uses` says which methods these named. `around`, and `cells` as
    `present_index` takes them, are found here where they are not given.
    """
    context = Context(catalogue, result)
    index = present_index(context, cells)
    traced_log = present_traced_log(context)
    uses = uses if uses is not None else method_uses(result)
    around = around if around is not None else around_devices(context)
    of_devices = present_devices(catalogue.devices, context, around, with_stills=with_stills)
    comparisons = _each(present_comparison, "comparisons", result.comparisons, context)

    def paper(comparison: str) -> Paper:
        return comparison_paper(comparisons.at(f"comparisons/{comparison}.html"), context)

    return Site(
        data=_open_data(context),
        data_page=present_data_page(context),
        letterhead=letterhead(context),
        index=index,
        devices=of_devices.pages,
        records=of_devices.records,
        sheets=of_devices.sheets,
        methods_index=present_methods_index(context, traced_log, uses),
        methods=Presented(
            {
                f"methods/{name}.html": partial(present_method, method, uses.get(name))
                for name, method in catalogue.methods.items()
            }
        ),
        requirements=present_requirements(context),
        caution_rules=present_caution_rules(context),
        corrections=present_corrections_page(context),
        about=present_about(context),
        reading=present_reading(),
        glossary=present_glossary(),
        instruments_index=present_instruments(context),
        instruments=_each(present_instrument, "instruments", catalogue.instruments, context),
        comparisons_index=present_comparisons_index(context),
        comparisons=comparisons,
        comparing=present_comparing(of_devices.panels, around.usual, context),
        papers=Presented(
            {f"comparisons/{name}.pdf": partial(paper, name) for name in result.comparisons}
            | {CATALOGUE_PDF.href: partial(catalogue_paper, index, context)}
        ),
        pictures=picture_files(catalogue),
        feed=present_feed(context),
        last_changes=_last_changes(context),
        traced_log=traced_log,
        stills=of_devices.stills,
        uses=uses,
    )


def _each(
    presenter: Callable[[About, Context], PageData], folder: str, things: Mapping[str, About], context: Context
) -> Presented[PageData]:
    """Return the pages of what has a page each, named by its id in a folder of the site."""
    return Presented({f"{folder}/{name}.html": partial(presenter, thing, context) for name, thing in things.items()})
