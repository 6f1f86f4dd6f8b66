"""What may be said of a powered device's air: how much, for which work, for how long, with which filter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.model.blower_result import BlowerCurveResult, BlowerResult, PredictedFlow, WhatIf
from generator.model.breathing_result import BreathingSummary
from generator.model.flow_result import FlowRunResult, FlowState, FlowSummary
from generator.model.gas_result import GasSummary
from generator.model.result import Outcome
from generator.model.run_time_result import RunTimeSummary
from generator.presenting.blower_words import AS_THEY_STAND, NO_HOSE, case_words, curve_state
from generator.presenting.breathing_words import DEMANDS, EXHAUST, Level, coverage_sentences
from generator.presenting.digits import value_text
from generator.presenting.figures import comparison_text
from generator.presenting.flow_standing import meter_in_doubt, supply_outcome
from generator.presenting.flow_tables import shown_limit
from generator.presenting.flow_words import LEAST_AIR, flow_state_words, not_measured_words, run_state
from generator.presenting.gas_words import HOOD
from generator.presenting.reviewed_device import ReviewedDevice, in_brackets, interval_words
from generator.presenting.run_time_words import OF_ONE_BATTERY, run_time_words, stop_words, task_words
from generator.presenting.statement_views import Statement
from generator.presenting.wording import count_text, listed, sentence_case
from generator.scoring.hood_gas_figures import HELD_LIMIT

_MOST_PREDICTED = 3


def flow(of: ReviewedDevice) -> Iterator[Statement]:
    """For powered devices: what the run that governs delivered, against its requirement; or that none was measured."""
    summary = of.summary("flow", FlowSummary)
    if not of.device.kind.powered:
        return
    source = of.section("flow", "Air supply")
    if summary is None or summary.governing is None or summary.governing_record is None:
        at = " at a setting that its maker names as protective" if summary is not None and summary.runs else ""
        text = f"No flow run of {of.name}{at} is on record."
        yield Statement("flow-none", text, "Whether its blower delivers enough air is not known from one.", (source,))
        return
    run, record = summary.governing, summary.governing_record
    if run.mean.value is None:
        return
    conditions = in_brackets(run_state(run), of.modification(record), of.period([record]))
    text = f"{of.name} {delivered_words(run)}{conditions}. {against_requirement(run, record, summary.states, of)}"
    yield Statement("flow", text, _flow_limits(run, summary), (source, of.figure_link(record, run.mean)))


def delivered_words(run: FlowRunResult) -> str:
    """Say how much air a run delivered, as the end of a sentence."""
    return f"delivered {value_text(run.mean, shown_limit(run))} of air"


def against_requirement(run: FlowRunResult, record: str, states: Sequence[FlowState], of: ReviewedDevice) -> str:
    """Say how a run stands to its requirement, in which states, by which meter, or why it is held against none."""
    verdict = run.verdict
    if verdict.outcome is Outcome.NOT_APPLICABLE:
        return f"{sentence_case(verdict.reason.rstrip('.'))}."
    subject = "That"
    if run.at_requirement is not None:
        stated = value_text(run.at_requirement, verdict.limit)
        subject = f"In the air that the requirement states this is {stated}, which"
    held = f"{subject} is {comparison_text(verdict)} {LEAST_AIR}"
    doubt = meter_in_doubt(record, of.context)
    outcome = supply_outcome(verdict, states, of.context) + (f"; {doubt}" if doubt is not None else "")
    if verdict.benchmark_only:
        return f"{held}. For a home-built device that is a benchmark only: {outcome}."
    return f"{held}: {outcome}."


def _flow_limits(run: FlowRunResult, summary: FlowSummary) -> str:
    interval = interval_words(run.mean)
    said = [f"The flow has the {interval}." if interval is not None else "The flow has no interval."]
    if summary.runs > 1:
        said.append(f"Of {count_text(summary.runs, 'run')} this is the one that governs.")
    said.append("So it was with the item tested, on that day.")
    if not_measured_words(summary.states) is not None:
        said.append("Not every state was measured.")
    return " ".join(said)


def breathing_levels(summary: BreathingSummary, of: ReviewedDevice) -> tuple[Level, ...]:
    """Return each printed level of work with how the governing supply stands to it."""
    results = {result.level: result for result in summary.governing_demand.levels}
    return tuple((level, results[level.id]) for level in of.context.catalogue.work_levels if level.id in results)


def breathing(of: ReviewedDevice) -> Iterator[Statement]:
    """Where a supply was held against printed breathing demands: for which work it is enough."""
    summary = of.summary("breathing", BreathingSummary)
    levels = breathing_levels(summary, of) if summary is not None else ()
    if summary is None or not levels:
        return
    run, record = summary.governing_demand, summary.governing_record
    conditions = in_brackets(flow_state_words(run.setting, run.battery, run.filter), of.modification(record))
    coverage = " ".join(coverage_sentences(levels))
    exhaust = f" {EXHAUST}" if of.device.air_path.powered_exhaust is not None else ""
    yield Statement(
        id="breathing",
        text=(
            f"Reckoned, not measured on a wearer, {value_text(run.supply)} from {of.name}{conditions} held against "
            f"printed breathing demands: {coverage}"
        ),
        limits=f"{DEMANDS}{exhaust}",
        sources=(of.section("breathing", "Breathing demand"),),
    )


def run_time(of: ReviewedDevice) -> Iterator[Statement]:
    """Where a battery was run down: how long the flow was enough on one charge."""
    summary = of.summary("run_time", RunTimeSummary)
    if summary is None or summary.governing is None or summary.governing_record is None:
        return
    found, record = summary.governing, summary.governing_record
    if found.run_time.value is None:
        return
    recorded = of.context.catalogue.device_tests[record].run_downs
    task = next(each.task for each in recorded if each.id == found.run_down)
    said = (run_time_words(found), stop_words(found), task_words(task, found.task))
    conditions = in_brackets(of.modification(record), of.period([record]))
    yield Statement(
        id="run-time",
        text=f"{of.name}{conditions}. {' '.join(sentence for sentence in said if sentence is not None)}",
        limits=OF_ONE_BATTERY,
        sources=(of.section("run_time", "Run time on one charge"), of.figure_link(record, found.run_time)),
    )


def carbon_dioxide(of: ReviewedDevice) -> Iterator[Statement]:
    """Where the air of a hood was calculated: carbon dioxide at the lightest and the hardest work with a figure."""
    summary = of.summary("gas", GasSummary)
    if summary is None or summary.worst is None or summary.worst_record is None:
        return
    valued = [level for level in summary.worst.levels if level.carbon_dioxide.value is not None]
    if not valued:
        return
    work = of.context.catalogue.work_gas
    said = [
        f"{value_text(level.carbon_dioxide, HELD_LIMIT)} with {work[level.level].name}"
        for level in dict.fromkeys((valued[0], valued[-1]))
    ]
    run = summary.worst
    conditions = in_brackets(
        flow_state_words(run.setting, run.battery, run.filter), of.modification(summary.worst_record)
    )
    yield Statement(
        id="carbon-dioxide",
        text=(
            f"By calculation, not by measurement, carbon dioxide in the hood of {of.name} would come to "
            f"{' and to '.join(said)}{conditions}."
        ),
        limits=HOOD,
        sources=(of.section("gas", "Carbon dioxide and oxygen"),),
    )


def predicted_flows(of: ReviewedDevice) -> Iterator[Statement]:
    """Where a blower's curve predicts flows with other filters: those of the first such curve."""
    for record, result in of.results("blower", BlowerResult):
        for curve in result.curves:
            changes = filter_changes(curve)[:_MOST_PREDICTED]
            if not changes:
                continue
            drops = {each.id: each for each in of.context.catalogue.device_tests[record].pressure_drops}
            said = [
                f"{value_text(change.flow)} with {case_words(change, of.device, drops.get(change.part or ''))}"
                f"{in_brackets(interval_words(change.flow))}"
                for change in changes
            ]
            state = in_brackets(curve_state(curve.setting, curve.battery), of.modification(record))
            hose = "" if all(change.hose_known for change in changes) else f" {NO_HOSE}"
            yield Statement(
                id="predicted",
                text=f"Predicted, not measured: {of.name} would deliver {listed(said)}{state}.",
                limits=f"{AS_THEY_STAND}{hose}",
                sources=(of.section("blower", "Predicted flows"),),
            )
            return


def filter_changes(curve: BlowerCurveResult) -> tuple[PredictedFlow, ...]:
    """Return the predicted flows of a curve with another filter than a new one of its own."""
    return tuple(
        prediction
        for prediction in curve.predictions
        if prediction.what_if is not WhatIf.NEW and prediction.flow.value is not None
    )
