"""Fit: sessions on the fit factor scale, in tables and in sentences."""

from __future__ import annotations

from collections.abc import Mapping

from generator.model.device import Device
from generator.model.device_test import DeviceTest, ExerciseReading, FitSession, State
from generator.model.fit_result import FitGroup, FitResult, FitSummary, SessionResult
from generator.model.reference import Criterion, CriterionQuantity
from generator.model.result import Figure, Relation, TopicResult, TopicSummary
from generator.presenting.context import Context, blower_words
from generator.presenting.digits import figure_text, interval_text, percent_text, quantity_text, value_text
from generator.presenting.figures import figure_view, outcome_text, verdict_view, working_view
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
    WorkingView,
)
from generator.presenting.wording import count_text, listed, recorded_text, sentence_case

INDEX_HEADING = "Fit factor"
ANSWER_ORDER = 20
_COUNTERS = {
    "condensation_particle_counter": "a condensation particle counter",
    "optical_particle_counter": "an optical particle counter",
}
_SCALE_TITLE = "Fit factors on a logarithmic scale from 1 to 100 000"


def _level_of(device: Device, context: Context) -> list[Criterion]:
    """Return the fit-test levels for a device's kind, each limit once."""
    levels = [
        criterion
        for criterion in context.catalogue.criteria.values()
        if criterion.quantity is CriterionQuantity.OVERALL_FIT_FACTOR and device.kind in criterion.kinds
    ]
    return list({criterion.limit: criterion for criterion in levels}.values())


def landmarks(context: Context, levels: list[Criterion]) -> tuple[Landmark, ...]:
    """Return the named spans of the scale and the given levels."""
    spans = [Landmark(mark.id, mark.label, mark.low, mark.high) for mark in context.catalogue.landmarks]
    named = [Landmark(level.id, f"{level.limit:g}: {level.label}", level.limit) for level in levels]
    return (*spans, *named)


def _mark(figure: Figure, key_prefix: str = "", text: str = "", minor: bool = False) -> list[ScaleMark]:
    """Return the mark of a figure, or none without a value. Another record may use the same key: hence a prefix."""
    if figure.value is None:
        return []
    interval = figure.interval
    return [
        ScaleMark(
            key=key_prefix + figure.key,
            value=figure.value,
            low=interval.low if interval else None,
            high=interval.high if interval else None,
            at_least=figure.relation is Relation.AT_LEAST,
            minor=minor,
            text=text,
        )
    ]


def _session_label(session: SessionResult, context: Context) -> str:
    words = [f"{context.letter(session.wearer)}, donning {session.donning}", blower_words(session.blower)]
    return ", ".join(word for word in words if word)


def _session_row(session: SessionResult, context: Context, key_prefix: str = "") -> ScaleRow:
    marks: list[ScaleMark] = []
    for exercise in session.exercises:
        marks += _mark(exercise.fit_factor, key_prefix, minor=True)
    if session.overall is not None:
        marks += _mark(session.overall, key_prefix, value_text(session.overall))
    note = "" if marks else session.outcome if session.outcome != "completed" else "not scored"
    return ScaleRow(_session_label(session, context), tuple(marks), note)


def _session_words(session: SessionResult, context: Context) -> str:
    if session.overall is None:
        return f"{_session_label(session, context)}: {session.outcome}"
    return f"{_session_label(session, context)}: {figure_text(session.overall)}"


def _register(rows: list[tuple[str, SessionResult]], context: Context, identity: str, caption: str) -> Table:
    """Return the register of attempts: every session, aborted and voided ones too."""
    body = []
    for record, session in rows:
        overall = session.overall
        pass_level = outcome_text(session.verdict, context) if session.verdict is not None else "not scored"
        if session.reason is not None and overall is None:
            pass_level = session.reason
        body.append(
            Row(
                (
                    Cell(
                        f"{context.letter(session.wearer)}, donning {session.donning}",
                        context.record_link(record, f"fit.{session.session}").href,
                    ),
                    Cell(blower_words(session.blower)),
                    Cell(session.outcome),
                    Cell(value_text(overall) if overall is not None else "none"),
                    Cell((interval_text(overall) or "not stated") if overall is not None else "none"),
                    Cell(pass_level),
                )
            )
        )
    if all(session.blower is None for _, session in rows):
        body = [Row((row.cells[0], *row.cells[2:]), row.id) for row in body]
    columns = (
        Column("Wearer, donning"),
        *((Column("Blower"),) if any(session.blower is not None for _, session in rows) else ()),
        Column("Session"),
        Column("Overall fit factor", numeric=True),
        Column("95 % interval", numeric=True),
        Column("Fit-test pass level, or reason"),
    )
    return Table(identity, caption, columns, tuple(body))


def _chart(
    identity: str, rows: list[tuple[str, SessionResult]], levels: list[Criterion], context: Context, several: bool
) -> ScaleChart:
    described = "; ".join(_session_words(session, context) for _, session in rows)
    return ScaleChart(
        id=identity,
        kind="fit",
        title=_SCALE_TITLE,
        description=f"{described}. Short strokes below a line are single exercises; bars are 95 % intervals.",
        rows=tuple(_session_row(session, context, f"{record}-" if several else "") for record, session in rows),
        landmarks=landmarks(context, levels),
        table=None,
    )


def _reading_cells(reading: ExerciseReading | None, session: FitSession) -> tuple[Cell, Cell, Cell]:
    """Return what was read before, inside and after; a log's readings stand in the log."""
    if reading is None:
        return Cell("in the log"), Cell("in the log"), Cell("in the log")
    before = reading.ambient_before or session.ambient_before
    after = reading.ambient_after or session.ambient_after
    if reading.in_mask is not None:
        inside = quantity_text(reading.in_mask.to("/cm3"), "/cm3", 6)
    elif reading.in_mask_count is not None:
        inside = f"{reading.in_mask_count} counted"
    else:
        inside = "factor as given"
    outside = [quantity_text(value.to("/cm3"), "/cm3", 6) if value else "none" for value in (before, after)]
    return Cell(outside[0]), Cell(inside), Cell(outside[1])


def _exercise_table(session: FitSession, result: SessionResult) -> Table | None:
    if not result.exercises:
        return None
    readings = {reading.exercise: reading for reading in session.exercises}
    rows = []
    for exercise in result.exercises:
        before, inside, after = _reading_cells(readings.get(exercise.exercise), session)
        figure = exercise.fit_factor
        name = exercise.name if exercise.counted else f"{exercise.name} (not counted)"
        value = value_text(figure) if figure.value is not None else f"not scored: {figure.not_scored}"
        rows.append(
            Row(
                (
                    Cell(name),
                    before,
                    inside,
                    after,
                    Cell(value, id=figure.key),
                    Cell(interval_text(figure) or "not stated"),
                )
            )
        )
    return Table(
        f"fit.{result.session}.readings",
        "Readings and fit factor of each exercise",
        (
            Column("Exercise"),
            Column("Outside, before", numeric=True),
            Column("Inside", numeric=True),
            Column("Outside, after", numeric=True),
            Column("Fit factor", numeric=True),
            Column("95 % interval", numeric=True),
        ),
        tuple(rows),
    )


def _session_facts(session: FitSession, context: Context) -> tuple[Fact, ...]:
    protocol = context.protocol_link(session.protocol)
    facts = [
        Fact("Wearer", f"{context.letter(session.wearer)}, donning {session.donning}"),
        Fact("Protocol", protocol.text, protocol.href),
    ]
    if session.blower is not None:
        facts.append(Fact("Blower", session.blower))
    facts.append(Fact("Filter", session.filter))
    if session.in_mask_time is not None:
        facts.append(Fact("Sampled inside for", f"{recorded_text(session.in_mask_time)} in each exercise"))
    if session.log is not None:
        facts.append(Fact("Raw log", f"{session.log.file}, SHA-256 {session.log.sha256}"))
    outcome = session.outcome.value
    facts.append(Fact("Outcome", f"{outcome}: {session.reason}" if session.reason else outcome))
    return tuple(facts)


def _workings(session: SessionResult, record: str, context: Context) -> list[WorkingView]:
    of = _session_label(session, context)
    views = [working_view(exercise.fit_factor, of, record, context, is_result=False) for exercise in session.exercises]
    results = (session.overall, session.inward_leakage)
    views += [working_view(figure, of, record, context) for figure in results if figure is not None]
    return [view for view in views if view is not None]


def _block(session: FitSession, result: SessionResult, test: DeviceTest, context: Context) -> Block:
    figures = [figure for figure in (result.overall, result.inward_leakage) if figure is not None]
    limit = result.verdict.limit if result.verdict is not None else None
    return Block(
        anchor=f"fit.{result.session}",
        heading=sentence_case(f"wearer {_session_label(result, context)}"),
        facts=_session_facts(session, context),
        table=_exercise_table(session, result),
        figures=tuple(
            figure_view(figure, test.id, context, limit if figure is result.overall else None) for figure in figures
        ),
        verdict=verdict_view(result.verdict, result.overall, context)
        if result.verdict is not None and result.overall is not None
        else None,
        note=None if result.overall is not None else "This attempt stays on record and gives no result.",
    )


def present_record(test: DeviceTest, result: TopicResult, context: Context) -> TopicSection:
    """Show the fit sessions of one record."""
    assert isinstance(result, FitResult)
    device = context.catalogue.devices[test.device]
    by_id = {session.id: session for session in test.fit}
    rows = [(test.id, session) for session in result.sessions]
    workings = [view for session in result.sessions for view in _workings(session, test.id, context)]
    return TopicSection(
        topic="fit",
        heading="Fit factor",
        anchor="fit",
        answer=(),
        sentences=_sentences_of_sessions(result.sessions),
        chart=_chart("fit-scale", rows, _level_of(device, context), context, several=False),
        tables=(_register(rows, context, "fit-register", "Every session of this record"),),
        blocks=tuple(_block(by_id[session.session], session, test, context) for session in result.sessions),
        workings=tuple(workings),
    )


def _sentences_of_sessions(sessions: tuple[SessionResult, ...]) -> tuple[str, ...]:
    completed = [session for session in sessions if session.outcome == "completed"]
    attempts = len(sessions) - len(completed)
    sentence = f"{sentence_case(count_text(len(completed), 'session'))} completed"
    if attempts:
        sentence += f", {count_text(attempts, 'attempt')} aborted or voided"
    return (sentence + ".",)


def _range_text(group: FitGroup) -> str:
    low, high = value_text(group.lowest), value_text(group.highest)
    return low if low == high else f"{low} to {high}"


def _state_words(group: FitGroup, device: Device) -> str:
    words = []
    if device.kind.powered:
        words.append("with the " + blower_words(group.blower))
    if group.configuration != State.AS_SUPPLIED.value:
        words.append(group.configuration)
    return ", ".join(words)


def _method_words(group: FitGroup, groups: tuple[FitGroup, ...], context: Context) -> str:
    """Name the protocol and the counter where a device's groups differ in them."""
    words = []
    if len({other.protocol for other in groups}) > 1:
        words.append(f"by the protocol “{context.catalogue.protocols[group.protocol].title}”")
    if len({other.counter for other in groups}) > 1 and group.counter is not None:
        words.append(f"with {_COUNTERS[group.counter]}")
    return " ".join(words)


def _group_sentence(group: FitGroup, groups: tuple[FitGroup, ...], device: Device, context: Context) -> str:
    who = f"{count_text(len(group.wearers), 'wearer')} in {count_text(group.donnings, 'donning')}"
    state = _state_words(group, device)
    start = sentence_case(f"{state}, on {who}" if state else f"on {who}")
    method = _method_words(group, groups, context)
    measured = f"the fit factor was {_range_text(group)}"
    return f"{start}, {measured}, measured {method}." if method else f"{start}, {measured}."


def _answer(device: Device, summary: FitSummary | None, context: Context) -> tuple[str, ...]:
    if summary is None or not summary.groups:
        return ("How much cleaner the air inside is was not measured with any wearer.",)
    first = _group_sentence(summary.groups[0], summary.groups, device, context)
    sentences = [f"{first[:-1]}: {_meaning(summary.groups[0])}."]
    if len(summary.groups) > 1:
        more = count_text(len(summary.groups) - 1, "other way", "other ways")
        sentences.append(f"It was also measured in {more}; see section 1.")
    if len(summary.wearers) == 1:
        sentences.append("With one wearer, nothing follows for anyone else.")
    return tuple(sentences)


def _meaning(group: FitGroup) -> str:
    """Say what the lowest factor means for the air inside."""
    assert group.lowest.value is not None
    if group.lowest.value <= 1:
        return "in the worst case no fewer particles inside than outside"
    share = percent_text(1 / group.lowest.value, digits=2)
    if group.lowest.relation is Relation.AT_LEAST:
        return f"inside there were at most {share} of the particles outside"
    return f"in the worst case {share} of the particles outside were inside too"


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
    if summary is None or not rows:
        return TopicSection("fit", "Fit factor", "fit", _answer(device, summary, context), (), None, (), (), ())
    letters = listed(sorted(context.letter(wearer) for wearer in summary.wearers))
    attempts = summary.aborted + summary.voided
    sentences = [
        f"{sentence_case(count_text(summary.completed, 'session'))} completed by "
        f"{count_text(len(summary.wearers), 'wearer')} ({letters}) in {count_text(summary.donnings, 'donning')}; "
        f"{count_text(attempts, 'attempt')} aborted or voided."
    ]
    sentences += [_group_sentence(group, summary.groups, device, context) for group in summary.groups]
    return TopicSection(
        topic="fit",
        heading="Fit factor",
        anchor="fit",
        answer=_answer(device, summary, context),
        sentences=tuple(sentences),
        chart=_chart("fit-scale", rows, _level_of(device, context), context, several=True),
        tables=(_register(rows, context, "fit-register", "Register of attempts: every session of this device"),),
        blocks=(),
        workings=(),
    )


def present_in_index(
    device: Device, summary: TopicSummary | None, results: Mapping[str, TopicResult], context: Context
) -> IndexCell:
    """Show a device's overall fit factors on a small scale."""
    assert summary is None or isinstance(summary, FitSummary)
    if summary is None or not summary.groups:
        return IndexCell("fit", INDEX_HEADING, "not measured", "", None)
    marks = [
        mark
        for record, result in results.items()
        if isinstance(result, FitResult)
        for session in result.sessions
        if session.overall is not None
        for mark in _mark(session.overall, f"{record}-")
    ]
    group = summary.groups[0]
    text = _range_text(group)
    note = ", ".join(word for word in (_state_words(group, device), count_text(len(group.wearers), "wearer")) if word)
    if len(summary.groups) > 1:
        note += f"; {count_text(len(summary.groups) - 1, 'other state')} tested"
    chart = ScaleChart(
        id=f"fit-{device.id}",
        kind="fit",
        title=f"Fit factors of {device.name}",
        description=f"{text}, {note}",
        rows=(ScaleRow("", tuple(marks)),),
        landmarks=(),
        table=None,
        small=True,
    )
    return IndexCell("fit", INDEX_HEADING, text, note, chart)
