"""The configurations of a device: a lineage, what each change costs, and before and after side by side."""

from __future__ import annotations

from collections.abc import Iterable

from generator.model.catalogue_result import DeviceResult
from generator.model.configuration import State
from generator.model.device import Device
from generator.model.difference_result import People
from generator.model.lineage_result import ConfigurationResult, Side, SideBySideFit, SideBySideFlow, SideSession
from generator.presenting.comparison_views import SideLine
from generator.presenting.context import Context, blower_words
from generator.presenting.difference_words import (
    ONE,
    SideWords,
    decision_lines,
    difference_working,
    people_lines,
    sure_lines,
)
from generator.presenting.digits import interval_text, scale_text, value_text
from generator.presenting.evidence_views import ConfigurationsView, ConfigurationView, SideBySide
from generator.presenting.fit_basis import basis_words
from generator.presenting.fit_conditions import sprayed_words
from generator.presenting.fit_sessions import applying, landmarks, level_of, marks_of
from generator.presenting.scale_captions import scale_caption
from generator.presenting.shown_values import figures_with_limits, shown_value
from generator.presenting.topics.flow import flow_state_words
from generator.presenting.views import Cell, Column, Fact, Row, ScaleChart, ScaleMark, ScaleRow, Table
from generator.presenting.wording import count_text, listed, recorded_text, sentence_case

SIDE_BY_SIDE = (
    "Before and after stand side by side. What they differ by is stated for fit factors only, where three wearers or "
    "more wore both, or three others or more wore each."
)
_WORDS = SideWords(
    "after the change", "before the change", "Before and after", "wore it before and after", "of this device"
)
_FIT_COLUMNS = (
    Column("Wearer, side"),
    Column("Donning", numeric=True),
    Column("Overall fit factor", numeric=True),
    Column("95 % interval", numeric=True),
)
_FLOW_COLUMNS = (
    Column("Setting and state, side"),
    Column("Mean flow", numeric=True),
    Column("95 % interval", numeric=True),
)


def configuration_name(configuration: ConfigurationResult) -> str:
    """Name a configuration as a reader sees it."""
    state = "as supplied" if configuration.state is State.AS_SUPPLIED else "modified"
    return f"{state} (“{configuration.name}”)" if configuration.name is not None else state


def _base_words(base: ConfigurationResult) -> str:
    if base.name is not None:
        return f"“{base.name}”"
    return "the device as supplied" if base.state is State.AS_SUPPLIED else "another modification"


def _lineage_sentence(configurations: dict[str, ConfigurationResult]) -> str:
    words = []
    for configuration in configurations.values():
        base = configurations.get(configuration.based_on or "")
        made = f", made from {_base_words(base)}" if base is not None else ""
        words.append(configuration_name(configuration) + made)
    return f"{sentence_case(count_text(len(words), 'configuration'))} are on record: {'; '.join(words)}."


def _facts(configuration: ConfigurationResult, base: ConfigurationResult | None, anchor: str) -> tuple[Fact, ...]:
    facts = [Fact("Tested", configuration.description)]
    if configuration.state is State.AS_SUPPLIED:
        return tuple(facts)
    if base is not None:
        facts.append(Fact("Made from", _base_words(base), note=base.description))
    costs = configuration.costs
    before, after = recorded_text(configuration.mass_before), recorded_text(costs.mass) if costs else "not recorded"
    return (
        *facts,
        Fact("What was changed", " ".join(configuration.changes), id=f"{anchor}-changes"),
        Fact("Approval", costs.approval if costs else "not recorded", id=f"{anchor}-approval"),
        Fact("Mass", f"before: {before}; after: {after}", id=f"{anchor}-mass"),
        Fact("Noise", recorded_text(costs.noise) if costs else "not recorded", id=f"{anchor}-noise"),
    )


def _side_label(session: SideSession) -> str:
    return f"{session.wearer}, {session.side.value}"


def _fit_pair(pair: SideBySideFit, number: int, anchor: str, context: Context) -> SideBySide:
    identity = f"{anchor}-fit-{number}"
    rows = tuple(
        Row(
            (
                Cell(_side_label(session), context.record_link(session.record, f"fit.{session.session}").href),
                Cell(str(session.donning)),
                Cell(
                    shown_value(session.record, session.overall, context),
                    id=f"{identity}-{session.record}-{session.overall.key}-value",
                ),
                Cell(interval_text(session.overall) or "not stated"),
            ),
            id=f"{identity}-{session.record}-{session.session}",
        )
        for session in pair.sessions
    )
    title = context.catalogue.protocols[pair.protocol].title
    state = [title, blower_words(pair.blower), sprayed_words(pair.aerosol), basis_words(pair.basis)]
    heading = f"Fit factor: {', '.join(word for word in state if word)}"
    note = None
    if pair.one_side_only:
        one = len(pair.one_side_only) == 1
        note = f"{listed(pair.one_side_only)} wore it on one side only and {'is' if one else 'are'} not shown here."
    return SideBySide(
        heading=heading,
        note=note,
        chart=_fit_chart(identity, pair, context),
        table=Table(identity, f"Overall fit factors of {_whose(pair)}, before and after", _FIT_COLUMNS, rows),
        difference=tuple(_difference(pair)),
        working=difference_working(pair.difference, "After against before", context),
    )


def _whose(pair: SideBySideFit) -> str:
    return "different wearers" if pair.difference.people is People.OTHER_WEARERS else "the same wearers"


def _difference(pair: SideBySideFit) -> Iterable[SideLine]:
    """Say by how much after differs from before and what follows, or that nothing is decided."""
    found = pair.difference
    ratio = found.ratio
    if ratio.value is None:
        yield SideLine(
            "Nothing is decided between before and after.", sentence_case(f"{ratio.not_scored}."), f"{ratio.key}.reason"
        )
        return
    times = f"{value_text(ratio, ONE)} times that before it (95 % interval {interval_text(ratio)})"
    yield SideLine("", f"After the change the fit factor was {times}.", f"{ratio.key}.ratio")
    yield from decision_lines(found, _WORDS)
    yield from sure_lines(found, _WORDS)
    yield from people_lines(found, _WORDS)


def _fit_chart(identity: str, pair: SideBySideFit, context: Context) -> ScaleChart:
    by_row: dict[str, list[SideSession]] = {}
    for session in pair.sessions:
        by_row.setdefault(_side_label(session), []).append(session)
    rows = []
    for label, sessions in by_row.items():
        marks: list[ScaleMark] = []
        held: set[float] = set()
        for session in sessions:
            text = scale_text(*figures_with_limits(session.record, context)[session.overall.key])
            marks += marks_of(session.overall, f"{session.record}-", text)
            held |= {*applying(level_of(session.record, session.session, context))}
        rows.append(ScaleRow(label, tuple(marks), held_against=tuple(sorted(held))))
    described = "; ".join(
        f"{_side_label(session)}: {shown_value(session.record, session.overall, context)}" for session in pair.sessions
    )
    levels = landmarks(context, (level_of(session.record, session.session, context) for session in pair.sessions))
    return ScaleChart(
        id=f"{identity}-scale",
        kind="fit",
        title=f"Fit factors of {_whose(pair)} before and after, on a logarithmic scale from 1 to 100 000",
        description=f"{described}. Bars are 95 % intervals.",
        rows=tuple(rows),
        landmarks=levels,
        table=identity,
        caption=scale_caption(
            "Each line is one wearer, before or after the change.", "an overall fit factor", rows, levels
        ),
    )


def _flow_rows(state: SideBySideFlow, identity: str, context: Context) -> list[Row]:
    words, rows = flow_state_words(state.setting, state.battery, state.filter), []
    for side in Side:
        runs = [run for run in state.runs if run.side is side]
        for run in runs:
            rows.append(
                Row(
                    (
                        Cell(f"{words}, {side.value}", context.record_link(run.record, f"flow.{run.run}").href),
                        Cell(
                            shown_value(run.record, run.mean, context),
                            id=f"{identity}-{run.record}-{run.mean.key}-value",
                        ),
                        Cell(interval_text(run.mean) or "not stated"),
                    ),
                    id=f"{identity}-{run.record}-{run.run}",
                )
            )
        if not runs:
            rows.append(Row((Cell(f"{words}, {side.value}"), Cell("not measured"), Cell("none"))))
    return rows


def _flow_pair(states: tuple[SideBySideFlow, ...], anchor: str, context: Context) -> SideBySide:
    identity = f"{anchor}-flow"
    rows = [row for state in states for row in _flow_rows(state, identity, context)]
    table = Table(identity, "Mean supply flow before and after, by setting and state", _FLOW_COLUMNS, tuple(rows))
    return SideBySide(heading="Air supply", note=None, chart=None, table=table)


def _note(configuration: ConfigurationResult) -> str | None:
    if configuration.state is State.AS_SUPPLIED:
        return None
    if configuration.based_on is None:
        return "No record that stands has the configuration it was made from, so there is nothing to set beside it."
    if not configuration.fit:
        return (
            "No wearer has sessions that count before and after by the same protocol, blower state and kind of counter."
        )
    return None


def present_configurations(device: Device, result: DeviceResult, context: Context) -> ConfigurationsView | None:
    """Return the configurations of a device, or None where it has one only."""
    found = {part.key: part for part in result.configurations}
    if len(found) < 2:
        return None
    anchors = {key: f"configuration-{part.name or number}" for number, (key, part) in enumerate(found.items(), start=1)}
    views = []
    for key, part in found.items():
        anchor = anchors[key]
        pairs = [_fit_pair(pair, number, anchor, context) for number, pair in enumerate(part.fit, start=1)]
        if part.flow:
            pairs.append(_flow_pair(part.flow, anchor, context))
        views.append(
            ConfigurationView(
                anchor=anchor,
                heading=sentence_case(configuration_name(part)),
                facts=_facts(part, found.get(part.based_on or ""), anchor),
                records=tuple(context.record_link(record) for record in part.records),
                note=_note(part),
                pairs=tuple(pairs),
            )
        )
    return ConfigurationsView((_lineage_sentence(found), SIDE_BY_SIDE), tuple(views))
