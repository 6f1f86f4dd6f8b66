"""What scoring notices in a flow run, and in a device's air path, that bears on trust in its flow."""

from __future__ import annotations

from generator.model.device import Device
from generator.model.flow_result import BackPressure, FlowRunResult
from generator.model.result import Finding, Outcome
from generator.scoring.flow_steadiness import UNSTEADY_ABOVE, unsteady

Facts = dict[str, str | int | float]


def run_findings(run: FlowRunResult, device: Device) -> list[Finding]:
    """Return the findings of one run."""
    where = f"flow[{run.run}]"
    state: Facts = {
        "setting": run.setting,
        "battery": run.battery,
        "filter": run.filter,
        "mean_l_per_min": run.mean.value or 0.0,
    }
    findings = [*_measuring(run, where, state)]
    if device.breath_responsive:
        return [*findings, Finding(rule="breath-responsive", where=where, facts=state)]
    return [*findings, *_against_requirement(run, where, state)]


def _measuring(run: FlowRunResult, where: str, state: Facts) -> list[Finding]:
    findings = []
    if run.mean.sample_size == 1:
        findings.append(Finding(rule="single-reading", where=where, facts=state))
    if unsteady(run.variation, run.trend, (run.measured or run.mean).value or 0.0):
        facts: Facts = {**state, "noted_above": UNSTEADY_ABOVE, "variation_percent": run.variation.value or 0.0}
        findings.append(Finding(rule="unsteady-flow", where=where, facts=facts))
    if run.back_pressure is BackPressure.UNKNOWN:
        findings.append(Finding(rule="meter-back-pressure-unknown", where=where, facts=state))
    elif run.back_pressure is BackPressure.NOT_CORRECTED:
        facts = {**state, "reason": run.back_pressure_reason or ""}
        findings.append(Finding(rule="meter-back-pressure-not-corrected", where=where, facts=facts))
    return findings


def _against_requirement(run: FlowRunResult, where: str, state: Facts) -> list[Finding]:
    verdict = run.verdict
    if verdict.limit is None or verdict.ratio is None or verdict.criterion is None:
        return []
    compared: Facts = {
        **state,
        "limit_l_per_min": verdict.limit,
        "ratio": verdict.ratio,
        "criterion": verdict.criterion,
    }
    findings = []
    if verdict.outcome is not Outcome.MEETS and not run.claimed:
        findings.append(Finding(rule="low-flow-at-other-setting", where=where, facts=compared))
    elif verdict.outcome is Outcome.DOES_NOT_MEET:
        findings.append(Finding(rule="flow-below-requirement", where=where, facts=compared))
    elif verdict.outcome is Outcome.UNDECIDED:
        findings.append(Finding(rule="flow-undecided", where=where, facts=compared))
    if verdict.benchmark_only:
        findings.append(Finding(rule="flow-benchmark-only", where=where, facts=compared))
    return findings


def alarm_findings(device: Device) -> tuple[Finding, ...]:
    """Return the finding that nothing tells a wearer of low flow, where the record says so."""
    if not device.kind.powered or device.air_path.low_flow_alarm is not False:
        return ()
    return (Finding(rule="no-low-flow-alarm", where=f"devices/{device.id}: air_path.low_flow_alarm", facts={}),)
