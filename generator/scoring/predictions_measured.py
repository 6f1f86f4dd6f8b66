"""A predicted flow beside one that was measured in the same state: what they differ by, and whether they agree."""

from __future__ import annotations

import math

from generator.model.blower_result import MeasuredBeside
from generator.model.flow_result import FlowRunResult
from generator.model.result import Figure, Input, Working
from generator.scoring.blower_figures import Doubt, interval_about
from generator.scoring.operating_point import predicted_less_measured
from generator.scoring.requirements import Spread

COVERS = "what the intervals of the predicted and of the measured flow cover, taken as independent"
ONE_WITHOUT = "the predicted or the measured flow has none"
_UNIT = "L/min"


def measured_beside(predicted: Figure, spread: Spread | None, run: FlowRunResult, path: str) -> MeasuredBeside:
    """Return a measured flow beside its prediction; `path` is where the prediction's curve stands in the record."""
    difference = _difference(predicted, spread, run, path)
    agrees = None
    if difference.interval is not None and difference.interval.low is not None and difference.interval.high is not None:
        agrees = difference.interval.low <= 0 <= difference.interval.high
    return MeasuredBeside(run=run.run, mean=run.mean, difference=difference, agrees=agrees)


def _difference(predicted: Figure, spread: Spread | None, run: FlowRunResult, path: str) -> Figure:
    measured, key = run.mean, f"{predicted.key}-less-{run.run}"
    if predicted.value is None or measured.value is None:
        return _figure(key, measured).model_copy(update={"not_scored": "nothing was predicted"})
    of_predicted, of_measured = f"{path}: {predicted.key}", f"flow[{run.run}]: {measured.key}"
    value = predicted_less_measured(predicted.value, measured.value)
    inputs = (
        _flow(r"Q_{\mathrm{p}}", "predicted flow", predicted.value, of_predicted),
        _flow(r"Q_{\mathrm{m}}", "measured flow", measured.value, of_measured),
    )
    interval = None
    if spread is not None and run.standard_uncertainty is not None:
        doubts = (
            Doubt(spread.standard_uncertainty, spread.degrees, "of the predicted flow", of_predicted),
            Doubt(run.standard_uncertainty, run.degrees_of_freedom, "of the measured flow", of_measured),
        )
        interval, _ = interval_about(value, _UNIT, f"{path}: {key}", doubts, COVERS, least=-math.inf)
    return _figure(key, measured).model_copy(
        update={
            "value": value,
            "interval": interval,
            "no_interval": None if interval is not None else ONE_WITHOUT,
            "working": Working(method="predicted-less-measured", inputs=inputs),
        }
    )


def _figure(key: str, measured: Figure) -> Figure:
    return Figure(
        key=key,
        name="predicted less measured flow",
        value=None,
        unit=_UNIT,
        sample_size=measured.sample_size,
        sample_of=measured.sample_of,
        method="predicted-less-measured",
    )


def _flow(symbol: str, meaning: str, value: float, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=_UNIT, where=where)
