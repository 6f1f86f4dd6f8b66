"""What a reader sees of comparisons. Templates print these and compute nothing."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.page_parts import PageHead, Paper
from generator.presenting.views import Cautions, Derivation, Fact, Link, ScaleChart, Table


@dataclass(frozen=True)
class SideLine:
    """One line in a cell; a line with a value has an id."""

    text: str
    note: str = ""
    id: str | None = None
    href: str | None = None


@dataclass(frozen=True)
class SideCell:
    """What is known of a device under one heading."""

    heading: str
    lines: tuple[SideLine, ...]
    sure: tuple[SideLine, ...] = ()
    """How sure it is: folded where it can be unfolded."""


@dataclass(frozen=True)
class SideRow:
    """A device beside the others."""

    id: str
    link: Link
    about: tuple[SideLine, ...]
    """Maker and kind, mass and price."""
    cells: tuple[SideCell, ...]


@dataclass(frozen=True)
class DifferenceRow:
    """A pair of devices: what follows, how many times, what it rests on."""

    id: str
    pair: str
    cells: tuple[SideCell, ...]


@dataclass(frozen=True)
class DifferencesTable:
    """The differences of a comparison that are stated, a row each."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[DifferenceRow, ...]


@dataclass(frozen=True)
class WorkingPart:
    """How one number of a difference comes about."""

    title: str
    value: Derivation


@dataclass(frozen=True)
class DifferenceWorking:
    """How everything that is said of a difference comes about."""

    key: str
    name: str
    result: str
    parts: tuple[WorkingPart, ...]


@dataclass(frozen=True)
class ComparisonPage:
    """Devices side by side: the question, the scales, the table, the differences, the cautions."""

    head: PageHead
    id: str
    title: str
    question: str
    note: str | None
    sentences: tuple[str, ...]
    """How many devices, which were withdrawn, what is left out."""
    fit_chart: ScaleChart | None
    no_fit_chart: str
    flow_chart: ScaleChart | None
    no_flow_chart: str
    columns: tuple[str, ...]
    rows: tuple[SideRow, ...]
    differences: DifferencesTable | None
    not_stated: Table | None
    no_differences: str
    workings: tuple[DifferenceWorking, ...]
    cautions: Cautions
    pdf: Link
    choose: Link | None
    """The page of one's own choice with these devices; None where they are too many for it."""


@dataclass(frozen=True, kw_only=True)
class ComparisonPaper(Paper):
    """A comparison on paper."""

    template: str = "comparison_sheet.html"
    comparison: ComparisonPage


@dataclass(frozen=True)
class ComparisonsIndex:
    """All comparisons: the reviewer's own, and one for each kind."""

    head: PageHead
    choose: Link
    own: tuple[Fact, ...]
    of_kinds: tuple[Fact, ...]


@dataclass(frozen=True)
class CatalogueRow:
    """A device in the catalogue on paper."""

    link: Link
    about: str
    """Its maker, and whether it was withdrawn."""
    address: str
    """Where its page is, from the site's root."""
    worn: str
    fit: str
    flow: str
    cautions: str


@dataclass(frozen=True)
class CatalogueGroup:
    """The devices of one kind, with the levels that figures of this kind are held against."""

    heading: str
    anchor: str
    levels: tuple[str, ...]
    columns: tuple[str, ...]
    rows: tuple[CatalogueRow, ...]


@dataclass(frozen=True, kw_only=True)
class CataloguePaper(Paper):
    """The whole catalogue on paper, without workings: those are in the data sheets."""

    template: str = "catalogue.html"
    cover: tuple[Fact, ...]
    reading: tuple[str, ...]
    """How to read a row."""
    scale: ScaleChart
    contents: tuple[Link, ...]
    groups: tuple[CatalogueGroup, ...]
    cautions: Cautions
    """Every caution that is raised, worst first, in `open`."""
    methods: tuple[Link, ...]
    glossary: tuple[Fact, ...]
