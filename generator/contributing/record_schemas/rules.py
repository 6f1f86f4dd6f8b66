"""Which keys of one part of a record go together, as JSON Schema: what the models check beside forms.

Each rule says the same as a check of that model or of what belongs together within one record; order in time, sums and
what lies in other records have none here.
A key that is left blank counts as left out, as everywhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generator.model.base import Frozen
from generator.model.claims import TestableClaim
from generator.model.comparison import Comparison
from generator.model.configuration import Configuration, State
from generator.model.device import Device, DeviceKind
from generator.model.device_test import MEASURED, Test
from generator.model.filter_test import FilterLoading
from generator.model.flow_run import MeterInPath
from generator.model.hood import PressureTrace
from generator.model.instrument import Instrument, InstrumentKind
from generator.model.log import Sampling
from generator.model.reference import Bound, Criterion, DecisionRule
from generator.model.run_down import RunDown
from generator.model.series import SERIES_DIMENSIONS, SeriesReference
from generator.model.session import AS_GIVEN, READINGS, ExerciseReading, LogReference, Outcome, Session, TimetableEntry
from generator.model.units import units_of
from generator.model.zero_check import ZeroCheck

Rule = dict[str, Any]
_BLANK: tuple[Any, ...] = (None, [])
"""What a key may hold as if it were left out."""


def _given(name: str) -> Rule:
    """The key is there and holds something.

    A blank one is told of within a `not`: what stands in `properties` an editor would offer once more as a key.
    """
    return {"required": [name], "not": {"required": [name], "properties": {name: {"enum": list(_BLANK)}}}}


def _none_of(*names: str) -> Rule:
    words = "Leave it out: it does not go together with the rest."
    return {"properties": {name: {"enum": list(_BLANK), "errorMessage": words} for name in names}}


def _any_of(*names: str) -> Rule:
    return {"anyOf": [_given(name) for name in names]}


def _one_of(*names: str) -> Rule:
    return {"oneOf": [_given(name) for name in names]}


def _is(name: str, *values: str) -> Rule:
    return {"required": [name], "properties": {name: {"enum": list(values)}}}


def _if(condition: Rule, then: Rule) -> Rule:
    return {"if": condition, "then": then}


def _inside(name: str, rule: Rule) -> Rule:
    return {"properties": {name: rule}}


def _of_log(*columns: str) -> Rule:
    return _inside("log", _any_of(*columns))


_POWERED = tuple(kind.value for kind in DeviceKind if kind.powered)
_NOT_POWERED = tuple(kind.value for kind in DeviceKind if not kind.powered)
_REFER_TO_AIR = tuple(kind.value for kind in InstrumentKind if kind.refers_to_conditions)
_DO_NOT_REFER = tuple(kind.value for kind in InstrumentKind if not kind.refers_to_conditions)
_FLOW_METERS = tuple(kind.value for kind in InstrumentKind if kind.measures_flow)
_COUNTERS = tuple(kind.value for kind in InstrumentKind if not kind.measures_flow)
_MARKS = _inside("columns", {"allOf": [_given("exercise"), _given("sampling")]})
_NO_MARKS = _inside("columns", _none_of("exercise", "sampling"))
_COUNTED = {"required": ["exercises"], **_inside("exercises", {"contains": _given("in_mask_count")})}
_SIDE_BY_SIDE = _inside("timetable", {"contains": _is("sampling", Sampling.SIDE_BY_SIDE.value)})

RULES: Mapping[type[Frozen], tuple[Rule, ...]] = {
    Device: (
        _if(_is("kind", *_POWERED), _given("power")),
        _if(_is("kind", *_NOT_POWERED), {"allOf": [_none_of("power"), _inside("breath_responsive", {"const": False})]}),
    ),
    Instrument: (
        _if(_is("kind", *_REFER_TO_AIR), _given("reference_conditions")),
        _if(_is("kind", *_DO_NOT_REFER), _none_of("reference_conditions")),
        _if(_is("kind", *_COUNTERS), _given("counter")),
        _if(_is("kind", *_FLOW_METERS), _none_of("counter")),
    ),
    Configuration: (
        _if(_is("state", State.MODIFIED.value), _given("changes")),
        _if(_is("state", State.AS_SUPPLIED.value), _none_of("changes", "based_on", "costs", "carries_out")),
    ),
    Test: (
        _any_of(*MEASURED),
        _if(_any_of("flow", "exhaust", "run_downs"), _inside("instruments", _given("flow_meter"))),
    ),
    Session: (
        _if(_is("outcome", Outcome.ABORTED.value, Outcome.VOIDED.value), _given("reason")),
        _if(_is("outcome", Outcome.COMPLETED.value), _any_of("log", "exercises", *AS_GIVEN)),
        _if(_any_of("log", "exercises", *AS_GIVEN), _one_of("log", "exercises", *AS_GIVEN)),
        _if(_given("adjusted"), _is("outcome", Outcome.VOIDED.value)),
        _if(_COUNTED, _given("in_mask_time")),
    ),
    ExerciseReading: (_one_of(*READINGS),),
    ZeroCheck: (_one_of("concentration", "count"),),
    TestableClaim: (_one_of("supply_flow_at_least", "fit_factor_at_least", "run_time_at_least"),),
    TimetableEntry: (_if(_is("sampling", Sampling.IN_MASK.value), _given("exercise")),),
    LogReference: (
        {"if": _given("timetable"), "then": _NO_MARKS, "else": _MARKS},
        _if({"allOf": [_given("timetable"), _SIDE_BY_SIDE]}, _inside("columns", _given("outside"))),
    ),
    SeriesReference: (
        _any_of(*SERIES_DIMENSIONS),
        *(
            _inside(name, _inside("unit", {"enum": list(units_of(dimension))}))
            for name, dimension in SERIES_DIMENSIONS.items()
        ),
    ),
    RunDown: (_of_log("flow"),),
    PressureTrace: (_of_log("pressure"),),
    FilterLoading: (_of_log("flow", "pressure"),),
    MeterInPath: (
        _one_of("pressure_drop", "null_method"),
        _if(_given("null_method"), _none_of("drop_uncertainty", "blower_curve")),
    ),
    Criterion: (_if(_is("bound", Bound.AT_MOST.value), _is("decision_rule", DecisionRule.GUARDED.value)),),
    Comparison: (_inside("devices", {"uniqueItems": True}),),
}
"""The rules of each model, for those that are made from it too."""
