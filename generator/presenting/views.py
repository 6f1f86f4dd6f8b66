"""What a reader sees, as data: pages made of headings, sentences, figures, tables, cautions and charts.

Templates print these and compute nothing. `href`s are relative to the site's root, such as `records/hood.html#fit.am`.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from generator.presenting.curve_views import CurveChart
    from generator.presenting.wearer_views import WearersView


@dataclass(frozen=True)
class Link:
    """A text that leads somewhere in the site."""

    text: str
    href: str


@dataclass(frozen=True)
class TextPiece:
    """A part of a sentence; with a place, it leads there."""

    text: str
    href: str | None = None


@dataclass(frozen=True)
class Caution:
    """One box: a heading that is a full sentence, the reason, the source."""

    id: str
    severity: int
    heading: str
    text: str
    source: str


@dataclass(frozen=True)
class Cautions:
    """What a page warns of: boxes, worst first; those that are folded; and what holds for every page."""

    open: tuple[Caution, ...]
    folded: tuple[Caution, ...]
    standing: tuple[Caution, ...]
    before_withdrawal: tuple[Caution, ...] = ()
    """What a record raised by itself before it was withdrawn, worst first; nothing follows from it any more."""

    @property
    def raised(self) -> tuple[Caution, ...]:
        """All that the findings raise, worst first."""
        return self.open + self.folded


@dataclass(frozen=True)
class WorkingInput:
    """One number that went into a figure; `symbol` is LaTeX. `basis` says how it was itself derived."""

    symbol: str
    meaning: str
    number: str
    unit: str
    where: str
    href: str | None
    basis: Derivation | None = None

    @property
    def value(self) -> str:
        """The number with its unit."""
        return f"{self.number}\N{NARROW NO-BREAK SPACE}{self.unit}" if self.unit else self.number


@dataclass(frozen=True)
class Derivation:
    """How one number comes about; `equation` is LaTeX."""

    method: Link
    equation: str
    inputs: tuple[WorkingInput, ...]
    result: str
    sources: tuple[str, ...]

    @property
    def by_symbol(self) -> tuple[tuple[str, tuple[WorkingInput, ...]], ...]:
        """The inputs in their order, those that follow on one another under the same symbol together."""
        return tuple((symbol, tuple(same)) for symbol, same in groupby(self.inputs, attrgetter("symbol")))


@dataclass(frozen=True)
class WorkingView:
    """The derivation of a figure, and of its interval where it has one."""

    figure: str
    of: str
    """The session or run it belongs to, in words."""
    is_result: bool
    """Whether it is a result of its session or run, not of a part of it."""
    name: str
    result: str
    value: Derivation
    interval: Derivation | None
    no_interval: str | None = None
    """Why there is no interval, where nothing else on the page says so."""


@dataclass(frozen=True)
class FigureView:
    """One result as text. `key` is its id on the page where it is derived."""

    key: str
    name: str
    value: str
    interval: str | None
    interval_note: str | None
    sample: str
    other_unit: str | None
    method: Link
    has_working: bool
    interval_method: Link | None = None


@dataclass(frozen=True)
class VerdictView:
    """A verdict in words: the outcome, and one sentence that says why and by which rule."""

    key: str
    outcome: str
    sentence: str
    requirement: Link | None
    method: Link | None = None
    """The rule by which it was decided."""


@dataclass(frozen=True)
class Column:
    """A column of a table; the unit stands in the head."""

    head: str
    unit: str = ""
    numeric: bool = False


@dataclass(frozen=True)
class Cell:
    """A cell of a table."""

    text: str
    href: str | None = None
    note: str | None = None
    id: str | None = None


@dataclass(frozen=True)
class Row:
    """A row of a table; its first cell is its head."""

    cells: tuple[Cell, ...]
    id: str | None = None


@dataclass(frozen=True)
class Table:
    """A table with its caption."""

    id: str
    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    folded: bool = False
    """Whether a device's page folds it away: only who disputes a figure needs it."""

    @property
    def lines(self) -> tuple[tuple[Row, tuple[tuple[Column, Cell], ...]], ...]:
        """Each row with its cells, each cell with its column."""
        return tuple((row, tuple(zip(self.columns, row.cells, strict=True))) for row in self.rows)


@dataclass(frozen=True)
class Fact:
    """A term and what is recorded of it."""

    term: str
    text: str
    href: str | None = None
    note: str | None = None
    id: str | None = None


SCALE_ENDS = {"fit": (1.0, 100_000.0), "flow": (0.0, 400.0)}
"""The ends of each kind of rule, the same on every page: fit factors, and flows. [L/min]"""


@dataclass(frozen=True)
class ScaleMark:
    """One thing on a scale: a value with its interval, or `at least` with an open arrow, closed where `high` bounds it.

    `key` ends the id of its element; `text` is its direct label. `minor` ones are drawn as short strokes.
    """

    key: str
    value: float
    low: float | None = None
    high: float | None = None
    at_least: bool = False
    minor: bool = False
    text: str = ""


@dataclass(frozen=True)
class ScaleRow:
    """One line of marks above the rule. A heading opens a group of lines, such as those of one device."""

    label: str
    marks: tuple[ScaleMark, ...]
    note: str = ""
    heading: str = ""
    held_against: tuple[float, ...] | None = None
    """The levels of the scale that apply to its marks; None where all do."""


@dataclass(frozen=True)
class Landmark:
    """A named level on a scale, or a named span of it."""

    key: str
    text: str
    low: float
    high: float | None = None


@dataclass(frozen=True)
class ScaleChart:
    """A rule with marks above it. The same kind always has the same ends, so that stacking is comparing."""

    id: str
    kind: str
    """The rule to draw on: `fit` or `flow`."""
    title: str
    description: str
    rows: tuple[ScaleRow, ...]
    landmarks: tuple[Landmark, ...]
    small: bool = False
    table: str = ""
    """The id of the element of the page that has its numbers as text."""
    caption: str = ""
    """What its marks mean, where the page does not say so itself."""


@dataclass(frozen=True)
class LogStretch:
    """Readings of one kind of air that follow on one another: time in s and concentration in /cm3."""

    air: str
    """`ambient`, `in-mask`, `purge` or `side-by-side`; `second` for a second channel that is outside all the time."""
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class LogExercise:
    """An exercise and when the counter drew its air from inside: first and last reading. [s]"""

    name: str
    start: float
    end: float


@dataclass(frozen=True)
class LogChart:
    """A session's raw log: concentration against time on a logarithmic axis, every reading of the file."""

    id: str
    title: str
    description: str
    caption: str
    stretches: tuple[LogStretch, ...]
    exercises: tuple[LogExercise, ...]
    csv: str
    """The log as it is published, relative to the site's root."""


@dataclass(frozen=True)
class Block:
    """One session or run of a record: what was done, what was read, what came of it."""

    anchor: str
    heading: str
    facts: tuple[Fact, ...]
    table: Table | None
    figures: tuple[FigureView, ...]
    verdict: VerdictView | None
    note: str | None
    log: LogChart | None = None
    further: tuple[Table, ...] = ()
    """Tables after that of the readings, such as what an uncertainty is made of."""


@dataclass(frozen=True)
class TopicSection:
    """What a topic shows on a page.

    `answer` stands in brief below the opening of a device's page; `blocks` follow the chart on a record's.
    """

    topic: str
    heading: str
    anchor: str
    answer: tuple[str, ...]
    sentences: tuple[str, ...]
    chart: ScaleChart | None
    tables: tuple[Table, ...]
    blocks: tuple[Block, ...]
    workings: tuple[WorkingView, ...]
    counts: tuple[Fact, ...] = ()
    """How many of what a table lists."""
    beyond: Link | None = None
    """Where the errors are told that no interval of the section covers."""
    wearers: WearersView | None = None
    """What sessions say of wearers, those tested and others."""
    curves: tuple[CurveChart, ...] = ()
    """Charts of one thing against another, after the tables."""
    workings_on_paper: bool = True
    """Whether a sheet's annex holds the workings; otherwise it says that they stand on the record's page."""
    tables_told: bool = False
    """Whether `inward score` prints the tables too: they hold what no sentence tells."""


@dataclass(frozen=True)
class Definition:
    """A named thing with its facts, such as a requirement."""

    id: str
    heading: str
    text: str
    facts: tuple[Fact, ...]


@dataclass(frozen=True)
class IndexCell:
    """What a topic shows of a device in the index."""

    topic: str
    heading: str
    text: str
    note: str
    chart: ScaleChart | None
    interval: str | None = None
    """The figure with its interval, or that it has none; None where there is no figure, or only a bound."""
    order: float | None = None
    """The figure by which the column is ordered, unrounded, a bound as it is; None sorts last."""
