"""The pages and sheets a reader sees, made of the pieces in `views`. Templates print these and compute nothing."""

from __future__ import annotations

from dataclasses import dataclass

from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue
from generator.presenting.comparison_views import ComparisonPage, ComparisonsIndex
from generator.presenting.evidence_views import ConfigurationsView, EvidenceView
from generator.presenting.instrument_views import CheckStandardView, ListedRecord
from generator.presenting.meaning_views import MeaningView, SameDayView
from generator.presenting.page_parts import (
    AmendmentView,
    Letterhead,
    Notice,
    PageHead,
    Paper,
    PictureFile,
    PictureView,
    Report,
)
from generator.presenting.presented import Presented
from generator.presenting.traced_log import TracedLogPage
from generator.presenting.views import (
    Cautions,
    Definition,
    Fact,
    IndexCell,
    Link,
    LogChart,
    ScaleChart,
    Table,
    TopicSection,
    WorkingInput,
)


@dataclass(frozen=True)
class RecordEntry:
    """A test record in a device's list."""

    link: Link
    performed: str
    issued: str
    configuration: str
    holds: str
    sha256: str
    withdrawn: str | None = None
    """That it was withdrawn, when and why; None where it stands."""
    replaced_by: Link | None = None


@dataclass(frozen=True)
class Letter:
    """A letter to the maker, and what came back."""

    id: str
    heading: str
    records: tuple[Link, ...]
    reply_by: str
    received: str
    reply: str | None
    """The maker's own words, in Markdown."""
    changed: str


@dataclass(frozen=True)
class MakerSide:
    """What the maker says, what of it the tests bear out, and what passed between maker and publisher."""

    claims: Table | None
    approvals: Table | None
    coverage: Table | None
    letters: tuple[Letter, ...]
    interests: tuple[Fact, ...]


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
    evidence: EvidenceView
    configurations: ConfigurationsView | None
    meaning: MeaningView
    records: tuple[RecordEntry, ...]
    maker_side: MakerSide
    facts: tuple[Fact, ...]
    air_path: tuple[Fact, ...]
    pictures: tuple[PictureView, ...]
    sheet: Link
    amendments: tuple[AmendmentView, ...] = ()
    comparisons: tuple[Link, ...] = ()


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
    pictures: tuple[PictureView, ...]
    amendments: tuple[AmendmentView, ...]
    report: Report
    sha256: str
    data: tuple[Link, ...]
    same_day: SameDayView | None = None


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
    report: Report
    notices: tuple[Notice, ...]
    amendments: tuple[AmendmentView, ...]
    logs: tuple[LogChart, ...]
    elsewhere: str | None = None
    """Which figures have their workings on the record's page alone: with them on paper, nothing would be found."""


@dataclass(frozen=True, kw_only=True)
class Sheet(Paper):
    """A data sheet: the device page on paper, with the workings of its records as an annex."""

    template: str = "sheet.html"
    device: DevicePage
    issued: str
    annexes: tuple[Annex, ...]
    over_wearers: tuple[AnnexMethod, ...] = ()
    """Workings of the figures over wearers, which rest on several records."""


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
    withdrawn: str | None = None
    """That the device was withdrawn and when; None where it stands."""


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
    question: str
    promise: str
    scale: ScaleChart
    columns: tuple[str, ...]
    groups: tuple[IndexGroup, ...]
    counts: str
    cautions: Cautions
    catalogue_pdf: Link
    comparisons: tuple[Link, ...]


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
    """All methods, and what a sample inside the mask cannot show."""

    head: PageHead
    methods: tuple[Fact, ...]
    beyond: Link
    lead: str
    biases: tuple[Definition, ...]
    traced_log: Link | None = None
    """The page that follows one log through; None where the catalogue has no such log."""


@dataclass(frozen=True)
class RequirementsPage:
    """Criteria, protocols and assigned factors, each with clause and how it is known."""

    head: PageHead
    criteria: tuple[Definition, ...]
    panels: Table
    protocols: tuple[Table, ...]
    assigned: tuple[Table, ...]
    assigned_words: tuple[str, ...]
    work_levels: Table
    """Breathing demand as printed."""


@dataclass(frozen=True)
class CautionRuleView:
    """A caution rule, and what raises it in this catalogue."""

    id: str
    severity: str
    heading: str
    condition: str
    source: str
    raised_by: tuple[Link, ...]
    more: str
    nobody: str
    """What to say where no record or device raises it."""


@dataclass(frozen=True)
class CautionRulesPage:
    """All caution rules, worst first."""

    head: PageHead
    rules: tuple[CautionRuleView, ...]


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
class InstrumentPage:
    """An instrument: its state, calibrations, the tests in doubt, its check standards, where it was used."""

    head: PageHead
    id: str
    name: str
    kind: str
    answer: str
    facts: tuple[Fact, ...]
    calibrations: Table
    found_out: tuple[Fact, ...]
    """Each calibration that found the instrument out of tolerance, and what was found."""
    affected_answer: str
    affected: tuple[ListedRecord, ...]
    """The test records that such a calibration puts in doubt."""
    checks: tuple[CheckStandardView, ...]
    used: tuple[ListedRecord, ...]


@dataclass(frozen=True)
class InstrumentsPage:
    """All instruments."""

    head: PageHead
    note: str
    instruments: Table
    data: Link


@dataclass(frozen=True)
class OpenData:
    """The published catalogue and its results, to be written as data beside the pages."""

    catalogue: PublishedCatalogue
    result: CatalogueResult
    version: str


@dataclass(frozen=True)
class Site:
    """Everything to render; pages of which there are many are presented when they are first looked at."""

    data: OpenData
    letterhead: Letterhead
    index: IndexPage
    devices: Presented[DevicePage]
    records: Presented[RecordPage]
    sheets: Presented[Sheet]
    methods_index: MethodsIndex
    methods: Presented[MethodPage]
    requirements: RequirementsPage
    caution_rules: CautionRulesPage
    about: AboutPage
    instruments_index: InstrumentsPage
    instruments: Presented[InstrumentPage]
    comparisons_index: ComparisonsIndex
    comparisons: Presented[ComparisonPage]
    papers: Presented[Paper]
    """What is set as a PDF beside the data sheets."""
    pictures: tuple[PictureFile, ...] = ()
    traced_log: TracedLogPage | None = None
