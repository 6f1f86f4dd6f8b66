"""Blower curves: what a blower holds at a flow, and which flow that predicts with one filter or another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.model.blower_result import (
    BlowerCurveResult,
    BlowerResult,
    BlowerSummary,
    CarriedOut,
    CurvePoint,
    PartResistance,
    PredictedFlow,
    WhatIf,
)
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.flow_result import FlowRunResult
from generator.model.pressure_flow import BlowerCurve, DropOf
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import Finding, TopicResult
from generator.scoring.blower_curve import LEAST_FOR_A_BEND, chance_of_line, pressure_at
from generator.scoring.blower_figures import FittedCurve, FittedPart, fitted_curve, fitted_part
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_predictions import Way, predicted_flow, ways
from generator.scoring.flow_runs import flow_run_results
from generator.scoring.operating_point import limits_about
from generator.scoring.predictions_measured import measured_beside
from generator.scoring.requirements import Spread

ORDER = 70
_OF_A_PART = (DropOf.FILTER, DropOf.HOSE, DropOf.FILTER_AND_HOSE)
_DRAWN_POINTS = 25


def score_record(test: PublishedTest, catalogue: PublishedCatalogue) -> BlowerResult | None:
    """Score the blower curves of a record, or return None where it has none."""
    if not test.blower_curves:
        return None
    device = catalogue.devices[test.device]
    parts = [fitted_part(drops) for drops in test.pressure_drops if drops.of in _OF_A_PART]
    runs = flow_run_results(test, catalogue)
    curves = tuple(_score_curve(curve, parts, runs, device) for curve in test.blower_curves)
    resistances = tuple(_resistance(part) for part in parts)
    predictions = [prediction for curve in curves for prediction in curve.predictions]
    return BlowerResult(
        figures=(
            *(part.resistance for part in resistances),
            *(prediction.flow for prediction in predictions),
            *(beside.difference for prediction in predictions for beside in prediction.measured),
        ),
        verdicts=(),
        findings=tuple(finding for curve in curves for finding in _findings(curve)),
        resistances=resistances,
        curves=curves,
    )


def _resistance(part: FittedPart) -> PartResistance:
    drops = part.drops
    return PartResistance(
        drops=drops.id,
        of=drops.of.value,
        filter=drops.filter.value,
        what=drops.what,
        alternative=drops.alternative,
        resistance=part.figure,
    )


def _score_curve(
    curve: BlowerCurve, parts: list[FittedPart], runs: tuple[FlowRunResult, ...], device: Device
) -> BlowerCurveResult:
    fitted = fitted_curve(curve)
    enough = len(fitted.flows) >= LEAST_FOR_A_BEND
    return BlowerCurveResult(
        curve=curve.id,
        setting=curve.setting,
        battery=curve.battery.value,
        shape=None if fitted.not_used else ("line", "parabola")[fitted.degree - 1],
        chance_of_line=chance_of_line(fitted.flows, fitted.pressures) if enough else None,
        not_used=fitted.not_used,
        fitted=() if fitted.not_used else _drawn(fitted),
        predictions=_predictions(fitted, ways(parts, device), runs, device),
    )


def _drawn(fitted: FittedCurve) -> tuple[CurvePoint, ...]:
    least, most = fitted.flows[0], fitted.flows[-1]
    # The last one is the greatest measured flow itself, not what rounding makes of it.
    flows = [least + (most - least) * place / (_DRAWN_POINTS - 1) for place in range(_DRAWN_POINTS - 1)]
    return tuple(_drawn_point(fitted, flow) for flow in (*flows, most))


def _drawn_point(fitted: FittedCurve, flow: float) -> CurvePoint:
    pressure, doubts = max(pressure_at(fitted.coefficients, flow), 0.0), fitted.doubts_at(flow)
    low, high = None, None
    if doubts:
        low, high = limits_about(
            pressure, [doubt.value for doubt in doubts], [doubt.degrees for doubt in doubts], COVERAGE
        )
    return CurvePoint(flow_l_per_min=flow, pressure_pa=pressure, low_pa=low, high_pa=high)


def _predictions(
    fitted: FittedCurve, cases: tuple[Way, ...], runs: tuple[FlowRunResult, ...], device: Device
) -> tuple[PredictedFlow, ...]:
    """Predict every case; the first flow that is predicted tells how the curve was fitted."""
    told_by: str | None = None
    found = []
    for way in cases:
        prediction = _prediction(fitted, way, runs, device, told_by)
        found.append(prediction)
        if told_by is None and prediction.flow.value is not None:
            told_by = prediction.flow.key
    return tuple(found)


def _prediction(
    fitted: FittedCurve, way: Way, runs: tuple[FlowRunResult, ...], device: Device, told_by: str | None
) -> PredictedFlow:
    flow, spread = predicted_flow(fitted, way, device, told_by)
    state = (fitted.curve.setting, fitted.curve.battery.value, way.state.value)
    own = way.what_if in (WhatIf.NEW, WhatIf.LOADED)
    alike = [run for run in runs if (run.setting, run.battery, run.filter) == state] if own else []
    return PredictedFlow(
        case=way.case,
        what_if=way.what_if,
        part=way.other.drops.id if way.other is not None else None,
        filter=way.state.value,
        resistance_pa_min_per_l=way.resistance,
        hose_known=way.hose_known,
        flow=flow,
        standard_uncertainty=spread.standard_uncertainty if spread is not None else None,
        degrees_of_freedom=spread.degrees if spread is not None else None,
        measured=tuple(measured_beside(flow, spread, run, f"blower_curves[{fitted.curve.id}]") for run in alike),
    )


def _findings(curve: BlowerCurveResult) -> Iterator[Finding]:
    where = f"blower_curves[{curve.curve}]"
    state: dict[str, str | int | float] = {"setting": curve.setting, "battery": curve.battery}
    for prediction in curve.predictions:
        for beside in prediction.measured:
            if beside.agrees is False:
                facts = {
                    **state,
                    "case": prediction.case,
                    "run": beside.run,
                    "predicted_l_per_min": prediction.flow.value or 0.0,
                    "measured_l_per_min": beside.mean.value or 0.0,
                }
                yield Finding(rule="prediction-misses-measured", where=where, facts=facts)
    changed = [
        prediction.case
        for prediction in curve.predictions
        if prediction.what_if in (WhatIf.TWO, WhatIf.OTHER) and prediction.flow.value is not None
    ]
    if changed:
        yield Finding(rule="flow-only-predicted", where=where, facts={**state, "cases": ", ".join(changed)})


def summarise_device(
    device: Device, results: Mapping[str, TopicResult], catalogue: PublishedCatalogue
) -> BlowerSummary | None:
    """Put predictions beside what was measured where a later record carried them out."""
    scored = {record: result for record, result in results.items() if isinstance(result, BlowerResult)}
    if not scored:
        return None
    carried_out = tuple(
        made
        for test in catalogue.standing_tests_of(device.id)
        if test.configuration.carries_out is not None
        for run in flow_run_results(test, catalogue)
        for made in _carried_out(test, run, scored, catalogue)
    )
    findings = tuple(
        Finding(
            rule="prediction-misses-measured",
            where=f"{made.measured_in}: flow[{made.run}]",
            facts={"predicted_in": made.predicted_in, "predicted": made.predicted, "run": made.run},
        )
        for made in carried_out
        if made.agrees is False
    )
    return BlowerSummary(findings=findings, carried_out=carried_out)


def _carried_out(
    changed: PublishedTest, run: FlowRunResult, scored: Mapping[str, BlowerResult], catalogue: PublishedCatalogue
) -> Iterator[CarriedOut]:
    wanted = changed.configuration.carries_out
    for record, result in scored.items():
        before = catalogue.device_tests[record]
        if not _was_changed(before, changed):
            continue
        for curve in result.curves:
            for prediction in curve.predictions:
                named = prediction.part or prediction.what_if.value
                alike = (run.setting, run.battery, run.filter) == (curve.setting, curve.battery, prediction.filter)
                if named == wanted and alike and prediction.what_if in (WhatIf.TWO, WhatIf.OTHER):
                    yield CarriedOut(
                        predicted_in=record,
                        predicted=prediction.flow.key,
                        measured_in=changed.id,
                        run=run.run,
                        mean=run.mean,
                        agrees=_agrees(prediction, run),
                    )


def _agrees(prediction: PredictedFlow, run: FlowRunResult) -> bool | None:
    spread = None
    if prediction.standard_uncertainty is not None:
        spread = Spread(prediction.standard_uncertainty, prediction.degrees_of_freedom)
    return measured_beside(prediction.flow, spread, run, prediction.flow.key).agrees


def _was_changed(before: PublishedTest, changed: PublishedTest) -> bool:
    """Say whether one record's configuration is the one that the other's was made from."""
    base = changed.configuration.based_on
    if base is None:
        return before.configuration.state is State.AS_SUPPLIED
    return before.configuration.name == base
