"""Air supply: flow runs on the flow scale, against the requirement for the device's kind."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.device import Device
from generator.model.flow_result import FlowResult, FlowRunResult, FlowSummary
from generator.model.flow_run import FlowRun
from generator.model.published import PublishedTest
from generator.model.reference import Criterion, CriterionQuantity
from generator.model.result import Outcome, TopicResult, TopicSummary
from generator.presenting.context import Context
from generator.presenting.digits import figure_text, interval_text, other_system, quantity_text, value_text
from generator.presenting.figures import comparison_text, figure_view, outcome_text, verdict_view, working_view
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
from generator.presenting.wording import count_text, sentence_case, shortened, told_apart

INDEX_HEADING = "Air supply"
ANSWER_ORDER = 10
HOLDS = "air supply"
PART = "run"
_BATTERY = {"fresh": "battery fresh", "at_alarm": "battery at its alarm", "mains": "on mains"}
_FILTER = {"new": "new filter", "loaded": "loaded filter"}
_SCALE_TITLE = "Air delivered, on a scale from 0 to 400 L/min"


def flow_requirement(device: Device, context: Context) -> Criterion | None:
    """Return the requirement that scoring holds a flow against: the strictest for the device's kind."""
    of_kind = [
        criterion
        for criterion in context.catalogue.criteria.values()
        if criterion.quantity is CriterionQuantity.SUPPLY_FLOW and device.kind in criterion.kinds
    ]
    return max(of_kind, key=lambda criterion: criterion.limit, default=None)


def flow_state_words(setting: str, battery: str, filter_state: str) -> str:
    """Say the state in which a flow was measured."""
    return f"{shortened(setting, 40)}, {_BATTERY[battery]}, {_FILTER[filter_state]}"


def run_state(run: FlowRunResult) -> str:
    """Say at which setting, and with which battery and filter, a run was done."""
    return flow_state_words(run.setting, run.battery, run.filter)


def short_state(run: FlowRunResult) -> str:
    """Say the same where there is little room."""
    battery = _BATTERY[run.battery].removeprefix("battery ")
    return f"{shortened(run.setting, 14)}, {battery}, {_FILTER[run.filter].removesuffix(' filter')}"


def _row(run: FlowRunResult, label: str, key_prefix: str) -> ScaleRow:
    figure = run.mean
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
    described = "; ".join(f"{run_state(run)}: {figure_text(run.mean, run.verdict.limit)}" for _, run in rows)
    labels = told_apart([short_state(run) for _, run in rows], [context.performed(record) for record, _ in rows])
    return ScaleChart(
        id="flow-scale",
        kind="flow",
        title=_SCALE_TITLE,
        description=f"{described}. Bars are 95 % intervals.",
        rows=tuple(
            _row(run, label, f"{record}-" if several else "") for label, (record, run) in zip(labels, rows, strict=True)
        ),
        landmarks=_landmarks(device, context),
    )


def _runs_table(rows: list[tuple[str, FlowRunResult]], context: Context, identity: str, caption: str) -> Table:
    body = [
        Row(
            (
                Cell(run_state(run), context.record_link(record, f"flow.{run.run}").href),
                Cell(value_text(run.mean, run.verdict.limit)),
                Cell(interval_text(run.mean) or "not stated"),
                Cell((other_system(run.mean.value, run.mean.unit) or "none") if run.mean.value is not None else "none"),
                Cell(outcome_text(run.verdict, context)),
            )
        )
        for record, run in rows
    ]
    columns = (
        Column("Setting and state"),
        Column("Mean flow", numeric=True),
        Column("95 % interval", numeric=True),
        Column("In cubic feet a minute", numeric=True),
        Column("Against the requirement"),
    )
    return Table(identity, caption, columns, tuple(body))


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
    return Block(
        anchor=f"flow.{run.id}",
        heading=sentence_case(run_state(result)),
        facts=(Fact("Measured", run.where), Fact("Setting", run.setting)),
        table=readings,
        figures=(
            figure_view(result.mean, test.id, context, result.verdict.limit),
            figure_view(result.standard_deviation, test.id, context),
        ),
        verdict=verdict_view(result.verdict, result.mean, context),
        note=None,
    )


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show the flow runs of one record."""
    assert isinstance(result, FlowResult)
    device = context.catalogue.devices[test.device]
    by_id = {run.id: run for run in test.flow}
    rows = [(test.id, run) for run in result.runs]
    views = [
        working_view(figure, run_state(run), test.id, context)
        for run in result.runs
        for figure in (run.mean, run.standard_deviation)
    ]
    return TopicSection(
        topic="flow",
        heading="Air supply",
        anchor="flow",
        answer=(),
        sentences=(f"{sentence_case(count_text(len(result.runs), 'flow run'))}.",),
        chart=_chart(device, rows, context, several=False),
        tables=(_runs_table(rows, context, "flow-runs", "Every flow run of this record"),),
        blocks=tuple(_block(by_id[run.run], run, test, context) for run in result.runs),
        workings=tuple(view for view in views if view is not None),
    )


def _verdict_words(run: FlowRunResult, device: Device, context: Context) -> str:
    """Say what the governing run delivered and how it stands to its requirement."""
    figure, verdict = run.mean, run.verdict
    if figure.value is None:
        return f"How much air its blower delivers could not be scored: {figure.not_scored} ({run_state(run)})."
    delivered = f"It delivered {value_text(figure, verdict.limit)} of air ({run_state(run)})."
    if verdict.outcome is Outcome.NOT_APPLICABLE:
        return f"{delivered} {sentence_case(verdict.reason.rstrip('.'))}."
    what = "at which filters of its class are tested, and which the trade takes as the least it should deliver"
    text = f"{delivered} That is {comparison_text(verdict)} {what}"
    if verdict.benchmark_only:
        return f"{text}. For a home-built device that is a benchmark only: {outcome_text(verdict, context)}."
    return f"{text}: {outcome_text(verdict, context)}."


def _answer(device: Device, summary: FlowSummary | None, context: Context) -> tuple[str, ...]:
    if summary is None or summary.governing is None:
        return ("How much air its blower delivers was not measured.",)
    return (_verdict_words(summary.governing, device, context),)


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
    answer = _answer(device, summary, context)
    if not rows:
        return TopicSection("flow", "Air supply", "flow", answer, answer, None, (), (), ())
    sentences = (
        "The worst state governs: one verdict for each setting, battery and filter state, and the worst of them stands "
        "for the device.",
    )
    return TopicSection(
        topic="flow",
        heading="Air supply",
        anchor="flow",
        answer=answer,
        sentences=sentences,
        chart=_chart(device, rows, context, several=True),
        tables=(_runs_table(rows, context, "flow-runs", "Every flow run of this device"),),
        blocks=(),
        workings=(),
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
    note = f"{comparison}; {outcome_text(run.verdict, context)}" if comparison else outcome_text(run.verdict, context)
    return IndexCell("flow", INDEX_HEADING, value_text(run.mean, run.verdict.limit), note, None)
