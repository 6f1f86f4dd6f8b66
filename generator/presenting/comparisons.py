"""Comparisons: devices side by side, as pages, as papers and in lists."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from generator.model.comparison_result import ComparedDevice, ComparisonResult
from generator.model.device import Device
from generator.presenting.cautions import BOXES, cautions_for
from generator.presenting.comparison_charts import MOST_DRAWN, fit_chart, flow_chart
from generator.presenting.comparison_differences import difference_workings, differences_table, not_stated_table
from generator.presenting.comparison_views import (
    ComparisonPage,
    ComparisonPaper,
    ComparisonsIndex,
    SideCell,
    SideLine,
    SideRow,
)
from generator.presenting.context import Context
from generator.presenting.letterhead import page_head
from generator.presenting.side_cells import (
    fit_lines,
    flow_lines,
    mass_text,
    recorded_in_words,
    shown_findings,
    worn_lines,
)
from generator.presenting.views import Caution, Cautions, Fact, Link
from generator.presenting.wording import count_text, day_text, listed, recorded_text, sentence_case

COMPARISONS = Link("Comparisons", "comparisons/index.html")
COMPARING = Link("Compare devices of your choice", "compare.html")
MOST_CHOSEN = 5
"""Devices that the page of one's own choice sets beside one another; with more, none would be read."""
_COLUMNS = ("Device", "Worn by", "Fit factor, lowest to highest", "Air supply", "Cautions")
_MOST_NAMED = 8


def comparing_link(devices: Sequence[str], text: str) -> Link:
    """Return the link that opens the page with devices chosen; what stands after # is a choice, not a place."""
    return Link(text, f"{COMPARING.href}#devices={','.join(devices)}")


def comparison_links(context: Context, device: str | None = None) -> tuple[Link, ...]:
    """Return the links to all comparisons, or to those that hold a device."""
    results = context.result.comparisons.values()
    return tuple(_link(result) for result in results if device is None or device in result.devices)


def _link(result: ComparisonResult) -> Link:
    return Link(result.title, f"comparisons/{result.id}.html")


def present_comparisons_index(context: Context) -> ComparisonsIndex:
    """Return the list of all comparisons."""
    facts = [(result.of_kind, _fact(result)) for result in context.result.comparisons.values()]
    return ComparisonsIndex(
        head=page_head(
            COMPARISONS.href,
            "Comparisons",
            "Devices side by side on the same scales. A difference is stated only where at least three wearers wore "
            "both under the same conditions, or at least three others each.",
        ),
        choose=COMPARING,
        own=tuple(fact for of_kind, fact in facts if not of_kind),
        of_kinds=tuple(fact for of_kind, fact in facts if of_kind),
    )


def _fact(result: ComparisonResult) -> Fact:
    link = _link(result)
    return Fact(link.text, f"{result.question} {_count_of_devices(len(result.devices))}.", link.href)


def _count_of_devices(count: int) -> str:
    return sentence_case(count_text(count, "device"))


def present_comparison(result: ComparisonResult, context: Context) -> ComparisonPage:
    """Return the page of one comparison."""
    standing = [
        (context.catalogue.devices[name], compared)
        for name, compared in result.devices.items()
        if not compared.withdrawn
    ]
    raised = {
        device.id: cautions_for(shown_findings(context.result.devices[device.id], compared, context), context)
        for device, compared in standing
    }
    too_many = (
        f"With more than {MOST_DRAWN} devices nothing is drawn here; the catalogue's first page has a scale each."
    )
    missing = too_many if len(standing) > MOST_DRAWN else "None of these devices was measured in this way as supplied."
    return ComparisonPage(
        head=page_head(
            f"comparisons/{result.id}.html",
            result.title,
            result.question,
            state=(
                Fact("Comparison", result.id),
                Fact("Devices", str(len(standing))),
                Fact("Last record issued", _last_issued(result, context)),
            ),
            trail=(COMPARISONS,),
            records=context.state_of(tuple(result.devices)),
        ),
        id=result.id,
        title=result.title,
        question=result.question,
        note=result.note,
        sentences=tuple(_sentences(result, len(standing), context)),
        fit_chart=fit_chart(standing, context),
        no_fit_chart=missing,
        flow_chart=flow_chart(standing, context),
        no_flow_chart=missing
        if any(device.kind.powered for device, _ in standing)
        else "None of these devices has a blower.",
        columns=_COLUMNS,
        rows=tuple(_side_row(device, compared, raised[device.id], context) for device, compared in standing),
        differences=differences_table(result, context),
        not_stated=not_stated_table(result, context),
        no_differences=f"No difference is stated: {result.no_differences}."
        if result.no_differences
        else "There is no pair to compare.",
        workings=difference_workings(result, context),
        cautions=_cautions(raised, context),
        pdf=Link("This comparison (PDF)", f"comparisons/{result.id}.pdf"),
        choose=comparing_link([device.id for device, _ in standing], "Add or leave out devices")
        if len(standing) <= MOST_CHOSEN
        else None,
    )


def comparison_paper(page: ComparisonPage, context: Context) -> ComparisonPaper:
    """Return a comparison as it is set on paper."""
    issued = page.head.state[-1].text
    return ComparisonPaper(
        path=page.pdf.href,
        head=replace(page.head, root=context.catalogue.publication.base_address),
        running_head=f"{page.title} · {page.id} · newest record issued {issued}",
        comparison=page,
    )


def _last_issued(result: ComparisonResult, context: Context) -> str:
    tests = context.catalogue.device_tests
    issued = [tests[record].dates.issued for name in result.devices for record in context.result.devices[name].records]
    return day_text(max(issued)) if issued else "no record issued"


def _sentences(result: ComparisonResult, standing: int, context: Context) -> Iterable[str]:
    yield (
        f"{_count_of_devices(standing)} as supplied, by the records that stand. What was measured in a modified state "
        "is on the page of its device."
    )
    for name, compared in result.devices.items():
        withdrawn = context.catalogue.devices[name].withdrawn
        if compared.withdrawn and withdrawn is not None:
            yield (
                f"{context.catalogue.devices[name].name} was withdrawn on {day_text(withdrawn.date)} and is left out: "
                f"{withdrawn.reason}"
            )


def _side_row(device: Device, compared: ComparedDevice, raised: Cautions, context: Context) -> SideRow:
    return SideRow(
        id=f"device-{device.id}",
        link=Link(device.name, f"devices/{device.id}.html"),
        about=(
            SideLine(f"{device.maker}. {device.kind.heading}"),
            SideLine(_mass_words(device), "", f"mass-{device.id}"),
            SideLine(f"Price {recorded_text(device.price)}", "", f"price-{device.id}"),
        ),
        cells=tuple(
            SideCell(heading, lines)
            for heading, lines in zip(
                _COLUMNS[1:],
                (
                    worn_lines(device, compared, context.result.devices[device.id]),
                    fit_lines(device, compared, context),
                    flow_lines(device, compared, context),
                    _worst_caution(device, raised),
                ),
                strict=True,
            )
        ),
    )


def _mass_words(device: Device) -> str:
    words = (f"Mass {mass_text(device.mass)}", recorded_in_words(device.mass))
    return ", ".join(word for word in words if word)


def _worst_caution(device: Device, raised: Cautions) -> tuple[SideLine, ...]:
    count = len(raised.raised)
    worst = raised.open[0].heading if raised.open else ""
    return (SideLine(count_text(count, "caution"), worst, f"cautions-{device.id}"),)


def _cautions(raised: dict[str, Cautions], context: Context) -> Cautions:
    """Gather the cautions of all devices, worst first, each naming the devices that raise it."""
    by_id: dict[str, Caution] = {}
    raisers: dict[str, list[str]] = {}
    for device, cautions in raised.items():
        for caution in cautions.raised:
            by_id[caution.id] = caution
            raisers.setdefault(caution.id, []).append(context.catalogue.devices[device].name)
    worst_first = [
        replace(caution, text=f"{caution.text} Raised by {_raised_by(raisers[caution.id], len(raised))}.")
        for caution in sorted(by_id.values(), key=lambda caution: (caution.severity, caution.id))
    ]
    standing = cautions_for((), context).standing
    return Cautions(tuple(worst_first[:BOXES]), tuple(worst_first[BOXES:]), standing)


def _raised_by(names: list[str], of: int) -> str:
    return listed(names) if len(names) <= _MOST_NAMED else f"{len(names)} of {of} devices"
