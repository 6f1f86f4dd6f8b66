"""The rules of the schemas say the same as the models: every choice of keys of a part, by both."""

from __future__ import annotations

import json
from collections.abc import Mapping
from itertools import product
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from pydantic import ValidationError

from generator.contributing.record_schemas.rules import RULES
from generator.contributing.record_schemas.schemas import record_schema
from generator.loading.yaml_source import read_yaml
from generator.model.base import Frozen
from generator.model.claims import TestableClaim
from generator.model.comparison import Comparison
from generator.model.configuration import Configuration
from generator.model.device import Device
from generator.model.device_test import DeviceTest, Test
from generator.model.filter_test import FilterLoading
from generator.model.flow_run import MeterInPath
from generator.model.hood import PressureTrace
from generator.model.instrument import Instrument
from generator.model.reference import Criterion
from generator.model.run_down import RunDown
from generator.model.series import SeriesReference
from generator.model.session import ExerciseReading, FitSession, LogReference, Session, TimetableEntry
from generator.model.zero_check import ZeroCheck
from tests.loading.example_records import GOOD

OUT = "left out"
"""Stands for a key that is not there."""
SHA = "0" * 64
SERIES = {"file": "logs/a.csv", "sha256": SHA, "time": "t"}
LOG = {"file": "logs/a.csv", "sha256": SHA, "unit": "/cm3", "columns": {"time": "t", "concentration": "c"}}
MARKED = {**LOG, "columns": {"time": "t", "concentration": "c", "exercise": "e", "sampling": "s"}}
SESSION = {"id": "first", "wearer": "finch", "donning": 1, "protocol": "two-steps", "filter": "new"}
ENTRY = {"sampling": "ambient", "start": "0 s", "end": "1 s"}
TEST_KEYS = {
    "fit": [{**SESSION, "outcome": "completed", "fit_factor": 100}],
    "blower_curves": [
        {"id": "a", "setting": "high", "battery": "fresh", "where": "there", "uncertainty": "2 %"}
        | {"points": [{"flow": "0 L/min", "pressure": "9 Pa"}, {"flow": "9 L/min", "pressure": "0 Pa"}]}
    ],
    "filter_test": {},
    "burden": {},
}


def good(name: str) -> dict[str, Any]:
    """Return a good example record as plain data."""
    data = read_yaml((GOOD / name).read_bytes(), name).data
    assert isinstance(data, dict)
    return data


def one_or_none(*keys: str, value: Any) -> dict[str, list[Any]]:
    return {key: [OUT, None, value] for key in keys}


CASES: list[tuple[str, type[Frozen], Mapping[str, Any], Mapping[str, list[Any]]]] = [
    (
        "device",
        Device,
        good("devices/hood.yaml"),
        {
            "kind": [
                "face_covering", "surgical_mask", "filtering_facepiece", "elastomeric_half_facepiece",
                "elastomeric_full_facepiece", "tight_powered_half_facepiece", "tight_powered_full_facepiece",
                "loose_powered_facepiece", "loose_powered_hood",
            ],
            "power": [OUT, None, good("devices/hood.yaml")["power"]],
            "breath_responsive": [True, False],
        },
    ),
    (
        "instrument",
        Instrument,
        good("instruments/meter.yaml"),
        {
            "kind": [
                "thermal_mass_flow_meter", "volumetric_flow_meter", "variable_area_flow_meter",
                "condensation_particle_counter", "optical_particle_counter",
            ],
            "reference_conditions": [OUT, None, {"temperature": "20 degC", "pressure": "1013 hPa"}],
            "counter": [OUT, None, good("instruments/counter.yaml")["counter"]],
        },
    ),
    (
        "device_test",
        Configuration,
        {"description": "as it came"},
        {
            "state": ["as_supplied", "modified"],
            "changes": [OUT, [], ["a strap"]],
            "costs": [OUT, None, {"approval": "gone", "mass": "300 g", "noise": "the same"}],
            **one_or_none("based_on", "carries_out", value="plan-b"),
        },
    ),
    (
        "device_test",
        FitSession,
        SESSION,
        {
            "outcome": ["completed", "aborted", "voided"],
            "reason": [OUT, None, "it rang"],
            "log": [OUT, None, MARKED],
            "exercises": [OUT, [], [{"exercise": "standing", "fit_factor": 9}]],
            "fit_factor": [OUT, None, 100],
            "fit_factor_at_least": [OUT, 100],
            "adjusted": [OUT, "the strap"],
        },
    ),
    (
        "device_test",
        ExerciseReading,
        {"exercise": "standing"},
        one_or_none("in_mask", value="3 /cm3")
        | one_or_none("in_mask_count", "fit_factor", "fit_factor_at_least", value=4),
    ),
    (
        "device_test",
        ZeroCheck,
        {"time": "60 s"},
        one_or_none("concentration", value="0 /cm3") | one_or_none("count", value=0),
    ),
    (
        "device",
        TestableClaim,
        {},
        one_or_none("supply_flow_at_least", value="9 L/min")
        | one_or_none("fit_factor_at_least", value=9)
        | one_or_none("run_time_at_least", value="9 h"),
    ),
    (
        "device_test",
        TimetableEntry,
        ENTRY,
        {"sampling": ["ambient", "in-mask", "purge", "side-by-side"], "exercise": [OUT, None, "standing"]},
    ),
    (
        "device_test",
        LogReference,
        LOG,
        {
            "columns": [
                {"time": "t", "concentration": "c"} | marks | outside
                for marks in ({}, {"exercise": "e"}, {"sampling": "s"}, {"exercise": "e", "sampling": "s"})
                for outside in ({}, {"outside": None}, {"outside": "o"})
            ],
            "timetable": [OUT, [], [ENTRY], [{**ENTRY, "sampling": "side-by-side"}]],
        },
    ),
    (
        "device_test",
        SeriesReference,
        SERIES,
        {
            "flow": [OUT, None, {"heading": "f", "unit": "L/min"}, {"heading": "f", "unit": "Pa"}],
            "pressure": [OUT, {"heading": "p", "unit": "Pa"}, {"heading": "p", "unit": "V"}],
            "voltage": [OUT, {"heading": "v", "unit": "V"}, {"heading": "v", "unit": "A"}],
            "current": [OUT, {"heading": "a", "unit": "mA"}, {"heading": "a", "unit": "mAh"}],
        },
    ),
    (
        "device_test",
        MeterInPath,
        {},
        one_or_none("pressure_drop", value="9 Pa")
        | one_or_none("null_method", "blower_curve", value="first")
        | one_or_none("drop_uncertainty", value="2 %"),
    ),
    (
        "criterion",
        Criterion,
        good("criteria/bench-flow.yaml"),
        {"bound": [OUT, "at_least", "at_most"], "decision_rule": ["guarded", "plain"]},
    ),
    (
        "comparison",
        Comparison,
        {"id": "a", "version": "1", "title": "a", "question": "which?"},
        {"devices": [["hood", "half"], ["hood", "hood"], ["hood", "half", "hood"]]},
    ),
    (
        "device_test",
        DeviceTest,
        {key: part for key, part in good("device_tests/hood-march.yaml").items() if key not in ("fit", "flow")},
        {key: [OUT, [] if isinstance(part, list) else None, part] for key, part in TEST_KEYS.items()},
    ),
]  # fmt: skip
CHECKED_ACROSS = {RunDown, PressureTrace, FilterLoading}
"""Their rule is no check of the model but one of the log; the bad examples have it."""


def the_model_takes(model: type[Frozen], content: Mapping[str, Any]) -> bool:
    try:
        model.model_validate_json(json.dumps(content))
    except ValidationError:
        return False
    return True


@pytest.mark.parametrize(
    ("kind", "model", "base", "choices"), CASES, ids=[f"{case[0]}-{case[1].__name__}" for case in CASES]
)
def test_schema_and_model_take_the_same_choices_of_keys(
    kind: str, model: type[Frozen], base: Mapping[str, Any], choices: Mapping[str, list[Any]]
) -> None:
    whole = {"$defs": {}, **record_schema(kind)}
    # The whole record's own part stands at the top, all others by their name.
    part = whole["$defs"].get(model.__name__, whole)
    judge = Draft202012Validator({**part, "$defs": whole["$defs"]})
    taken = set()
    for chosen in product(*choices.values()):
        given = dict(zip(choices, chosen, strict=True))
        content = {**base, **given}
        content = {key: value for key, value in content.items() if value is not OUT}
        verdict = the_model_takes(model, content)
        assert judge.is_valid(content) == verdict, given
        taken.add(verdict)
    assert taken == {True, False}


def test_every_part_with_rules_is_tried() -> None:
    tried = {each for case in CASES for each in case[1].__mro__}
    assert set(RULES) - tried == CHECKED_ACROSS
    assert {Session, Test} <= tried
