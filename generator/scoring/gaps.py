"""What was not tested of a device, by rules: a reader must not take silence for a result."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.device import Device, Fitting
from generator.model.evidence_result import Gap
from generator.model.fit_result import FitSummary
from generator.model.flow_run import BatteryState, FilterState, FlowRun
from generator.model.published import PublishedTest
from generator.model.session import BLOWER_OFF
from generator.scoring.session_rules import counted_sessions

_TIGHT = (Fitting.TIGHT_HALF, Fitting.TIGHT_FULL)


def gaps_of(
    device: Device, tests: Sequence[PublishedTest], fit: FitSummary, units: int, records_without_unit: int
) -> tuple[Gap, ...]:
    """Return what the standing records of a device do not hold; `units` is how many are recorded."""
    if not tests:
        return (Gap(rule="nothing"),)
    gaps = [*_wearer_gaps(fit)]
    if units == 0:
        gaps.append(Gap(rule="unit-unknown"))
    elif units == 1 and records_without_unit == 0:
        gaps.append(Gap(rule="one-unit"))
    if device.kind.powered and device.kind.fitting in _TIGHT and fit.wearers and not _has_blower_off(tests):
        gaps.append(Gap(rule="no-blower-off"))
    if device.power is not None:
        gaps += _flow_gaps(device.power.settings, [run for test in tests for run in test.flow])
    return tuple(gaps)


def _wearer_gaps(fit: FitSummary) -> list[Gap]:
    if not fit.wearers:
        return [Gap(rule="no-wearer")]
    return [Gap(rule="one-wearer")] if len(fit.wearers) == 1 else []


def _has_blower_off(tests: Sequence[PublishedTest]) -> bool:
    return any(
        session.blower == BLOWER_OFF and session.id in counted_sessions(test) for test in tests for session in test.fit
    )


def _flow_gaps(settings: Sequence[str], runs: Sequence[FlowRun]) -> list[Gap]:
    if not runs:
        return [Gap(rule="no-flow")]
    measured = {run.setting for run in runs}
    gaps = [Gap(rule="no-flow-at-setting", setting=name) for name in settings if name not in measured]
    batteries = {run.battery for run in runs}
    # A blower that is always run on mains has no battery alarm.
    if BatteryState.AT_ALARM not in batteries and batteries != {BatteryState.MAINS}:
        gaps.append(Gap(rule="no-flow-at-alarm"))
    if FilterState.LOADED not in {run.filter for run in runs}:
        gaps.append(Gap(rule="no-loaded-filter"))
    return gaps
