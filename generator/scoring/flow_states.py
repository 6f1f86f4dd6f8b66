"""The states of a device in which its flow counts: claimed settings, with each state of battery and of filter."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.device import Device
from generator.model.flow_result import FlowRunResult, FlowState
from generator.model.flow_run import BatteryState, FilterState
from generator.model.result import Outcome

RecordedRun = tuple[str, FlowRunResult]
"""The id of a record, and one of its runs."""
WORST_FIRST = (Outcome.DOES_NOT_MEET, Outcome.UNDECIDED, Outcome.MEETS, Outcome.NOT_APPLICABLE)
_ON_BATTERY = (BatteryState.FRESH, BatteryState.AT_ALARM)


def claimed_settings(device: Device) -> tuple[str, ...]:
    """Return the settings that a flow is held to: those named as protective, or every one where none is named."""
    if device.power is None:
        return ()
    return device.power.protective_settings or device.power.settings


def is_claimed(setting: str, device: Device) -> bool:
    """Say whether a setting is one that the device is held to."""
    return setting in claimed_settings(device) or device.power is None


def worst_run(runs: Sequence[RecordedRun]) -> RecordedRun | None:
    """Return the run with the worst verdict, and among those with the least flow."""
    return min(
        runs,
        key=lambda item: (WORST_FIRST.index(item[1].verdict.outcome), item[1].mean.value or 0.0, item[0], item[1].run),
        default=None,
    )


def flow_states(device: Device, runs: Sequence[RecordedRun]) -> tuple[FlowState, ...]:
    """Return every state that counts, measured or not, and then whatever else was measured."""
    by_state: dict[tuple[str, str, str], list[RecordedRun]] = {}
    for item in runs:
        by_state.setdefault((item[1].setting, item[1].battery, item[1].filter), []).append(item)
    # A blower that was only ever run on mains has no battery to be fresh or at its alarm.
    on_mains = {run.battery for _, run in runs} == {BatteryState.MAINS.value}
    batteries = (BatteryState.MAINS,) if on_mains else _ON_BATTERY
    expected = [
        (setting, battery.value, state.value)
        for setting in claimed_settings(device)
        for battery in batteries
        for state in FilterState
    ]
    others = sorted(state for state in by_state if state not in expected)
    return tuple(_state(state, by_state.get(state, []), device) for state in (*expected, *others))


def _state(state: tuple[str, str, str], runs: Sequence[RecordedRun], device: Device) -> FlowState:
    setting, battery, filter_state = state
    worst = worst_run(runs)
    return FlowState(
        setting=setting,
        claimed=is_claimed(setting, device),
        battery=battery,
        filter=filter_state,
        runs=len(runs),
        outcome=worst[1].verdict.outcome if worst is not None else None,
        record=worst[0] if worst is not None else None,
        run=worst[1].run if worst is not None else None,
    )
