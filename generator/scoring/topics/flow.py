"""Flow: how much air a powered device delivers to its wearer."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.device import Device
from generator.model.flow_result import FlowResult, FlowSummary
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import TopicResult
from generator.scoring.flow_findings import alarm_findings, run_findings
from generator.scoring.flow_runs import flow_run_results
from generator.scoring.flow_states import flow_states, worst_run
from generator.scoring.items import as_supplied_first

ORDER = 20


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> FlowResult | None:
    """Score the flow runs of a record, or return None where it has none."""
    if not test.flow:
        return None
    device = catalogue.devices[test.device]
    runs = flow_run_results(test, catalogue)
    figures = (
        figure
        for run in runs
        for figure in (
            run.mean,
            run.measured,
            run.at_requirement,
            run.standard_deviation,
            run.variation,
            run.trend,
        )
        if figure is not None
    )
    return FlowResult(
        figures=tuple(figures),
        verdicts=tuple(run.verdict for run in runs),
        findings=tuple(finding for run in runs for finding in run_findings(run, device)),
        runs=runs,
    )


def summarise_device(
    device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
) -> FlowSummary | None:
    """Sum up all flow runs of a device: the worst verdict at a claimed setting governs, then the least flow.

    What was measured modified says nothing of the device as supplied: it governs only where nothing else was measured.
    """
    runs = [
        (record, run) for record, result in results.items() if isinstance(result, FlowResult) for run in result.runs
    ]
    findings = alarm_findings(device)
    if not runs and not findings:
        return None
    counted = as_supplied_first(runs, catalogue)
    governing = worst_run([item for item in counted if item[1].claimed])
    return FlowSummary(
        findings=findings,
        runs=len(runs),
        governing=governing[1] if governing is not None else None,
        governing_record=governing[0] if governing is not None else None,
        states=flow_states(device, counted),
    )
