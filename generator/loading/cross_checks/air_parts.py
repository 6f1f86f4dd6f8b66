"""Parts about a powered device's air: they belong to a device with a blower, at settings it has, and to one another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Protocol

from generator.errors import Problem
from generator.loading.cross_checks.settings import setting_problem
from generator.loading.explain import nearest
from generator.loading.records import Entry, Records, good, record_of
from generator.loading.yaml_source import Steps
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.pressure_flow import DropOf
from generator.model.session import BLOWER_OFF

BLOWER_PARTS = ("blower_curves", "exhaust", "pressure_traces", "run_downs", "hood")
"""Parts of a record that only a device with a blower has."""
WHOLE_DEVICE = (DropOf.INHALATION, DropOf.EXHALATION)
"""Resistances of the whole device, to which it matters whether a blower ran."""
NO_BLOWER = "none"
"""What a part says in place of a setting where the device has no blower."""


def air_parts_belong_to_a_powered_device(records: Records) -> Iterator[Problem]:
    """What is said of a blower is said of a device that has one, at a setting that it has."""
    for entry, test in good(records.device_tests):
        device = record_of(records.devices, test.device)
        if device is None:
            continue
        if device.power is None:
            for part in BLOWER_PARTS:
                if getattr(test, part):
                    expected, remedy = f"none: `{device.id}` has no blower", f"Remove `{part}`, or correct `device`"
                    yield entry.problem((part,), "blower-not-expected", f"`{part}`", expected, remedy, of_key=True)
        for steps, setting, others in _settings(test):
            known = (NO_BLOWER,) if device.power is None else others
            problem = setting_problem(setting, device, *known)
            if problem is not None and not (device.power is None and steps[0] in (*BLOWER_PARTS, "pressure_drops")):
                yield entry.problem(steps, *problem)


def _settings(test: DeviceTest) -> Iterator[tuple[Steps, str, tuple[str, ...]]]:
    """Yield every setting that such a part names, and the words that may stand in its place."""
    for part, others in (("blower_curves", ()), ("exhaust", ()), ("run_downs", ()), ("pressure_traces", (BLOWER_OFF,))):
        for place, item in enumerate(getattr(test, part)):
            yield (part, place, "setting"), item.setting, others
    for place, gas in enumerate(test.inhaled_gas):
        yield ("inhaled_gas", place, "blower"), gas.blower, (BLOWER_OFF,)
    for place, drops in enumerate(test.pressure_drops):
        # Of a part, and of a device without a blower, it is told that no setting belongs there.
        if drops.blower is not None and drops.of in WHOLE_DEVICE:
            yield ("pressure_drops", place, "blower"), drops.blower, (BLOWER_OFF,)
    if test.burden is not None:
        for name, others in (("noise", ()), ("speech", (BLOWER_OFF,)), ("fogging", (BLOWER_OFF,))):
            for place, item in enumerate(getattr(test.burden, name)):
                yield ("burden", name, place, "setting"), item.setting, others


def names_of_air_parts_are_unique(records: Records) -> Iterator[Problem]:
    """Items that are told of in one section can be told apart by their names."""
    for entry, test in good(records.device_tests):
        seen: set[tuple[str, str]] = set()
        for section, steps, items in _lists(test):
            for place, item in enumerate(items):
                if (section, item.id) in seen:
                    remedy = "Give each a name of its own"
                    where = (*steps, place, "id")
                    yield entry.problem(where, "name-already-used", f"`{item.id}` twice", "each name once", remedy)
                seen.add((section, item.id))


class _Named(Protocol):
    @property
    def id(self) -> str: ...


def air_part_names(test: DeviceTest) -> set[str]:
    """Return the names of what figures about air may be about: runs, curves, logs, readings."""
    return {item.id for _, _, items in _lists(test) for item in items} | {run.id for run in test.flow}


def _lists(test: DeviceTest) -> Iterator[tuple[str, Steps, Sequence[_Named]]]:
    """Yield the lists of named items, with their places and the section that tells of them."""
    yield "blower", ("blower_curves",), test.blower_curves
    yield "hood", ("exhaust",), test.exhaust
    yield "hood", ("pressure_traces",), test.pressure_traces
    yield "gas", ("inhaled_gas",), test.inhaled_gas
    yield "run_time", ("run_downs",), test.run_downs
    yield "filter", ("pressure_drops",), test.pressure_drops
    if test.filter_test is not None:
        yield "filter", ("filter_test", "penetrations"), test.filter_test.penetrations
        yield "filter", ("filter_test", "loading"), test.filter_test.loading
    if test.burden is not None:
        yield "burden", ("burden", "noise"), test.burden.noise
        yield "burden", ("burden", "speech"), test.burden.speech


def blower_curves_that_are_named_exist(records: Records) -> Iterator[Problem]:
    """A run whose flow is corrected by a blower curve names one of its record, at its own setting and battery."""
    for entry, test in good(records.device_tests):
        curves = {curve.id: curve for curve in test.blower_curves}
        for place, run in enumerate(test.flow):
            name = run.meter.blower_curve if run.meter is not None else None
            if name is None:
                continue
            steps: Steps = ("flow", place, "meter", "blower_curve")
            if name not in curves:
                close = nearest(name, tuple(curves))
                remedy = "Name a blower curve of this record"
                remedy = f"Did you mean `{close}`? {remedy}" if close is not None else remedy
                yield entry.problem(steps, "unknown-reference", f"`{name}`", "the id of a blower curve", remedy)
            elif (curves[name].setting, curves[name].battery) != (run.setting, run.battery):
                curve, remedy = curves[name], "Name the curve of the same state"
                found = f"`{name}`, at {curve.setting} and battery {curve.battery.value}"
                expected = f"a curve at {run.setting} and battery {run.battery.value}"
                yield entry.problem(steps, "curve-of-another-state", found, expected, remedy)


def resistances_say_how_the_blower_stood(records: Records) -> Iterator[Problem]:
    """The resistance of a whole powered device says whether its blower ran."""
    for entry, test in good(records.device_tests):
        device = record_of(records.devices, test.device)
        if device is None:
            continue
        for place, drops in enumerate(test.pressure_drops):
            problem = _resistance_problem(entry, device, place, drops.of, drops.blower)
            if problem is not None:
                yield problem


def _resistance_problem(
    entry: Entry[DeviceTest], device: Device, place: int, of: DropOf, blower: str | None
) -> Problem | None:
    whole = of in WHOLE_DEVICE
    steps: Steps = ("pressure_drops", place, "blower")
    if whole and device.power is not None and blower is None:
        expected = f"`{BLOWER_OFF}` or a setting"
        return entry.problem(steps, "blower-missing", "no `blower`", expected, "Add how the blower stood")
    if blower is not None and (not whole or device.power is None):
        expected = "none: it is of a part, or of a device without a blower"
        return entry.problem(steps, "blower-not-expected", f"`{blower}`", expected, "Remove `blower`", of_key=True)
    return None
