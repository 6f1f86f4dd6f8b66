"""Fit sessions as every page shows them: labels, marks on the scale, the register of attempts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from generator.model.device import Device
from generator.model.fit_result import FitResult, SessionResult
from generator.model.published import PublishedSession
from generator.model.reference import Criterion, CriterionQuantity
from generator.model.result import Figure, Relation
from generator.model.session import Outcome
from generator.presenting.context import Context, blower_words
from generator.presenting.digits import figure_text, interval_text, scale_text, value_text
from generator.presenting.figures import outcome_text
from generator.presenting.modified_words import labels_on_device, numbered, with_modified
from generator.presenting.scale_captions import scale_caption
from generator.presenting.views import (
    Cell,
    Column,
    Landmark,
    Row,
    ScaleChart,
    ScaleMark,
    ScaleRow,
    Table,
)
from generator.presenting.wording import day_text, listed

_SCALE_TITLE = "Fit factors on a logarithmic scale from 1 to 100 000"


def fit_test_levels(device: Device, context: Context) -> list[Criterion]:
    """Return the fit-test levels for a device's kind, each limit once."""
    levels = [
        criterion
        for criterion in context.catalogue.criteria.values()
        if criterion.quantity is CriterionQuantity.OVERALL_FIT_FACTOR and device.kind in criterion.kinds
    ]
    return list({criterion.limit: criterion for criterion in levels}.values())


def level_of(record: str, session: str, context: Context) -> Criterion | None:
    """Return the fit-test level that a session of a record was held against, or None where none applies to it."""
    result = context.result.records[record].topics["fit"]
    assert isinstance(result, FitResult)
    (found,) = (each for each in result.sessions if each.session == session)
    return _level(found, context)


def _level(session: SessionResult, context: Context) -> Criterion | None:
    verdict = session.verdict
    return None if verdict is None or verdict.criterion is None else context.catalogue.criteria[verdict.criterion]


def landmarks(context: Context, levels: Iterable[Criterion | None]) -> tuple[Landmark, ...]:
    """Return the named spans of the scale and the levels among those given, each limit once."""
    spans = [Landmark(mark.id, mark.label, mark.low, mark.high) for mark in context.catalogue.landmarks]
    named = {level.id: level for level in levels if level is not None}
    by_limit: dict[float, list[Criterion]] = {}
    for level in sorted(named.values(), key=lambda level: (level.limit, level.id)):
        by_limit.setdefault(level.limit, []).append(level)
    return (
        *spans,
        *(Landmark(found[0].id, f"{limit:g}: {_label_of_all(found)}", limit) for limit, found in by_limit.items()),
    )


def _label_of_all(levels: Sequence[Criterion]) -> str:
    """Join the labels of levels with one limit, saying once what they begin with: `level, half facepiece and hood`."""
    labels = list(dict.fromkeys(level.label for level in levels))
    starts = {label.partition(", ")[0] for label in labels}
    ends = [label.partition(", ")[2] for label in labels]
    if len(starts) == 1 and all(ends):
        return f"{starts.pop()}, {listed(ends)}"
    return "; ".join(labels)


def applying(level: Criterion | None) -> tuple[float, ...]:
    """Return the levels of the scale that apply where this one does, or none."""
    return () if level is None else (level.limit,)


def marks_of(figure: Figure, key_prefix: str = "", text: str = "", minor: bool = False) -> list[ScaleMark]:
    """Return the mark of a figure, or none without a value. Another record may use the same key: hence a prefix."""
    if figure.value is None:
        return []
    interval = figure.interval
    return [
        ScaleMark(
            key=key_prefix + figure.key,
            value=figure.value,
            low=interval.low if interval else None,
            high=interval.high if interval else figure.other_bound,
            at_least=figure.relation is Relation.AT_LEAST,
            minor=minor,
            text=text,
        )
    ]


def pass_limit(session: SessionResult) -> float | None:
    """Return the fit-test level a session was held against, or None."""
    return session.verdict.limit if session.verdict is not None else None


def session_label(session: SessionResult, context: Context) -> str:
    """Name a session by its wearer, donning and blower state."""
    words = [f"{session.wearer}, donning {session.donning}", blower_words(session.blower)]
    return ", ".join(word for word in words if word)


def outcome_words(session: SessionResult, withdrawn: bool = False) -> str:
    """Say how a session ended, and whether it counts."""
    words = session.outcome
    if session.outcome == Outcome.COMPLETED.value and not session.counted:
        words += ", not counted by the record's rule"
    return f"withdrawn with its record; {words}" if withdrawn else words


def _session_row(session: SessionResult, label: str, key_prefix: str, context: Context) -> ScaleRow:
    marks: list[ScaleMark] = []
    for exercise in session.exercises:
        marks += marks_of(exercise.fit_factor, key_prefix, minor=True)
    if session.overall is not None:
        marks += marks_of(session.overall, key_prefix, scale_text(session.overall, pass_limit(session)))
    note = "" if marks else session.outcome if session.outcome != "completed" else "not scored"
    if marks and not session.counted:
        label += ", not counted"
    return ScaleRow(label, tuple(marks), note, held_against=applying(_level(session, context)))


def _session_words(session: SessionResult, context: Context) -> str:
    if session.overall is None:
        return f"{session_label(session, context)}: {session.outcome}"
    return f"{session_label(session, context)}: {figure_text(session.overall, pass_limit(session))}"


def _register_note(session: PublishedSession) -> str | None:
    parts = (("Adjusted", session.adjusted), ("Adverse event", session.adverse_event))
    return "; ".join(f"{what}: {text}" for what, text in parts if text is not None) or None


def register_of_sessions(rows: list[tuple[str, SessionResult]], context: Context, *, on_device: bool) -> Table:
    """Return the register of attempts: every session, aborted, voided and withdrawn ones too."""
    caption = "Register of attempts: every session of this device" if on_device else "Every session of this record"
    body = []
    tests = context.catalogue.device_tests
    recorded = {(record, session.id): session for record, _ in rows for session in tests[record].fit}
    several = len({record for record, _ in rows}) > 1
    for record, session in rows:
        overall = session.overall
        worn = f"{session.wearer}, donning {session.donning}"
        pass_level = outcome_text(session.verdict, context) if session.verdict is not None else "not scored"
        if session.reason is not None and overall is None:
            pass_level = session.reason
        body.append(
            Row(
                (
                    Cell(
                        with_modified(worn, record, context) if on_device else worn,
                        context.record_link(record, f"fit.{session.session}").href,
                        day_text(context.performed(record)) if several else None,
                    ),
                    Cell(blower_words(session.blower)),
                    Cell(outcome_words(session, tests[record].withdrawn is not None)),
                    Cell(value_text(overall, pass_limit(session)) if overall is not None else "none"),
                    Cell((interval_text(overall) or "not stated") if overall is not None else "none"),
                    Cell(pass_level, note=_register_note(recorded[record, session.session])),
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
    return Table("fit-register", caption, columns, tuple(body))


def sessions_chart(identity: str, rows: list[tuple[str, SessionResult]], context: Context, several: bool) -> ScaleChart:
    """Show sessions on the fit factor scale, each on a line of its own."""
    described = "; ".join(_session_words(session, context) for _, session in rows)
    words = [session_label(session, context) for _, session in rows]
    labels = labels_on_device(words, [record for record, _ in rows], context) if several else numbered(words)
    lines = tuple(
        _session_row(session, label, f"{record}-" if several else "", context)
        for label, (record, session) in zip(labels, rows, strict=True)
    )
    levels = landmarks(context, (_level(session, context) for _, session in rows))
    return ScaleChart(
        id=identity,
        kind="fit",
        title=_SCALE_TITLE,
        description=f"{described}. Short strokes below a line are single exercises; bars are 95 % intervals.",
        rows=lines,
        landmarks=levels,
        table="fit-register",
        caption=scale_caption("Each line is one session.", "its overall fit factor", lines, levels),
    )
