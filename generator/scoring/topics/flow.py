"""Flow: how much air a powered device delivers to its wearer."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.device import Device
from generator.model.flow_result import FlowResult, FlowRunResult, FlowSummary
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Finding, Outcome, TopicResult
from generator.scoring.flow_runs import flow_run_results

ORDER = 20
_WORST_FIRST = (Outcome.DOES_NOT_MEET, Outcome.UNDECIDED, Outcome.MEETS, Outcome.NOT_APPLICABLE)


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> FlowResult | None:
    """Score the flow runs of a record, or return None where it has none."""
    if not test.flow:
        return None
    device = catalogue.devices[test.device]
    runs = flow_run_results(test, catalogue)
    return FlowResult(
        figures=tuple(figure for run in runs for figure in (run.mean, run.standard_deviation)),
        verdicts=tuple(run.verdict for run in runs),
        findings=tuple(finding for run in runs for finding in _run_findings(run, device)),
        runs=runs,
    )


def _run_findings(run: FlowRunResult, device: Device) -> list[Finding]:
    where, verdict = f"flow[{run.run}]", run.verdict
    state: dict[str, str | int | float] = {
        "setting": run.setting,
        "battery": run.battery,
        "filter": run.filter,
        "mean_l_per_min": run.mean.value or 0.0,
    }
    findings = []
    if run.mean.sample_size == 1:
        findings.append(Finding(rule="single-reading", where=where, facts=state))
    if device.breath_responsive:
        return [*findings, Finding(rule="breath-responsive", where=where, facts=state)]
    if verdict.limit is None or verdict.ratio is None or verdict.criterion is None:
        return findings
    compared: dict[str, str | int | float] = {
        **state,
        "limit_l_per_min": verdict.limit,
        "ratio": verdict.ratio,
        "criterion": verdict.criterion,
    }
    if verdict.outcome is Outcome.DOES_NOT_MEET:
        findings.append(Finding(rule="flow-below-requirement", where=where, facts=compared))
    elif verdict.outcome is Outcome.UNDECIDED:
        findings.append(Finding(rule="flow-undecided", where=where, facts=compared))
    if verdict.benchmark_only:
        findings.append(Finding(rule="flow-benchmark-only", where=where, facts=compared))
    return findings


def summarise_device(
    device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
) -> FlowSummary | None:
    """Sum up all flow runs of a device: the worst verdict governs, and among those the least flow."""
    runs = [
        (record, run) for record, result in results.items() if isinstance(result, FlowResult) for run in result.runs
    ]
    if not runs:
        return None
    record, governing = min(
        runs,
        key=lambda item: (_WORST_FIRST.index(item[1].verdict.outcome), item[1].mean.value or 0.0, item[0], item[1].run),
    )
    return FlowSummary(findings=(), runs=len(runs), governing=governing, governing_record=record)
