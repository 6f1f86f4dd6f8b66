"""Comparisons: devices side by side, as pages, as papers and in lists."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from generator.model.catalogue_result import DeviceResult
from generator.model.comparison_result import ComparedDevice, ComparisonResult
from generator.model.device import Device
from generator.model.result import Finding
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
from generator.presenting.digits import value_text
from generator.presenting.figures import outcome_text
from generator.presenting.letterhead import page_head
from generator.presenting.topics.fit import method_words, range_text, state_words
from generator.presenting.topics.flow import run_state
from generator.presenting.views import Caution, Cautions, Fact, Link
from generator.presenting.wording import count_text, day_text, listed, recorded_text, sentence_case

COMPARISONS = Link("Comparisons", "comparisons/index.html")
_COLUMNS = ("Device", "Worn by", "Fit factor, lowest to highest", "Air supply", "Cautions")
_MOST_NAMED = 8


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
        device.id: cautions_for(_findings(context.result.devices[device.id], compared, context), context)
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
        ),
        id=result.id,
        title=result.title,
        question=result.question,
        note=result.note,
        sentences=tuple(_sentences(result, len(standing), context)),
        fit_chart=fit_chart(standing, context),
        no_fit_chart=missing,
        flow_chart=flow_chart(standing, context),
        no_flow_chart=missing,
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


def _findings(device: DeviceResult, compared: ComparedDevice, context: Context) -> Iterable[Finding]:
    """Return what bears on trust in what is shown: findings about the device, and those of the records shown."""
    yield from device.all_findings
    shown = {session.record for session in compared.sessions} | {item.record for item in compared.runs}
    for record in device.records:
        if record in shown:
            yield from context.result.records[record].all_findings


def _side_row(device: Device, compared: ComparedDevice, raised: Cautions, context: Context) -> SideRow:
    return SideRow(
        id=f"device-{device.id}",
        link=Link(device.name, f"devices/{device.id}.html"),
        about=(
            SideLine(f"{device.maker}. {device.kind.heading}"),
            SideLine(f"Mass {recorded_text(device.mass)}", "", f"mass-{device.id}"),
            SideLine(f"Price {recorded_text(device.price)}", "", f"price-{device.id}"),
        ),
        cells=tuple(
            SideCell(heading, lines)
            for heading, lines in zip(
                _COLUMNS[1:],
                (
                    _worn_by(device, compared, context.result.devices[device.id]),
                    _fit(device, compared, context),
                    _flow(device, compared, context),
                    _worst_caution(device, raised),
                ),
                strict=True,
            )
        ),
    )


def _worn_by(device: Device, compared: ComparedDevice, result: DeviceResult) -> tuple[SideLine, ...]:
    wearers = sorted({session.wearer for session in compared.sessions})
    donnings = {(session.record, session.wearer, session.donning) for session in compared.sessions}
    letters = f" ({listed(wearers)})" if wearers else ""
    return (
        SideLine(
            f"{count_text(len(wearers), 'wearer')}{letters}",
            count_text(len(donnings), "donning"),
            f"worn-{device.id}",
        ),
        SideLine("", _units(result)),
    )


def _units(result: DeviceResult) -> str:
    """Say how many units of a device were tested, as far as that is on record."""
    evidence = result.evidence
    assert evidence is not None
    if not evidence.units:
        return "which unit was tested is not recorded" if evidence.records else "no unit tested"
    more = " and others that are not told apart" if evidence.records_without_unit else ""
    return f"{count_text(len(evidence.units), 'unit')}{more} tested"


def _fit(device: Device, compared: ComparedDevice, context: Context) -> tuple[SideLine, ...]:
    lines = []
    for number, group in enumerate(compared.groups, start=1):
        words = (state_words(group, device), method_words(group, compared.groups, context))
        note = ", ".join(word for word in words if word)
        lines.append(SideLine(range_text(group, device, context), note, f"fit-{device.id}-{number}"))
    return tuple(lines) or (SideLine("not measured as supplied", "", f"fit-{device.id}-1"),)


def _flow(device: Device, compared: ComparedDevice, context: Context) -> tuple[SideLine, ...]:
    if not device.kind.powered:
        return (SideLine("no blower"),)
    lines = tuple(
        SideLine(
            value_text(item.run.mean, item.run.verdict.limit),
            f"{outcome_text(item.run.verdict, context)}; {run_state(item.run)}",
            f"flow-{item.record}-{item.run.run}",
        )
        for item in compared.runs
    )
    return lines or (SideLine("not measured as supplied"),)


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
