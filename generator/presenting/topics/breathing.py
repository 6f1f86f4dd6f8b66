"""Breathing demand: for which work the supply is enough, and what is drawn in beyond it."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.breathing_result import BreathingResult, BreathingRun, BreathingSummary
from generator.model.device import Device
from generator.model.fit_result import FitSummary
from generator.model.published import PublishedTest
from generator.model.result import TopicResult, TopicSummary
from generator.presenting.breathing_chart import breath_chart
from generator.presenting.breathing_tables import covered_table, device_table, index_table, levels_table
from generator.presenting.breathing_words import (
    DEMANDS,
    EXHAUST,
    INDEX,
    TIGHT,
    Level,
    answer,
    breaths_sentence,
    coverage_sentences,
    deciding_level,
    index_sentence,
    measured_sentence,
    stored_sentence,
)
from generator.presenting.context import Context
from generator.presenting.digits import quantity_text
from generator.presenting.figure_cells import figure_cell
from generator.presenting.figures import working_view
from generator.presenting.modified_words import with_modified
from generator.presenting.topics.fit import method_words, range_text, state_words
from generator.presenting.topics.flow import flow_state_words
from generator.presenting.views import Block, Cell, Column, Fact, Row, Table, TopicSection
from generator.presenting.wording import count_text, recorded_text

ANSWER_ORDER = 12
HOLDS = "breathing demand"
PART = "run"
_HEADING = "Breathing demand"


def _state(run: BreathingRun) -> str:
    return flow_state_words(run.setting, run.battery, run.filter)


def _levels(run: BreathingRun, context: Context) -> tuple[Level, ...]:
    results = {result.level: result for result in run.levels}
    return tuple((level, results[level.id]) for level in context.catalogue.work_levels if level.id in results)


def _share_words(device: Device) -> str:
    return "beyond the supply" if device.kind.tight else "from outside"


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show every flow run of one record against every level of work."""
    assert isinstance(result, BreathingResult)
    device = context.catalogue.devices[test.device]
    runs, tight = result.breathing_runs, device.kind.tight
    tables: list[Table | None] = [covered_table([(run, _state(run)) for run in runs], test.id, context)]
    for run in runs:
        levels = _levels(run, context)
        if levels:
            tables.append(levels_table(run, _state(run), levels, test.id, tight))
            tables.append(index_table(run, _state(run), levels, test.id))
    views = [working_view(figure, _state(run), test.id, context) for run in runs for figure in run.figures]
    scored = [run for run in runs if run.levels]
    return TopicSection(
        topic="breathing",
        heading=_HEADING,
        anchor="breathing",
        answer=(),
        sentences=_sentences(scored, device) if scored else (),
        chart=None,
        tables=tuple(table for table in tables if table is not None),
        blocks=_hood_block(test),
        workings=tuple(view for view in views if view is not None),
        workings_on_paper=False,
        tables_told=True,
    )


def _hood_block(test: PublishedTest) -> tuple[Block, ...]:
    """Show what was recorded of the hood, for workings to lead to."""
    hood = test.hood
    if hood is None:
        return ()
    facts = [Fact("Air that it holds", recorded_text(hood.volume), note=hood.how)]
    if hood.breaths_per_minute is not None:
        facts.append(Fact("Breaths a minute, counted", quantity_text(hood.breaths_per_minute, "1")))
    return (Block("breathing.hood", "The hood", tuple(facts), None, (), None, None),)


def _sentences(runs: list[BreathingRun], device: Device) -> tuple[str, ...]:
    over = any(level.factor is not None for run in runs for level in run.levels)
    return (*_ways(runs, device), *((INDEX,) if over else ()))


def _ways(runs: list[BreathingRun], device: Device) -> tuple[str, ...]:
    """Say how all of it was reckoned; of a record's runs the first stands for all."""
    sentences = [f"{DEMANDS} {breaths_sentence(runs[0])}"]
    if device.kind.tight:
        sentences.append(TIGHT)
    elif any(level.factor is not None for run in runs for level in run.levels):
        sentences.append(stored_sentence(runs[0]))
    if device.air_path.powered_exhaust is not None:
        sentences.append(EXHAUST)
    return tuple(sentences)


def fit_ranges(device: Device, setting: str, context: Context) -> list[str]:
    """Return the overall fit factors of a device that were measured at one blower setting, by group."""
    scored = context.result.devices.get(device.id)
    summary = scored.topics.get("fit") if scored is not None else None
    if not isinstance(summary, FitSummary):
        return []
    found = []
    for group in summary.groups:
        if group.blower == setting:
            words = [state_words(group, device), method_words(group, summary.groups, context)]
            words.append(f"on {count_text(len(group.wearers), 'wearer')}")
            found.append(f"{range_text(group, device, context)} ({', '.join(word for word in words if word)})")
    return found


def present_device(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> TopicSection | None:
    """Show the governing run of a device against every level of work."""
    if summary is None:
        return None
    assert isinstance(summary, BreathingSummary)
    run, record = summary.governing_demand, summary.governing_record
    levels, state = _levels(run, context), with_modified(_state(run), record, context)
    if not levels:
        return _not_scored(run, record, state)
    tight = device.kind.tight
    chart = breath_chart("breathing-breath", run, state, levels, _share_words(device))
    return TopicSection(
        topic="breathing",
        heading=_HEADING,
        anchor="breathing",
        answer=() if tight else answer(run.supply, levels),
        sentences=(
            " ".join(coverage_sentences(levels)),
            *_meaning(run, device, levels, context),
            *_ways([run], device),
        ),
        chart=None,
        tables=(device_table(run, state, levels, record, tight),),
        blocks=(),
        workings=(),
        curves=(chart,) if chart is not None else (),
        workings_on_paper=False,
        tables_told=True,
    )


def _meaning(run: BreathingRun, device: Device, levels: tuple[Level, ...], context: Context) -> tuple[str, ...]:
    decides = deciding_level(levels)
    if decides is None or device.kind.tight:
        return ()
    measured = measured_sentence(fit_ranges(device, run.setting, context))
    return (f"{index_sentence(*decides)} {measured}", INDEX)


def _not_scored(run: BreathingRun, record: str, state: str) -> TopicSection | None:
    if run.not_scored is None:
        return None
    row = Row((Cell(state), figure_cell(run.not_scored, record, on_device=True)))
    columns = (Column("Setting and state"), Column("Breathing demand"))
    return TopicSection(
        topic="breathing",
        heading=_HEADING,
        anchor="breathing",
        answer=(),
        sentences=(),
        chart=None,
        tables=(Table("breathing-levels", "Breathing demand against the supply", columns, (row,)),),
        blocks=(),
        workings=(),
        workings_on_paper=False,
        tables_told=True,
    )
