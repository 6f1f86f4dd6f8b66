"""Fit: sessions on the fit factor scale, in tables and in sentences."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.air import Aerosol
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.fit_result import Basis, FitGroup, FitResult, FitSummary, SessionResult
from generator.model.published import PublishedTest
from generator.model.result import Relation, TopicResult, TopicSummary
from generator.presenting.context import Context, blower_words
from generator.presenting.digits import figure_text, rough_text
from generator.presenting.fit_basis import basis_words
from generator.presenting.fit_conditions import sprayed_words
from generator.presenting.fit_readings import session_block, session_workings
from generator.presenting.fit_sessions import (
    fit_test_levels,
    marks_of,
    register_of_sessions,
    sessions_chart,
)
from generator.presenting.reviewed_device import in_brackets
from generator.presenting.sampling_biases import LINK
from generator.presenting.session_counts import attempt_counts, session_sentence
from generator.presenting.views import (
    IndexCell,
    ScaleChart,
    ScaleRow,
    TopicSection,
)
from generator.presenting.wearer_statements import not_tested_sentence
from generator.presenting.wearers import present_wearers, shows_donnings
from generator.presenting.wording import count_text, sentence_case

INDEX_HEADING = "Fit factor"
INDEX_ORDER = "by the lowest overall fit factor in the state named, “at least” as its bound"
ANSWER_ORDER = 20
HOLDS = "fit"
PART = "session"
COUNTERS = {
    "condensation_particle_counter": "a condensation particle counter",
    "optical_particle_counter": "an optical particle counter",
}


def present_record(test: PublishedTest, result: TopicResult, context: Context) -> TopicSection:
    """Show the fit sessions of one record."""
    assert isinstance(result, FitResult)
    by_id = {session.id: session for session in test.fit}
    rows = [(test.id, session) for session in result.sessions]
    workings = [view for session in result.sessions for view in session_workings(session, test.id, context)]
    return TopicSection(
        topic="fit",
        heading="Fit factor",
        anchor="fit",
        answer=(),
        sentences=_sentences_of_sessions(result.sessions),
        chart=sessions_chart("fit-scale", rows, context, several=False),
        tables=(register_of_sessions(rows, context, on_device=False),),
        blocks=tuple(session_block(by_id[session.session], session, test, context) for session in result.sessions),
        workings=tuple(workings),
    )


def _sentences_of_sessions(sessions: tuple[SessionResult, ...]) -> tuple[str, ...]:
    completed = [session for session in sessions if session.outcome == "completed"]
    attempts = len(sessions) - len(completed)
    left_out = sum(not session.counted for session in completed)
    sentence = f"{sentence_case(count_text(len(completed), 'session'))} completed"
    if left_out:
        sentence += f", {count_text(left_out, 'of them', 'of them')} not counted by the record's rule"
    if attempts:
        sentence += f", {count_text(attempts, 'attempt')} aborted or voided"
    return (sentence + ".",)


def range_ends(group: FitGroup, device: Device, context: Context) -> tuple[str, str]:
    """Write the lowest and the highest overall factor of a group."""
    levels = fit_test_levels(device, context)
    # A rounded factor must not seem to lie on the other side of the level that may apply.
    limit = levels[0].limit if levels else None
    return rough_text(group.lowest, limit), rough_text(group.highest, limit)


def range_text(group: FitGroup, device: Device, context: Context) -> str:
    """Write both in one, or once where they are written alike."""
    low, high = range_ends(group, device, context)
    return low if low == high else f"{low} to {high}"


def state_words(group: FitGroup, device: Device) -> str:
    """Say the blower's state, what was modified, which particles were sprayed, what is not a whole protocol."""
    words = []
    if device.kind.powered:
        words.append("with the " + blower_words(group.blower))
    if group.configuration != State.AS_SUPPLIED.value:
        words.append(group.configuration)
    if group.aerosol is not Aerosol.ROOM_AIR:
        words.append(f"in {sprayed_words(group.aerosol)}")
    if group.basis is not Basis.WHOLE_PROTOCOL:
        words.append(basis_words(group.basis))
    return ", ".join(words)


def method_words(group: FitGroup, groups: tuple[FitGroup, ...], context: Context) -> str:
    """Name the protocol and the counter where a device's groups differ in them."""
    words = []
    if len({other.protocol for other in groups}) > 1:
        words.append(f"by the protocol “{context.catalogue.protocols[group.protocol].title}”")
    if len({other.counter for other in groups}) > 1 and group.counter is not None:
        words.append(f"with {COUNTERS[group.counter]}")
    return " ".join(words)


def _units_words(group: FitGroup) -> str:
    units = count_text(len(group.units), "unit")
    return f"{units} and others whose number is not recorded" if group.unit_not_recorded else units


def items_words(group: FitGroup) -> str:
    """Say that there were several units or lots; nothing for one."""
    if len(group.units) > 1 or (group.units and group.unit_not_recorded):
        return f"on {_units_words(group)}"
    return f"from {count_text(len(group.lots), 'lot')}" if not group.units and len(group.lots) > 1 else ""


def group_sentence(group: FitGroup, device: Device, context: Context) -> str:
    """Say of a group on how many wearers, donnings and items, and what the fit factor was; without its full stop."""
    who = f"{count_text(len(group.wearers), 'wearer')} in {count_text(group.donnings, 'donning')}"
    state, items = state_words(group, device), items_words(group)
    if items:
        who += f", {items}"
    start = sentence_case(f"{state}, on {who}" if state else f"on {who}")
    return f"{start}, the fit factor was {range_text(group, device, context)}"


def worst_first(summary: FitSummary) -> tuple[FitGroup, ...]:
    """Order a device's groups: as supplied first, whole protocols before others, then the lowest factor: it opens."""
    bases = list(Basis)
    return tuple(
        sorted(
            summary.groups,
            key=lambda group: (
                group.configuration != State.AS_SUPPLIED.value,
                bases.index(group.basis),
                group.lowest.value or 0,
            ),
        )
    )


def _other_ways(summary: FitSummary) -> tuple[str, ...]:
    """Say that there are groups beside the one that the opening of a device's page tells of."""
    if len(summary.groups) < 2:
        return ()
    return (f"Its fit was also measured in {count_text(len(summary.groups) - 1, 'other way', 'other ways')}.",)


def _for_someone_not_tested(device: Device, summary: FitSummary, context: Context) -> tuple[str, ...]:
    """Answer a reader who did not wear it, from the sessions that open the page; nothing of a withdrawn device."""
    if device.withdrawn is not None:
        return ()
    if not summary.groups:
        return ("For someone not tested, the fit factor is not known: no session makes a result.",)
    group, *others = worst_first(summary)
    words = [state_words(group, device)]
    if any(state_words(other, device) == words[0] for other in others):
        words.append(method_words(group, summary.groups, context))
    return (not_tested_sentence(group.over_wearers, in_brackets(", ".join(word for word in words if word))),)


def present_device(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> TopicSection | None:
    """Show every fit session of a device on one scale."""
    assert summary is None or isinstance(summary, FitSummary)
    rows = [
        (record, session)
        for record, result in results.items()
        if isinstance(result, FitResult)
        for session in result.sessions
    ]
    withdrawn = [
        (test.id, session)
        for test in context.catalogue.withdrawn_tests_of(device.id)
        if isinstance(result := context.result.records[test.id].topics.get("fit"), FitResult)
        for session in result.sessions
    ]
    if summary is None or not (rows or withdrawn):
        none = ("No fit session with this device is on record.",)
        return TopicSection("fit", "Fit factor", "fit", (), none, None, (), (), ())
    sentences = [*_for_someone_not_tested(device, summary, context), session_sentence(summary)]
    for group in worst_first(summary):
        method = method_words(group, summary.groups, context)
        sentence = group_sentence(group, device, context)
        sentences.append(f"{sentence}, measured {method}." if method else f"{sentence}.")
    return TopicSection(
        topic="fit",
        heading="Fit factor",
        anchor="fit",
        answer=_other_ways(summary),
        sentences=tuple(sentences),
        chart=sessions_chart("fit-scale", rows, context, several=True)
        if rows and not shows_donnings(summary.groups)
        else None,
        tables=(register_of_sessions([*rows, *withdrawn], context, on_device=True),),
        blocks=(),
        workings=(),
        counts=attempt_counts(summary),
        beyond=LINK,
        wearers=present_wearers(
            [(group, _group_words(group, summary.groups, device, context)) for group in worst_first(summary)],
            device,
            context,
        )
        if summary.groups
        else None,
    )


def _group_words(group: FitGroup, groups: tuple[FitGroup, ...], device: Device, context: Context) -> str:
    words = (state_words(group, device), method_words(group, groups, context))
    return sentence_case(", ".join(word for word in words if word))


def present_in_index(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> IndexCell:
    """Show a device's overall fit factors on a small scale."""
    assert summary is None or isinstance(summary, FitSummary)
    if summary is None or not (summary.completed or summary.withdrawn):
        return IndexCell("fit", INDEX_HEADING, "not measured", "", None)
    if not summary.wearers:
        return IndexCell("fit", INDEX_HEADING, "no session counts", "", None)
    if not summary.groups:
        return IndexCell("fit", INDEX_HEADING, "not scored", "", None)
    group = worst_first(summary)[0]
    marks = [
        mark
        for record, result in results.items()
        if isinstance(result, FitResult)
        for session in result.sessions
        if session.counted and session.basis is group.basis and session.overall is not None
        for mark in marks_of(session.overall, f"{record}-")
    ]
    text = range_text(group, device, context)
    note = ", ".join(word for word in (state_words(group, device), count_text(len(group.wearers), "wearer")) if word)
    if len(summary.groups) > 1:
        note += f"; {count_text(len(summary.groups) - 1, 'other state')} tested"
    chart = ScaleChart(
        id=f"fit-{device.id}",
        kind="fit",
        title=f"Fit factors of {device.name}",
        description=f"{text}, {note}",
        rows=(ScaleRow("", tuple(marks)),),
        landmarks=(),
        small=True,
    )
    return IndexCell(
        "fit", INDEX_HEADING, text, note, chart, _interval_words(group, device, context), order=group.lowest.value
    )


def _interval_words(group: FitGroup, device: Device, context: Context) -> str | None:
    """Write the lowest factor with its interval, or say that it has none; nothing beside a mere bound."""
    lowest, levels = group.lowest, fit_test_levels(device, context)
    if lowest.relation is not Relation.EQUAL:
        return None
    of = "" if group.highest.value == lowest.value else "the lowest "
    if lowest.interval is None:
        return f"{of}without an interval"
    return f"{of}{figure_text(lowest, levels[0].limit if levels else None)}"
