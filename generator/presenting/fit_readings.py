"""One fit session of a record: what was read, what came of it, and how."""

from __future__ import annotations

from generator.model.fit_result import ExerciseResult, SessionResult
from generator.model.published import PublishedSession, PublishedTest
from generator.model.session import ExerciseReading
from generator.presenting.context import Context
from generator.presenting.digits import interval_text, quantity_text, value_text
from generator.presenting.figures import figure_view, verdict_view, working_view
from generator.presenting.fit_basis import made_from_text
from generator.presenting.fit_conditions import session_condition_facts
from generator.presenting.fit_sessions import outcome_words, pass_limit, session_label
from generator.presenting.log_chart import session_log_chart
from generator.presenting.log_exercises import log_exercise_table
from generator.presenting.views import (
    Block,
    Cell,
    Column,
    Fact,
    Row,
    Table,
    WorkingView,
)
from generator.presenting.wording import recorded_text, sentence_case


def _reading_cells(reading: ExerciseReading, session: PublishedSession) -> tuple[Cell, Cell, Cell]:
    """Return what was read before, inside and after."""
    if reading.as_given:
        return Cell("none"), Cell("factor as given"), Cell("none")
    before = reading.ambient_before or session.ambient_before
    after = reading.ambient_after or session.ambient_after
    if reading.in_mask is not None:
        inside = quantity_text(reading.in_mask.to("/cm3"), "/cm3", 6)
    else:
        inside = f"{reading.in_mask_count} counted"
    if reading.ambient_during is not None:
        before = reading.ambient_during
    outside = [quantity_text(value.to("/cm3"), "/cm3", 6) if value else "none" for value in (before, after)]
    return Cell(outside[0]), Cell(inside), Cell(outside[1])


def _given_table(session: PublishedSession, result: SessionResult) -> Table:
    """Return the table of a session of which only factors as given are on record, so that nothing else has a column."""
    return Table(
        f"fit.{session.id}.readings",
        "Fit factor of each exercise",
        (Column("Exercise"), Column("Fit factor as given", numeric=True)),
        tuple(
            Row((Cell(_exercise_name(exercise)), Cell(value_text(exercise.fit_factor), id=exercise.fit_factor.key)))
            for exercise in result.exercises
        ),
    )


def _exercise_name(exercise: ExerciseResult) -> str:
    return exercise.name if exercise.counted else f"{exercise.name} (not counted)"


def _exercise_table(session: PublishedSession, result: SessionResult, record: str, context: Context) -> Table | None:
    if not result.exercises:
        return None
    if session.log is not None:
        return log_exercise_table(record, result, context)
    if session.exercises and all(reading.as_given for reading in session.exercises):
        return _given_table(session, result)
    readings = {reading.exercise: reading for reading in session.exercises}
    during = any(reading.ambient_during is not None for reading in session.exercises)
    rows = []
    for exercise in result.exercises:
        before, inside, after = _reading_cells(readings[exercise.exercise], session)
        figure = exercise.fit_factor
        value = value_text(figure) if figure.value is not None else f"not scored: {figure.not_scored}"
        rows.append(
            Row(
                (
                    Cell(_exercise_name(exercise)),
                    before,
                    inside,
                    *(() if during else (after,)),
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
            Column("Outside, during" if during else "Outside, before", numeric=True),
            Column("Inside", numeric=True),
            *(() if during else (Column("Outside, after", numeric=True),)),
            Column("Fit factor", numeric=True),
            Column("95 % interval", numeric=True),
        ),
        tuple(rows),
    )


def _session_facts(session: PublishedSession, result: SessionResult, context: Context) -> tuple[Fact, ...]:
    protocol = context.protocol_link(session.protocol)
    facts = [
        Fact("Wearer", f"{session.wearer}, donning {session.donning}"),
        Fact("Protocol", protocol.text, protocol.href),
    ]
    if session.blower is not None:
        facts.append(Fact("Blower", session.blower))
    facts.append(Fact("Filter", session.filter))
    if result.level is not None:
        made_from = made_from_text(result.level, context.catalogue.protocols[session.protocol])
        facts.append(Fact("Made from", made_from, id=f"fit.{session.id}.made-from"))
    if session.in_mask_time is not None:
        facts.append(Fact("Sampled inside for", f"{recorded_text(session.in_mask_time)} in each exercise"))
    facts += session_condition_facts(session)
    if session.log is not None:
        facts.append(Fact("Raw log", f"{session.log.file}, SHA-256 {session.log.sha256}", f"data/{session.log.file}"))
    if session.adverse_event is not None:
        facts.append(Fact("Adverse event", session.adverse_event))
    outcome = outcome_words(result)
    facts.append(Fact("Outcome", f"{outcome}: {session.reason}" if session.reason else outcome))
    return tuple(facts)


def session_workings(session: SessionResult, record: str, context: Context) -> list[WorkingView]:
    """Return how each factor of a session comes about."""
    of = session_label(session, context)
    of_exercises = [
        figure
        for exercise in session.exercises
        for figure in (exercise.fit_factor, exercise.average_penetration, exercise.peak_penetration)
        if figure is not None
    ]
    views = [working_view(figure, of, record, context, is_result=False) for figure in of_exercises]
    results = (session.overall, session.inward_leakage, session.channel_ratio)
    views += [working_view(figure, of, record, context) for figure in results if figure is not None]
    return [view for view in views if view is not None]


def _note(result: SessionResult) -> str | None:
    if result.overall is None:
        return "This attempt stays on record and gives no result."
    if not result.counted:
        return "This session is shown in full and left out of the device's results by the rule of this record."
    return None


def session_block(session: PublishedSession, result: SessionResult, test: PublishedTest, context: Context) -> Block:
    """Show one session of a record: what was done, read and found."""
    of_session = (result.overall, result.inward_leakage, result.channel_ratio)
    figures = [figure for figure in of_session if figure is not None]
    return Block(
        anchor=f"fit.{result.session}",
        heading=sentence_case(f"wearer {session_label(result, context)}"),
        facts=_session_facts(session, result, context),
        table=_exercise_table(session, result, test.id, context),
        figures=tuple(
            figure_view(figure, test.id, context, pass_limit(result) if figure is result.overall else None)
            for figure in figures
        ),
        verdict=verdict_view(result.verdict, result.overall, context)
        if result.verdict is not None and result.overall is not None
        else None,
        note=_note(result),
        log=session_log_chart(session, context),
    )
