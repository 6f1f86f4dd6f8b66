"""Results to the whole site as reader's data."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import TypeVar

from generator import __version__
from generator.model.catalogue_result import CatalogueResult
from generator.model.device import DeviceKind
from generator.model.published import PublishedCatalogue
from generator.presenting.catalogue_paper import CATALOGUE_PDF, catalogue_paper
from generator.presenting.caution_rules import present_caution_rules
from generator.presenting.cautions import cautions_for
from generator.presenting.comparisons import (
    comparison_links,
    comparison_paper,
    present_comparison,
    present_comparisons_index,
)
from generator.presenting.context import Context
from generator.presenting.device_page import index_row, present_device_page
from generator.presenting.fit_sessions import landmarks
from generator.presenting.instrument_pages import present_instrument, present_instruments
from generator.presenting.letterhead import letterhead, page_head
from generator.presenting.page_parts import Paper
from generator.presenting.page_views import IndexGroup, IndexPage, OpenData, Sheet, Site
from generator.presenting.pictures import picture_files
from generator.presenting.presented import PageData, Presented
from generator.presenting.record_page import present_record_page
from generator.presenting.reference_pages import (
    present_about,
    present_method,
    present_methods_index,
    present_requirements,
)
from generator.presenting.registry import indexed_topics
from generator.presenting.sheet import present_sheet
from generator.presenting.traced_log import present_traced_log
from generator.presenting.views import ScaleChart
from generator.presenting.wording import count_text, sentence_case

About = TypeVar("About")
"""What a page is about."""


def _topic_columns() -> tuple[str, ...]:
    return tuple(topic.INDEX_HEADING for topic in indexed_topics().values())


def _index(context: Context) -> IndexPage:
    catalogue = context.catalogue
    publication = catalogue.publication
    groups = []
    for kind in DeviceKind:
        devices = sorted(
            (device for device in catalogue.devices.values() if device.kind is kind), key=lambda device: device.name
        )
        if devices:
            rows = tuple(index_row(device, context) for device in devices)
            groups.append(IndexGroup(kind.heading, kind.slug, rows))
    withdrawn = sum(test.withdrawn is not None for test in catalogue.device_tests.values())
    of_them = f" ({count_text(withdrawn, 'of them', 'of them')} withdrawn)" if withdrawn else ""
    counts = (
        f"{sentence_case(count_text(len(catalogue.devices), 'device'))}, "
        f"{count_text(len(catalogue.device_tests), 'test record')}{of_them}, "
        f"{count_text(len(catalogue.wearers), 'wearer')}."
    )
    return IndexPage(
        head=page_head("index.html", publication.title, publication.subtitle),
        question="How much air does it deliver, how much cleaner is the air inside, and how sure is that?",
        promise="Every figure leads to the record it comes from, the equation and the source.",
        scale=ScaleChart(
            id="key-scale",
            kind="fit",
            title="The fit factor scale that every page uses",
            description=(
                "A logarithmic rule from 1 to 100 000. A fit factor of 100 means that the counter saw one hundredth of "
                "the outside particles inside."
            ),
            rows=(),
            landmarks=landmarks(context, []),
        ),
        columns=("Device", *_topic_columns(), "Records and cautions"),
        groups=tuple(groups),
        counts=counts,
        cautions=cautions_for((), context),
        catalogue_pdf=CATALOGUE_PDF,
        comparisons=comparison_links(context),
    )


def present(catalogue: PublishedCatalogue, result: CatalogueResult) -> Site:
    """Return everything to render, from the checked records and their results."""
    context = Context(catalogue, result)
    index = _index(context)
    traced_log = present_traced_log(context)
    devices = _each(present_device_page, "devices", catalogue.devices, context)
    records = _each(present_record_page, "records", catalogue.device_tests, context)
    comparisons = _each(present_comparison, "comparisons", result.comparisons, context)

    def sheet(device: str) -> Sheet:
        of_device = [records.at(f"records/{test.id}.html") for test in catalogue.tests_of(device)]
        return present_sheet(devices.at(f"devices/{device}.html"), of_device, context)

    def paper(comparison: str) -> Paper:
        return comparison_paper(comparisons.at(f"comparisons/{comparison}.html"), context)

    return Site(
        data=OpenData(catalogue, result, __version__),
        letterhead=letterhead(context),
        index=index,
        devices=devices,
        records=records,
        sheets=Presented({f"devices/{name}.pdf": partial(sheet, name) for name in catalogue.devices}),
        methods_index=present_methods_index(context, traced_log),
        methods=Presented(
            {f"methods/{name}.html": partial(present_method, method) for name, method in catalogue.methods.items()}
        ),
        requirements=present_requirements(context),
        caution_rules=present_caution_rules(context),
        about=present_about(context),
        instruments_index=present_instruments(context),
        instruments=_each(present_instrument, "instruments", catalogue.instruments, context),
        comparisons_index=present_comparisons_index(context),
        comparisons=comparisons,
        papers=Presented(
            {f"comparisons/{name}.pdf": partial(paper, name) for name in result.comparisons}
            | {CATALOGUE_PDF.href: partial(catalogue_paper, index, context)}
        ),
        pictures=picture_files(catalogue),
        traced_log=traced_log,
    )


def _each(
    presenter: Callable[[About, Context], PageData], folder: str, things: Mapping[str, About], context: Context
) -> Presented[PageData]:
    """Return the pages of what has a page each, named by its id in a folder of the site."""
    return Presented({f"{folder}/{name}.html": partial(presenter, thing, context) for name, thing in things.items()})
