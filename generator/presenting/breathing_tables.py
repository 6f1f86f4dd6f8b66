"""Tables of breathing demand: what a supply covers, what is drawn beyond it, what that would mean."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.breathing_result import BreathingRun, Coverage
from generator.model.result import Figure
from generator.model.work_level import WorkLevel
from generator.presenting.breathing_words import COVERAGE, Level, peak_text
from generator.presenting.context import Context
from generator.presenting.figure_cells import figure_cell
from generator.presenting.views import Cell, Column, Row, Table
from generator.presenting.wording import sentence_case

NONE = "covered"


def level_cell(level: WorkLevel, coverage: Coverage) -> Cell:
    """Return a level's name, which leads to where it was printed, with its peak and whether that is covered."""
    note = f"peaks at {peak_text(level)}: {COVERAGE[coverage]}"
    return Cell(sentence_case(level.name), f"requirements.html#work-level-{level.id}", note)


def share_head(tight: bool) -> str:
    """Head the column of shares: what is drawn beyond the supply is leakage in a loose-fitting device only."""
    return "Share beyond the supply" if tight else "Share from outside"


def _cell(figure: Figure | None, record: str, on_device: bool = False) -> Cell:
    return Cell(NONE) if figure is None else figure_cell(figure, record, on_device=on_device)


def covered_table(rows: Sequence[tuple[BreathingRun, str]], record: str, context: Context) -> Table:
    """Return the largest minute volumes that each run covers; a run that is not scored says why."""
    body = []
    for run, state in rows:
        first = run.not_scored or run.covered_silent
        cells = [
            Cell(state, context.record_link(record, f"flow.{run.run}").href),
            _cell(first, record),
            _cell(run.covered_printed, record),
            _cell(run.covered_speaking, record),
        ]
        if any(each.stored is not None for each, _ in rows):
            cells.append(_cell(run.stored, record))
        body.append(Row(tuple(cells)))
    columns = [
        Column("Setting and state"),
        Column("Silent, in a sine", numeric=True),
        Column("Silent, at printed peaks", numeric=True),
        Column("Reading aloud", numeric=True),
    ]
    if any(run.stored is not None for run, _ in rows):
        columns.append(Column("Stored air", numeric=True))
    return Table("breathing-covered", "The most air breathed in a minute that is covered", tuple(columns), tuple(body))


def levels_table(run: BreathingRun, state: str, levels: Sequence[Level], record: str, tight: bool) -> Table:
    """Return what is drawn beyond the supply of one run, at every level."""
    columns = [
        Column("Work"),
        Column(share_head(tight), numeric=True),
        Column("Of the inhalation", numeric=True),
        Column("In a minute", numeric=True),
        Column("In a breath", numeric=True),
    ]
    body = []
    for level, result in levels:
        figures = (result.share, result.time, result.a_minute, result.a_breath)
        cells = (_cell(figure, record) for figure in figures)
        body.append(Row((level_cell(level, result.coverage), *cells)))
    return Table(f"breathing.{run.run}", f"Drawn in beyond the supply: {state}", tuple(columns), tuple(body))


def index_table(run: BreathingRun, state: str, levels: Sequence[Level], record: str) -> Table | None:
    """Return what over-breathing alone would mean, for levels where there is any; None for tight-fitting devices."""
    over = [(level, result) for level, result in levels if result.factor is not None]
    if not over:
        return None
    columns = [Column("Work"), Column("Nothing stored", numeric=True)]
    if run.hood_volume is not None:
        columns += [
            Column("Hood's air mixed in", numeric=True),
            Column("In a breath, hood's air used first", numeric=True),
        ]
    body = []
    for level, result in over:
        cells = [level_cell(level, result.coverage), _cell(result.factor, record)]
        if run.hood_volume is not None:
            cells += [_cell(result.mixed, record), _cell(result.beyond, record)]
        body.append(Row(tuple(cells)))
    caption = f"How many times cleaner at best, were over-breathing the only leak: {state}"
    return Table(f"breathing.{run.run}.index", caption, tuple(columns), tuple(body))


def device_table(run: BreathingRun, state: str, levels: Sequence[Level], record: str, tight: bool) -> Table:
    """Return the governing run at every level, as a device's page and its sheet show it."""
    mixed = any(result.mixed is not None for _, result in levels)
    columns = [
        Column("Work"),
        Column(share_head(tight), numeric=True),
        Column("In a breath", numeric=True),
    ]
    if not tight:
        columns.append(Column("Times cleaner, nothing stored", numeric=True))
    if mixed:
        columns.append(Column("Hood's air mixed in", numeric=True))
    body = []
    for level, result in levels:
        figures = [result.share, result.a_breath]
        figures += [] if tight else [result.factor]
        figures += [result.mixed] if mixed else []
        cells = (_cell(figure, record, on_device=True) for figure in figures)
        body.append(Row((level_cell(level, result.coverage), *cells)))
    return Table("breathing-levels", f"Breathing demand against the supply: {state}", tuple(columns), tuple(body))
