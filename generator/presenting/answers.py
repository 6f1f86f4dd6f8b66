"""What opens a device's page: three sentences at most of what it delivered, on whom, how sure, what is not known."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import ROUND_CEILING

from generator.model.catalogue_result import DeviceResult
from generator.model.claim_result import ClaimOutcome
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.fit_result import FitGroup, FitSummary
from generator.model.flow_result import FlowRunResult, FlowSummary
from generator.model.reference import Principle
from generator.model.result import Outcome, Relation
from generator.model.session import BLOWER_OFF
from generator.presenting.context import Context
from generator.presenting.digits import interval_text, percent_text, value_text
from generator.presenting.figures import comparison_text
from generator.presenting.fit_basis import DRAWN_IN
from generator.presenting.flow_standing import meter_in_doubt, partly_measured
from generator.presenting.flow_tables import shown_limit
from generator.presenting.flow_words import run_state
from generator.presenting.modified_words import with_modified
from generator.presenting.topics.fit import group_sentence, worst_first
from generator.presenting.topics.flow import not_measured_sentence
from generator.presenting.wording import count_text, day_text, sentence_case

_NOT_KNOWN = "gases and vapours, {} other days, and what the device does after long use"
_OUTCOME = {
    Outcome.MEETS: "so it meets the requirement",
    Outcome.DOES_NOT_MEET: "so it does not meet the requirement",
    Outcome.UNDECIDED: "and whether it meets the requirement is undecided",
}
_OF_BENCHMARK = {
    Outcome.MEETS: "it reaches that benchmark",
    Outcome.DOES_NOT_MEET: "it misses that benchmark",
    Outcome.UNDECIDED: "whether it reaches that benchmark is undecided",
}


def opening(device: Device, result: DeviceResult, context: Context) -> tuple[str, ...]:
    """Return the sentences that open a device's page, three at most."""
    fit, flow = result.topics.get("fit"), result.topics.get("flow")
    assert fit is None or isinstance(fit, FitSummary)
    assert flow is None or isinstance(flow, FlowSummary)
    if not result.records:
        return _without_records(device, result)
    supply = (flow_sentence(device, flow, context),) if device.kind.powered else ()
    return (*supply, fit_sentence(device, fit, context, flow), _limits(device, result, fit, context))


def flow_sentence(device: Device, summary: FlowSummary | None, context: Context) -> str:
    """Say what the governing run delivered, how sure that is, and how it stands to its requirement."""
    if summary is None or summary.governing is None:
        return not_measured_sentence(device, summary)
    run = summary.governing
    state = run_state(run)
    if summary.governing_record is not None:
        state = with_modified(state, summary.governing_record, context)
    if run.mean.value is None:
        return f"How much air its blower delivers could not be scored: {run.mean.not_scored} ({state})."
    flow, ends = value_text(run.mean, shown_limit(run)), interval_text(run.compared)
    sure = f"95 % interval {ends}" if ends is not None else "no interval"
    if run.at_requirement is not None:
        flow += f" of air, which is {value_text(run.at_requirement, run.verdict.limit)} in the air that the requirement"
        flow += f" states ({sure})"
    else:
        flow += f" of air ({sure})"
    delivered = f"{_worst_words(summary)} ({state}) it delivered {flow}"
    doubt = meter_in_doubt(summary.governing_record, context) if summary.governing_record is not None else None
    return f"{delivered}{_against(run, summary)}{f'; {doubt}' if doubt is not None else ''}."


def _worst_words(summary: FlowSummary) -> str:
    counting = sum(state.runs for state in summary.states if state.claimed)
    only_claimed = all(state.claimed for state in summary.states if state.runs)
    words = "In the worst state measured" if counting > 1 else "In the one state measured"
    if sum(state.runs for state in summary.states) < summary.runs:
        words += " as supplied"
    return words if only_claimed else f"{words} at a claimed setting"


def _against(run: FlowRunResult, summary: FlowSummary) -> str:
    verdict, partly = run.verdict, partly_measured(summary.states)
    comparison = comparison_text(verdict)
    if verdict.outcome is Outcome.NOT_APPLICABLE or comparison is None:
        reason = verdict.reason.rstrip(".")
        return f"; {reason[:1].lower()}{reason[1:]}"
    met_in_part = verdict.outcome is Outcome.MEETS and partly is not None
    if verdict.benchmark_only:
        outcome = _OF_BENCHMARK[verdict.outcome]
        return f": {comparison} that custom asks of makers’ devices; {outcome}{f' {partly}' if met_in_part else ''}"
    outcome = f"met {partly}" if met_in_part else _OUTCOME[verdict.outcome]
    return f": {comparison} that custom asks for, {outcome}"


def fit_sentence(device: Device, summary: FitSummary | None, context: Context, flow: FlowSummary | None = None) -> str:
    """Say what the worst group of sessions gave, on how many wearers, and that it is about no one else."""
    if summary is None or not (summary.completed or summary.withdrawn):
        return "How much cleaner the air inside is was not measured with any wearer."
    if not summary.wearers:
        return "How much cleaner the air inside is has no result that counts; the section “Fit factor” says why."
    if not summary.groups:
        return "How much cleaner the air inside is could not be scored; the section “Fit factor” says why."
    worst = worst_first(summary)[0]
    one = len(worst.wearers) == 1
    others = "nothing follows for anyone else" if one else "another wearer’s factor may be lower"
    said = group_sentence(worst, device, context)
    setting = flow.governing.setting if flow is not None and flow.governing is not None else None
    if setting not in (None, worst.blower):
        # The air told of just before was measured at another setting: neither figure holds for the other's state.
        said = f"In another state, {said[:1].lower()}{said[1:]}"
    return f"{said}: {_meaning(worst, context)}; {others}."


def _meaning(group: FitGroup, context: Context) -> str:
    """Say what the lowest factor means for the air inside."""
    assert group.lowest.value is not None
    if context.catalogue.protocols[group.protocol].principle is Principle.CONTROLLED_NEGATIVE_PRESSURE:
        return f"a factor {DRAWN_IN}"
    if group.lowest.value <= 1:
        return "in the worst case no fewer particles inside than outside"
    if group.lowest.relation is Relation.AT_LEAST:
        share = percent_text(1 / group.lowest.value, digits=2, rounding=ROUND_CEILING)
        return f"inside there were at most {share} of the particles outside"
    share = percent_text(1 / group.lowest.value, digits=2)
    return f"in the worst case {share} of the particles outside were inside too"


def _withdrawn(device: Device) -> tuple[str, ...]:
    if device.withdrawn is None:
        return ()
    return (f"the device was withdrawn from this catalogue on {day_text(device.withdrawn.date)}",)


def _contradicted(result: DeviceResult) -> tuple[str, ...]:
    count = sum(claim.outcome is ClaimOutcome.CONTRADICTED for claim in result.claims)
    if not count:
        return ()
    verb = "is" if count == 1 else "are"
    return (f"{count_text(count, 'claim')} of its maker {verb} contradicted by these tests",)


def _as_supplied(result: DeviceResult, tests: Mapping[str, State]) -> tuple[str, ...]:
    if any(tests[record] is State.AS_SUPPLIED for record in result.records):
        return ()
    return ("nothing was measured on the device as supplied",)


def _limits(device: Device, result: DeviceResult, fit: FitSummary | None, context: Context) -> str:
    """Say what contradicts, and what these tests leave open."""
    states = {record: context.catalogue.device_tests[record].configuration.state for record in result.records}
    groups = fit.groups if fit is not None else ()
    worn_running = bool(groups) and all(group.blower != BLOWER_OFF for group in groups)
    of_blower = "the fit with the blower off, " if device.kind.powered and worn_running else ""
    contradicted, modified = _contradicted(result), _as_supplied(result, states)
    tests = "them" if contradicted and not modified else "these tests"
    others = "other wearers," if groups else "the fit on any wearer,"
    unknown = f"not known from {tests}: {of_blower}{_NOT_KNOWN.format(others)}"
    return f"{sentence_case('; '.join((*_withdrawn(device), *contradicted, *modified, unknown)))}."


def _without_records(device: Device, result: DeviceResult) -> tuple[str, ...]:
    count = len(result.withdrawn_records)
    if count:
        which = "Its one test record was" if count == 1 else f"All of its {count_text(count, 'test record')} were"
        first = f"{which} withdrawn, so that no result of the device counts."
    else:
        first = "No test of this device is on record, so that nothing is known of what it delivers."
    return (first, *(f"{sentence_case(each)}." for each in _withdrawn(device)))
