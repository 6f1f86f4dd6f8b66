"""The tables of what wearing a device costs: the same on a record's page and, over its records, on a device's."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from generator.model.base import NotRecorded
from generator.model.burden import Burden
from generator.model.burden_result import BurdenResult, CostResult, NoiseResult, SpeechResult
from generator.model.device import Device, Fitting
from generator.model.result import Figure, Verdict
from generator.presenting.burden_words import (
    LIMIT_OF_OTHER_HOODS,
    MASSES_FROM_MEMORY,
    NOISE_FROM_MEMORY,
    PUBLISHED_RATINGS,
    RATING_OF_ONE_CLASS,
    Compared,
    cost_note,
    setting_words,
)
from generator.presenting.context import Context
from generator.presenting.figure_cells import figure_cell
from generator.presenting.figures import outcome_text
from generator.presenting.modified_words import modified_words
from generator.presenting.views import Cell, Column, Row, Table
from generator.presenting.wording import recorded_text, sentence_case

LANDMARK = 80.0
"""A level is written so that it never seems to lie on the other side of this. [dB(A)]"""
LEAST_RATING = 70.0
"""The same of a rating. [%]"""
NOTHING = Cell("not asked for")


@dataclass(frozen=True)
class Told:
    """A record, what it says of the burden and what came of it; `on_device` where several may share a table."""

    record: str
    burden: Burden
    result: BurdenResult
    context: Context
    on_device: bool
    several: bool
    """Whether the table has rows of several records, or of a modified device, which are then named."""

    def figure(self, figure: Figure | None, note: str | None = None, limit: float | None = None) -> Cell:
        """Return a figure as a cell, with a note beside a value that has no interval."""
        if figure is None:
            return NOTHING
        cell = figure_cell(figure, self.record, on_device=self.on_device, limit=limit)
        return replace(cell, note=note) if figure.value is not None and cell.note is None else cell

    def head(self, text: str, item: str | None, note: str | None) -> Cell:
        """Return the first cell of a row; on a device's page it leads to the record."""
        fragment = "burden" if item is None else f"burden.{item}"
        href = self.context.record_link(self.record, fragment).href if self.on_device else None
        return Cell(sentence_case(text), href, note)

    def row(self, item: str | None, *cells: Cell) -> Row:
        """Return a row, with its place on a record's page and the record's name where there are several."""
        identity = f"burden.{item}" if item is not None and not self.on_device else None
        modified = modified_words(self.record, self.context) or None
        named = (Cell(self.record, self.context.record_link(self.record).href, modified),) if self.several else ()
        return Row((*cells, *named), identity)

    def verdict(self, verdict: Verdict | None) -> Cell:
        """Return a verdict with its reason; it leads to the requirement."""
        if verdict is None or verdict.criterion is None:
            return NOTHING
        identity = f"{self.record}-{verdict.key}" if self.on_device else verdict.key
        href = self.context.criterion_link(verdict.criterion).href
        return Cell(sentence_case(outcome_text(verdict, self.context)), href, verdict.reason, identity)


def burden_tables(told: Sequence[Told], device: Device) -> tuple[Table, ...]:
    """Return every table that there is something for."""
    tables = (
        _noise(told, device),
        _speech(told, device),
        _carried(told, device),
        _sight(told),
        _fogging(told),
        _cost(told, device),
    )
    return tuple(table for table in tables if table.rows)


def _table(identity: str, caption: str, columns: Iterable[Column], rows: Iterable[Row], told: Sequence[Told]) -> Table:
    named = (Column("Record"),) if any(each.several for each in told) else ()
    return Table(identity, caption, (*columns, *named), tuple(rows))


def _powered_hood(device: Device) -> bool:
    return device.kind.powered and device.kind.fitting is Fitting.LOOSE


def _noise(told: Sequence[Told], device: Device) -> Table:
    results = [one for each in told for one in each.result.noise]
    optional = {
        "with": any(one.with_surroundings is not None for one in results),
        "dose": any(one.dose is not None for one in results),
        "hours": any(one.eight_hour_level is not None for one in results),
        "verdict": any(one.verdict is not None for one in results),
    }
    columns = [
        Column("Setting"),
        Column("Device alone", numeric=True),
        Column("Blower on", numeric=True),
        Column("Blower off", numeric=True),
    ]
    heads = {
        "with": Column("With surroundings", numeric=True),
        "dose": Column("Dose of a day", numeric=True),
        "hours": Column("Same dose in eight hours", numeric=True),
        "verdict": Column("Against the requirement"),
    }
    columns += [column for name, column in heads.items() if optional[name]]
    places = {reading.where for each in told for reading in each.burden.noise}
    rows = [_noise_row(each, one, optional, len(places) > 1) for each in told for one in each.result.noise]
    caption = f"Sound at the ear: {next(iter(places))}" if len(places) == 1 else "Sound at the ear"
    table = _table("burden-noise", caption, columns, rows, told)
    compared = (LIMIT_OF_OTHER_HOODS, *([NOISE_FROM_MEMORY] if _powered_hood(device) else []))
    return _with_comparisons(table, compared)


def _with_comparisons(table: Table, compared: Iterable[Compared]) -> Table:
    """Return a table with lines for comparison below its rows, if any; their values stand in the second column."""
    if not table.rows:
        return table
    empty = [Cell("")] * (len(table.columns) - 2)
    lines = [Row((Cell(said.of, note=said.note), Cell(said.value), *empty)) for said in compared]
    return replace(table, rows=(*table.rows, *lines))


def _noise_row(told: Told, result: NoiseResult, optional: dict[str, bool], with_place: bool) -> Row:
    reading = next(each for each in told.burden.noise if each.id == result.reading)
    burden = told.burden
    around = f"{recorded_text(burden.surroundings)} around" if burden.surroundings is not None else None
    hours = f"in {recorded_text(burden.hours_a_day)}" if burden.hours_a_day is not None else None
    cells = {
        "with": told.figure(result.with_surroundings, around, LANDMARK),
        "dose": told.figure(result.dose, hours),
        "hours": told.figure(result.eight_hour_level) if result.eight_hour_level is not None else Cell("no dose"),
        "verdict": told.verdict(result.verdict),
    }
    return told.row(
        result.reading,
        told.head(setting_words(result.setting), result.reading, reading.where if with_place else None),
        told.figure(result.level, limit=LANDMARK),
        Cell(recorded_text(reading.level)),
        _recorded(reading.background),
        *(cell for name, cell in cells.items() if optional[name]),
    )


def _recorded(value: object) -> Cell:
    if isinstance(value, NotRecorded):
        return Cell("not recorded", note=value.not_recorded)
    return Cell(recorded_text(value))


def _speech(told: Sequence[Told], device: Device) -> Table:
    with_verdict = any(one.verdict is not None for each in told for one in each.result.speech)
    columns = [
        Column("Setting"),
        Column("Share understood", numeric=True),
        Column("Right with it", numeric=True),
        Column("Right without", numeric=True),
        *([Column("Against the requirement")] if with_verdict else []),
    ]
    rows = [_speech_row(each, one, with_verdict) for each in told for one in each.result.speech]
    table = _table("burden-speech", "Words understood", columns, rows, told)
    return _with_comparisons(table, (RATING_OF_ONE_CLASS, *PUBLISHED_RATINGS) if device.kind.powered else ())


def _speech_row(told: Told, result: SpeechResult, with_verdict: bool) -> Row:
    test = next(each for each in told.burden.speech if each.id == result.test)
    people = f"listeners: {test.listeners}, talkers: {test.talkers}"
    choices = f"{test.choices} to choose from"
    return told.row(
        result.test,
        told.head(setting_words(result.setting), result.test, f"{test.method}; {people}; {choices}"),
        told.figure(result.rating, limit=LEAST_RATING),
        Cell(f"{test.understood_with} of {test.words}"),
        Cell(f"{test.understood_without} of {test.words}"),
        *([told.verdict(result.verdict)] if with_verdict else []),
    )


def _carried(told: Sequence[Told], device: Device) -> Table:
    rows: list[Row] = []
    for each in told:
        if each.result.carried is None:
            continue
        parts = each.burden.masses
        rows += [
            each.row(None, Cell(sentence_case(part.what), note=f"on the {part.where.value}"), _recorded(part.mass))
            for part in parts
        ]
        rows.append(each.row(None, each.head("all parts", None, None), each.figure(each.result.carried.total)))
        rows.append(each.row(None, Cell("Of that on the head"), each.figure(each.result.carried.head_share)))
    if rows and not isinstance(device.mass, NotRecorded):
        stated = (Cell("What the wearer carries, by the device's own record"), Cell(recorded_text(device.mass)))
        rows.append(Row((*stated, *([Cell("")] if told[0].several else []))))
    columns = (Column("Part"), Column("Mass", numeric=True))
    table = _table("burden-masses", "What is carried", columns, rows, told)
    return _with_comparisons(table, MASSES_FROM_MEMORY if _powered_hood(device) else ())


def _sight(told: Sequence[Told]) -> Table:
    rows = []
    for each in told:
        view = each.burden.field_of_view
        if view is not None:
            both = each.head("both eyes together", None, view.how)
            rows.append(each.row(None, both, _recorded(view.effective)))
            rows.append(each.row(None, Cell("What both eyes see"), _recorded(view.overlapped)))
    columns = (Column("Field of view"), Column("Left of the free field", numeric=True))
    return _table("burden-sight", "What can be seen", columns, rows, told)


def _fogging(told: Sequence[Told]) -> Table:
    rows = [
        each.row(None, each.head(setting_words(note.setting), None, None), Cell(note.conditions), Cell(note.seen))
        for each in told
        for note in each.burden.fogging
    ]
    columns = (Column("Setting"), Column("Conditions"), Column("What was seen"))
    return _table("burden-fogging", "Fogging", columns, rows, told)


def _cost(told: Sequence[Told], device: Device) -> Table:
    of_use = [each for each in told if each.result.cost is not None]
    if not of_use:
        return Table("burden-cost", "", (), ())
    last = [Cell("")] if told[0].several else []
    prices = [Row((Cell("The device"), _recorded(device.price), Cell("for the hours of use"), *last))]
    prices += [
        Row((Cell(sentence_case(item.item)), _recorded(item.price), _recorded(item.lasts), *last))
        for item in device.consumables
    ]
    columns = (Column("Item"), Column("Price", numeric=True), Column("Lasts"))
    rows = [*prices, *(_hour_row(each, each.result.cost) for each in of_use if each.result.cost is not None)]
    return _table("burden-cost", "What an hour of use costs", columns, rows, told)


def _hour_row(told: Told, cost: CostResult) -> Row:
    use = told.burden.use
    assert use is not None
    note = f"{use.what}, {recorded_text(use.hours)} in all: {use.reason}"
    return told.row(
        None, told.head("an hour of use", None, note), told.figure(cost.an_hour), Cell(cost_note(cost.not_counted))
    )
