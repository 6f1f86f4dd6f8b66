"""The whole catalogue on paper: one row for each device, and what a reader needs to read it."""

from __future__ import annotations

from dataclasses import replace

from generator.model.device import DeviceKind
from generator.model.fit_result import FitSummary
from generator.model.flow_result import FlowSummary
from generator.model.reference import CriterionQuantity
from generator.presenting.cautions import cautions_for
from generator.presenting.comparison_views import CatalogueGroup, CataloguePaper, CatalogueRow
from generator.presenting.context import Context
from generator.presenting.device_page import all_findings
from generator.presenting.digits import quantity_text
from generator.presenting.flow_standing import supply_outcome
from generator.presenting.glossary import GLOSSARY
from generator.presenting.index_views import IndexGroup, IndexPage, IndexRow
from generator.presenting.topics.fit import state_words, worst_first
from generator.presenting.views import Cautions, Fact, Link
from generator.presenting.wording import count_text, day_text, sentence_case, source_text

CATALOGUE_PDF = Link("The whole catalogue (PDF)", "catalogue.pdf")
_COLUMNS = ("Device", "Worn by", "Fit factor", "Air supply", "Cautions, the worst")
_LONGEST_CAUTION = 64
_READING = (
    "One row is one device, as the first page of the published catalogue has it. The fit factor is the lowest and the "
    "highest overall one of a session, in the state named; where several states were tested, the one with the lowest "
    "factor stands, as supplied before modified.",
    "The air supply is that of the worst state, which governs, with its verdict on the requirement above the group. "
    "A verdict is about the items tested, in that state, on that day.",
    "No workings stand here. Each device's page leads to its data sheet, which has them.",
)


def catalogue_paper(index: IndexPage, context: Context) -> CataloguePaper:
    """Return the catalogue on paper, made of the rows of its first page."""
    publication = context.catalogue.publication
    findings = [finding for result in context.result.devices.values() for finding in all_findings(result, context)]
    raised = cautions_for(findings, context)
    issued = [test.dates.issued for test in context.catalogue.device_tests.values()]
    newest = day_text(max(issued)) if issued else "no record issued"
    return CataloguePaper(
        path=CATALOGUE_PDF.href,
        head=replace(index.head, root=publication.base_address),
        running_head=f"{publication.title} · newest record issued {newest}",
        cover=(
            Fact("Publisher", publication.publisher),
            Fact("Published at", publication.base_address),
            Fact("Newest record issued", newest),
            Fact("Holds", index.counts),
        ),
        reading=_READING,
        scale=index.scale,
        contents=(
            *(Link(group.heading, f"#{group.anchor}") for group in index.groups),
            Link("Cautions", "#cautions"),
            Link("Methods", "#methods"),
            Link("Glossary", "#glossary"),
        ),
        groups=tuple(_group(group, context) for group in index.groups),
        cautions=Cautions(raised.raised, (), raised.standing),
        methods=tuple(Link(method.title, f"methods/{method.id}.html") for method in context.catalogue.methods.values()),
        glossary=GLOSSARY,
    )


_OF_COLUMNS = (CriterionQuantity.OVERALL_FIT_FACTOR, CriterionQuantity.SUPPLY_FLOW)


def _group(group: IndexGroup, context: Context) -> CatalogueGroup:
    kind = DeviceKind(group.anchor.replace("-", "_"))
    # Those of the two columns of results; what a device is held against besides stands on its sheet.
    levels = [
        criterion
        for criterion in context.catalogue.criteria.values()
        if kind in criterion.kinds and criterion.quantity in _OF_COLUMNS
    ]
    return CatalogueGroup(
        heading=group.heading,
        anchor=group.anchor,
        levels=tuple(
            f"{sentence_case(level.title)}: at least {quantity_text(level.limit, level.unit)}. "
            f"Source: {source_text(level.sources[0]).rstrip('.')}."
            for level in sorted(levels, key=lambda level: (level.quantity, level.limit, level.id))
        ),
        columns=_COLUMNS,
        rows=tuple(_row(row, context) for row in group.rows),
    )


def _row(row: IndexRow, context: Context) -> CatalogueRow:
    cells = {cell.topic: cell.text for cell in row.cells}
    withdrawn = context.catalogue.devices[row.id].withdrawn
    state = f", withdrawn on {day_text(withdrawn.date)}" if withdrawn is not None else ""
    worst = f": {_shortened(row.caution)}" if row.caution else ""
    return CatalogueRow(
        link=row.link,
        about=f"{row.maker}{state}",
        address=row.link.href,
        worn=_worn(row.id, context),
        fit=f"{cells['fit']}{_state(row.id, context)}",
        flow=f"{cells['flow']}{_verdict(row.id, context)}",
        cautions=f"{row.cautions}{worst}",
    )


def _shortened(heading: str) -> str:
    """Cut a heading after a word where it is long; it stands in full among the cautions."""
    if len(heading) <= _LONGEST_CAUTION:
        return heading
    return f"{heading[:_LONGEST_CAUTION].rpartition(' ')[0]} …"


def _worn(device: str, context: Context) -> str:
    summary = context.result.devices[device].topics.get("fit")
    if not isinstance(summary, FitSummary) or not summary.wearers:
        return "nobody"
    return f"{count_text(len(summary.wearers), 'wearer')}, {count_text(summary.donnings, 'donning')}"


def _state(device: str, context: Context) -> str:
    """Name the state that a device's fit factors stand for, and how many others were tested."""
    summary = context.result.devices[device].topics.get("fit")
    if not isinstance(summary, FitSummary) or not summary.groups:
        return ""
    words = [state_words(worst_first(summary)[0], context.catalogue.devices[device])]
    if len(summary.groups) > 1:
        words.append(count_text(len(summary.groups) - 1, "other state"))
    return "".join(f"; {word}" for word in words if word)


def _verdict(device: str, context: Context) -> str:
    """Say how the state that governs stands to its requirement."""
    summary = context.result.devices[device].topics.get("flow")
    if not isinstance(summary, FlowSummary) or summary.governing is None:
        return ""
    return f": {supply_outcome(summary.governing.verdict, summary.states, context)}"
