"""What a reader sees, as data: pages made of headings, sentences, figures, tables, cautions and charts.

Templates print these and compute nothing. `href`s are relative to the site's root, such as `records/hood.html#fit.am`.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Link:
    """A text that leads somewhere in the site."""

    text: str
    href: str


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


@dataclass(frozen=True)
class WorkingInput:
    """One number that went into a figure; `symbol` is LaTeX."""

    symbol: str
    meaning: str
    value: str
    where: str
    href: str | None


@dataclass(frozen=True)
class WorkingView:
    """The derivation of a figure; `equation` is LaTeX."""

    figure: str
    name: str
    method: Link
    equation: str
    inputs: tuple[WorkingInput, ...]
    result: str
    sources: tuple[str, ...]


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
    working: WorkingView | None


@dataclass(frozen=True)
class VerdictView:
    """A verdict in words: the outcome, and one sentence that says why and by which rule."""

    key: str
    outcome: str
    sentence: str
    requirement: Link | None


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


@dataclass(frozen=True)
class Fact:
    """A term and what is recorded of it."""

    term: str
    text: str
    href: str | None = None
    note: str | None = None


@dataclass(frozen=True)
class ScaleMark:
    """One thing on a scale: a value with its interval, or `at least` with an open arrow.

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
    """One line of marks above the rule."""

    label: str
    marks: tuple[ScaleMark, ...]
    note: str = ""


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
    table: Table | None
    small: bool = False


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


@dataclass(frozen=True)
class TopicSection:
    """What a topic shows on a page. `answer` opens a device's page; `blocks` follow the chart on a record's."""

    topic: str
    heading: str
    anchor: str
    answer: tuple[str, ...]
    sentences: tuple[str, ...]
    chart: ScaleChart | None
    tables: tuple[Table, ...]
    blocks: tuple[Block, ...]
    workings: tuple[WorkingView, ...]


@dataclass(frozen=True)
class IndexCell:
    """What a topic shows of a device in the index."""

    topic: str
    heading: str
    text: str
    note: str
    chart: ScaleChart | None


@dataclass(frozen=True)
class Letterhead:
    """What stands on every page."""

    title: str
    subtitle: str
    publisher: str
    contact: str
    licence: str
    version: str
    invented: str | None
    not_accredited: str | None
    defer: str


@dataclass(frozen=True)
class PageHead:
    """The head of one page. `root` leads from the page to the site's root; `state` stands as on a letterhead."""

    path: str
    root: str
    title: str
    description: str
    state: tuple[Fact, ...]
    trail: tuple[Link, ...]


@dataclass(frozen=True)
class RecordEntry:
    """A test record in a device's list."""

    link: Link
    performed: str
    issued: str
    configuration: str
    holds: str


@dataclass(frozen=True)
class DevicePage:
    """A device: the answer first, then what it rests on."""

    head: PageHead
    id: str
    name: str
    maker: str
    kind: str
    summary: str
    answer: tuple[str, ...]
    cautions: Cautions
    sections: tuple[TopicSection, ...]
    records: tuple[RecordEntry, ...]
    claims: tuple[Fact, ...]
    approvals: tuple[Fact, ...]
    facts: tuple[Fact, ...]
    air_path: tuple[Fact, ...]
    sheet: Link


@dataclass(frozen=True)
class RecordPage:
    """A test record: what was done, what was read, how each figure comes about."""

    head: PageHead
    id: str
    link: Link
    device: Link
    cautions: Cautions
    facts: tuple[Fact, ...]
    sections: tuple[TopicSection, ...]
    instruments: Table
    findings: tuple[str, ...]
    deviations: tuple[str, ...]
    notes: str | None
    amendments: tuple[Fact, ...]
    sha256: str


@dataclass(frozen=True)
class AnnexLine:
    """One figure of an annex: what it is, from which numbers, and what came out."""

    figure: str
    inputs: str
    result: str


@dataclass(frozen=True)
class AnnexMethod:
    """The figures of one record that were computed by one method."""

    method: Link
    equation: str
    sources: tuple[str, ...]
    lines: tuple[AnnexLine, ...]


@dataclass(frozen=True)
class Annex:
    """The workings of one record, by method."""

    record: Link
    facts: tuple[Fact, ...]
    sha256: str
    methods: tuple[AnnexMethod, ...]


@dataclass(frozen=True)
class Sheet:
    """A data sheet: the device page on paper, with the workings of its records as an annex."""

    path: str
    head: PageHead
    device: DevicePage
    running_head: str
    issued: str
    annexes: tuple[Annex, ...]


@dataclass(frozen=True)
class IndexRow:
    """A device in the index."""

    link: Link
    maker: str
    cells: tuple[IndexCell, ...]
    records: str
    caution: str | None
    """The heading of the worst caution."""
    cautions: str
    sheet: Link


@dataclass(frozen=True)
class IndexGroup:
    """The devices of one kind."""

    heading: str
    anchor: str
    rows: tuple[IndexRow, ...]


@dataclass(frozen=True)
class IndexPage:
    """The catalogue's first page."""

    head: PageHead
    lead: tuple[str, ...]
    scale: ScaleChart
    columns: tuple[str, ...]
    groups: tuple[IndexGroup, ...]
    counts: str
    cautions: Cautions


@dataclass(frozen=True)
class CheckRow:
    """One outside value that a method reproduces."""

    inputs: str
    expected: str
    source: str


@dataclass(frozen=True)
class MethodPage:
    """A method: equation, symbols, range, sources, outside check values."""

    head: PageHead
    id: str
    title: str
    purpose: str
    equation: str
    symbols: tuple[WorkingInput, ...]
    range: str
    sources: tuple[Fact, ...]
    checks: tuple[CheckRow, ...]


@dataclass(frozen=True)
class MethodsIndex:
    """All methods."""

    head: PageHead
    methods: tuple[Fact, ...]


@dataclass(frozen=True)
class RequirementsPage:
    """Criteria and protocols, each with clause and how it is known."""

    head: PageHead
    criteria: Table
    protocols: tuple[Table, ...]


@dataclass(frozen=True)
class AboutPage:
    """Who publishes, with which interests, and how to read the catalogue."""

    head: PageHead
    scenario: str | None
    disclosure: str
    publisher: tuple[Fact, ...]
    testers: tuple[Fact, ...]
    cautions: Cautions


@dataclass(frozen=True)
class Site:
    """Everything to render."""

    letterhead: Letterhead
    index: IndexPage
    devices: tuple[DevicePage, ...]
    records: tuple[RecordPage, ...]
    sheets: tuple[Sheet, ...]
    methods_index: MethodsIndex
    methods: tuple[MethodPage, ...]
    requirements: RequirementsPage
    about: AboutPage
