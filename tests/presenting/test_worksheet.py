"""Worksheets: the steps of each kind of protocol, the boxes for each form of readings, checks and rules to stop by."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.device import DeviceKind
from generator.model.flow_run import BatteryState, FilterState
from generator.model.instrument import InstrumentKind
from generator.model.planned_test import (
    PlannedInstrument,
    PlannedRun,
    PlannedSession,
    PlannedTest,
    ReadingsForm,
)
from generator.presenting.digits import THIN
from generator.presenting.worksheet import DEFERS, present_worksheet
from generator.presenting.worksheet_views import Check, SessionSheet, Worksheet
from tests.presenting.small_sites import texts_of
from tests.scoring.builders import a_calibration, a_counter

PROTOCOLS = load_reference().protocols


def a_worksheet(protocol: str = "four-exercises-elastomeric", blower: str | None = None, **changes: Any) -> Worksheet:
    kind = changes.pop("kind", DeviceKind.ELASTOMERIC_HALF_FACEPIECE)
    data: dict[str, Any] = {
        "record": "half-1",
        "device": "half",
        "kind": kind,
        "tester": "quill",
        "readings": ReadingsForm.CONCENTRATIONS,
        "sessions": (PlannedSession("s1", "finch", 2, protocol, blower),),
        "particle_counter": PlannedInstrument("counter", InstrumentKind.CONDENSATION_PARTICLE_COUNTER),
    }
    counter = a_counter(calibrations=[a_calibration("10 %"), a_calibration("9 %", date="2025-06-01", due="2026-06-01")])
    instruments = changes.pop("instruments", {"counter": counter})
    return present_worksheet(PlannedTest(**(data | changes)), PROTOCOLS, instruments)


def session(protocol: str, form: ReadingsForm, **changes: Any) -> SessionSheet:
    return a_worksheet(protocol, readings=form, **changes).sessions[0]


def steps(sheet: SessionSheet) -> list[tuple[str, str, str, tuple[bool, ...]]]:
    return [(step.number, step.lasts.replace(THIN, " "), step.starts, step.boxes) for step in sheet.steps]


def ticks(rows: Sequence[tuple[Check, ...]]) -> list[str]:
    return [tick for row in rows for check in row for tick in check.ticks]


# The durations are those of generator/reference/protocols.yaml; the starts are their running sums, by hand.
def test_steps_with_outside_air_first_and_last() -> None:
    sheet = session("four-exercises-elastomeric", ReadingsForm.COUNTS)
    assert sheet.readings == ("Outside, with unit", "Particles counted inside")
    assert steps(sheet) == [
        ("", "", "", (True, False)),
        ("1", "50 s", "0:00", (False, True)),
        ("2", "30 s", "0:50", (False, True)),
        ("3", "30 s", "1:20", (False, True)),
        ("4", "39 s", "1:50", (False, True)),
        ("", "", "", (True, False)),
    ]
    assert [fact.text for fact in sheet.facts][1] == "2:29 (min:s)"


def test_steps_with_outside_air_around_each_exercise() -> None:
    sheet = session("eight-standard-exercises", ReadingsForm.CONCENTRATIONS)
    assert sheet.readings == ("Outside, with unit", "Inside, with unit")
    assert [step.number for step in sheet.steps] == ["", *[each for n in range(1, 9) for each in (str(n), "")]]
    assert [step.starts for step in sheet.steps if step.number] == [
        "0:00", "1:00", "2:00", "3:00", "4:00", "5:00", "5:15", "6:15",
    ]  # fmt: skip
    assert [step.what for step in sheet.steps if step.number == "6"] == ["Grimace (does not count)"]


@pytest.mark.parametrize(
    ("protocol", "form", "readings", "boxes"),
    [
        (
            "generated-aerosol-eight-exercises",
            ReadingsForm.CONCENTRATIONS,
            ("Outside, with unit", "Inside, with unit"),
            {(True, True)},
        ),
        ("controlled-negative-pressure", ReadingsForm.FACTORS, ("Factor as shown",), {(True,)}),
        ("eight-standard-exercises", ReadingsForm.FACTORS, ("Factor as shown",), {(True,)}),
        (
            "four-exercises-elastomeric",
            ReadingsForm.LOG,
            ("Begun, log’s clock", "Ended, log’s clock"),
            {(True, True)},
        ),
    ],
)
def test_boxes_are_those_that_can_be_written_in(
    protocol: str, form: ReadingsForm, readings: tuple[str, ...], boxes: set[tuple[bool, ...]]
) -> None:
    sheet = session(protocol, form)
    assert sheet.readings == readings
    assert {step.boxes for step in sheet.steps} == boxes


def test_outside_air_is_found_again_in_a_log() -> None:
    sheet = session("four-exercises-elastomeric", ReadingsForm.LOG)
    assert [step.what for step in sheet.steps][:: len(sheet.steps) - 1] == ["outside air", "outside air"]
    assert "Start the log before the first step" in sheet.steps_note


def test_checks_of_a_tight_device_without_a_blower() -> None:
    sheet = session("four-exercises-elastomeric", ReadingsForm.CONCENTRATIONS)
    assert ticks(sheet.checks) == [
        "wearer agrees, feels well, knows how to end it",
        "zero check: filter on the counter’s inlet",
        "enough particles outside",
        "sampling line tight, not kinked; probe in place",
        "sampling times set",
        "nothing between edge and skin: hair, strap, glasses",
    ]
    boxes = [box.replace(THIN, " ") for row in sheet.checks for check in row for box in check.boxes]
    # The least outside concentration is that of the counter's record.
    assert "outside, with unit; its maker advises at least 1000 /cm³" in boxes


def test_checks_of_a_hood() -> None:
    hood = {"kind": DeviceKind.LOOSE_POWERED_HOOD, "settings": ("low", "high")}
    on = session("four-exercises-elastomeric", ReadingsForm.FACTORS, blower="high", **hood)
    assert ticks(on.checks)[-1] == "blower runs at high; state of the battery"
    off = session("four-exercises-elastomeric", ReadingsForm.FACTORS, blower="off", **hood)
    assert ticks(off.checks)[-1] == "blower off: longest time agreed, somebody beside the wearer"
    assert not any("skin" in tick for tick in ticks(on.checks))
    assert set(off.stop) - set(on.stop) == {"the time that was agreed for the blower off is over"}


def test_under_negative_pressure_there_are_no_particles_to_check() -> None:
    sheet = session("controlled-negative-pressure", ReadingsForm.FACTORS)
    assert not any("counter" in tick or "particles" in tick for tick in ticks(sheet.checks))


def test_a_session_is_stopped_for_the_wearer_first() -> None:
    unpowered = session("four-exercises-elastomeric", ReadingsForm.COUNTS)
    assert unpowered.stop == (
        "the wearer asks for it, for whatever reason",
        "dizziness, pain, shortness of breath, nausea, fear, or anything else that troubles",
    )
    powered = session(
        "four-exercises-elastomeric", ReadingsForm.COUNTS, kind=DeviceKind.LOOSE_POWERED_HOOD, blower="low"
    )
    assert powered.stop[2:] == (
        "an alarm sounds, the battery is at its end, or the blower slows or stops unasked",
        "the carbon dioxide inside, where it is read, is at the limit that was agreed",
    )


@pytest.mark.parametrize(
    ("kind", "percent"),
    # 5 % for half masks and 1 % for full facepieces: the protocol's own limits, in generator/reference/protocols.yaml
    [(DeviceKind.ELASTOMERIC_HALF_FACEPIECE, "5 %"), (DeviceKind.ELASTOMERIC_FULL_FACEPIECE, "1 %")],
)
def test_the_peak_at_which_a_protocol_stops_is_told(kind: DeviceKind, percent: str) -> None:
    sheet = session("generated-aerosol-eight-exercises", ReadingsForm.CONCENTRATIONS, kind=kind)
    told = f"the peak inside is above {percent} of the outside, as the protocol has it"
    assert sheet.stop[-1].replace(THIN, " ") == told


def test_the_newest_calibration_says_until_when_it_holds() -> None:
    (row,) = a_worksheet().instruments
    assert (row.name, row.role) == ("counter", "Particle counter")
    assert (row.calibration, row.asked, row.box) == ("due on 1 June 2026 (certificate C1)", "not past that day", "")


def test_an_instrument_that_is_not_on_record_gets_a_box() -> None:
    (row,) = a_worksheet(instruments={}).instruments
    assert (row.calibration, row.asked) == ("not on record yet", "")
    assert row.box == "certificate, and the day it is due"


def test_wearers_are_asked_and_known_by_pseudonyms_alone() -> None:
    sheet = a_worksheet()
    (row,) = sheet.wearers
    assert row.wearer == "finch"
    assert row.asked == (
        "consent is on file",
        "fitness is on file",
        "feels well today",
        "no hair under the seal",
        "knows how to stop",
    )
    assert sheet.consent[0].startswith("Only the pseudonym goes onto this sheet and into the record: no name")
    assert "never with the records" in sheet.consent[1]


def test_each_state_of_the_air_supply_has_five_boxes() -> None:
    runs = (
        PlannedRun("a", "low", BatteryState.AT_ALARM, FilterState.LOADED),
        PlannedRun("b", "high", BatteryState.MAINS, FilterState.NEW),
    )
    sheet = a_worksheet(kind=DeviceKind.LOOSE_POWERED_HOOD, sessions=(), runs=runs).flow
    assert sheet is not None
    assert [run.state for run in sheet.runs] == [
        "low · battery at its alarm · filter loaded",
        "high · on mains · filter new",
    ]
    assert [len(run.boxes) for run in sheet.runs] == [5, 5]
    assert sheet.columns == ("Setting, battery, filter", "1", "2", "3", "4", "5")
    assert a_worksheet().flow is None


def test_it_defers_to_local_rules_and_promises_nothing() -> None:
    said = " ".join(texts_of(a_worksheet()))
    assert DEFERS in said
    assert DEFERS.startswith("Local rules and a competent person decide who may wear what")
