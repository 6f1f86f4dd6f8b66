"""The flow runs of a record, scored; what follows from the air that a blower delivers begins here."""

from __future__ import annotations

from generator.model.device import Device
from generator.model.flow_result import FlowRunResult
from generator.model.flow_run import FlowRun
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.scoring.flow_figures import deviation_figure, mean_figure
from generator.scoring.flow_readings import flow_meter, metered_flows
from generator.scoring.requirements import flow_verdict


def flow_run_results(test: PublishedTest, catalogue: PublishedCatalogue) -> tuple[FlowRunResult, ...]:
    """Score every flow run of a record, in its order. Flows are in L/min of the room's air."""
    device = catalogue.devices[test.device]
    return tuple(_score_run(run, test, device, catalogue) for run in test.flow)


def _score_run(run: FlowRun, test: PublishedTest, device: Device, catalogue: PublishedCatalogue) -> FlowRunResult:
    metered = metered_flows(run, test, flow_meter(test, catalogue))
    mean, spread = mean_figure(run.id, metered)
    return FlowRunResult(
        run=run.id,
        setting=run.setting,
        battery=run.battery.value,
        filter=run.filter.value,
        where=run.where,
        mean=mean,
        standard_deviation=deviation_figure(run.id, metered),
        standard_uncertainty=spread.standard_uncertainty if spread is not None else None,
        degrees_of_freedom=spread.degrees if spread is not None else None,
        verdict=flow_verdict(run.id, mean, spread, device, catalogue),
    )
