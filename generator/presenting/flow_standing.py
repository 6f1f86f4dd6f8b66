"""How a device's air supply stands to what it is held against: in which of the states that count, by which meter."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.flow_result import FlowState
from generator.model.result import Outcome, Verdict
from generator.presenting.context import Context
from generator.presenting.figures import outcome_text
from generator.presenting.flow_words import BATTERY, FILTER
from generator.presenting.instrument_doubts import CHECKED_BEYOND, FOUND_OUT
from generator.presenting.wording import count_text, shortened

_IN_DOUBT = {
    FOUND_OUT: "its flow meter was later found wrong",
    CHECKED_BEYOND: "its flow meter’s last check lay beyond its limits",
}
"""Why a meter is in doubt, the graver reason first."""


def partly_measured(states: Sequence[FlowState]) -> str | None:
    """Say in how many of the states that count a flow was measured, and what never was; None where all were."""
    counting = [state for state in states if state.claimed]
    measured = [state for state in counting if state.runs]
    if len(measured) == len(counting):
        return None
    words = f"in the {count_text(len(measured), 'measured', 'measured')} of {count_text(len(counting), 'state')}"
    never = _never(counting, measured)
    # The one state that was measured is told in full beside these words.
    return f"{words}, none {never}" if never and len(measured) > 1 else words


def _never(counting: Sequence[FlowState], measured: Sequence[FlowState]) -> str:
    """Name the settings, filters and batteries that no measured state has."""
    settings = {state.setting: None for state in counting if state.setting not in {each.setting for each in measured}}
    filters = {state.filter: None for state in counting if state.filter not in {each.filter for each in measured}}
    batteries = {state.battery: None for state in counting if state.battery not in {each.battery for each in measured}}
    parts = [f"at {shortened(setting, 20)}" for setting in settings]
    held = [*(FILTER[each] for each in filters), *(BATTERY[each] for each in batteries)]
    return " or ".join((*parts, *((f"with {' or '.join(held)}",) if held else ())))


def supply_outcome(verdict: Verdict, states: Sequence[FlowState], context: Context) -> str:
    """Say what came out against the requirement, which is never said to be met where states were left out."""
    outcome, partly = outcome_text(verdict, context), partly_measured(states)
    return f"{outcome} {partly}" if verdict.outcome is Outcome.MEETS and partly is not None else outcome


def meter_in_doubt(record: str, context: Context) -> str | None:
    """Say why the flow meter of a record is in doubt; None where nothing says so."""
    rules = {
        finding.rule
        for finding in context.result.records[record].all_findings
        if finding.where == "instruments.flow_meter"
    }
    return next((words for rule, words in _IN_DOUBT.items() if rule in rules), None)
