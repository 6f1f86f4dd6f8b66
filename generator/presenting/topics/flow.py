"""Flow as a reader sees it: how much air the device delivers, against the requirement of its kind."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from generator.model.device import Device
from generator.model.flow_result import FlowResult, FlowRunResult, FlowSummary
from generator.model.flow_run import FlowRun
from generator.model.published import PublishedTest
from generator.model.reference import Criterion
from generator.model.result import Figure, TopicResult, TopicSummary
from generator.presenting.context import Context
from generator.presenting.digits import figure_text, interval_text, percent_text, quantity_text, value_text
from generator.presenting.figures import comparison_text, figure_view, verdict_view, working_view
from generator.presenting.flow_standing import meter_in_doubt, supply_outcome
from generator.presenting.flow_tables import budget_table, runs_table, shown_limit, states_table
from generator.presenting.flow_words import (
    air_words,
    back_pressure_words,
    compared_words,
    flow_state_words,
    governing_words,
    not_measured_words,
    requirement_words,
    run_state,
    short_state,
)
from generator.presenting.modified_words import labels_on_device, numbered
from generator.presenting.views import (
    Block,
    Cell,
    Column,
    Fact,
    IndexCell,
    Landmark,
    Row,
    ScaleChart,
    ScaleMark,
    ScaleRow,
    Table,
    TopicSection,
)
from generator.presenting.wording import count_text, listed, sentence_case
from generator.scoring.requirements import flow_criterion

__all__ = ("flow_requirement", "flow_state_words", "run_state", "short_state")

INDEX_HEADING = "Air supply"
INDEX_ORDER = "by the air delivered in the state that governs the device"
ANSWER_ORDER = 10
HOLDS = "air supply"
PART = "run"
_SCALE_TITLE = "Air delivered, on a scale from 0 to 400 L/min"


def flow_requirement(device: Device, context: Context) -> Criterion | None:
    """Return the requirement that scoring holds a flow against: the strictest for the device's kind."""
    return flow_criterion(device, context.catalogue)


def _row(run: FlowRunResult, label: str, key_prefix: str) -> ScaleRow:
    figure = run.compared
    if figure.value is None:
        return ScaleRow(label, (), "not scored")
    mark = ScaleMark(
        key=key_prefix + figure.key,
        value=figure.value,
        low=figure.interval.low if figure.interval else None,
        high=figure.interval.high if figure.interval else None,
        text=value_text(figure, run.verdict.limit),
    )
    return ScaleRow(label, (mark,))


def _landmarks(device: Device, context: Context) -> tuple[Landmark, ...]:
    requirement = flow_requirement(device, context)
    if requirement is None or device.breath_responsive:
        return ()
    return (Landmark(requirement.id, f"{requirement.limit:g}: {requirement.label}", requirement.limit),)


def _chart(device: Device, rows: list[tuple[str, FlowRunResult]], context: Context, several: bool) -> ScaleChart:
    records = [record for record, _ in rows]
    states, short = (
        labels_on_device(words, records, context) if several else numbered(words)
        for words in ([run_state(run) for _, run in rows], [short_state(run) for _, run in rows])
    )
    described = "; ".join(
        f"{state}: {figure_text(run.compared, run.verdict.limit)}" for state, (_, run) in zip(states, rows, strict=True)
    )
    return ScaleChart(
        id="flow-scale",
        kind="flow",
        title=_SCALE_TITLE,
        description=f"{described}. Bars are 95 % intervals.",
        rows=tuple(
            _row(run, label, f"{record}-" if several else "") for label, (record, run) in zip(short, rows, strict=True)
        ),
        landmarks=_landmarks(device, context),
        table="flow-runs",
    )


def _facts(run: FlowRun, result: FlowRunResult, requirement: Criterion | None) -> tuple[Fact, ...]:
    facts = [
        Fact("Measured", run.where),
        Fact("Setting", run.setting if result.claimed else f"{run.setting}, not named as protective by its maker"),
        Fact("Air of the room", air_words(result.room)),
    ]
    if result.meter_air is not None:
        facts.append(Fact("Meter refers to", f"air of {air_words(result.meter_air)}"))
    facts.append(Fact("Compared", compared_words(result, requirement)))
    facts.append(Fact("Held back by the meter", back_pressure_words(result)))
    return tuple(facts)


def _block(run: FlowRun, result: FlowRunResult, test: PublishedTest, context: Context) -> Block:
    readings = Table(
        f"flow.{run.id}.readings",
        "Readings as taken",
        (Column("Reading"), Column("Flow", run.readings.unit, numeric=True)),
        tuple(
            Row((Cell(str(number)), Cell(quantity_text(value, "1", 6))))
            for number, value in enumerate(run.readings.values, start=1)
        ),
    )
    flows = [figure_view(result.mean, test.id, context, shown_limit(result))]
    if result.at_requirement is not None:
        flows.append(figure_view(result.at_requirement, test.id, context, result.verdict.limit))
    others = (result.measured, result.standard_deviation, result.variation)
    # A change is no flow, so that it has no twin in cubic feet a minute.
    trend = replace(figure_view(result.trend, test.id, context), other_unit=None)
    requirement = flow_requirement(context.catalogue.devices[test.device], context)
    return Block(
        anchor=f"flow.{run.id}",
        heading=sentence_case(run_state(result)),
        facts=_facts(run, result, requirement),
        table=readings,
        figures=(*flows, *(figure_view(figure, test.id, context) for figure in others if figure is not None), trend),
        verdict=verdict_view(result.verdict, result.compared, context),
        note=None,
        further=() if result.budget is None else (budget_table(run.id, result.budget),),
    )


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show the flow runs of one record."""
    assert isinstance(result, FlowResult)
    device = context.catalogue.devices[test.device]
    by_id = {run.id: run for run in test.flow}
    rows = [(test.id, run) for run in result.runs]
    states = {f"flow.{run.run}.": run_state(run) for run in result.runs}
    views = [
        working_view(figure, states[figure.key.rpartition(".")[0] + "."], test.id, context) for figure in result.figures
    ]
    return TopicSection(
        topic="flow",
        heading="Air supply",
        anchor="flow",
        answer=(),
        sentences=(f"{sentence_case(count_text(len(result.runs), 'flow run'))}.",),
        chart=_chart(device, rows, context, several=False),
        tables=(runs_table(rows, context, "Every flow run of this record", on_device=False),),
        blocks=tuple(_block(by_id[run.run], run, test, context) for run in result.runs),
        workings=tuple(view for view in views if view is not None),
    )


def not_measured_sentence(device: Device, summary: FlowSummary | None) -> str:
    """Say that no flow was measured, or none at what the maker names as protective."""
    named = device.power.protective_settings if device.power is not None else ()
    if summary is None or summary.runs == 0 or not named:
        return "How much air its blower delivers was not measured."
    return f"How much air its blower delivers was not measured at what its maker names as protective: {listed(named)}."


def _device_sentences(device: Device, summary: FlowSummary) -> tuple[str, ...]:
    assert device.power is not None
    named = device.power.protective_settings
    missing = not_measured_words(summary.states)
    sentences = [governing_words(named or device.power.settings, named=bool(named))]
    limit = summary.governing.verdict.limit if summary.governing is not None else None
    if limit is not None:
        sentences.append(requirement_words(limit))
    return (*sentences, missing) if missing is not None else tuple(sentences)


def present_device(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> TopicSection | None:
    """Show every flow run of a powered device; other devices have no supply."""
    if not device.kind.powered:
        return None
    assert summary is None or isinstance(summary, FlowSummary)
    rows = [
        (record, run) for record, result in results.items() if isinstance(result, FlowResult) for run in result.runs
    ]
    if not rows or summary is None:
        none = (not_measured_sentence(device, summary),)
        return TopicSection("flow", "Air supply", "flow", (), none, None, (), (), ())
    return TopicSection(
        topic="flow",
        heading="Air supply",
        anchor="flow",
        answer=(),
        sentences=_device_sentences(device, summary),
        chart=_chart(device, rows, context, several=True),
        tables=(
            states_table(summary.states, rows, context),
            runs_table(rows, context, "Every flow run of this device", on_device=True),
        ),
        blocks=(),
        workings=(),
        tables_told=True,
    )


def present_in_index(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> IndexCell:
    """Say what the governing run delivered."""
    if not device.kind.powered:
        return IndexCell("flow", INDEX_HEADING, "no blower", "", None)
    assert summary is None or isinstance(summary, FlowSummary)
    if summary is None or summary.governing is None:
        return IndexCell("flow", INDEX_HEADING, "not measured", "", None)
    run = summary.governing
    comparison = comparison_text(run.verdict)
    doubt = meter_in_doubt(summary.governing_record, context) if summary.governing_record is not None else None
    note = "; ".join(
        part for part in (comparison, supply_outcome(run.verdict, summary.states, context), doubt) if part is not None
    )
    text = value_text(run.mean, shown_limit(run))
    return IndexCell("flow", INDEX_HEADING, text, note, None, _interval_words(run.mean), order=run.mean.value)


def _interval_words(figure: Figure) -> str | None:
    if figure.value is None:
        return None
    ends = interval_text(figure)
    if figure.interval is None or ends is None:
        return "without an interval"
    return f"{percent_text(figure.interval.coverage)} interval {ends}"
