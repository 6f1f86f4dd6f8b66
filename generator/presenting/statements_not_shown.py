"""Statements that tempt and that the data do not carry, each with its reason; every text is a sentence that denies."""

from __future__ import annotations

from collections.abc import Iterator

from generator.model.blower_result import BlowerResult, BlowerSummary
from generator.model.breathing_result import BreathingSummary, Coverage
from generator.model.claim_result import ClaimOutcome
from generator.model.configuration import State
from generator.model.fit_result import FitGroup, FitResult
from generator.model.flow_result import FlowSummary
from generator.model.gas_result import GasSummary
from generator.model.result import Outcome, Relation, Verdict
from generator.model.run_time_result import RunTimeSummary
from generator.presenting.breathing_words import coverage_sentences
from generator.presenting.digits import rough_text
from generator.presenting.flow_words import not_measured_words
from generator.presenting.maker_side import CLAIM_WORDS
from generator.presenting.reviewed_device import ReviewedDevice, in_brackets, told_apart
from generator.presenting.run_time_words import time_text
from generator.presenting.statement_views import NotShown
from generator.presenting.statements_of_air import breathing_levels, filter_changes
from generator.presenting.statements_of_fit import (
    bound_of_others,
    counts_particles,
    first_groups,
    fit_state,
    records_of,
)
from generator.presenting.statements_of_use import penetration_measured, stated_class
from generator.presenting.wearer_statements import bare_bound
from generator.presenting.wording import count_text, listed, sentence_case, without_full_stop

SHIFT_MIN = 480.0
"""A shift of eight hours, as noise rules take it too. [min]"""
_MOST_NAMED = 4
_START = "These tests do not show"


def everyone(of: ReviewedDevice) -> Iterator[NotShown]:
    """Wherever someone wore it: that others would see the same."""
    for group in first_groups(of)[:1]:
        bound = bound_of_others(group)
        reason = f"{_who_put_it_on(group, of)}: faces differ, and so does how it is put on."
        if bound is not None:
            reason += (
                " With 95 % confidence, at least 95 in 100 donnings of new wearers like these lie above "
                f"{bare_bound(bound)}; no more is told of them."
            )
        yield NotShown("everyone", f"{_START} that everyone would see these fit factors.", reason)


def _who_put_it_on(group: FitGroup, of: ReviewedDevice) -> str:
    """Say how many wearers a group of sessions had, and which sessions are meant where others wore it besides."""
    all_of_them = f"{sentence_case(count_text(len(of.evidence.wearers), 'wearer'))} put it on"
    if set(group.wearers) == set(of.evidence.wearers):
        return all_of_them
    which = in_brackets(fit_state(group, of), of.period(records_of(group)))
    number = count_text(len(group.wearers), "of them", "of them")
    return f"{all_of_them}, {number} in the sessions named first above{which}"


def percentage(of: ReviewedDevice) -> Iterator[NotShown]:
    """Wherever particles were counted: a percentage of protection."""
    if any(counts_particles(group, of) for group in first_groups(of)):
        reason = (
            "A fit factor compares particles inside and outside for some minutes, on these wearers, as one counter "
            "sees them. Time without the device, other particles and other people are not in it."
        )
        yield NotShown("percentage", f"{_START} a percentage of protection.", reason)


def _fit_verdicts(of: ReviewedDevice) -> list[Verdict]:
    return [
        session.verdict
        for _, result in of.results("fit", FitResult)
        for session in result.sessions
        if session.counted and session.verdict is not None
    ]


def fit_test(of: ReviewedDevice) -> Iterator[NotShown]:
    """Wherever sessions count: that it passed a fit test, passes on everyone, or would on the next wearer."""
    verdicts = _fit_verdicts(of)
    if not verdicts:
        return
    held = [verdict for verdict in verdicts if verdict.outcome is not Outcome.NOT_APPLICABLE]
    reached = sum(verdict.outcome is Outcome.MEETS for verdict in held)
    source = of.section("fit-register", "Every session")
    if not held:
        reasons = dict.fromkeys(sentence_case(verdict.reason.rstrip(".")) for verdict in verdicts)
        text = f"{_START} that it passed a fit test, or failed one."
        yield NotShown("fit-test", text, ". ".join(list(reasons)[:2]) + ".", source)
    elif reached < len(held):
        number = count_text(reached, "reached", "reached") if reached else "none reached"
        reason = f"Of {count_text(len(held), 'session')} to which a pass level applies, {number} it."
        yield NotShown("fit-test", f"{_START} that a fit test with it is passed by every wearer.", reason, source)
    else:
        reason = "A level that is reached is reached by that wearer, in that donning, on that day."
        yield NotShown("fit-test", f"{_START} that the next wearer would pass a fit test with it.", reason, source)


def approved(of: ReviewedDevice) -> Iterator[NotShown]:
    """Always: that it is approved, or as good as an approved device."""
    if of.device.home_built:
        text, known = "as good as an approved device", "It was built at home, and approvals are for makers’ devices."
    elif of.device.approvals_stated:
        text, known = "approved", "That is its maker’s statement, which nothing here confirms."
    else:
        text, known = "approved, or as good as an approved device", "No approval of it is on record."
    reason = (
        f"{known} A fit factor is of these wearers; an assigned protection factor is for a class of approved devices "
        "in a complete programme. Neither can be turned into the other."
    )
    yield NotShown("approved", f"{_START} that it is {text}.", reason, of.section("assigned", "Assigned factors"))


def gases(of: ReviewedDevice) -> Iterator[NotShown]:
    """Always: that it keeps out gases."""
    reason = "No gas or vapour was used as what it should keep out; what holds back particles need not hold back gases."
    yield NotShown("gases", f"{_START} that it keeps out gases or vapours.", reason)


def illness(of: ReviewedDevice) -> Iterator[NotShown]:
    """Always: that it keeps anyone well."""
    reason = "Air and particles were measured. Nobody’s health was followed."
    yield NotShown("illness", f"{_START} that it keeps anyone from falling ill.", reason)


def better(of: ReviewedDevice) -> Iterator[NotShown]:
    """Always: that it is better or worse than another device."""
    differences = of.differences()
    alike = [of.context.catalogue.devices[other].name for other, found in differences.items() if not told_apart(found)]
    said = []
    if not differences:
        said.append("It was not compared with another device in a way that states a difference.")
    else:
        said.append("Differences are stated for fit factors alone, and for the pairs that were compared.")
    if alike:
        more = len(alike) - _MOST_NAMED
        names = [*alike[:_MOST_NAMED], count_text(more, "other", "others")] if more > 0 else alike
        said.append(f"From {listed(names)} it cannot be told apart, which is not the same as equal.")
    text = f"{_START} that it is the better device, or the worse one."
    source = of.section("comparisons", "Compared with others") if differences else None
    yield NotShown("better", text, " ".join(said), source, compares=True)


def every_state(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where states that count were not measured: that the air is the same in them."""
    summary = of.summary("flow", FlowSummary)
    missing = not_measured_words(summary.states) if summary is not None and summary.governing is not None else None
    if missing is not None:
        source = of.section("flow", "Air supply")
        yield NotShown("every-state", f"{_START} that it delivers this air in every state.", missing, source)


def enough_air(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where a flow was not measured, or its verdict is undecided: that there is enough air."""
    if not of.device.kind.powered:
        return
    summary, source = of.summary("flow", FlowSummary), of.section("flow", "Air supply")
    if summary is None or summary.governing is None:
        reason = "No flow run at a setting that counts is on record."
        yield NotShown("enough-air", f"{_START} that its blower delivers enough air.", reason, source)
    elif summary.governing.verdict.outcome is Outcome.UNDECIDED:
        text = f"{_START} that it delivers the air that is required, or too little."
        yield NotShown("enough-air", text, f"{sentence_case(summary.governing.verdict.reason.rstrip('.'))}.", source)


def any_work(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where a printed breathing demand is not covered: that the air is enough for any work."""
    summary = of.summary("breathing", BreathingSummary)
    levels = breathing_levels(summary, of) if summary is not None else ()
    if any(result.coverage is not Coverage.COVERED for _, result in levels):
        source = of.section("breathing", "Breathing demand")
        text = f"{_START} that its air is enough for any work."
        yield NotShown("any-work", text, coverage_sentences(levels)[0], source)


def shift(of: ReviewedDevice) -> Iterator[NotShown]:
    """For powered devices, unless a run-down lasted eight hours: that it lasts a shift."""
    if not of.device.kind.powered:
        return
    summary = of.summary("run_time", RunTimeSummary)
    text, source = f"{_START} that it lasts a shift of eight hours.", of.section("run_time", "Run time on one charge")
    if summary is None or summary.governing is None:
        yield NotShown("shift", text, "How long it delivers enough air on one charge has no result here.")
        return
    time = summary.governing.run_time
    if time.value is None:
        yield NotShown("shift", text, f"The run time is not scored: {time.not_scored}.", source)
    elif time.value < SHIFT_MIN and time.relation is Relation.AT_LEAST:
        reason = f"The run-down ended after {time_text(time).removeprefix('at least ')}; nothing is extrapolated."
        yield NotShown("shift", text, reason, source)
    elif time.value < SHIFT_MIN:
        enough = f"was enough for {time_text(time)}" if time.value else "was never enough"
        yield NotShown("shift", text, f"On one charge the flow {enough}.", source)


def filter_share(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where a filter class is stated and no penetration was measured: the share that the class stands for."""
    stated = stated_class(of)
    if stated is not None and not penetration_measured(of):
        reason = f"Its maker states the class “{stated}”; nothing was measured of the filter by itself."
        text = f"{_START} which share of particles its filter holds back."
        yield NotShown("filter-share", text, reason, of.section("device", "Design notes"))


def inhaled_gas(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where the air of a hood was calculated and none inhaled was measured: what the wearer breathes in."""
    summary = of.summary("gas", GasSummary)
    if summary is not None and summary.worst is not None and not summary.inhaled:
        reason = "That of the hood’s air is calculated; near mouth and nose the air can hold more."
        text = f"{_START} how much carbon dioxide its wearer breathes in."
        yield NotShown("inhaled-gas", text, reason, of.section("gas", "Carbon dioxide and oxygen"))


def predicted(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where flows are predicted for changes that nobody made: that the change brings them."""
    summary = of.summary("blower", BlowerSummary)
    changes = any(filter_changes(curve) for _, result in of.results("blower", BlowerResult) for curve in result.curves)
    if changes and (summary is None or not summary.carried_out):
        reason = "It is predicted from the blower’s curve; nobody made the change and measured it."
        text = f"{_START} that a change of filter brings the predicted flow."
        yield NotShown("predicted", text, reason, of.section("blower", "Predicted flows"))


def every_unit(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where one unit was tested, or it is not on record which: that every unit is like it."""
    gaps = {gap.rule for gap in of.evidence.gaps}
    reason = "One unit was tested; how far units differ is not known." if "one-unit" in gaps else None
    if "unit-unknown" in gaps:
        reason = "Which units were tested is not on record; how far units differ is not known."
    if reason is not None:
        text = f"{_START} that every unit does the same."
        yield NotShown("every-unit", text, reason, of.section("evidence", "What this rests on"))


def modified(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where a modified device was tested: that figures hold for the device as supplied too."""
    states = {configuration.state for configuration in of.result.configurations}
    if State.MODIFIED not in states:
        return
    reason = "Both were tested, and each figure is of its own state."
    if State.AS_SUPPLIED not in states:
        reason = "Only a modified one was tested."
    text = f"{_START} that what holds for it modified holds for it as supplied."
    yield NotShown("modified", text, reason)


def open_claims(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where claims are undecided or not tested: that they are borne out."""
    left = [
        f"“{without_full_stop(claim.quotation)}”: {CLAIM_WORDS[result.outcome]}"
        for claim, result in zip(of.device.claims, of.result.claims, strict=True)
        if result.outcome in (ClaimOutcome.UNDECIDED, ClaimOutcome.NOT_TESTED)
    ]
    if left:
        more = len(left) - _MOST_NAMED
        named = [*left[:_MOST_NAMED], f"and {count_text(more, 'other', 'others')}"] if more > 0 else left
        text = f"{_START} that everything its maker says of it is so."
        yield NotShown("open-claims", text, f"{'; '.join(named)}.", of.section("claims", "What its maker says"))


def lowest_of_all(of: ReviewedDevice) -> Iterator[NotShown]:
    """Where a lowest factor is only a bound: how high it is."""
    for group in first_groups(of)[:1]:
        if group.lowest.relation is Relation.AT_LEAST:
            reason = f"The data set no upper limit: the lowest is {rough_text(group.lowest)}."
            yield NotShown("how-high", f"{_START} how high the fit factor is.", reason)
