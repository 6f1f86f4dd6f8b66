"""Which stills for video a device has, and the words on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from generator.model.catalogue_result import DeviceResult
from generator.model.device import Device
from generator.model.fit_result import FitGroup
from generator.model.flow_result import FlowResult, FlowRunResult, FlowSummary
from generator.presenting.context import Context
from generator.presenting.digits import value_text
from generator.presenting.fit_sessions import landmarks, level_of, marks_of
from generator.presenting.flow_tables import shown_limit
from generator.presenting.flow_words import run_state, short_state
from generator.presenting.modified_words import numbered
from generator.presenting.page_views import DevicePage
from generator.presenting.reviewed_device import ReviewedDevice
from generator.presenting.statements_of_air import against_requirement, delivered_words
from generator.presenting.statements_of_fit import counts_particles, first_groups, fit_sentence, fit_state, records_of
from generator.presenting.still_views import STILLS_FOLDER, ScaleEnd, Still
from generator.presenting.topics.fit import range_ends
from generator.presenting.topics.flow import flow_requirement
from generator.presenting.views import Landmark, Link, ScaleMark, ScaleRow
from generator.presenting.wording import count_text, listed, sentence_case, told_apart

_MOST_RUNS = 5
"""So many runs are drawn: the one that governs, then those with the least flow of the same configuration."""
_MOST_RECORDS = 3
_THIS = "this device"
_WHAT = {"fit": "fit factor", "flow": "air supply"}
_OF_WEARERS = "These wearers, these items, these days: others may see less. It is no assigned protection factor."
_OF_ITEMS = "The items tested, in these states, on these days. How well it fits and filters is another matter."
_BARS = "Bars are 95 % intervals."
_INVENTED = "Invented demonstration: device, maker, wearers and figures are made up. Decide nothing by it."


def present_stills(device: Device, result: DeviceResult, context: Context) -> tuple[Still, ...]:
    """Return the stills of a device: of its fit factors and of its air supply, where there are any."""
    of = ReviewedDevice(device, result, context)
    if device.withdrawn is not None:
        return ()
    # The rule of fit factors is one of particles.
    of_particles = [group for group in first_groups(of)[:1] if counts_particles(group, of)]
    return (*(_fit(group, of) for group in of_particles), *_flow(of))


def with_links(page: DevicePage, stills: Sequence[Still]) -> DevicePage:
    """Return a device's page with links to its stills."""
    links = tuple(
        Link(f"{_WHAT[still.kind]}{words}", path)
        for still in stills
        for words, path in (("", still.light_path), (", dark", still.dark_path))
    )
    return replace(page, may_be_said=replace(page.may_be_said, stills=links))


def _fit(group: FitGroup, of: ReviewedDevice) -> Still:
    donnings = group.over_wearers.donnings
    rows = tuple(
        ScaleRow(
            wearer,
            tuple(mark for each in donnings if each.wearer == wearer for mark in marks_of(each.factor, each.record)),
        )
        for wearer in group.over_wearers.wearers
    )
    records = records_of(group)
    texts = dict.fromkeys(range_ends(group, of.device, of.context))
    values = (group.lowest.value or 0, group.highest.value or 0)
    return _still(
        of,
        kind="fit",
        sentence=f"{fit_sentence(group, of, _THIS)}.",
        conditions=(of.period(records), fit_state(group, of)),
        rows=rows,
        ends=tuple(ScaleEnd(value, text) for value, text in zip(values, texts, strict=False)),
        landmarks=landmarks(of.context, (level_of(each.record, each.session, of.context) for each in donnings)),
        limits=f"{_OF_WEARERS} {_BARS}" if any(mark.low for row in rows for mark in row.marks) else _OF_WEARERS,
        records=records,
    )


def _flow(of: ReviewedDevice) -> tuple[Still, ...]:
    summary = of.summary("flow", FlowSummary)
    if summary is None or summary.governing is None or summary.governing_record is None:
        return ()
    governing, record = summary.governing, summary.governing_record
    if governing.mean.value is None:
        return ()
    runs = [
        (name, run)
        for name, result in of.results("flow", FlowResult)
        for run in result.runs
        if run.compared.value is not None and of.modification(name) == of.modification(record)
    ]
    others = sorted(
        (each for each in runs if each != (record, governing)), key=lambda each: each[1].compared.value or 0
    )
    drawn = [(record, governing), *others[: _MOST_RUNS - 1]]
    days = [of.context.performed(name) for name, _ in drawn]
    labels = numbered(told_apart([short_state(run) for _, run in drawn], days))
    number = f"{len(drawn)} of {len(runs)} runs shown" if len(drawn) < len(runs) else ""
    against = against_requirement(governing, record, summary.states, of)
    return (
        _still(
            of,
            kind="flow",
            sentence=f"{sentence_case(_THIS)} {delivered_words(governing)}. {against}",
            conditions=(of.period([record]), run_state(governing), of.modification(record), number),
            rows=tuple(_run_row(run, label) for (_, run), label in zip(drawn, labels, strict=True)),
            ends=(),
            landmarks=_required(of),
            limits=f"{_OF_ITEMS} {_BARS}",
            records=tuple(dict.fromkeys(name for name, _ in drawn)),
        ),
    )


def _run_row(run: FlowRunResult, label: str) -> ScaleRow:
    figure, interval = run.compared, run.compared.interval
    assert figure.value is not None
    limit = run.verdict.limit if run.at_requirement is not None else shown_limit(run)
    mark = ScaleMark(
        key=figure.key,
        value=figure.value,
        low=interval.low if interval is not None else None,
        high=interval.high if interval is not None else None,
        text=value_text(figure, limit),
    )
    return ScaleRow(label, (mark,))


def _required(of: ReviewedDevice) -> tuple[Landmark, ...]:
    requirement = flow_requirement(of.device, of.context)
    if requirement is None or of.device.breath_responsive:
        return ()
    return (Landmark(requirement.id, f"{requirement.limit:g}: {requirement.label}", requirement.limit),)


def _still(
    of: ReviewedDevice,
    *,
    kind: str,
    sentence: str,
    conditions: Sequence[str],
    rows: tuple[ScaleRow, ...],
    ends: tuple[ScaleEnd, ...],
    landmarks: tuple[Landmark, ...],
    limits: str,
    records: Sequence[str],
) -> Still:
    publication = of.context.catalogue.publication
    more = len(records) - _MOST_RECORDS
    named = [*records[:_MOST_RECORDS], count_text(more, "other", "others")] if more > 0 else records
    return Still(
        path=f"{STILLS_FOLDER}/{of.device.id}-{kind}",
        kind=kind,
        name=of.name,
        sentence=sentence,
        conditions=sentence_case("; ".join(words for words in conditions if words)),
        rows=rows,
        ends=ends,
        landmarks=landmarks,
        limits=limits,
        tested=f"{'Record' if len(records) == 1 else 'Records'} {listed(named)}",
        where=f"{publication.title} · {publication.base_address}devices/{of.device.id}.html",
        invented=_INVENTED if publication.invented else None,
    )
