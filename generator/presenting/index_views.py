"""The catalogue's first page as data: one table of all devices, and what it is searched, filtered and ordered by."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.page_parts import PageHead
from generator.presenting.views import Cautions, IndexCell, Link, ScaleChart


@dataclass(frozen=True)
class IndexColumn:
    """A column of the table."""

    key: str
    """Its name in addresses, such as `fit`."""
    heading: str
    ordered: str
    """By what the rows stand when they are ordered by this column, as a sentence."""
    reversed: str
    """The same for the reverse order."""


@dataclass(frozen=True)
class Choice:
    """One of the values that a filter can be set to."""

    value: str
    text: str


@dataclass(frozen=True)
class IndexFilters:
    """What the rows can be filtered by; only values that some row has."""

    kinds: tuple[Choice, ...]
    supply: tuple[Choice, ...]
    """How the air supply stands to its requirement."""
    currencies: tuple[Choice, ...]


@dataclass(frozen=True)
class IndexRow:
    """A device in the index."""

    id: str
    link: Link
    maker: str
    cells: tuple[IndexCell, ...]
    price: str
    evidence: str
    """Who wore it."""
    donnings: str
    """How often, and in how many attempts; empty where nobody wore it."""
    records: str
    caution: str | None
    """The heading of the worst caution."""
    cautions: str
    sheet: Link
    data: tuple[tuple[str, str], ...]
    """By what a script filters and orders the row: names and values of its data attributes."""
    withdrawn: str | None = None
    """That the device was withdrawn and when; None where it stands."""


@dataclass(frozen=True)
class IndexGroup:
    """The devices of one kind."""

    heading: str
    anchor: str
    powered: bool
    rows: tuple[IndexRow, ...]


@dataclass(frozen=True)
class IndexPage:
    """The catalogue's first page."""

    head: PageHead
    question: str
    promise: str
    scale: ScaleChart
    columns: tuple[IndexColumn, ...]
    by_kind: str
    """The order in which the rows stand until a reader chooses another, as a sentence."""
    filters: IndexFilters
    groups: tuple[IndexGroup, ...]
    counts: str
    cautions: Cautions
    catalogue_pdf: Link
    choose: Link
    """The page where devices can be chosen and compared."""
    comparisons: tuple[Link, ...]

    @property
    def width(self) -> int:
        """How many columns the heading of a kind spans."""
        return len(self.columns)
