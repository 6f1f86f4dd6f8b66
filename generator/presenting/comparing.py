"""The page that a reader chooses devices on, and the panel of each device that it sets beside others."""

from __future__ import annotations

from dataclasses import replace

from generator.model.device import Device, DeviceKind
from generator.presenting.cautions import cautions_for
from generator.presenting.comparison_charts import Usual, fit_chart, flow_chart, usual_conditions
from generator.presenting.comparisons import COMPARING, COMPARISONS, comparison_links
from generator.presenting.context import Context
from generator.presenting.fit_sessions import landmarks
from generator.presenting.letterhead import page_head
from generator.presenting.page_views import DevicePage
from generator.presenting.panel_facts import FACT_ROWS, Side, flow_that_governs, panel_facts
from generator.presenting.panel_pairs import pairs_held_by
from generator.presenting.panel_views import Choice, ChoiceGroup, ComparingPage, Panel
from generator.presenting.presented import Presented
from generator.presenting.scale_captions import NOT_HELD
from generator.presenting.side_cells import fit_lines, shown_findings
from generator.presenting.standing import withdrawn_text
from generator.presenting.topics.fit import COUNTERS
from generator.presenting.views import Link, ScaleChart
from generator.presenting.wording import count_text, sentence_case

_WORST = 3
"""Cautions whose headings stand in a panel; the device's page has all."""
_SENTENCES = 3
"""How many of the sentences that open a device's page open its panel."""
_WITHDRAWN = "It was withdrawn; its page has what was measured."


def usual_of(context: Context) -> Usual:
    """Return the conditions that most devices were worn under, which the charts of panels do not repeat."""
    compared = context.result.compared
    return usual_conditions([(context.catalogue.devices[name], found) for name, found in compared.items()])


def present_comparing(panels: Presented[Panel], usual: Usual, context: Context) -> ComparingPage:
    """Return the page that devices are chosen on, with the panels that it sets beside one another."""
    devices = context.catalogue.devices.values()
    groups = []
    for kind in DeviceKind:
        of_kind = sorted((device for device in devices if device.kind is kind), key=lambda device: device.name)
        if of_kind:
            groups.append(ChoiceGroup(kind.slug, kind.heading, tuple(_choice(device) for device in of_kind)))
    return ComparingPage(
        head=page_head(
            COMPARING.href,
            COMPARING.text,
            "Two to five devices one above the other on the same scales, and what the tests say of each pair.",
            trail=(COMPARISONS,),
        ),
        title=COMPARING.text,
        lead=(
            "Devices stand as supplied, by the records that stand, one above the other on scales with the same ends. A "
            "difference is stated only for a pair that a comparison of this catalogue has worked out."
        ),
        groups=tuple(groups),
        scale=ScaleChart(
            id="key-scale",
            kind="fit",
            title="The fit factor scale that all charts below share",
            description="A logarithmic rule from 1 to 100 000 with named spans.",
            rows=(),
            landmarks=landmarks(context, []),
        ),
        fit_note=_fit_note(usual, context),
        rows=FACT_ROWS,
        other_kind=(
            "Not compared: they are of different kinds. Such devices meet the face in other ways, and are held against "
            "other requirements and often tested by other exercises, so that two of them are compared only where a "
            "comparison of this catalogue asks about both. None does."
        ),
        other_kind_in_short="Not compared: they are of different kinds.",
        comparisons=comparison_links(context),
        cautions=cautions_for((), context),
        panels=panels,
    )


def _choice(device: Device) -> Choice:
    withdrawn = withdrawn_text(device.withdrawn) if device.withdrawn is not None else None
    return Choice(device.id, device.name, device.maker, withdrawn)


def _fit_note(usual: Usual, context: Context) -> str:
    protocol, counter = usual
    start = (
        "A diamond is one session, its bar the 95 % interval, an arrow “at least”; two strokes joined by a line are "
        "bounds between which it lies. A letter is a wearer; the same letter is the same person with every device. "
        f"{NOT_HELD}"
    )
    if protocol not in context.catalogue.protocols:
        return start
    title = context.catalogue.protocols[protocol].title
    return f"{start} Unless a line says otherwise: {title}; {COUNTERS[counter]}."


def present_panel(page: DevicePage, usual: Usual, not_within_kind: str | None, context: Context) -> Panel:
    """Return the panel of a device's page; `not_within_kind` says why no pair of its kind is compared, if so."""
    device, result = context.catalogue.devices[page.id], context.result.devices[page.id]
    compared = context.result.compared[device.id]
    pairs = pairs_held_by(page.id, context)
    raised = cautions_for(shown_findings(result, compared, context), context).raised
    more = len(raised) - _WORST
    alone = [] if compared.withdrawn else [(device, compared)]
    side = Side(device, compared, result, context)
    absent = _WITHDRAWN if compared.withdrawn else "Not measured as supplied."
    return Panel(
        id=page.id,
        kind=device.kind.slug,
        link=Link(page.name, page.head.path),
        heading=page.kind,
        maker=page.maker,
        state=page.head.state,
        notice=next(iter(page.head.notices), None),
        answer=() if compared.withdrawn else page.answer[:_SENTENCES],
        cautions=tuple(caution.heading for caution in raised[:_WORST]),
        more_cautions=f"{sentence_case(count_text(more, 'more caution'))} on its page" if more > 0 else "",
        sheet=page.sheet,
        fit_chart=_fit_chart(fit_chart(alone, context, usual), page.id),
        no_fit=absent,
        fit_lines=() if compared.withdrawn else fit_lines(device, compared, context),
        flow_chart=_named(flow_chart(alone, context), f"{page.id}.flow"),
        no_flow=absent if compared.withdrawn or device.kind.powered else "No blower.",
        flow_lines=flow_that_governs(side),
        facts=panel_facts(side),
        pairs=pairs,
        never_compared=f"Not compared: {page.name} was withdrawn." if compared.withdrawn else None,
        not_within_kind=not_within_kind,
    )


def _fit_chart(chart: ScaleChart | None, device: str) -> ScaleChart | None:
    """Give a chart its own id, and leave its named spans to the rule above all charts."""
    if chart is None:
        return None
    levels = tuple(landmark for landmark in chart.landmarks if landmark.high is None)
    return replace(chart, id=f"{device}.fit", landmarks=levels)


def _named(chart: ScaleChart | None, identity: str) -> ScaleChart | None:
    return None if chart is None else replace(chart, id=identity)
