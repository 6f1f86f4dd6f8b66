"""Run time: how long a powered device delivers the required flow on one charge."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from generator.model.device import Device
from generator.model.published import PublishedTest
from generator.model.result import Figure, Relation, TopicResult, TopicSummary
from generator.model.run_down import RunDown, RunEnd
from generator.model.run_time_result import RunDownResult, RunTimeResult, RunTimeSummary
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text
from generator.presenting.figure_cells import figure_cell
from generator.presenting.figures import figure_view, working_view
from generator.presenting.modified_words import with_modified
from generator.presenting.run_time_chart import Drawn, panel_label, run_time_chart
from generator.presenting.run_time_words import OF_ONE_BATTERY, run_down_words, run_time_words
from generator.presenting.views import Block, Cell, Column, Fact, Row, Table, TopicSection
from generator.presenting.wording import count_text, listed, sentence_case, told_apart

ANSWER_ORDER = 25
HOLDS = "run time on one charge"
PART = "run-down"
HEADING = "Run time on one charge"
RUN_DOWNS_ABREAST = 2
"""Run-downs whose columns stand side by side in one table."""
_ENDED = {RunEnd.BLOWER_STOPPED: "the blower stopped", RunEnd.TEST_ENDED: "the test was ended"}


@dataclass(frozen=True)
class _Shown:
    """A run-down with the record that it stands in."""

    test: PublishedTest
    run_down: RunDown
    result: RunDownResult


def _shown(test: PublishedTest, result: RunTimeResult) -> tuple[_Shown, ...]:
    by_id = {run_down.id: run_down for run_down in test.run_downs}
    return tuple(_Shown(test, by_id[each.run_down], each) for each in result.run_downs)


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show the run-downs of one record."""
    assert isinstance(result, RunTimeResult)
    shown = _shown(test, result)
    labels = _labels(shown, context, on_device=False)
    drawn = [
        Drawn(test, item.run_down, item.result, label, item.run_down.id)
        for label, item in zip(labels, shown, strict=True)
    ]
    views = [
        working_view(figure, label, test.id, context)
        for label, item in zip(labels, shown, strict=True)
        for figure in item.result.figures
    ]
    return TopicSection(
        topic="run_time",
        heading=HEADING,
        anchor="run_time",
        answer=(),
        sentences=(f"{sentence_case(count_text(len(shown), 'run-down'))}. {OF_ONE_BATTERY}",),
        chart=None,
        tables=(),
        blocks=tuple(_block(item, label, context) for label, item in zip(labels, shown, strict=True)),
        workings=tuple(view for view in views if view is not None),
        curves=(run_time_chart(drawn, context),),
    )


def _block(item: _Shown, label: str, context: Context) -> Block:
    run_down, result = item.run_down, item.result
    alarms = [
        f"{alarm.what.rstrip('.')} at {quantity_text(alarm.at.number, alarm.at.unit)}" for alarm in run_down.alarms
    ]
    return Block(
        anchor=f"run_time.{run_down.id}",
        heading=label,
        facts=(
            Fact("Charge", run_down.charge),
            Fact("Measured", run_down.where),
            Fact("Log", run_down.log.file, f"data/{run_down.log.file}"),
            Fact("Ended", _ENDED[run_down.ended]),
            Fact("Alarms, on the clock of the log", listed(alarms) or "none heard"),
            Fact(
                "Requirement",
                context.criterion_link(result.criterion).text,
                context.criterion_link(result.criterion).href,
            )
            if result.criterion is not None
            else Fact("Requirement", "none applies"),
        ),
        table=None,
        figures=tuple(figure_view(figure, item.test.id, context) for figure in result.figures),
        verdict=None,
        note=" ".join(run_down_words(result, run_down.task)),
    )


def present_device(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> TopicSection | None:
    """Show every run-down of a device; nothing where there is none."""
    shown = [
        item
        for record, result in results.items()
        if isinstance(result, RunTimeResult)
        for item in _shown(context.catalogue.device_tests[record], result)
    ]
    if not shown:
        return None
    assert isinstance(summary, RunTimeSummary)
    labels = _labels(shown, context, on_device=True)
    drawn = [
        Drawn(item.test, item.run_down, item.result, label, f"{item.test.id}-{item.run_down.id}")
        for label, item in zip(labels, shown, strict=True)
    ]
    return TopicSection(
        topic="run_time",
        heading=HEADING,
        anchor="run_time",
        answer=_answer(summary),
        sentences=(
            *(" ".join(run_down_words(item.result, item.run_down.task)) for item in shown),
            OF_ONE_BATTERY,
        ),
        chart=None,
        tables=_tables(shown, labels, context),
        blocks=(),
        workings=(),
        curves=(run_time_chart(drawn, context, "run-downs"),),
        workings_on_paper=False,
        tables_told=True,
    )


def _labels(shown: Sequence[_Shown], context: Context, *, on_device: bool) -> tuple[str, ...]:
    """Return a label for each run-down: its state, where that is not enough the month, and then its name."""
    states = [
        with_modified(panel_label(item.result), item.test.id, context) if on_device else panel_label(item.result)
        for item in shown
    ]
    dated = told_apart(states, [context.performed(item.test.id) for item in shown])
    named = [f"{state} ({item.run_down.id})" for state, item in zip(states, shown, strict=True)]
    return tuple(
        date if dated.count(date) == 1 else name if named.count(name) == 1 else f"{date} ({item.run_down.id})"
        for date, name, item in zip(dated, named, shown, strict=True)
    )


def _answer(summary: RunTimeSummary) -> tuple[str, ...]:
    """Say the shortest run time where a flow fell below; what the test did not reach decides nothing."""
    governing = summary.governing
    if governing is None or governing.run_time.relation is Relation.AT_LEAST:
        return ()
    return (run_time_words(governing),)


_ROWS: tuple[tuple[str, Callable[[RunDownResult], Figure | None], str], ...] = (
    ("Run time above the required flow", lambda result: result.run_time, ""),
    ("Blower stopped after; not the run time", lambda result: result.to_stop, "not in this test"),
    ("First alarm after", lambda result: result.first_alarm, "none heard"),
    ("From then to the end of the run time; below zero: too late", lambda result: result.alarm_margin, "none"),
    ("Energy during the run time", lambda result: result.energy, "not logged"),
    ("Energy for 1000 L of air", lambda result: result.energy_for_cubic_metre, "not logged"),
    ("Energy until it stopped, of what is stated", lambda result: result.share_of_stated_energy, "not known"),
)


def _tables(shown: list[_Shown], labels: tuple[str, ...], context: Context) -> tuple[Table, ...]:
    """Return tables with a column for each run-down; rows that none of them fills are left out."""
    tables = []
    for start in range(0, len(shown), RUN_DOWNS_ABREAST):
        part, names = shown[start : start + RUN_DOWNS_ABREAST], labels[start : start + RUN_DOWNS_ABREAST]
        rows = [
            Row((Cell(head), *(_cell(figure_of(item.result), item, missing) for item in part)))
            for head, figure_of, missing in _ROWS
            if any(figure_of(item.result) is not None for item in part)
        ]
        records = (
            Cell(item.test.id, context.record_link(item.test.id, f"run_time.{item.run_down.id}").href) for item in part
        )
        columns = (Column("On one charge"), *(Column(name) for name in names))
        identity = "run-downs" if not start else f"run-downs-{start // RUN_DOWNS_ABREAST + 1}"
        caption = "How long it delivered the required flow, and what came after"
        tables.append(Table(identity, caption, columns, (*rows, Row((Cell("Record"), *records)))))
    return tuple(tables)


def _cell(figure: Figure | None, item: _Shown, missing: str) -> Cell:
    return Cell(missing) if figure is None else figure_cell(figure, item.test.id, on_device=True)
