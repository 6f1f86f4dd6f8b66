"""A record that is there already, draft or not, as the planned test that a worksheet is made of."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import Enum
from typing import Any, TypeVar

from generator.contributing.drafting.on_record import OnRecord
from generator.errors import WrongUsage
from generator.model.configuration import State
from generator.model.flow_run import BatteryState, FilterState
from generator.model.planned_test import PlannedInstrument, PlannedRun, PlannedSession, PlannedTest, ReadingsForm

_Word = TypeVar("_Word", bound=Enum)


def planned_on_record(record: str, known: OnRecord) -> PlannedTest:
    """Return what a record says of a test, without its readings.

    Raises
    ------
    WrongUsage
        The record cannot be read, or does not say of which device it is.
    """
    data = _mapping(known.tests[record])
    device = known.devices.get(_text(data, "device"))
    if device is None or device.kind is None:
        raise WrongUsage(
            f"found the record `{record}`, which does not lead to a device whose kind is on record, expected one. "
            "`inward check` says what is wrong with it"
        )
    instruments = _mapping(data.get("instruments"))
    return PlannedTest(
        record=record,
        device=_text(data, "device"),
        kind=device.kind,
        settings=device.settings,
        state=_word(State, _mapping(data.get("configuration")).get("state"), State.AS_SUPPLIED),
        tester=_text(data, "tester"),
        readings=_form(data),
        sessions=tuple(_sessions(data, known)),
        runs=tuple(_runs(data)),
        particle_counter=_instrument(instruments, "particle_counter", known),
        flow_meter=_instrument(instruments, "flow_meter", known),
    )


def _sessions(data: Mapping[str, Any], known: OnRecord) -> Iterator[PlannedSession]:
    """Yield the sessions that name a protocol on record; the others have no steps to print."""
    for session in _items(data, "fit"):
        donning = session.get("donning")
        if _text(session, "protocol") in known.protocols and isinstance(donning, int):
            blower = _text(session, "blower") or None
            yield PlannedSession(
                _text(session, "id"), _text(session, "wearer"), donning, _text(session, "protocol"), blower
            )


def _runs(data: Mapping[str, Any]) -> Iterator[PlannedRun]:
    for run in _items(data, "flow"):
        yield PlannedRun(
            _text(run, "id"),
            _text(run, "setting"),
            _word(BatteryState, run.get("battery"), BatteryState.FRESH),
            _word(FilterState, run.get("filter"), FilterState.NEW),
        )


def _form(data: Mapping[str, Any]) -> ReadingsForm:
    """Return the form of the readings by the keys that the first session has."""
    for session in _items(data, "fit"):
        keys = {key for reading in _items(session, "exercises") for key in reading}
        if "log" in session:
            return ReadingsForm.LOG
        if "in_mask_count" in keys:
            return ReadingsForm.COUNTS
        if keys & {"fit_factor", "fit_factor_at_least"}:
            return ReadingsForm.FACTORS
        break
    return ReadingsForm.CONCENTRATIONS


def _instrument(instruments: Mapping[str, Any], role: str, known: OnRecord) -> PlannedInstrument | None:
    name = _text(instruments, role)
    kind = known.instruments.get(name)
    return PlannedInstrument(name, kind) if kind is not None else None


def _items(data: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
    items = data.get(key)
    return [item for item in items if isinstance(item, dict)] if isinstance(items, list) else []


def _text(data: Mapping[str, Any], key: str) -> str:
    value = data.get(key)
    return value if isinstance(value, str) else ""


def _word(words: type[_Word], value: Any, otherwise: _Word) -> _Word:
    return next((word for word in words if word.value == value), otherwise)


def _mapping(data: Any) -> Mapping[str, Any]:
    return data if isinstance(data, dict) else {}
