"""The rows of the table that has a column for each device, in one order for all, so that they line up."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from generator.model.breathing_result import BreathingSummary
from generator.model.burden_result import BurdenResult, BurdenSummary
from generator.model.catalogue_result import DeviceResult
from generator.model.comparison_result import ComparedDevice
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.evidence_result import Evidence
from generator.model.filter_result import FilterResult
from generator.model.result import Figure, TopicResult
from generator.model.run_time_result import RunTimeSummary
from generator.presenting.breathing_words import Level, coverage_sentences
from generator.presenting.comparison_views import SideLine
from generator.presenting.context import Context
from generator.presenting.digits import value_text
from generator.presenting.figures import comparison_text, outcome_text
from generator.presenting.filter_words import drop_words
from generator.presenting.flow_standing import meter_in_doubt, supply_outcome
from generator.presenting.flow_tables import shown_limit
from generator.presenting.run_time_words import run_time_words
from generator.presenting.side_cells import fit_lines, mass_text, recorded_in_words, worn_lines
from generator.presenting.topics.flow import flow_state_words, run_state
from generator.presenting.wording import count_text, day_text, listed, recorded_text, sentence_case, without_full_stop
from generator.scoring.filter_velocities import TEST_FLOW
from generator.scoring.flow_states import flow_states, worst_run

NOT_MEASURED = SideLine("not measured")
NO_BLOWER = SideLine("no blower")
WITHDRAWN = SideLine("withdrawn")
_PROTECTIVE = "at what its maker names as protective"


@dataclass(frozen=True)
class Side:
    """A device as it is set beside others."""

    device: Device
    compared: ComparedDevice
    result: DeviceResult
    context: Context

    def of_topic(self, topic: str) -> Mapping[str, TopicResult]:
        """Return what its standing records gave for a topic, by record."""
        records = (self.context.result.records[record] for record in self.result.records)
        return {record.record: record.topics[topic] for record in records if topic in record.topics}

    def modified(self, record: str | None) -> str:
        """Say that a figure is of a record of a modified device; nothing where it is as supplied."""
        test = self.context.catalogue.device_tests[record] if record is not None else None
        if test is None or test.configuration.state is State.AS_SUPPLIED:
            return ""
        return f"modified: {listed([without_full_stop(each) for each in test.configuration.changes])}"


Lines = tuple[SideLine, ...]


def _worn(side: Side) -> Lines:
    return worn_lines(side.device, side.compared, side.result)


def _fit(side: Side) -> Lines:
    return fit_lines(side.device, side.compared, side.context)


def flow_that_governs(side: Side) -> Lines:
    """Say what the worst state delivered among those that the maker names as protective, and of how many runs."""
    if not side.device.kind.powered:
        return (NO_BLOWER,)
    runs = [(item.record, item.run) for item in side.compared.runs]
    if not runs:
        return (SideLine("not measured as supplied"),)
    claimed = [item for item in runs if item[1].claimed]
    worst = worst_run(claimed)
    if worst is None:
        return (SideLine(f"not measured {_PROTECTIVE}"),)
    run, among = worst[1], count_text(len(claimed), "run")
    if len(claimed) < len(runs):
        among += f" {_PROTECTIVE}"
    states = flow_states(side.device, runs)
    outcome = (
        comparison_text(run.verdict),
        supply_outcome(run.verdict, states, side.context),
        meter_in_doubt(worst[0], side.context),
    )
    return (
        SideLine(value_text(run.mean, shown_limit(run)), "; ".join(word for word in outcome if word)),
        SideLine("", f"{sentence_case(run_state(run))}: the worst of {among}."),
    )


def _breathing(side: Side) -> Lines:
    if not side.device.kind.powered:
        return (NO_BLOWER,)
    summary = side.result.topics.get("breathing")
    if not isinstance(summary, BreathingSummary):
        return (NOT_MEASURED,)
    run = summary.governing_demand
    if run.not_scored is not None:
        return (SideLine("not scored", run.not_scored.not_scored or ""),)
    results = {result.level: result for result in run.levels}
    levels: list[Level] = [
        (level, results[level.id]) for level in side.context.catalogue.work_levels if level.id in results
    ]
    if not levels:
        return (NOT_MEASURED,)
    state = (flow_state_words(run.setting, run.battery, run.filter), side.modified(summary.governing_record))
    return (
        SideLine("", sentence_case("; ".join(word for word in state if word)) + "."),
        *(SideLine("", sentence) for sentence in coverage_sentences(levels)),
    )


def _run_time(side: Side) -> Lines:
    if not side.device.kind.powered:
        return (NO_BLOWER,)
    summary = side.result.topics.get("run_time")
    if not isinstance(summary, RunTimeSummary):
        return (NOT_MEASURED,)
    if summary.governing is None:
        return (SideLine("not scored"),)
    modified = side.modified(summary.governing_record)
    lines = (SideLine("", run_time_words(summary.governing)),)
    return (*lines, SideLine("", sentence_case(modified))) if modified else lines


def _resistance(side: Side) -> Lines:
    lines = []
    for record, result in side.of_topic("filter").items():
        assert isinstance(result, FilterResult)
        for drop in result.drops:
            if drop.at_test_flow is None or drop.verdict is None:
                continue
            words = [drop_words(drop.of, drop.filter, drop.blower)]
            if drop.verdict.limit is not None:
                words.append(outcome_text(drop.verdict, side.context))
            words.append(side.modified(record))
            lines.append(_figure_line(drop.at_test_flow, "; ".join(word for word in words if word), drop.verdict.limit))
    return tuple(lines) or (NOT_MEASURED,)


def _figure_line(figure: Figure, note: str, limit: float | None = None) -> SideLine:
    if figure.value is None:
        return SideLine("not scored", f"{note}; {figure.not_scored}")
    return SideLine(value_text(figure, limit), note)


def _noise(side: Side) -> Lines:
    summary = side.result.topics.get("burden")
    if not isinstance(summary, BurdenSummary) or summary.loudest is None:
        return (NOT_MEASURED,)
    results = side.of_topic("burden")
    settings = [
        noise.setting
        for result in results.values()
        if isinstance(result, BurdenResult)
        for noise in result.noise
        if noise.level == summary.loudest
    ]
    words = [f"at {settings[0]}, the device alone", side.modified(summary.loudest_record)]
    return (SideLine(value_text(summary.loudest), "; ".join(word for word in words if word)),)


def _mass(side: Side) -> Lines:
    device = side.device
    return (SideLine(mass_text(device.mass), recorded_in_words(device.mass)),)


def _price(side: Side) -> Lines:
    lines = [SideLine(recorded_text(side.device.price))]
    for result in side.of_topic("burden").values():
        if isinstance(result, BurdenResult) and result.cost is not None and result.cost.an_hour.value is not None:
            lines.append(SideLine("", f"{value_text(result.cost.an_hour)} in the use that its record names"))
    return tuple(lines)


def _evidence(side: Side) -> Lines:
    evidence = side.result.evidence
    assert evidence is not None
    if not evidence.records:
        return (SideLine("no record stands"),)
    tests = side.context.catalogue.device_tests
    newest = day_text(max(tests[record].dates.performed for record in evidence.records))
    return (
        SideLine(count_text(len(evidence.records), "record"), f"last tested on {newest}"),
        SideLine("", sentence_case(_attempts(evidence))),
        SideLine("", sentence_case(_not_tested(evidence))),
    )


def _attempts(evidence: Evidence) -> str:
    parts = [count_text(evidence.completed, "completed session")]
    if evidence.completed != evidence.counted:
        parts.append(count_text(evidence.counted, "of them counting", "of them counting"))
    for count, how in ((evidence.aborted, "aborted"), (evidence.voided, "voided")):
        if count:
            parts.append(f"{count_text(count, 'attempt')} {how}")
    return f"{', '.join(parts)}."


def _not_tested(evidence: Evidence) -> str:
    points = len(evidence.not_tested_stated) + len(evidence.gaps)
    return f"{count_text(points, 'point')} named as not tested."


_ROWS: tuple[tuple[str, str, Callable[[Side], Lines]], ...] = (
    ("worn", "Worn by", _worn),
    ("fit", "Fit factor, lowest to highest", _fit),
    ("flow", "Air supply, the state that governs", flow_that_governs),
    ("breathing", "Breathing demand", _breathing),
    ("run-time", "Run time on one charge", _run_time),
    ("resistance", f"Breathing resistance at {TEST_FLOW:g}\N{NARROW NO-BREAK SPACE}L/min", _resistance),
    ("noise", "Sound at the ear, the loudest", _noise),
    ("mass", "Mass", _mass),
    ("price", "Price", _price),
    ("evidence", "Rests on", _evidence),
)
"""Name, heading and what is told, in the order of the table."""
FACT_ROWS = tuple((name, heading) for name, heading, _ in _ROWS)


def panel_facts(side: Side) -> tuple[tuple[str, Lines], ...]:
    """Return what is told of a device in each row; of one that was withdrawn, that it was."""
    if side.compared.withdrawn:
        return tuple((name, (WITHDRAWN,)) for name, _ in FACT_ROWS)
    return tuple((name, lines(side)) for name, _, lines in _ROWS)
