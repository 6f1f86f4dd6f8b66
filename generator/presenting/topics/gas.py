"""Carbon dioxide and oxygen: a hood's mixed air by calculation, inhaled air as measured, limits by body."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.model.device import Device
from generator.model.gas_result import GasResult, GasSummary, InhaledGasResult, LimitSide, RunGas
from generator.model.hood import HoodMeasured
from generator.model.published import PublishedTest
from generator.model.result import Figure, TopicResult, TopicSummary
from generator.model.work_gas import GasLimitOf, WorkGas
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text
from generator.presenting.figure_cells import figure_cell
from generator.presenting.figures import working_view
from generator.presenting.gas_words import (
    BEYOND,
    HOOD,
    INHALED,
    SEALED,
    UPPER,
    answer_words,
    inhaled_state,
    level_sources,
    limit_text,
    plausible_words,
    room_words,
    side_words,
)
from generator.presenting.modified_words import labels_on_device, with_modified
from generator.presenting.topics.flow import flow_state_words
from generator.presenting.views import Block, Cell, Column, Fact, Row, Table, TopicSection, WorkingView
from generator.presenting.wording import recorded_text, sentence_case, source_text
from generator.scoring.hood_gas_figures import HELD_LIMIT, LOW_OXYGEN, SEALED_LIMITS, tabled_production

ANSWER_ORDER = 50
HOLDS = "carbon dioxide"
PART = "gas part"
HEADING = "Carbon dioxide and oxygen"


def _state(run: RunGas) -> str:
    return flow_state_words(run.setting, run.battery, run.filter)


def _levels(result: GasResult, record: str, context: Context) -> Table:
    """Return what a person gives off at each level of work, and the least supply that holds 1 %."""
    least = {each.level: each.supply for each in result.least}
    rows = tuple(
        Row(
            (
                Cell(sentence_case(level.name), note=level.person),
                Cell(quantity_text(tabled_production(level).value, "L/min", 3)),
                *([figure_cell(least[level.id], record)] if least else []),
            ),
            f"gas.level.{level.id}",
        )
        for level in context.catalogue.work_gas.values()
    )
    columns = (
        Column("Work"),
        Column("Carbon dioxide given off, at 0 °C", numeric=True),
        *([Column("Least supply that holds 1 %", numeric=True)] if least else []),
    )
    return Table("gas-levels", "Levels of work; not measured here", columns, rows)


def _run_table(run: RunGas, record: str, context: Context) -> Table:
    rows = tuple(
        Row(
            (
                Cell(sentence_case(context.catalogue.work_gas[level.level].name)),
                figure_cell(level.carbon_dioxide, record, limit=HELD_LIMIT),
                figure_cell(level.oxygen, record, limit=LOW_OXYGEN),
            )
        )
        for level in run.levels
    )
    columns = (Column("Work"), Column("Mean carbon dioxide", numeric=True), Column("Mean oxygen", numeric=True))
    return Table(f"gas-run-{run.run}", f"The hood’s mixed air by calculation: {_state(run)}", columns, rows)


def _inhaled_tables(
    every: Sequence[tuple[str, InhaledGasResult]], context: Context, *, on_device: bool
) -> tuple[Table, ...]:
    """Return inhaled air as measured, and the limits of carbon dioxide beside it."""
    if not every:
        return ()
    rows = tuple(_inhaled_row(record, gas, context, on_device=on_device) for record, gas in every)
    columns = (
        Column("While"),
        Column("Oxygen", numeric=True),
        Column("Carbon dioxide", numeric=True),
        Column("Gained over lost", numeric=True),
        Column("Do the two fit"),
        *(() if on_device else (Column("Measured by"),)),
    )
    measured = Table("inhaled-gas", "Inhaled air as measured, means over a time, as dry gas", columns, rows)
    return measured, _limits([gas for _, gas in every], context, every_limit=not on_device)


def _inhaled_row(record: str, gas: InhaledGasResult, context: Context, *, on_device: bool) -> Row:
    (recorded,) = (each for each in context.catalogue.device_tests[record].inhaled_gas if each.id == gas.gas)
    place = f"gas.inhaled.{gas.gas}"
    first = Cell(sentence_case(inhaled_state(gas)))
    if on_device:
        first = Cell(with_modified(first.text, record, context), context.record_link(record, place).href)
    cells = [figure_cell(figure, record, on_device=on_device) for figure in (gas.oxygen, gas.carbon_dioxide, gas.ratio)]
    how = () if on_device else (Cell(recorded.how),)
    return Row((first, *cells, Cell(plausible_words(gas)), *how), None if on_device else place)


def _limits(every: Sequence[InhaledGasResult], context: Context, *, every_limit: bool) -> Table:
    """Return limits beside the readings: every one, or those of mean inhaled air alone."""
    rows = []
    for limit in context.catalogue.gas_limits.values():
        if not every_limit and limit.of is not GasLimitOf.MEAN_INHALED:
            continue
        sides: dict[str, LimitSide] = {}
        for number, gas in enumerate(every, start=1):
            state = inhaled_state(gas) if len(every) > 1 else "the measured mean"
            state = f"{state} ({number})" if state in sides else state
            of_limit = [side for side in gas.sides if side.limit == limit.id]
            if of_limit:
                sides[state] = of_limit[0]
        rows.append(
            Row(
                (
                    Cell(limit.body, note=limit.holds_for),
                    Cell(limit_text(limit)),
                    Cell(side_words(limit, sides)),
                    Cell(source_text(limit.source)),
                )
            )
        )
    columns = (
        Column("Who states it"),
        Column("At most", numeric=True),
        Column("The measured mean"),
        Column("Known from"),
    )
    return Table("gas-limits", "Limits of carbon dioxide, by body; no rule for this device", columns, tuple(rows))


def _sealed_block(hood: HoodMeasured, result: GasResult, record: str, context: Context) -> Block:
    times = {(each.level, each.percent): each.time for each in result.sealed}
    levels = list(dict.fromkeys(each.level for each in result.sealed))
    limits = [limit for limit in SEALED_LIMITS if any(percent == limit for _, percent in times)]
    rows = tuple(
        Row(
            (
                Cell(sentence_case(context.catalogue.work_gas[level].name)),
                *(
                    figure_cell(times[level, limit], record) if (level, limit) in times else Cell("none")
                    for limit in limits
                ),
            )
        )
        for level in levels
    )
    columns = (Column("Work"), *(Column(f"To {quantity_text(limit, '%')}", numeric=True) for limit in limits))
    return Block(
        anchor="gas.hood",
        heading="If the blower stopped and the hood were sealed",
        facts=(Fact("Air in the hood", recorded_text(hood.volume)), Fact("Found by", hood.how)),
        table=Table("gas.hood.times", "How fast carbon dioxide would rise; an illustration", columns, rows),
        figures=(),
        verdict=None,
        note=SEALED,
    )


def _sentences(hood: bool, reason: str | None, inhaled: bool) -> tuple[str, ...]:
    sentences = [HOOD, UPPER, BEYOND] if hood else []
    if reason is not None:
        sentences.append(f"The hood’s mixed air is not scored: {reason}.")
    return (*sentences, INHALED) if inhaled else tuple(sentences)


def _workings(result: GasResult, record: str, context: Context) -> tuple[WorkingView, ...]:
    named: list[tuple[str, Figure]] = []
    for run in result.runs:
        for level in run.levels:
            named += [(_state(run), level.carbon_dioxide), (_state(run), level.oxygen)]
    named += [("any blower", each.supply) for each in result.least]
    named += [("sealed hood, an illustration", each.time) for each in result.sealed]
    for gas in result.inhaled:
        named += [(inhaled_state(gas), figure) for figure in (gas.oxygen, gas.carbon_dioxide, gas.ratio)]
    views = [working_view(figure, of, record, context) for of, figure in named]
    return tuple(view for view in views if view is not None)


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show carbon dioxide and oxygen of one record."""
    assert isinstance(result, GasResult)
    calculated = bool(result.runs or result.sealed)
    tables = [_levels(result, test.id, context)] if calculated else []
    tables += [_run_table(run, test.id, context) for run in result.runs]
    tables += _inhaled_tables([(test.id, gas) for gas in result.inhaled], context, on_device=False)
    sources = level_sources(context.catalogue.work_gas) if calculated else ()
    blocks: tuple[Block, ...] = ()
    if test.hood is not None and result.sealed:
        blocks = (_sealed_block(test.hood, result, test.id, context),)
    return TopicSection(
        topic="gas",
        heading=HEADING,
        anchor="gas",
        answer=(),
        sentences=(
            *_sentences(bool(result.runs), result.hood_not_scored, bool(result.inhaled)),
            room_words(test),
            *sources,
        ),
        chart=None,
        tables=tuple(tables),
        blocks=blocks,
        workings=_workings(result, test.id, context),
        workings_on_paper=False,
        tables_told=True,
    )


def _shown_levels(context: Context) -> list[WorkGas]:
    """Return the levels of the table of a device: the lightest, the hardest everyday one, and the one above it."""
    everyday = [level for level in context.catalogue.work_gas.values() if level.everyday]
    others = [level for level in context.catalogue.work_gas.values() if not level.everyday]
    return [everyday[0], everyday[-1], *others[:1]]


def _runs_table(rows: Sequence[tuple[str, RunGas]], context: Context) -> Table:
    shown = _shown_levels(context)
    hardest = [level for level in shown if level.everyday][-1]
    states = labels_on_device([_state(run) for _, run in rows], [record for record, _ in rows], context)
    body = []
    for state, (record, run) in zip(states, rows, strict=True):
        by_level = {level.level: level for level in run.levels}
        cells = [
            figure_cell(by_level[level.id].carbon_dioxide, record, on_device=True, limit=HELD_LIMIT) for level in shown
        ]
        oxygen = figure_cell(by_level[hardest.id].oxygen, record, on_device=True, limit=LOW_OXYGEN)
        body.append(Row((Cell(state, context.record_link(record, "gas").href), *cells, oxygen)))
    columns = (
        Column("Setting and state"),
        *(Column(f"Carbon dioxide, {level.name}", numeric=True) for level in shown),
        Column(f"Oxygen, {hardest.name}", numeric=True),
    )
    return Table("hood-gas", "The hood’s mixed air by calculation, not inhaled air", columns, tuple(body))


def present_device(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> TopicSection | None:
    """Show carbon dioxide and oxygen of a device over its records; nothing where there is none."""
    if summary is None:
        return None
    assert isinstance(summary, GasSummary)
    every = [(record, result) for record, result in results.items() if isinstance(result, GasResult)]
    runs = [(record, run) for record, result in every for run in result.runs]
    inhaled = [(record, gas) for record, result in every for gas in result.inhaled]
    if not (runs or inhaled):
        return None
    reason = next((result.hood_not_scored for _, result in every if result.hood_not_scored is not None), None)
    return TopicSection(
        topic="gas",
        heading=HEADING,
        anchor="gas",
        answer=answer_words(summary, context.catalogue.work_gas),
        sentences=_sentences(bool(runs), reason, bool(inhaled)),
        chart=None,
        tables=(
            *([_runs_table(runs, context)] if runs else []),
            *_inhaled_tables(inhaled, context, on_device=True),
        ),
        blocks=(),
        workings=(),
        workings_on_paper=False,
        tables_told=True,
    )
