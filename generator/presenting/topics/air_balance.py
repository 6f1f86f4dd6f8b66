"""Air balance and pressure inside: supply less exhaust, the velocity outwards, the pressure while worn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.air_balance_result import (
    AirBalanceResult,
    AirBalanceSummary,
    ExhaustResult,
    NetFlowResult,
    PressureStretch,
    PressureTraceResult,
)
from generator.model.device import Device
from generator.model.flow_result import FlowResult
from generator.model.hood import ExhaustRun, OpeningsMeasured
from generator.model.published import PublishedTest
from generator.model.result import Figure, TopicResult, TopicSummary
from generator.model.session import BLOWER_OFF
from generator.presenting.air_balance_words import (
    BALANCE,
    PRESSURE,
    VELOCITY,
    answer_words,
    balance_words,
    trace_words,
)
from generator.presenting.context import Context
from generator.presenting.curve_views import CurveChart
from generator.presenting.digits import THIN, quantity_text, value_text
from generator.presenting.figure_cells import figure_cell
from generator.presenting.figures import figure_view, working_view
from generator.presenting.modified_words import labels_on_device, numbered, with_modified
from generator.presenting.pressure_charts import pressure_chart
from generator.presenting.topics.flow import flow_state_words
from generator.presenting.views import Block, Cell, Column, Fact, Row, Table, TopicSection, WorkingView
from generator.presenting.wording import recorded_text, sentence_case, shortened

ANSWER_ORDER = 40
HOLDS = "air balance"
PART = "air part"
HEADING = "Air balance and pressure inside"
FLOW_UNIT = "L/min"

_PRESSURES = "pressures"
"""The id of the table of pressure traces on the page of their device."""


def _state(balance: NetFlowResult) -> str:
    return flow_state_words(balance.setting, balance.battery, balance.filter)


def _setting_words(setting: str) -> str:
    return "blower off" if setting == BLOWER_OFF else f"blower at {shortened(setting, 40)}"


def _balances(rows: Sequence[tuple[str, NetFlowResult]], context: Context, *, on_device: bool) -> tuple[Table, ...]:
    """Return the table of balances; without openings or without an exhaust it lacks their columns."""
    if not rows:
        return ()
    with_net = any(balance.net is not None for _, balance in rows)
    with_velocity = any(balance.velocity is not None for _, balance in rows)
    columns = [Column("Setting and state"), Column("Supply", FLOW_UNIT, numeric=True)]
    columns += [Column("Exhaust", FLOW_UNIT, numeric=True), Column("Net flow", numeric=True)] if with_net else []
    columns += [Column("Mean velocity outwards", numeric=True)] if with_velocity else []
    columns.append(Column("Which way the air goes"))
    words = [_state(balance) for _, balance in rows]
    states = labels_on_device(words, [record for record, _ in rows], context) if on_device else numbered(words)
    body = []
    for state, (record, balance) in zip(states, rows, strict=True):
        cells = [Cell(state), _mean_cell(record, balance.run, "flow", context)]
        if with_net:
            cells.append(_mean_cell(record, balance.exhaust, "air_balance", context))
            cells.append(_figure_or(balance.net, record, "no powered exhaust", on_device=on_device))
        if with_velocity:
            cells.append(_figure_or(balance.velocity, record, "openings not measured", on_device=on_device))
        body.append(Row((*cells, Cell(balance_words(balance)))))
    return (Table("air-balances", "What goes in, and what is drawn out", tuple(columns), tuple(body)),)


def _figure_or(figure: Figure | None, record: str, otherwise: str, *, on_device: bool) -> Cell:
    return Cell(otherwise) if figure is None else figure_cell(figure, record, on_device=on_device, limit=0.0)


def _mean_cell(record: str, item: str | None, topic: str, context: Context) -> Cell:
    """Return the mean of a flow or exhaust run, which has its id elsewhere; it leads to its working.

    The unit stands in the head.
    """
    result = context.result.records[record].topics.get(topic)
    figures: list[Figure] = []
    if isinstance(result, FlowResult):
        figures = [run.mean for run in result.runs if run.run == item]
    elif isinstance(result, AirBalanceResult):
        figures = [exhaust.mean for exhaust in result.exhausts if exhaust.exhaust == item]
    if not figures:
        return Cell("not measured")
    figure = figures[0]
    number = value_text(figure).removesuffix(f"{THIN}{FLOW_UNIT}")
    return Cell(number, context.record_link(record, f"working.{figure.key}").href)


def _stretches(trace: str) -> str:
    """Return the id of the table of a pressure trace on its record's page."""
    return f"air_balance.{trace}.stretches"


def _stretch_row(
    head: Cell, stretch: PressureStretch, record: str, *, on_device: bool = False, identity: str | None = None
) -> Row:
    return Row(
        (
            head,
            figure_cell(stretch.lowest, record, on_device=on_device, limit=0.0),
            figure_cell(stretch.mean, record, on_device=on_device, limit=0.0),
            figure_cell(stretch.below_room, record, on_device=on_device, limit=100.0),
        ),
        identity,
    )


def _stretch_columns(head: str) -> tuple[Column, ...]:
    return (
        Column(head),
        Column("Lowest", numeric=True),
        Column("Mean", numeric=True),
        Column("Time below zero", numeric=True),
    )


def _exhaust_block(run: ExhaustRun, result: ExhaustResult, test: PublishedTest, context: Context) -> Block:
    readings = Table(
        f"air_balance.{run.id}.readings",
        "Readings as taken",
        (Column("Reading"), Column("Flow", run.readings.unit, numeric=True)),
        tuple(
            Row((Cell(str(number)), Cell(quantity_text(value, "1", 6))))
            for number, value in enumerate(run.readings.values, start=1)
        ),
    )
    return Block(
        anchor=f"air_balance.exhaust.{run.id}",
        heading=f"Exhaust, {shortened(run.setting, 40)}",
        facts=(Fact("Measured", run.where), Fact("Setting", run.setting)),
        table=readings,
        figures=(figure_view(result.mean, test.id, context), figure_view(result.standard_deviation, test.id, context)),
        verdict=None,
        note=None,
    )


def _openings_block(openings: OpeningsMeasured) -> Block:
    facts = (Fact("Area of all together", recorded_text(openings.area)), Fact("Found by", openings.how))
    return Block("air_balance.openings", "Openings", facts, None, (), None, None)


def _trace_block(trace: PressureTraceResult, file: str, record: str) -> Block:
    rows = [_stretch_row(Cell("the whole trace"), trace.whole, record)]
    rows += [_stretch_row(Cell(sentence_case(each.exercise or "")), each, record) for each in trace.exercises]
    columns = _stretch_columns("While")
    return Block(
        anchor=f"air_balance.trace.{trace.trace}",
        heading=f"Pressure inside, {_setting_words(trace.setting)}",
        facts=(Fact("Taken", trace.where), Fact("Log", file, f"data/{file}")),
        table=Table(_stretches(trace.trace), "Pressure against the room", columns, tuple(rows)),
        figures=(),
        verdict=None,
        note=None,
    )


def _chart(
    traces: Sequence[tuple[str, str, PressureTraceResult]], context: Context, *, on_device: bool
) -> tuple[CurveChart, ...]:
    """Return the chart of traces, each given by record and by what its keys begin with."""
    if not traces:
        return ()
    words = [sentence_case(_setting_words(trace.setting)) for _, _, trace in traces]
    headings = labels_on_device(words, [record for record, _, _ in traces], context) if on_device else numbered(words)
    drawn = []
    for heading, (record, prefix, trace) in zip(headings, traces, strict=True):
        (taken,) = (each for each in context.catalogue.device_tests[record].pressure_traces if each.id == trace.trace)
        series = context.catalogue.series[taken.log.file]
        drawn.append((f"{prefix}{trace.trace}", heading, trace_words(trace), series))
    table = _PRESSURES if on_device else _stretches(traces[0][2].trace)
    return (pressure_chart("pressure-inside", drawn, table),)


def _sentences(balances: Sequence[NetFlowResult], traces: Sequence[PressureTraceResult]) -> tuple[str, ...]:
    sentences = []
    if any(balance.net is not None for balance in balances):
        sentences.append(BALANCE)
    if any(balance.velocity is not None for balance in balances):
        sentences.append(VELOCITY)
    if traces:
        sentences.append(PRESSURE)
    return tuple(sentences)


def _workings(result: AirBalanceResult, record: str, context: Context) -> tuple[WorkingView, ...]:
    named: list[tuple[str, Figure]] = []
    for exhaust in result.exhausts:
        named += [(f"exhaust, {exhaust.setting}", figure) for figure in (exhaust.mean, exhaust.standard_deviation)]
    for balance in result.balances:
        figures = [figure for figure in (balance.net, balance.velocity) if figure is not None]
        named += [(_state(balance), figure) for figure in figures]
    for trace in result.traces:
        for each in (trace.whole, *trace.exercises):
            named += [(_setting_words(trace.setting), figure) for figure in (each.lowest, each.mean, each.below_room)]
    views = [working_view(figure, of, record, context) for of, figure in named]
    return tuple(view for view in views if view is not None)


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show the air balance of one record."""
    assert isinstance(result, AirBalanceResult)
    files = {trace.id: trace.log.file for trace in test.pressure_traces}
    blocks = [
        _exhaust_block(run, exhaust, test, context) for run, exhaust in zip(test.exhaust, result.exhausts, strict=True)
    ]
    blocks += [_openings_block(test.openings)] if test.openings is not None else []
    blocks += [_trace_block(trace, files[trace.trace], test.id) for trace in result.traces]
    return TopicSection(
        topic="air_balance",
        heading=HEADING,
        anchor="air_balance",
        answer=(),
        sentences=_sentences(result.balances, result.traces),
        chart=None,
        tables=_balances([(test.id, balance) for balance in result.balances], context, on_device=False),
        blocks=tuple(blocks),
        workings=_workings(result, test.id, context),
        curves=_chart([(test.id, "", trace) for trace in result.traces], context, on_device=False),
        workings_on_paper=False,
        tables_told=True,
    )


def present_device(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> TopicSection | None:
    """Show the air balance of a device over its records; nothing where none was measured."""
    if summary is None:
        return None
    assert isinstance(summary, AirBalanceSummary)
    every = [(record, result) for record, result in results.items() if isinstance(result, AirBalanceResult)]
    balances = [(record, balance) for record, result in every for balance in result.balances]
    traces = [(record, trace) for record, result in every for trace in result.traces]
    tables = _balances(balances, context, on_device=True)
    if traces:
        rows = tuple(
            _stretch_row(
                Cell(
                    with_modified(sentence_case(_setting_words(trace.setting)), record, context),
                    context.record_link(record, f"air_balance.trace.{trace.trace}").href,
                ),
                trace.whole,
                record,
                on_device=True,
            )
            for record, trace in traces
        )
        columns = _stretch_columns("Blower")
        tables = (*tables, Table(_PRESSURES, "Pressure inside while worn, against the room", columns, rows))
    return TopicSection(
        topic="air_balance",
        heading=HEADING,
        anchor="air_balance",
        answer=answer_words(summary),
        sentences=_sentences([balance for _, balance in balances], [trace for _, trace in traces]),
        chart=None,
        tables=tables,
        blocks=(),
        workings=(),
        curves=_chart([(record, f"{record}-", trace) for record, trace in traces], context, on_device=True),
        workings_on_paper=False,
        tables_told=True,
    )
