"""The scales of a comparison: every device's sessions on one, every flow run on another."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from generator.model.comparison_result import ComparedDevice, ComparedSession
from generator.model.device import Device
from generator.model.fit_result import Basis
from generator.model.reference import Criterion
from generator.presenting.context import Context, blower_words
from generator.presenting.digits import figure_text, rough_text, value_text
from generator.presenting.fit_basis import basis_words
from generator.presenting.fit_conditions import sprayed_words
from generator.presenting.fit_sessions import fit_test_levels, landmarks, marks_of
from generator.presenting.modified_words import labels_on_device
from generator.presenting.topics.flow import flow_requirement, run_state, short_state
from generator.presenting.views import Landmark, ScaleChart, ScaleMark, ScaleRow
from generator.presenting.wording import listed

MOST_BY_WEARER = 8
"""With more devices than this, one line holds all sessions of a device."""
MOST_DRAWN = 40
"""With more devices than this nothing is drawn: a scale that does not fit a page compares nothing."""

Standing = Sequence[tuple[Device, ComparedDevice]]


Usual = tuple[str, str]
"""A protocol and a kind of counter; a session by others says so on its line."""


def fit_chart(standing: Standing, context: Context, usual: Usual | None = None) -> ScaleChart | None:
    """Show the sessions of all devices on one scale, wearer by wearer, or None where that is not possible.

    A chart that is read beside others needs the `usual` conditions of them all; else they are those of most sessions.
    """
    if len(standing) > MOST_DRAWN or not any(compared.sessions for _, compared in standing):
        return None
    levels: dict[float, Criterion] = {}
    for device, _ in standing:
        levels |= {level.limit: level for level in fit_test_levels(device, context)}
    if len(standing) > MOST_BY_WEARER:
        rows = [_one_line(device, compared) for device, compared in standing]
    else:
        usual = usual or usual_conditions(standing)
        rows = [
            row
            for device, compared in standing
            for row in _lines_by_wearer(device, compared, usual, _level(device, context))
        ]
    described = "; ".join(
        _sessions_in_words(device, compared, _level(device, context)) for device, compared in standing
    )
    return ScaleChart(
        id="fit-scale",
        kind="fit",
        title="Fit factors of all devices on a logarithmic scale from 1 to 100 000",
        description=f"{described}. Bars are 95 % intervals.",
        rows=tuple(rows),
        landmarks=landmarks(context, [levels[limit] for limit in sorted(levels)]),
        table="side-by-side",
    )


def _level(device: Device, context: Context) -> float | None:
    """Return the level onto whose other side no factor of a device may be rounded."""
    levels = fit_test_levels(device, context)
    return levels[0].limit if levels else None


def _sessions_in_words(device: Device, compared: ComparedDevice, limit: float | None) -> str:
    worn: dict[str, list[str]] = {}
    for session in compared.sessions:
        worn.setdefault(session.wearer, []).append(rough_text(session.overall, limit))
    words = ", ".join(f"wearer {wearer} {listed(factors)}" for wearer, factors in sorted(worn.items()))
    return f"{device.name}: {words or 'not worn as supplied'}"


def _marks(sessions: Sequence[ComparedSession], text: str = "") -> tuple[ScaleMark, ...]:
    """Return a mark for each session, the lowest first; the text stands beside the highest."""
    ordered = sorted(sessions, key=lambda session: (session.overall.value or 0, session.record, session.session))
    return tuple(
        mark
        for session in ordered
        for mark in marks_of(session.overall, f"{session.record}-", text if session is ordered[-1] else "")
    )


def _one_line(device: Device, compared: ComparedDevice) -> ScaleRow:
    return ScaleRow(device.name, _marks(compared.sessions), "" if compared.sessions else "not worn as supplied")


def usual_conditions(standing: Standing) -> Usual:
    """Return the protocol and the kind of counter of most sessions."""
    conditions = [session.conditions for _, compared in standing for session in compared.sessions]
    known = Counter((item.protocol, item.counter) for item in conditions if item is not None)
    return min(known, key=lambda item: (-known[item], item), default=("", ""))


def _lines_by_wearer(device: Device, compared: ComparedDevice, usual: Usual, limit: float | None) -> list[ScaleRow]:
    lines: dict[str, list[ComparedSession]] = {}
    for session in sorted(compared.sessions, key=lambda session: session.wearer):
        lines.setdefault(_line_label(session, usual), []).append(session)
    if not lines:
        return [ScaleRow("", (), "not worn as supplied", heading=device.name)]
    return [
        ScaleRow(label, _marks(sessions, _factors(sessions, limit)), heading="" if number else device.name)
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
        words.append("other exercises")
    if session.conditions is None or session.conditions.counter != usual[1]:
        words.append("other counter")
    return ", ".join(word for word in words if word)


def _factors(sessions: Sequence[ComparedSession], limit: float | None) -> str:
    ordered = sorted(sessions, key=lambda session: session.overall.value or 0)
    texts = list(dict.fromkeys(rough_text(session.overall, limit) for session in ordered))
    return listed(texts) if len(texts) <= 3 else f"{texts[0]} to {texts[-1]}"


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
            rows.append(ScaleRow(label, tuple(marks), "" if marks else "not scored", heading=heading))
            described.append(f"{device.name}, {run_state(item.run)}: {figure_text(mean, limit)}")
        if not runs:
            rows.append(ScaleRow("", (), "not measured as supplied", heading=device.name))
    return ScaleChart(
        id="flow-scale",
        kind="flow",
        title="Air delivered by all devices, on a scale from 0 to 400 L/min",
        description=f"{'; '.join(described)}. Bars are 95 % intervals.",
        rows=tuple(rows),
        landmarks=_requirements(standing, context),
        table="side-by-side",
    )


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
