"""The page of a device, and the link to its data sheet."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.base import NotRecorded
from generator.model.catalogue_result import DeviceResult
from generator.model.configuration import State
from generator.model.device import Device, Opening
from generator.model.published import PublishedTest
from generator.model.result import Finding, TopicResult
from generator.presenting.cautions import cautions_for
from generator.presenting.citations import cite_device
from generator.presenting.comparisons import comparing_link, comparison_links
from generator.presenting.configurations import present_configurations
from generator.presenting.context import Context
from generator.presenting.evidence import present_evidence
from generator.presenting.letterhead import page_head
from generator.presenting.linked_data import describe_device
from generator.presenting.maker_side import contradicted, present_maker_side
from generator.presenting.meaning import present_meaning
from generator.presenting.page_views import DevicePage, RecordEntry
from generator.presenting.pictures import device_pictures
from generator.presenting.registry import shown_topics
from generator.presenting.standing import device_amendments, device_notice, withdrawn_text
from generator.presenting.statements import may_be_said
from generator.presenting.views import Fact, Link, TopicSection
from generator.presenting.wording import day_text, listed, recorded_text, sentence_case


def topic_results(device: DeviceResult, topic: str, context: Context) -> Mapping[str, TopicResult]:
    """Return a topic's results of a device, by record id, oldest record first."""
    records = (context.result.records[record] for record in device.records)
    return {record.record: record.topics[topic] for record in records if topic in record.topics}


def _sections(device: Device, result: DeviceResult, context: Context) -> tuple[TopicSection, ...]:
    sections = (
        topic.present_device(device, result.topics.get(name), topic_results(result, name, context), context)
        for name, topic in shown_topics().items()
    )
    return tuple(section for section in sections if section is not None)


def all_findings(result: DeviceResult, context: Context) -> tuple[Finding, ...]:
    """Return the findings of a device and of all its records."""
    records = (context.result.records[record].all_findings for record in result.records)
    return result.all_findings + tuple(finding for findings in records for finding in findings)


def _openings(openings: tuple[Opening, ...]) -> str:
    if not openings:
        return "none"
    return "; ".join(f"{opening.where} ({'filtered' if opening.filtered else 'not filtered'})" for opening in openings)


def _air_path(device: Device) -> tuple[Fact, ...]:
    path = device.air_path
    exhaust = "none"
    if path.powered_exhaust is not None:
        place = ", beside an inlet" if path.powered_exhaust.beside_inlet else ""
        exhaust = f"{path.powered_exhaust.where}{place}"
    return (
        Fact("Air gets in", _openings(path.inlets)),
        Fact("Air gets out", _openings(path.outlets)),
        Fact("Powered exhaust", exhaust),
        Fact("Seals", path.seals),
        Fact("Alarms", listed(path.alarms) or "none"),
        *_low_flow_alarm(path.low_flow_alarm),
    )


def _low_flow_alarm(told: bool | None) -> tuple[Fact, ...]:
    return () if told is None else (Fact("Tells of low flow", "yes" if told else "no"),)


def _facts(device: Device) -> tuple[Fact, ...]:
    facts = [Fact("Maker", device.maker), Fact("Kind", device.kind.heading)]
    if device.kind.powered:
        facts.append(Fact("Follows the breath", "yes" if device.breath_responsive else "no"))
    if device.home_built:
        facts.append(Fact("Built", "at home"))
    if isinstance(device.filter, NotRecorded):
        facts.append(Fact("Filter", recorded_text(device.filter)))
    else:
        facts.append(Fact("Filter class, as the maker states it", recorded_text(device.filter.stated_class)))
        facts.append(Fact("Filters", f"{device.filter.count}; media area {recorded_text(device.filter.media_area)}"))
    if device.power is not None:
        energy = recorded_text(device.power.energy)
        facts.append(Fact("Power", f"{device.power.source}; energy {energy}"))
        facts.append(Fact("Blower settings", listed(device.power.settings)))
    facts.append(Fact("Mass", recorded_text(device.mass)))
    facts.append(Fact("Price", recorded_text(device.price)))
    for item in device.consumables:
        facts.append(Fact(sentence_case(item.item), f"{recorded_text(item.price)}, lasts {recorded_text(item.lasts)}"))
    return tuple(facts)


def configuration_text(test: PublishedTest) -> str:
    """Say in which state a device was tested."""
    if test.configuration.state is State.AS_SUPPLIED:
        return f"as supplied: {test.configuration.description}"
    return f"modified: {listed(test.configuration.changes)}"


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


_NOT_KNOWN = (
    "Not known from these tests: gases and vapours, other wearers, other days, and what the device does after long use."
)


def present_device_page(device: Device, context: Context) -> DevicePage:
    """Return the page of one device: the answer first, then what it rests on."""
    result = context.result.devices[device.id]
    sections = _sections(device, result, context)
    topics = shown_topics()
    notice = device_notice(device, context)
    first = sorted(sections, key=lambda section: topics[section.topic].ANSWER_ORDER)
    answer = [sentence for section in first for sentence in section.answer]
    return DevicePage(
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
        ),
        id=device.id,
        name=device.name,
        maker=device.maker,
        kind=device.kind.heading,
        summary=device.summary,
        answer=(*answer, *contradicted(result.claims), _NOT_KNOWN),
        cautions=cautions_for(all_findings(result, context), context),
        sections=sections,
        evidence=present_evidence(result, context),
        configurations=present_configurations(device, result, context),
        meaning=present_meaning(device, result, context),
        may_be_said=may_be_said(device, result, context),
        records=_records(device, context),
        maker_side=present_maker_side(device, context),
        facts=_facts(device),
        air_path=_air_path(device),
        pictures=device_pictures(device.id, device.pictures),
        citation=cite_device(device, context),
        sheet=sheet_link(device),
        compare=comparing_link([device.id], "Compare with others"),
        amendments=device_amendments(device.amendments),
        comparisons=comparison_links(context, device.id),
    )
