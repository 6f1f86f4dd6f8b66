"""The pages and sheets a reader sees, made of the pieces in `views`. Templates print these and compute nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.model.base import Day
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue
from generator.presenting.comparison_views import ComparisonPage, ComparisonsIndex
from generator.presenting.correction_views import CorrectionNotice, CorrectionsPage
from generator.presenting.design_views import Correction, CostView, DesignNotes
from generator.presenting.evidence_views import ConfigurationsView, EvidenceView
from generator.presenting.index_views import IndexPage
from generator.presenting.instrument_views import CheckStandardView, ListedRecord
from generator.presenting.meaning_views import MeaningView, SameDayView
from generator.presenting.method_uses import Uses
from generator.presenting.open_data_views import Citation, DataPage, Feed
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
from generator.presenting.panel_views import ComparingPage
from generator.presenting.presented import Presented
from generator.presenting.reference_views import (
    GlossaryPage,
    MethodPage,
    MethodsIndex,
    ReadingPage,
    RequirementsPage,
)
from generator.presenting.statement_views import MayBeSaid
from generator.presenting.still_views import Still
from generator.presenting.traced_log import TracedLogPage
from generator.presenting.views import (
    Cautions,
    Fact,
    Link,
    LogChart,
    Table,
    TopicSection,
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
class Brief:
    """What a topic says in one sentence below the opening, and the section that says more."""

    text: str
    heading: str
    anchor: str


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
    """At most three sentences."""
    brief: tuple[Brief, ...]
    cautions: Cautions
    sections: tuple[TopicSection, ...]
    """Every topic, in the order in which they are told."""
    measured: tuple[TopicSection, ...]
    """Those that stand before the records: all but the burden."""
    evidence: EvidenceView
    configurations: ConfigurationsView | None
    meaning: MeaningView
    may_be_said: MayBeSaid
    records: tuple[RecordEntry, ...]
    maker_side: MakerSide
    design: DesignNotes
    burden: TopicSection | None
    """The burden without what stands under cost."""
    cost: CostView
    corrections: tuple[Correction, ...]
    """Newest first."""
    no_correction: str
    """What is said where there is none."""
    citation: Citation
    sheet: Link
    compare: Link
    """The page where other devices can be set beside this one."""
    comparisons: tuple[Link, ...] = ()
    contents: tuple[Link, ...] = ()
    """The sections in their order; each address begins with `#`."""


@dataclass(frozen=True)
class RecordPage:
    """A test record: what was done, what was read, how each figure comes about."""

    head: PageHead
    id: str
    link: Link
    device: Link
    corrected: CorrectionNotice | None
    cautions: Cautions
    facts: tuple[Fact, ...]
    sections: tuple[TopicSection, ...]
    instruments: Table
    findings_heading: str
    findings: tuple[str, ...]
    deviations: tuple[str, ...]
    notes: str | None
    pictures: tuple[PictureView, ...]
    amendments: tuple[AmendmentView, ...]
    report: Report
    sha256: str
    data: tuple[Link, ...]
    citation: Citation
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
    annexes: tuple[Annex, ...]
    over_wearers: tuple[AnnexMethod, ...] = ()
    """Workings of the figures over wearers, which rest on several records."""


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
    records_sha256: str
    """One hash over the hashes of all records."""
    newest: Day | None
    """The day of the newest event; None where nothing has been issued."""


@dataclass(frozen=True)
class Site:
    """Everything to render; pages of which there are many are presented when they are first looked at."""

    data: OpenData
    data_page: DataPage
    letterhead: Letterhead
    index: IndexPage
    devices: Presented[DevicePage]
    records: Presented[RecordPage]
    sheets: Presented[Sheet]
    methods_index: MethodsIndex
    methods: Presented[MethodPage]
    requirements: RequirementsPage
    caution_rules: CautionRulesPage
    corrections: CorrectionsPage
    about: AboutPage
    reading: ReadingPage
    glossary: GlossaryPage
    instruments_index: InstrumentsPage
    instruments: Presented[InstrumentPage]
    comparisons_index: ComparisonsIndex
    comparisons: Presented[ComparisonPage]
    comparing: ComparingPage
    papers: Presented[Paper]
    """What is set as a PDF beside the data sheets."""
    pictures: tuple[PictureFile, ...] = ()
    feed: Feed | None = None
    last_changes: Mapping[str, Day] = field(default_factory=dict)
    """The day of the last change to a page, by its path, where the records tell it."""
    traced_log: TracedLogPage | None = None
    stills: tuple[Still, ...] = ()
    """Pictures for video, where they were asked for."""
    uses: Mapping[str, Uses] = field(default_factory=dict)
    """What each method stands behind, by its id."""
