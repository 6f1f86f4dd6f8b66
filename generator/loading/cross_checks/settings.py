"""Blowers and instruments: a session or run names a state the device has, and instruments that can measure it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.errors import Problem
from generator.loading.explain import nearest
from generator.loading.records import Records, good, record_of
from generator.loading.yaml_source import Steps
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.reference import Principle
from generator.model.session import BLOWER_OFF, FitSession


def blower_is_as_the_device_has_it(records: Records) -> Iterator[Problem]:
    """A fit session with a powered device says how the blower stood; one with another device says nothing of it."""
    for entry, test in good(records.device_tests):
        device = record_of(records.devices, test.device)
        if device is None:
            continue
        for place, session in enumerate(test.fit):
            problem = _blower_problem(session, device)
            if problem is not None:
                yield entry.problem(("fit", place, "blower"), *problem)


def _blower_problem(session: FitSession, device: Device) -> tuple[str, str, str, str] | None:
    if device.power is None:
        if session.blower is None:
            return None
        remedy = "Remove `blower`, or correct `device`"
        return "blower-not-expected", f"`{session.blower}`", f"none: `{device.id}` has no blower", remedy
    if session.blower is None:
        remedy = f"Add `blower: {BLOWER_OFF}` or the setting it ran at"
        return "blower-missing", "no `blower`", _settings_shown(device, BLOWER_OFF), remedy
    if session.blower == BLOWER_OFF:
        return None
    return setting_problem(session.blower, device, BLOWER_OFF)


def flow_belongs_to_a_powered_device(records: Records) -> Iterator[Problem]:
    """Flow runs are of powered devices, at a setting that the device has."""
    for entry, test in good(records.device_tests):
        device = record_of(records.devices, test.device)
        if device is None or not test.flow:
            continue
        if device.power is None:
            expected, remedy = f"none: `{device.id}` has no blower", "Remove `flow`, or correct `device`"
            yield entry.problem(("flow",), "flow-not-expected", "flow runs", expected, remedy, of_key=True)
            continue
        for place, run in enumerate(test.flow):
            problem = setting_problem(run.setting, device)
            if problem is not None:
                yield entry.problem(("flow", place, "setting"), *problem)


OF_A_BLOWER = {"supply_flow_at_least": "air flow", "run_time_at_least": "time on one charge"}
"""What can be claimed of a device with a blower only."""


def claims_name_settings_of_the_device(records: Records) -> Iterator[Problem]:
    """A claim about a blower setting names one that the device has; only a powered device's maker claims a flow."""
    for entry, device in good(records.devices):
        for place, claim in enumerate(device.claims):
            means = claim.means
            if means is None:
                continue
            of_air = next((name for name in OF_A_BLOWER if getattr(means, name) is not None), None)
            if of_air is not None and device.power is None:
                expected, remedy = f"none: `{device.id}` has no blower", "Leave `means` out, or correct `kind`"
                steps: Steps = ("claims", place, "means", of_air)
                found = f"a claim of {OF_A_BLOWER[of_air]}"
                yield entry.problem(steps, "flow-not-expected", found, expected, remedy, of_key=True)
            elif means.setting is not None:
                problem = setting_problem(means.setting, device, BLOWER_OFF)
                if problem is not None:
                    yield entry.problem(("claims", place, "means", "setting"), *problem)


def protective_settings_are_settings_of_the_device(records: Records) -> Iterator[Problem]:
    """The settings at which the maker says that a device protects are among its settings."""
    for entry, device in good(records.devices):
        for place, setting in enumerate(device.power.protective_settings if device.power is not None else ()):
            problem = setting_problem(setting, device)
            if problem is not None:
                yield entry.problem(("power", "protective_settings", place), *problem)


def setting_problem(setting: str, device: Device, *others: str) -> tuple[str, str, str, str] | None:
    """Return what is wrong with the name of a setting, or None where the device has it."""
    known = (*(device.power.settings if device.power is not None else ()), *others)
    if setting in known:
        return None
    close = nearest(setting, known)
    remedy = "Correct it, or add the setting to the device"
    if close is not None:
        remedy = f"Did you mean `{close}`? {remedy}"
    return "unknown-setting", f"`{setting}`", _settings_shown(device, *others), remedy


def _settings_shown(device: Device, *others: str) -> str:
    known = (*(device.power.settings if device.power is not None else ()), *others)
    return f"one of {', '.join(f'`{each}`' for each in known)}, as `{device.id}` has them"


def _counts_particles(test: DeviceTest, records: Records) -> bool:
    """Say whether a session of a record goes by particles; one of a protocol that is not on record is taken to."""
    protocols = [records.protocol(session.protocol) for session in test.fit]
    return any(protocol is None or protocol.principle is Principle.PARTICLES for protocol in protocols)


def instruments_measure_what_is_needed(records: Records) -> Iterator[Problem]:
    """Fit sessions that go by particles need a particle counter; flow runs, exhausts and run-downs a flow meter."""
    for entry, test in good(records.device_tests):
        flows = bool(test.flow or test.exhaust or test.run_downs)
        for role, name, needed, measures_flow in (
            ("particle_counter", test.instruments.particle_counter, _counts_particles(test, records), False),
            ("outside_counter", test.instruments.outside_counter, False, False),
            ("flow_meter", test.instruments.flow_meter, flows, True),
        ):
            steps: Steps = ("instruments", role)
            what = "flow meter" if measures_flow else "particle counter"
            if name is None:
                if needed:
                    expected = f"the {what} that the {'flows' if measures_flow else 'fit sessions'} were read with"
                    remedy = f"Add `{role}` with the id of an instrument on record"
                    yield entry.problem(steps, "instrument-missing", f"no `{role}`", expected, remedy)
                continue
            instrument = record_of(records.instruments, name)
            if instrument is not None and instrument.kind.measures_flow != measures_flow:
                found = f"`{name}`, a {instrument.kind.value.replace('_', ' ')}"
                yield entry.problem(steps, "wrong-instrument", found, f"a {what}", "Name the instrument that was used")
