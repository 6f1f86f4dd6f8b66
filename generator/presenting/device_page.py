"""The page of a device, and the link to its data sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from generator.model.catalogue_result import DeviceResult
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.flow_result import FlowSummary
from generator.model.published import PublishedTest
from generator.model.result import Finding, TopicResult
from generator.presenting.answers import opening
from generator.presenting.cautions import cautions_for
from generator.presenting.citations import cite_device
from generator.presenting.comparisons import comparing_link, comparison_links
from generator.presenting.configurations import present_configurations
from generator.presenting.contents import with_contents
from generator.presenting.context import Context
from generator.presenting.corrections import NO_CORRECTION, present_corrections
from generator.presenting.design_notes import HOUR_TABLE, present_cost, present_design
from generator.presenting.evidence import present_evidence
from generator.presenting.instrument_doubts import with_instruments_named
from generator.presenting.letterhead import page_head
from generator.presenting.linked_data import describe_device
from generator.presenting.maker_side import present_maker_side
from generator.presenting.meaning import present_meaning
from generator.presenting.page_views import Brief, DevicePage, RecordEntry
from generator.presenting.registry import shown_topics
from generator.presenting.standing import device_notice, withdrawn_text
from generator.presenting.statements import may_be_said
from generator.presenting.views import Cautions, Fact, Link, TopicSection
from generator.presenting.wording import day_text, listed, sentence_case, without_full_stop

_FOLDED = frozenset({"fit-register", "flow-runs", "filter-velocities", "blower-resistances"})
"""Tables that only who disputes a figure needs: what they come to is told above them."""


def topic_results(device: DeviceResult, topic: str, context: Context) -> Mapping[str, TopicResult]:
    """Return a topic's results of a device, by record id, oldest record first."""
    records = (context.result.records[record] for record in device.records)
    return {record.record: record.topics[topic] for record in records if topic in record.topics}


def _sections(device: Device, result: DeviceResult, context: Context) -> tuple[TopicSection, ...]:
    sections = (
        topic.present_device(device, result.topics.get(name), topic_results(result, name, context), context)
        for name, topic in shown_topics().items()
    )
    return tuple(_folded(section) for section in sections if section is not None)


def _folded(section: TopicSection) -> TopicSection:
    tables = tuple(replace(table, folded=table.id in _FOLDED) for table in section.tables)
    return replace(section, tables=tables)


def all_findings(result: DeviceResult, context: Context) -> tuple[Finding, ...]:
    """Return the findings of a device and of all its records."""
    records = (context.result.records[record].all_findings for record in result.records)
    return result.all_findings + tuple(finding for findings in records for finding in findings)


def configuration_text(test: PublishedTest) -> str:
    """Say in which state a device was tested."""
    if test.configuration.state is State.AS_SUPPLIED:
        return f"as supplied: {test.configuration.description}"
    return f"modified: {listed([without_full_stop(each) for each in test.configuration.changes])}"


def _records(device: Device, context: Context) -> tuple[RecordEntry, ...]:
    return tuple(
        RecordEntry(
            link=context.record_link(test.id),
            performed=day_text(test.dates.performed),
            issued=day_text(test.dates.issued),
            configuration=configuration_text(test),
            sha256=context.catalogue.record_sha256.get(test.id, ""),
            holds=listed([shown_topics()[topic].HOLDS for topic in context.result.records[test.id].topics]),
            withdrawn=_withdrawn_record(test),
            replaced_by=_replacement(test, context),
        )
        for test in context.catalogue.tests_of(device.id)
    )


def _withdrawn_record(test: PublishedTest) -> str | None:
    if test.withdrawn is None:
        return None
    return f"{sentence_case(withdrawn_text(test.withdrawn))}, left out of the results: {test.withdrawn.reason}"


def _replacement(test: PublishedTest, context: Context) -> Link | None:
    if test.withdrawn is None or test.withdrawn.replaced_by is None:
        return None
    return context.record_link(test.withdrawn.replaced_by)


def sheet_link(device: Device) -> Link:
    """Return the link to a device's data sheet."""
    return Link("Data sheet (PDF)", f"devices/{device.id}.pdf")


def last_issued(device: Device, context: Context) -> str:
    """Return the date of the newest record of a device that stands, which is the date of its page."""
    issued = [test.dates.issued for test in context.catalogue.standing_tests_of(device.id)]
    if issued:
        return day_text(max(issued))
    return "no record stands" if context.catalogue.tests_of(device.id) else "no record issued"


def _brief(sections: Sequence[TopicSection]) -> tuple[Brief, ...]:
    """Return what topics say beside the opening, each with the way to its section."""
    topics = shown_topics()
    first = sorted(sections, key=lambda section: topics[section.topic].ANSWER_ORDER)
    return tuple(Brief(sentence, section.heading, section.anchor) for section in first for sentence in section.answer)


def _without_cost(burden: TopicSection | None) -> TopicSection | None:
    """Return the burden without the table that stands under cost; None where nothing else is left."""
    if burden is None:
        return None
    left = tuple(table for table in burden.tables if table.id != HOUR_TABLE)
    return replace(burden, tables=left) if left else None


def cautions_of_device(result: DeviceResult, context: Context) -> Cautions:
    """Return the cautions of a device's page, those about instruments with their names."""
    flow = result.topics.get("flow")
    assert flow is None or isinstance(flow, FlowSummary)
    raised = cautions_for(all_findings(result, context), context)
    return with_instruments_named(raised, result.records, context, flow)


def present_device_page(device: Device, context: Context) -> DevicePage:
    """Return the page of one device: the answer first, then what it rests on."""
    result = context.result.devices[device.id]
    sections = _sections(device, result, context)
    notice = device_notice(device, context)
    cautions = cautions_of_device(result, context)
    answer = opening(device, result, context)
    burden = next((section for section in sections if section.topic == "burden"), None)
    return with_contents(
        DevicePage(
            head=page_head(
                f"devices/{device.id}.html",
                device.name,
                f"What {device.name} delivered on the bench: {' '.join(answer)}",
                state=(
                    Fact("Device", device.id),
                    Fact("Version", device.version),
                    Fact("Last record issued", last_issued(device, context)),
                ),
                notices=(notice,) if notice is not None else (),
                linked_data=describe_device(device, context),
                records=context.state_of([device.id]),
            ),
            id=device.id,
            name=device.name,
            maker=device.maker,
            kind=device.kind.heading,
            summary=device.summary,
            answer=answer,
            brief=_brief(sections),
            cautions=cautions,
            sections=sections,
            measured=tuple(section for section in sections if section.topic != "burden"),
            evidence=present_evidence(result, context),
            configurations=present_configurations(device, result, context),
            meaning=present_meaning(device, result, context),
            may_be_said=may_be_said(device, result, context),
            records=_records(device, context),
            maker_side=present_maker_side(device, context),
            design=present_design(device, cautions.raised),
            burden=_without_cost(burden),
            cost=present_cost(device, burden),
            corrections=present_corrections(device, context),
            no_correction=NO_CORRECTION,
            citation=cite_device(device, context),
            sheet=sheet_link(device),
            compare=comparing_link([device.id], "Compare with others"),
            comparisons=comparison_links(context, device.id),
        )
    )
