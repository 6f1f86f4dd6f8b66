"""What the results of a device rest on, in words, as a strip of short facts and by item."""

from __future__ import annotations

from generator.model.catalogue_result import DeviceResult
from generator.model.configuration import State
from generator.model.evidence_result import (
    CalibrationOnDay,
    Evidence,
    Gap,
    InstrumentOnDay,
    Item,
    ItemFit,
    ItemFlow,
    Stated,
)
from generator.model.result import Figure
from generator.presenting.context import Context, blower_words
from generator.presenting.evidence_views import EvidenceView, Line
from generator.presenting.fit_basis import basis_words, level_words
from generator.presenting.fit_conditions import sprayed_words
from generator.presenting.instrument_doubts import FOUND_OUT
from generator.presenting.shown_values import shown_value
from generator.presenting.topics.flow import flow_state_words
from generator.presenting.views import Cell, Column, Fact, Row, Table
from generator.presenting.wording import count_text, day_text, listed, sentence_case

_GAPS = {
    "nothing": "Nothing was tested, or no record of it stands.",
    "no-wearer": "With any wearer: no session counts.",
    "one-wearer": "With a second wearer.",
    "one-unit": "A second unit: differences between units are not known.",
    "unit-unknown": "Which units were tested is not on record, so units of one lot cannot be told apart.",
    "no-blower-off": "The fit with the blower off, which shows how well the facepiece itself seals.",
    "no-flow": "The air flow of the blower.",
    "no-flow-at-alarm": "The air flow when the battery alarm sounds.",
    "no-loaded-filter": "The air flow with a loaded filter.",
}
_EVERY_DAY = "on every day of a test the calibration of every instrument"


def gap_text(gap: Gap) -> str:
    """Say what was not tested."""
    if gap.rule == "no-flow-at-setting":
        return f"The air flow at the setting “{gap.setting}”."
    return _GAPS[gap.rule]


def _recorded_items(recorded: tuple[str, ...], missing: int) -> tuple[str, str | None]:
    if not recorded:
        return "none", None
    names = "names" if missing == 1 else "name"
    return str(len(recorded)), f"{count_text(missing, 'record')} {names} none" if missing else None


def _kind_recorded(one: str, recorded: tuple[str, ...]) -> str:
    return f"{one if len(recorded) == 1 else one + 's'} recorded"


def evidence_strip(evidence: Evidence) -> tuple[Fact, ...]:
    """Return the short facts, each with an id of its own."""
    units, units_note = _recorded_items(evidence.units, evidence.records_without_unit)
    lots, lots_note = _recorded_items(evidence.lots, evidence.records_without_lot)
    in_date = sum(use.state is CalibrationOnDay.IN_DATE for use in evidence.instruments)
    not_tested = len(evidence.not_tested_stated) + len(evidence.gaps)
    return (
        Fact("wearers in all states", str(len(evidence.wearers)), id="evidence-wearers"),
        Fact("donnings in all states", str(evidence.donnings), id="evidence-donnings"),
        Fact(_kind_recorded("unit", evidence.units), units, note=units_note, id="evidence-units"),
        Fact(_kind_recorded("lot", evidence.lots), lots, note=lots_note, id="evidence-lots"),
        Fact("sessions with raw data", f"{evidence.with_raw} of {evidence.completed}", id="evidence-raw"),
        Fact("calibrations in date on the day", f"{in_date} of {len(evidence.instruments)}", id="evidence-calibration"),
        Fact("deviations stated", str(len(evidence.deviations)), id="evidence-deviations"),
        Fact("points named as not tested", str(not_tested), id="evidence-not-tested"),
    )


def _records_sentence(evidence: Evidence) -> str:
    parts = []
    if evidence.completed:
        sessions = count_text(evidence.completed, "completed session")
        if evidence.counted != evidence.completed:
            sessions += f", {count_text(evidence.counted, 'of them counting', 'of them counting')}"
        if evidence.wearers:
            wearers = f"{count_text(len(evidence.wearers), 'wearer')} ({listed(evidence.wearers)})"
            sessions += f", by {wearers} in {count_text(evidence.donnings, 'donning')}"
        parts.append(sessions)
    else:
        parts.append("no completed session")
    for count, how in ((evidence.aborted, "aborted"), (evidence.voided, "voided")):
        if count:
            parts.append(f"{count_text(count, 'attempt')} {how}")
    if evidence.flow_runs:
        parts.append(count_text(evidence.flow_runs, "flow run"))
    return f"All of this rests on {count_text(len(evidence.records), 'record')}: {'; '.join(parts)}."


def _named(recorded: tuple[str, ...], missing: int, one: str) -> str:
    if not recorded:
        return f"no {one} is recorded"
    verb = "is" if len(recorded) == 1 else "are"
    words = f"{count_text(len(recorded), one)} {verb} recorded ({listed(recorded)})"
    return (
        f"{words}, and {count_text(missing, 'record')} {'names' if missing == 1 else 'name'} none" if missing else words
    )


def _items_sentence(evidence: Evidence) -> str:
    units = _named(evidence.units, evidence.records_without_unit, "unit")
    lots = _named(evidence.lots, evidence.records_without_lot, "lot")
    return f"{sentence_case(units)}; {lots}."


def _raw_sentences(evidence: Evidence) -> list[str]:
    sentences = []
    if evidence.completed:
        kept = [
            words
            for count, words in (
                (evidence.with_log, f"{evidence.with_log} by a raw log"),
                (evidence.with_counts, f"{evidence.with_counts} by counts of particles"),
                (evidence.with_raw_stated, f"{evidence.with_raw_stated} by a word on where the readings are kept"),
            )
            if count
        ]
        sessions = "completed session" if evidence.completed == 1 else "completed sessions"
        of = f"Raw data are on record for {evidence.with_raw} of {evidence.completed} {sessions}"
        sentences.append(f"{of}: {listed(kept)}." if kept else f"{of}.")
    if evidence.flow_runs:
        sentences.append("Every reading of the flow runs stands in the records.")
    return sentences


def _levels_sentence(evidence: Evidence) -> str | None:
    if not evidence.levels:
        return None
    made = [f"{level_words(found.level)} in {count_text(found.sessions, 'session')}" for found in evidence.levels]
    return f"What the fit factors are made from: {listed(made)}."


def _calibration_words(use: InstrumentOnDay, context: Context) -> str:
    name, day = context.catalogue.instruments[use.instrument].name, day_text(use.performed)
    if use.due is None:
        return f"{name} had no calibration before {day}"
    return f"that of {name} had lapsed on {day_text(use.due)}, before the test of {day}"


def _calibration_sentence(evidence: Evidence, context: Context) -> str | None:
    if not evidence.instruments:
        return None
    out = [use for use in evidence.instruments if use.state is not CalibrationOnDay.IN_DATE]
    words = "; ".join(dict.fromkeys(_calibration_words(use, context) for use in out))
    said = f"not every calibration was in date: {words}" if out else f"{_EVERY_DAY} was in date"
    later = _found_out_later(evidence, context)
    return f"{sentence_case(said)}{f'; {later}' if later is not None else ''}."


def _found_out_later(evidence: Evidence, context: Context) -> str | None:
    """Say which calibration turned out later not to hold, though it was in date."""
    found = {
        context.catalogue.instruments[str(finding.facts["instrument"])].name: None
        for record in evidence.records
        for finding in context.result.records[record].all_findings
        if finding.rule == FOUND_OUT
    }
    named = listed([f"“{name}”" for name in found])
    return f"but a later one found that {named} had read wrongly" if found else None


def item_words(item: Item) -> str:
    """Name an item by its unit, else by its lot."""
    if item.unit is not None:
        return f"unit {item.unit}"
    return f"lot {item.lot}, unit not recorded" if item.lot is not None else "unit and lot not recorded"


def _configuration_words(configuration: str) -> str:
    return "as supplied" if configuration == State.AS_SUPPLIED.value else configuration


def _extremes(found: ItemFit | ItemFlow, identity: str, context: Context) -> tuple[Cell, Cell]:
    """Return the lowest and the highest figure of an item, each leading to its record."""

    def cell(record: str, figure: Figure, end: str) -> Cell:
        href = context.record_link(record, figure.key).href
        return Cell(shown_value(record, figure, context), href, id=f"{identity}-{end}")

    return cell(found.lowest_record, found.lowest, "lowest"), cell(found.highest_record, found.highest, "highest")


def _fit_table(evidence: Evidence, context: Context) -> Table | None:
    rows = []
    for number, found in enumerate(evidence.fit_by_item, start=1):
        title = context.catalogue.protocols[found.protocol].title
        state = [_configuration_words(found.configuration), blower_words(found.blower), title]
        state += [sprayed_words(found.aerosol), basis_words(found.basis)]
        who = f"{listed(found.wearers)}; {count_text(found.donnings, 'donning')}"
        lowest, highest = _extremes(found, f"unit-fit-{number}", context)
        cells = (Cell(item_words(found.item), note=", ".join(word for word in state if word)), Cell(who))
        rows.append(Row((*cells, lowest, highest), id=f"unit-fit-{number}"))
    columns = (
        Column("Item"),
        Column("Wearers"),
        Column("Lowest overall fit factor", numeric=True),
        Column("Highest overall fit factor", numeric=True),
    )
    return Table("unit-fit", "Overall fit factors, each item by itself", columns, tuple(rows)) if rows else None


def _flow_table(evidence: Evidence, context: Context) -> Table | None:
    rows = []
    several = any(found.runs > 1 for found in evidence.flow_by_item)
    for number, found in enumerate(evidence.flow_by_item, start=1):
        state = flow_state_words(found.setting, found.battery, found.filter)
        lowest, highest = _extremes(found, f"unit-flow-{number}", context)
        head = Cell(item_words(found.item), note=f"{_configuration_words(found.configuration)}, {state}")
        cells = (head, Cell(str(found.runs)), lowest, highest) if several else (head, lowest)
        rows.append(Row(cells, id=f"unit-flow-{number}"))
    columns: tuple[Column, ...] = (Column("Item"), Column("Mean flow", numeric=True))
    if several:
        columns = (
            Column("Item"),
            Column("Runs", numeric=True),
            Column("Lowest mean flow", numeric=True),
            Column("Highest mean flow", numeric=True),
        )
    return Table("unit-flow", "Mean supply flows, each item by itself", columns, tuple(rows)) if rows else None


def _lines(stated: tuple[Stated, ...], context: Context) -> tuple[Line, ...]:
    return tuple(Line(line.text, context.record_link(line.record)) for line in stated)


def present_evidence(result: DeviceResult, context: Context) -> EvidenceView:
    """Return what the results of a device rest on, and what was not tested."""
    evidence = result.evidence
    assert evidence is not None
    gaps = tuple(Line(gap_text(gap)) for gap in evidence.gaps)
    if not evidence.records:
        none = ("No record of this device stands.",)
        return EvidenceView(evidence_strip(evidence), none, (), (), gaps)
    calibration = _calibration_sentence(evidence, context)
    levels = _levels_sentence(evidence)
    tables = (_fit_table(evidence, context), _flow_table(evidence, context))
    return EvidenceView(
        strip=evidence_strip(evidence),
        sentences=(
            _records_sentence(evidence),
            _items_sentence(evidence),
            *((levels,) if levels is not None else ()),
            *_raw_sentences(evidence),
            *((calibration,) if calibration is not None else ()),
        ),
        tables=tuple(table for table in tables if table is not None),
        deviations=_lines(evidence.deviations, context),
        not_tested=_lines(evidence.not_tested_stated, context) + gaps,
    )
