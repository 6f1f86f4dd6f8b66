"""Small catalogues for tests: one device, one record, its instruments; a test changes the one thing it is about."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from string import ascii_uppercase
from typing import Any

from generator.loading import load_reference
from generator.model.catalogue import Catalogue
from generator.model.catalogue_result import CatalogueResult
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.instrument import Instrument
from generator.model.log import Log
from generator.model.people import Consent, FacialHair, Fitness, Publication, Wearer
from generator.model.published import published
from generator.model.reference import Protocol
from generator.model.result import RecordResult
from generator.model.series import Series
from generator.scoring.catalogue import score_catalogue
from generator.scoring.one_record import score_record

Data = dict[str, Any]
NONE = {"not_recorded": "not needed in this test"}
EXERCISES = ("standing", "talking", "bending")
NOTHING_COUNTED: dict[str, Any] = {"count": 0, "time": "60 s"}
"""A zero check in which the counter counted nothing."""


def a_publication() -> Publication:
    return Publication(
        title="Catalogue",
        subtitle="of a test",
        publisher="Nobody",
        address="Nowhere",
        contact="nobody@nowhere.example",
        base_address="https://nowhere.example/",
        data_licence="none",
        disclosure="none",
        authorised_by="nobody",
        accredited_laboratory=False,
        invented=True,
        scenario="A test.",
    )


def a_device(kind: str = "filtering_facepiece", **changes: Any) -> Device:
    data: Data = {
        "id": "device",
        "version": "1",
        "name": "Device",
        "maker": "Maker",
        "kind": kind,
        "home_built": False,
        "breath_responsive": False,
        "summary": "A device.",
        "filter": NONE,
        "price": NONE,
        "mass": NONE,
        "air_path": {"inlets": [{"where": "front", "filtered": True}], "outlets": [], "seals": "none"},
    }
    if "powered" in kind:
        data["power"] = {"source": "battery", "energy": NONE, "settings": ["low", "high"]}
    return Device.model_validate_json(json.dumps(data | changes))


def a_counter(kind: str = "condensation_particle_counter", counter: Data | None = None, **changes: Any) -> Instrument:
    seen: Data = {
        "counted_flow": "100 cm3/min",
        "single_particle": True,
        "ambient_minimum": "1000 /cm3",
        "ceiling": "100000 /cm3",
    }
    data: Data = {
        "id": "counter",
        "version": "1",
        "name": "Counter",
        "kind": kind,
        "serial": NONE,
        "resolution": NONE,
        "counter": seen | (counter or {}),
        "calibrations": [a_calibration("10 %")],
    }
    return Instrument.model_validate_json(json.dumps(data | changes))


def a_calibration(uncertainty: str = "2 %", correction: str = "0 L/min", **changes: Any) -> Data:
    return {
        "date": "2025-01-01",
        "due": "2026-01-01",
        "laboratory": "Laboratory",
        "certificate": "C1",
        "correction": correction,
        "expanded_uncertainty": uncertainty,
        "k": 2.0,
    } | changes


def a_check_standard(*readings: tuple[str, float], **changes: Any) -> Data:
    """Return a check standard about 50 L/min with a standard deviation of 0.4 L/min; readings are (day, value)."""
    return {
        "id": "orifice",
        "what": "an orifice plate",
        "unit": "L/min",
        "centre": 50.0,
        "standard_deviation": 0.4,
        "established": "Twenty readings of another month.",
        "readings": [{"date": day, "value": value} for day, value in readings],
    } | changes


def a_meter(kind: str = "volumetric_flow_meter", **changes: Any) -> Instrument:
    data: Data = {
        "id": "meter",
        "version": "1",
        "name": "Meter",
        "kind": kind,
        "serial": NONE,
        "resolution": NONE,
        "calibrations": [a_calibration()],
    }
    if kind == "thermal_mass_flow_meter":
        data["reference_conditions"] = {"temperature": "20 degC", "pressure": "101325 Pa"}
    return Instrument.model_validate_json(json.dumps(data | changes))


def a_protocol(ambient: str = "around_each_exercise", **changes: Any) -> Protocol:
    data: Data = {
        "id": "three-exercises",
        "title": "Three exercises",
        "source": {"document": "d", "edition": "e", "clause": "c", "status": "own"},
        "ambient": ambient,
        "exercises": [
            {"id": name, "name": name.capitalize(), "duration": "40 s", "counted": True} for name in EXERCISES
        ],
    }
    return Protocol.model_validate_json(json.dumps(data | changes))


def readings(*inside: float | str | int, ambient: str = "3000 /cm3", names: Sequence[str] = EXERCISES) -> list[Data]:
    """Return exercises: an int is a count of particles, a float a factor as given, text a concentration."""
    rows = []
    for name, value in zip(names, inside, strict=True):
        key = {int: "in_mask_count", float: "fit_factor", str: "in_mask"}[type(value)]
        around: Data = {} if key == "fit_factor" else {"ambient_before": ambient, "ambient_after": ambient}
        rows.append({"exercise": name, key: value, **around})
    return rows


def a_session(exercises: list[Data] | None = None, **changes: Any) -> Data:
    data: Data = {
        "id": "am",
        "wearer": "wren",
        "donning": 1,
        "protocol": "three-exercises",
        "filter": "new",
        "outcome": "completed",
        "in_mask_time": "40 s",
        "ambient_time": "5 s",
    }
    if exercises is not None:
        data["exercises"] = exercises
    return data | changes


def a_run(values: Sequence[float], unit: str = "L/min", **changes: Any) -> Data:
    return {
        "id": "high",
        "setting": "high",
        "battery": "fresh",
        "filter": "new",
        "where": "at the hood",
        "meter": {"null_method": "a fan behind the meter, set to the pressure without it"},
        "readings": {"unit": unit, "values": list(values)},
    } | changes


def a_test(fit: Sequence[Data] = (), flow: Sequence[Data] = (), **changes: Any) -> DeviceTest:
    data: Data = {
        "id": "test",
        "version": "1",
        "device": "device",
        "configuration": {"state": "as_supplied", "description": "as it came"},
        "sample": {"obtained": "bought", "source": "a shop", "lot": NONE, "unit": NONE},
        "tester": "tester",
        "dates": {"received": "2025-05-01", "performed": "2025-06-01", "issued": "2025-07-01"},
        "place": "here",
        "environment": {"temperature": "20 degC", "pressure": "101325 Pa", "humidity": "40 %"},
        "instruments": {"particle_counter": "counter", "flow_meter": "meter"},
        "probe": "before the mouth",
        "fit": list(fit),
        "flow": list(flow),
    }
    return DeviceTest.model_validate_json(json.dumps(data | changes))


def a_wearer(name: str, letter: str, private_note: str | None = None, fit_since: str | None = "2025-01-01") -> Wearer:
    consent = Consent.model_validate({"given": "2025-01-01", "covers": "everything"}, strict=False)
    return Wearer(
        id=name,
        version="1",
        catalogue_letter=letter,
        consent=consent,
        fitness=Fitness.model_validate({"declared": fit_since, "how": "asked"}, strict=False) if fit_since else None,
        facial_hair=FacialHair.NONE,
        private_note=private_note,
    )


def a_catalogue(
    *tests: DeviceTest,
    device: Device | None = None,
    counter: Instrument | None = None,
    meter: Instrument | None = None,
    protocol: Protocol | None = None,
    logs: Mapping[str, Log] | None = None,
    series: Mapping[str, Series] | None = None,
) -> Catalogue:
    reference = load_reference()
    protocol = protocol or a_protocol()
    worn_by = {session.wearer for test in tests for session in test.fit}
    return Catalogue(
        publication=a_publication(),
        devices={"device": device or a_device()},
        device_tests={test.id: test for test in tests},
        instruments={"counter": counter or a_counter(), "meter": meter or a_meter()},
        testers={},
        wearers={name: a_wearer(name, letter) for name, letter in zip(sorted(worn_by), ascii_uppercase, strict=False)},
        criteria=reference.criteria,
        protocols={**reference.protocols, protocol.id: protocol},
        methods=reference.methods,
        caution_rules=(),
        panels=reference.panels,
        work_gas=reference.work_gas,
        gas_limits=reference.gas_limits,
        logs=logs or {},
        series=series or {},
    )


def score_one(test: DeviceTest, catalogue: Catalogue) -> RecordResult:
    """Score the published form of one record of a catalogue."""
    out = published(catalogue)
    return score_record(out.device_tests[test.id], out)


def score_all(catalogue: Catalogue) -> CatalogueResult:
    """Score the published form of a catalogue."""
    return score_catalogue(published(catalogue))
