"""The scales of a comparison: every device's sessions on one, every flow run on another."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from generator.model.comparison_result import ComparedDevice, ComparedSession
from generator.model.device import Device
from generator.model.fit_result import Basis
from generator.model.reference import Criterion
from generator.presenting.context import Context, blower_words
from generator.presenting.digits import figure_text, scale_text, value_text
from generator.presenting.fit_basis import basis_words
from generator.presenting.fit_conditions import sprayed_words
from generator.presenting.fit_sessions import applying, fit_test_levels, landmarks, level_of, marks_of
from generator.presenting.modified_words import labels_on_device
from generator.presenting.scale_captions import scale_caption
from generator.presenting.topics.fit import COUNTERS
from generator.presenting.topics.flow import flow_requirement, run_state, short_state
from generator.presenting.views import SCALE_ENDS, Landmark, ScaleChart, ScaleRow
from generator.presenting.wording import listed, sentence_case

MOST_BY_WEARER = 8
"""With more devices than this, one line holds all sessions of a device."""
MOST_DRAWN = 40
"""With more devices than this nothing is drawn: a scale that does not fit a page compares nothing."""
_OTHER_EXERCISES = "other exercises"
_OTHER_COUNTER = "other counter"

Standing = Sequence[tuple[Device, ComparedDevice]]


Usual = tuple[str, str]
"""A protocol and a kind of counter; a session by others says so on its line."""


def fit_chart(standing: Standing, context: Context, usual: Usual | None = None) -> ScaleChart | None:
    """Show the sessions of all devices on one scale, wearer by wearer, or None where that is not possible.

    A chart that is read beside others needs the `usual` conditions of them all; else they are those of most sessions.
    """
    if len(standing) > MOST_DRAWN or not any(compared.sessions for _, compared in standing):
        return None
    usual = usual or usual_conditions(standing)
    if len(standing) > MOST_BY_WEARER:
        rows = [_line(device, device.name, compared.sessions, context, values=False) for device, compared in standing]
    else:
        rows = [row for device, compared in standing for row in _lines_by_wearer(device, compared, usual, context)]
    lines = _lines_in_words(rows, usual, context) if len(standing) <= MOST_BY_WEARER else ""
    sessions = [session for _, compared in standing for session in compared.sessions]
    levels = landmarks(context, (level_of(each.record, each.session, context) for each in sessions))
    described = "; ".join(
        _sessions_in_words(device, compared, _limit(device, context)) for device, compared in standing
    )
    return ScaleChart(
        id="fit-scale",
        kind="fit",
        title="Fit factors of all devices on a logarithmic scale from 1 to 100 000",
        description=f"{described}. Bars are 95 % intervals.",
        rows=tuple(rows),
        landmarks=levels,
        table="side-by-side",
        caption=" ".join(part for part in (scale_caption("", "one session", rows, levels), lines) if part),
    )


def _lines_in_words(rows: Sequence[ScaleRow], usual: Usual, context: Context) -> str:
    """Say what the letters of lines are, and what the conditions are from which some lines differ."""
    said = ["A letter is a wearer; the same letter is the same person in every group."]
    protocol, counter = usual
    exercises = context.catalogue.protocols[protocol].title if protocol in context.catalogue.protocols else None
    labels = [row.label for row in rows]
    if exercises is not None and any(_OTHER_EXERCISES in label for label in labels):
        said.append(f"“{sentence_case(_OTHER_EXERCISES)}”: not by those of most lines ({exercises}).")
    if counter in COUNTERS and any(_OTHER_COUNTER in label for label in labels):
        said.append(
            f"“{sentence_case(_OTHER_COUNTER)}”: not, or not known to be, with that of most lines "
            f"({COUNTERS[counter]})."
        )
    return " ".join(said)


def _limit(device: Device, context: Context) -> float | None:
    """Return the level onto whose other side no factor of a device may be rounded."""
    levels = fit_test_levels(device, context)
    return levels[0].limit if levels else None


def _sessions_in_words(device: Device, compared: ComparedDevice, limit: float | None) -> str:
    worn: dict[str, list[str]] = {}
    for session in compared.sessions:
        worn.setdefault(session.wearer, []).append(scale_text(session.overall, limit, factor_digits=2))
    words = ", ".join(f"wearer {wearer} {listed(factors)}" for wearer, factors in sorted(worn.items()))
    return f"{device.name}: {words or 'not worn as supplied'}"


def _line(
    device: Device,
    label: str,
    sessions: Sequence[ComparedSession],
    context: Context,
    *,
    values: bool,
    heading: str = "",
) -> ScaleRow:
    """Return a line with a mark for each session, the lowest first."""
    ordered = sorted(sessions, key=lambda session: (session.overall.value or 0, session.record, session.session))
    limit = _limit(device, context)
    marks = tuple(
        mark
        for session in ordered
        for mark in marks_of(
            session.overall,
            f"{session.record}-",
            scale_text(session.overall, limit, factor_digits=2) if values else "",
        )
    )
    held = {level for each in ordered for level in applying(level_of(each.record, each.session, context))}
    note = "" if sessions else "not worn as supplied"
    return ScaleRow(label, marks, note, heading, tuple(sorted(held)))


def usual_conditions(standing: Standing) -> Usual:
    """Return the protocol and the kind of counter of most sessions."""
    conditions = [session.conditions for _, compared in standing for session in compared.sessions]
    known = Counter((item.protocol, item.counter) for item in conditions if item is not None)
    return min(known, key=lambda item: (-known[item], item), default=("", ""))


def _lines_by_wearer(device: Device, compared: ComparedDevice, usual: Usual, context: Context) -> list[ScaleRow]:
    lines: dict[str, list[ComparedSession]] = {} if compared.sessions else {"": []}
    for session in sorted(compared.sessions, key=lambda session: session.wearer):
        lines.setdefault(_line_label(session, usual), []).append(session)
    return [
        _line(device, label, sessions, context, values=True, heading="" if number else device.name)
        for number, (label, sessions) in enumerate(lines.items())
    ]


def _line_label(session: ComparedSession, usual: Usual) -> str:
    words = [session.wearer, blower_words(session.blower)]
    if session.basis is not Basis.WHOLE_PROTOCOL:
        words.append(basis_words(session.basis))
        return ", ".join(word for word in words if word)
    if session.conditions is not None:
        words.append(sprayed_words(session.conditions.aerosol))
    if session.conditions is None or session.conditions.protocol != usual[0]:
        words.append(_OTHER_EXERCISES)
    if session.conditions is None or session.conditions.counter != usual[1]:
        words.append(_OTHER_COUNTER)
    return ", ".join(word for word in words if word)


def flow_chart(standing: Standing, context: Context) -> ScaleChart | None:
    """Show every flow run of all devices on one scale with the requirements, or None where that is not possible."""
    if len(standing) > MOST_DRAWN or not any(compared.runs for _, compared in standing):
        return None
    rows: list[ScaleRow] = []
    described: list[str] = []
    for device, compared in standing:
        if not device.kind.powered:
            continue
        runs = compared.runs
        labels = labels_on_device([short_state(item.run) for item in runs], [item.record for item in runs], context)
        for number, (label, item) in enumerate(zip(labels, runs, strict=True)):
            mean, limit = item.run.mean, item.run.verdict.limit
            marks = marks_of(mean, f"{item.record}-", value_text(mean, limit))
            heading = "" if number else device.name
            rows.append(
                ScaleRow(label, tuple(marks), "" if marks else "not scored", heading, _required(device, context))
            )
            described.append(f"{device.name}, {run_state(item.run)}: {figure_text(mean, limit)}")
        if not runs:
            rows.append(ScaleRow("", (), "not measured as supplied", heading=device.name))
    levels = _requirements(standing, context)
    return ScaleChart(
        id="flow-scale",
        kind="flow",
        title="Air delivered by all devices, on a scale from 0 to 400 L/min",
        description=f"{'; '.join(described)}. Bars are 95 % intervals.",
        rows=tuple(rows),
        landmarks=levels,
        table="side-by-side",
        caption=scale_caption(
            "Each line is one setting, battery and filter state.", "the air delivered", rows, levels, SCALE_ENDS["flow"]
        ),
    )


def _required(device: Device, context: Context) -> tuple[float, ...]:
    """Return the requirement of a device's flow, or none."""
    requirement = None if device.breath_responsive else flow_requirement(device, context)
    return applying(requirement)


def _requirements(standing: Standing, context: Context) -> tuple[Landmark, ...]:
    found: dict[str, tuple[Criterion, str]] = {}
    for device, compared in standing:
        requirement = flow_requirement(device, context)
        if requirement is not None and compared.runs and not device.breath_responsive:
            found[requirement.id] = (requirement, device.kind.fitting.value.partition(",")[0])
    several = len(found) > 1
    return tuple(
        Landmark(
            name,
            f"{criterion.limit:g}{f', {fitting}' if several else ''}: {criterion.label}",
            criterion.limit,
        )
        for name, (criterion, fitting) in sorted(found.items())
    )
