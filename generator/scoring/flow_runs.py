"""The flow runs of a record, scored; what follows from the air that a blower delivers begins here."""

from __future__ import annotations

from generator.model.device import Device
from generator.model.flow_result import AirConditions, FlowRunResult
from generator.model.flow_run import FlowRun
from generator.model.instrument import ReferenceConditions
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Figure, Input, Working
from generator.scoring.flow_back_pressure import back_pressure
from generator.scoring.flow_figures import mean_figures
from generator.scoring.flow_readings import flow_meter, meter_air, metered_flows, room_air
from generator.scoring.flow_states import is_claimed
from generator.scoring.flow_statistics import mean_flow
from generator.scoring.flow_steadiness import deviation_figure, trend_figure, variation_figure
from generator.scoring.gas_conditions import flow_at_stated_conditions
from generator.scoring.requirements import Spread, flow_criterion, flow_verdict


def flow_run_results(test: PublishedTest, catalogue: PublishedCatalogue) -> tuple[FlowRunResult, ...]:
    """Score every flow run of a record, in its order. Flows are in L/min of the room's air."""
    device = catalogue.devices[test.device]
    return tuple(_score_run(run, test, device, catalogue) for run in test.flow)


def _score_run(run: FlowRun, test: PublishedTest, device: Device, catalogue: PublishedCatalogue) -> FlowRunResult:
    meter = flow_meter(test, catalogue)
    metered = metered_flows(run, test, meter)
    resistance = back_pressure(run, test, mean_flow(metered.flows))
    mean = mean_figures(run, test, metered, resistance)
    criterion = flow_criterion(device, catalogue)
    compared, spread, at_requirement, air = mean.figure, mean.spread, None, None
    # A device that is not held against it has no flow at the requirement's conditions either.
    if criterion is not None and criterion.reference_air is not None and not device.breath_responsive:
        air = _air(criterion.reference_air)
        compared = at_requirement = _at_stated_conditions(
            run.id, mean.figure, room_air(test), air, f"reference/criteria: {criterion.id}"
        )
        if spread is not None:
            factor = _stated(1.0, room_air(test), air)
            spread = Spread(spread.standard_uncertainty * factor, spread.degrees)
    return FlowRunResult(
        run=run.id,
        setting=run.setting,
        claimed=is_claimed(run.setting, device),
        battery=run.battery.value,
        filter=run.filter.value,
        where=run.where,
        mean=mean.figure,
        measured=mean.measured,
        standard_deviation=deviation_figure(run.id, metered),
        variation=variation_figure(run.id, metered),
        trend=trend_figure(run.id, metered),
        standard_uncertainty=mean.spread.standard_uncertainty if mean.spread is not None else None,
        degrees_of_freedom=mean.spread.degrees if mean.spread is not None else None,
        budget=mean.budget,
        room=room_air(test),
        meter_air=meter_air(meter),
        back_pressure=resistance[0],
        back_pressure_reason=resistance[1],
        at_requirement=at_requirement,
        compared_air=air,
        verdict=flow_verdict(run.id, compared, spread, device, catalogue),
    )


def _air(stated: ReferenceConditions) -> AirConditions:
    return AirConditions(
        temperature=stated.temperature.to("K"), pressure=stated.pressure.to("Pa"), relative_humidity=None
    )


def _stated(flow: float, room: AirConditions, stated: AirConditions) -> float:
    return flow_at_stated_conditions(flow, room.temperature, room.pressure, stated.temperature, stated.pressure)


def _at_stated_conditions(run: str, mean: Figure, room: AirConditions, stated: AirConditions, where: str) -> Figure:
    """Return a mean flow as the volume that the same air has at the conditions of a requirement."""
    assert mean.value is not None

    def working(value: float) -> Working:
        inputs = (
            Input(
                symbol="Q",
                meaning="flow in the air of the room",
                value=value,
                unit="L/min",
                where=f"flow[{run}]: {mean.key}",
            ),
            Input(
                symbol="T",
                meaning="room temperature",
                value=room.temperature,
                unit="K",
                where="environment.temperature",
            ),
            Input(symbol="p", meaning="room pressure", value=room.pressure, unit="Pa", where="environment.pressure"),
            Input(
                symbol=r"T_{\mathrm{s}}",
                meaning="temperature that the requirement states",
                value=stated.temperature,
                unit="K",
                where=where,
            ),
            Input(
                symbol=r"p_{\mathrm{s}}",
                meaning="pressure that the requirement states",
                value=stated.pressure,
                unit="Pa",
                where=where,
            ),
        )
        return Working(method="stated-conditions", inputs=inputs)

    interval = mean.interval
    if interval is not None:
        assert interval.low is not None
        assert interval.high is not None
        interval = interval.model_copy(
            update={
                "low": _stated(interval.low, room, stated),
                "high": _stated(interval.high, room, stated),
                "method": "stated-conditions",
                "covers": f"what that of the flow in the room's air covers: {interval.covers}",
                "working": None,
            }
        )
    return mean.model_copy(
        update={
            "key": f"flow.{run}.at-requirement",
            "name": "supply flow in the air that the requirement states",
            "value": _stated(mean.value, room, stated),
            "interval": interval,
            "method": "stated-conditions",
            "working": working(mean.value),
        }
    )
