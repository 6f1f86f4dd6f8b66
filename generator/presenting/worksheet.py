"""The worksheet of a planned test: what is checked before, written down during, and asked after the sessions."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.device import Fitting
from generator.model.flow_run import BatteryState
from generator.model.instrument import Instrument
from generator.model.planned_test import PlannedInstrument, PlannedRun, PlannedTest
from generator.model.reference import Protocol
from generator.presenting.letterhead import page_head
from generator.presenting.views import Fact
from generator.presenting.wording import day_text
from generator.presenting.worksheet_session import CONDITIONS, in_pairs, session_sheet
from generator.presenting.worksheet_views import Check, FlowSheet, InstrumentRow, RunRow, WearerRow, Worksheet

READINGS_OF_A_RUN = 5
"""Boxes for readings in one state; more tell more of the scatter."""
DEFERS = (
    "Local rules and a competent person decide who may wear what, and go before anything on this sheet. It says "
    "nothing about how well a device protects."
)
_CONSENT = (
    "Only the pseudonym goes onto this sheet and into the record: no name, no signature, no contact, no illness.",
    "The signed consent and whatever a doctor or nurse has written are kept elsewhere, locked away, never with the "
    "records. Who has not agreed beforehand, or does not feel well today, does not take part.",
)
_BATTERY = {
    BatteryState.FRESH: "battery fresh",
    BatteryState.AT_ALARM: "battery at its alarm",
    BatteryState.MAINS: "on mains",
}


def present_worksheet(
    plan: PlannedTest,
    protocols: Mapping[str, Protocol],
    instruments: Mapping[str, Instrument],
) -> Worksheet:
    """Return the worksheet of a test.

    Parameters
    ----------
    plan : PlannedTest
        The test.
    protocols, instruments : mapping
        Those that it names, by id; an instrument without a record that can be read is left out.
    """
    counter = instruments.get(plan.particle_counter.id) if plan.particle_counter is not None else None
    title = f"Worksheet: {plan.record}"
    return Worksheet(
        path=f"{plan.record}-worksheet.pdf",
        head=page_head("worksheet.pdf", title, f"Worksheet for the test {plan.record} of {plan.device}"),
        running_head=f"Worksheet · {plan.device} · {plan.record}",
        title=plan.record,
        kind=f"Test worksheet · {plan.kind.value.replace('_', ' ')}",
        facts=(
            Fact("Device", plan.device),
            Fact("Configuration", plan.state.value.replace("_", " ")),
            Fact("Tester", plan.tester),
            Fact("Sessions and flow runs", f"{len(plan.sessions)} and {len(plan.runs)}"),
        ),
        item=("Received on", "From whom", "Lot", "Serial number", "State, size, filters fitted"),
        conditions=CONDITIONS,
        instruments=tuple(_instruments(plan, instruments)),
        checks=in_pairs(_checks(plan)),
        wearers=tuple(WearerRow(wearer, _asked(plan)) for wearer in plan.wearers),
        consent=_CONSENT,
        defers=DEFERS,
        afterwards=in_pairs(_AFTERWARDS),
        sessions=tuple(session_sheet(each, plan, protocols[each.protocol], counter) for each in plan.sessions),
        flow=_flow(plan) if plan.runs else None,
    )


_AFTERWARDS = (
    Check(("done otherwise than planned",), ("what",)),
    Check(("not tested",), ("what a reader could expect",)),
    Check(("written into the record, and checked by a second person",), ("tester’s pseudonym, day",)),
)


def _checks(plan: PlannedTest) -> list[Check]:
    """Return what is looked at once, before the first session."""
    checks = [
        Check(("item whole, nothing changed but as planned",), ("what, if anything",)),
        Check(("cleaned before and between wearers",), ("how",)),
    ]
    if plan.particle_counter is not None:
        checks += [
            Check(("counter warm, its clock right",), ("difference",)),
            Check(("place of the probe, and how it is fastened",), ("where",)),
        ]
    if plan.kind.powered:
        checks += [
            Check(("battery charged, spare at hand",), ("charge or volts",)),
            Check(("the alarm was heard once, so that everybody knows it",)),
        ]
    return checks


def _instruments(plan: PlannedTest, instruments: Mapping[str, Instrument]) -> list[InstrumentRow]:
    used = (("Particle counter", plan.particle_counter), ("Flow meter", plan.flow_meter))
    return [_instrument(role, each, instruments.get(each.id)) for role, each in used if each is not None]


def _instrument(role: str, planned: PlannedInstrument, on_record: Instrument | None) -> InstrumentRow:
    if on_record is None:
        return InstrumentRow(planned.id, role, "not on record yet", "", box="certificate, and the day it is due")
    newest = max(on_record.calibrations, key=lambda each: each.date)
    calibration = f"due on {day_text(newest.due)} (certificate {newest.certificate})"
    return InstrumentRow(planned.id, role, calibration, "not past that day")


def _asked(plan: PlannedTest) -> tuple[str, ...]:
    seal = ("no hair under the seal",) if plan.kind.fitting in (Fitting.TIGHT_HALF, Fitting.TIGHT_FULL) else ()
    return ("consent is on file", "fitness is on file", "feels well today", *seal, "knows how to stop")


def _flow(plan: PlannedTest) -> FlowSheet:
    return FlowSheet(
        conditions=CONDITIONS,
        checks=in_pairs(
            [
                Check(("meter read with no flow",), ("reading, with unit",)),
                Check(("meter warm, no leak between device and meter",)),
                Check(("where the flow is read, and how the meter is joined",), ("where",)),
                Check(("pressure lost in meter and tube, where it is known",), ("Pa",)),
            ]
        ),
        columns=("Setting, battery, filter", *(str(place) for place in range(1, READINGS_OF_A_RUN + 1))),
        runs=tuple(_run(run) for run in plan.runs),
        note="Let the flow settle, then read five times or more, with the unit. Write down each number as it is shown; "
        "leave none out. A state that was not measured gets a dash and its reason.",
        afterwards=in_pairs(
            [Check(("something was done otherwise",), ("what",)), Check(("read by",), ("tester’s pseudonym",))]
        ),
    )


def _run(run: PlannedRun) -> RunRow:
    state = f"{run.setting} · {_BATTERY[run.battery]} · filter {run.filter.value}"
    return RunRow(run.id, state, ("",) * READINGS_OF_A_RUN)
