"""The page of a test record: what was done, what was read, how each figure comes about."""

from __future__ import annotations

from generator.model.instrument import Calibration, Instrument
from generator.model.published import PublishedTest
from generator.model.result import Finding
from generator.presenting.cautions import cautions_of_record
from generator.presenting.citations import cite_record
from generator.presenting.context import Context
from generator.presenting.device_page import configuration_text
from generator.presenting.digits import quantity_text
from generator.presenting.finding_details import finding_detail
from generator.presenting.fit_conditions import record_condition_facts
from generator.presenting.instrument_doubts import doubts_about, with_instruments_named
from generator.presenting.letterhead import page_head
from generator.presenting.linked_data import describe_record
from generator.presenting.meaning import same_day_of_record
from generator.presenting.page_views import RecordPage
from generator.presenting.pictures import record_pictures
from generator.presenting.registry import shown_topics
from generator.presenting.report_points import present_report
from generator.presenting.session_counts import session_rule_text
from generator.presenting.standing import correction_notice, record_amendments, record_notices
from generator.presenting.views import Cell, Column, Fact, Link, Row, Table, TopicSection
from generator.presenting.wording import day_text, listed, recorded_text

_FOUND = "Found while scoring"


def _facts(test: PublishedTest, context: Context) -> tuple[Fact, ...]:
    device = context.catalogue.devices[test.device]
    tester = context.catalogue.testers[test.tester]
    sample = test.sample
    return (
        Fact("Device", device.name, f"devices/{device.id}.html"),
        Fact("Configuration", configuration_text(test)),
        Fact(
            "Sample",
            f"{sample.obtained}, {sample.source}; lot {recorded_text(sample.lot)}; unit {recorded_text(sample.unit)}",
        ),
        Fact("Received", day_text(test.dates.received)),
        Fact("Tested", day_text(test.dates.performed)),
        Fact("Issued", day_text(test.dates.issued)),
        Fact("Place", test.place),
        Fact("Air of the room", _environment(test)),
        Fact("Tester", tester.pseudonym, f"about.html#tester-{tester.id}"),
        Fact("Authorised by", context.catalogue.publication.authorised_by),
        *_wearer_facts(test, context),
    )


def _wearer_facts(test: PublishedTest, context: Context) -> tuple[Fact, ...]:
    """Say which sessions count, and what was done for the people who wore the device; nothing where nobody did."""
    if not test.fit:
        return ()
    return (
        Fact("Sessions that count", session_rule_text(test), id="session-rule"),
        *record_condition_facts(test, context),
        Fact("Hygiene", test.hygiene or "not recorded", id="hygiene"),
        # Loading refuses a session whose wearer had not agreed by then.
        Fact("Consent", "on record for every wearer, given on or before the day of the test", id="consent"),
        Fact("Fitness to wear", _fitness(test), id="fitness"),
        Fact("Adverse events", _adverse_events(test), id="adverse-events"),
    )


def _fitness(test: PublishedTest) -> str:
    without = [session.id for session in test.fit if not session.fitness_on_record]
    if not without:
        return "on record for the wearer of every session, on the day of the test"
    if len(without) == len(test.fit):
        return "not on record for the wearer of any session on the day of the test"
    return f"not on record on the day of the test for the wearer of {_sessions(without)}; on record for the others"


def _sessions(names: list[str]) -> str:
    return f"{'session' if len(names) == 1 else 'sessions'} {listed(names)}"


def _adverse_events(test: PublishedTest) -> str:
    events = [
        f"session {session.id}, wearer {session.wearer}: {session.adverse_event}"
        for session in test.fit
        if session.adverse_event is not None
    ]
    return "; ".join(events) or "none recorded"


def _environment(test: PublishedTest) -> str:
    air = test.environment
    parts = [recorded_text(air.temperature), recorded_text(air.pressure)]
    # A reader used to other units finds the usual ones beside them.
    if air.temperature.unit != "degC":
        parts[0] += f" ({quantity_text(air.temperature.to('degC'), 'degC', 3)})"
    if air.pressure.unit not in ("hPa", "kPa"):
        parts[1] += f" ({quantity_text(air.pressure.to('hPa'), 'hPa', 4)})"
    text = f"{parts[0]}, {parts[1]}, humidity {recorded_text(air.humidity)}"
    if air.carbon_dioxide is not None:
        return f"{text}, carbon dioxide {recorded_text(air.carbon_dioxide)}"
    return text


def _calibration_cells(calibration: Calibration | None, test: PublishedTest) -> tuple[str, str, str, str]:
    if calibration is None:
        return "none before the test", "none", "none", "none"
    state = day_text(calibration.due)
    if calibration.lapsed_on(test.dates.performed):
        state += " (lapsed on the day of the test)"
    uncertainty = f"{recorded_text(calibration.expanded_uncertainty)} (k = {calibration.k:g})"
    return day_text(calibration.date), state, recorded_text(calibration.correction), uncertainty


def _instrument_row(instrument: Instrument, test: PublishedTest, context: Context) -> Row:
    cells = _calibration_cells(instrument.calibration_on(test.dates.performed), test)
    doubts = doubts_about(instrument.id, context.result.records[test.id].findings)
    return Row(
        (
            Cell(f"{instrument.name} ({instrument.id})", f"instruments/{instrument.id}.html", doubts),
            *(Cell(text) for text in cells),
        )
    )


def _instruments(test: PublishedTest, context: Context) -> Table:
    used = test.instruments.by_role.values()
    none = Row((Cell("none on record"), *(Cell("") for _ in range(4))))
    return Table(
        "instruments-used",
        "Instruments and the calibration in force on the day",
        (
            Column("Instrument"),
            Column("Calibrated"),
            Column("Due"),
            Column("Correction"),
            Column("Expanded uncertainty"),
        ),
        tuple(_instrument_row(context.catalogue.instruments[name], test, context) for name in used) or (none,),
    )


def _finding_text(finding: Finding, context: Context) -> str:
    headings = {rule.when: rule.heading for rule in context.catalogue.caution_rules}
    detail = finding_detail(finding)
    text = f"{finding.where}: {headings.get(finding.rule, finding.rule)}"
    return f"{text.removesuffix('.')} ({detail})." if detail else text


def _sections(test: PublishedTest, context: Context) -> tuple[TopicSection, ...]:
    topics = context.result.records[test.id].topics
    return tuple(
        topic.present_record(test, topics[name], context) for name, topic in shown_topics().items() if name in topics
    )


def present_record_page(test: PublishedTest, context: Context) -> RecordPage:
    """Return the page of one test record."""
    device = context.catalogue.devices[test.device]
    findings = context.result.records[test.id].all_findings
    device_link = Link(device.name, f"devices/{device.id}.html")
    sections = _sections(test, context)
    return RecordPage(
        head=page_head(
            f"records/{test.id}.html",
            f"Test report {test.id}",
            f"Test of {device.name} on {day_text(test.dates.performed)}: readings, results and their working.",
            state=(
                Fact("Record", test.id),
                Fact("Version", test.version),
                Fact("Issued", day_text(test.dates.issued)),
            ),
            trail=(device_link,),
            notices=record_notices(test, context),
            linked_data=describe_record(test, context),
            records=context.state_of([device.id]),
        ),
        id=test.id,
        link=context.record_link(test.id),
        device=device_link,
        corrected=correction_notice(test, context),
        cautions=with_instruments_named(cautions_of_record(test, context), [test.id], context),
        facts=_facts(test, context),
        sections=sections,
        instruments=_instruments(test, context),
        findings_heading=_FOUND if test.withdrawn is None else f"{_FOUND}, before the record was withdrawn",
        findings=tuple(_finding_text(finding, context) for finding in findings),
        deviations=test.deviations,
        notes=test.notes,
        pictures=record_pictures(test.id, test.pictures),
        amendments=record_amendments(test, context),
        report=present_report(test, sections, context),
        sha256=context.catalogue.record_sha256.get(test.id, ""),
        data=(
            Link("Published record and results (JSON)", f"records/{test.id}.json"),
            Link("Figures (CSV)", f"records/{test.id}.csv"),
            *(
                Link(f"Raw log of session {session.id} (CSV)", f"data/{session.log.file}")
                for session in test.fit
                if session.log is not None
            ),
        ),
        citation=cite_record(test, context),
        same_day=same_day_of_record(test.id, device.id, context),
    )
