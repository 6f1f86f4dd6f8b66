"""The air that a powered exhaust draws out, scored as a flow run is: the same meter, certificate and room."""

from __future__ import annotations

import re

from generator.model.air_balance_result import ExhaustResult
from generator.model.flow_result import FlowRunResult
from generator.model.flow_run import BatteryState, FilterState, FlowRun
from generator.model.hood import ExhaustRun
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.flow_runs import flow_run_results


def exhaust_results(test: PublishedTest, catalogue: PublishedCatalogue) -> tuple[ExhaustResult, ...]:
    """Score every exhaust run of a record, in its order. Flows are in L/min of the room's air."""
    # Nothing of a flow run's mean follows from the state of battery and filter, which an exhaust run does not name.
    as_flow_runs = tuple(
        FlowRun(
            id=run.id,
            setting=run.setting,
            battery=BatteryState.FRESH,
            filter=FilterState.NEW,
            where=run.where,
            readings=run.readings,
        )
        for run in test.exhaust
    )
    scored = flow_run_results(test.model_copy(update={"flow": as_flow_runs}), catalogue)
    return tuple(_exhaust(run, result) for run, result in zip(test.exhaust, scored, strict=True))


def _exhaust(run: ExhaustRun, result: FlowRunResult) -> ExhaustResult:
    return ExhaustResult(
        exhaust=run.id,
        setting=run.setting,
        where=run.where,
        mean=_moved(result.mean).model_copy(update={"name": "air drawn out by the exhaust"}),
        standard_deviation=_moved(result.standard_deviation),
        standard_uncertainty=result.standard_uncertainty,
        degrees_of_freedom=result.degrees_of_freedom,
    )


def _moved(figure: Figure) -> Figure:
    """Return a figure under this topic, its inputs where the exhaust stands in the record."""
    return figure.model_copy(
        update={
            "key": _place(figure.key),
            "working": _working(figure.working),
            "interval": _interval(figure.interval),
        }
    )


def _interval(interval: Interval | None) -> Interval | None:
    return None if interval is None else interval.model_copy(update={"working": _working(interval.working)})


def _working(working: Working | None) -> Working | None:
    if working is None:
        return None
    return working.model_copy(update={"inputs": tuple(_input(item) for item in working.inputs)})


def _input(item: Input) -> Input:
    return item.model_copy(update={"where": _place(item.where), "working": _working(item.working)})


def _place(text: str) -> str:
    """Return a path or a key of a flow run as one of an exhaust run."""
    return re.sub(r"\bflow\.", "air_balance.", text.replace("flow[", "exhaust["))
