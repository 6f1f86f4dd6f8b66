"""Pages a figure leads to: methods, requirements, how to read, glossary. Templates print them and compute nothing."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.glossary_terms import Term
from generator.presenting.page_parts import PageHead
from generator.presenting.views import Definition, Fact, Link, ScaleChart, Table, WorkingInput


@dataclass(frozen=True)
class CheckRow:
    """One outside value that a method reproduces, and how closely its function did when it was run for the page."""

    inputs: str
    expected: str
    found: str
    agreement: str
    difference: str
    tolerance: str
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
    used: str
    used_by: tuple[Link, ...]


@dataclass(frozen=True)
class MethodGroup:
    """The methods of one subject."""

    anchor: str
    heading: str
    lead: str
    methods: tuple[Fact, ...]


@dataclass(frozen=True)
class MethodsIndex:
    """All methods by subject, and what a sample inside the mask cannot show."""

    head: PageHead
    counts: str
    groups: tuple[MethodGroup, ...]
    beyond: Link
    lead: str
    biases: tuple[Definition, ...]
    traced_log: Link | None = None
    """The page that follows one log through; None where the catalogue has no such log."""


@dataclass(frozen=True)
class RequirementsPage:
    """Criteria, protocols and assigned factors, each with clause and how it is known."""

    head: PageHead
    criteria_table: Table
    criteria: tuple[Definition, ...]
    panels: Table
    protocols_table: Table
    protocols: tuple[Table, ...]
    assigned: tuple[Table, ...]
    assigned_words: tuple[str, ...]
    work_levels: Table
    """Breathing demand as printed."""


@dataclass(frozen=True)
class Annotated:
    """A drawn example with a note for each of its marks; a term is the mark's letter, or names what is meant."""

    chart: ScaleChart
    notes: tuple[Fact, ...]


@dataclass(frozen=True)
class ReadingPage:
    """How to read the catalogue, and what a fit factor is not."""

    head: PageHead
    answer: tuple[str, ...]
    scale: Annotated
    flow: Annotated
    interval: tuple[str, ...]
    interval_source: str
    verdict: tuple[str, ...]
    verdict_links: tuple[Link, ...]
    verdict_source: str
    not_a_fit_factor: tuple[Definition, ...]


@dataclass(frozen=True)
class GlossaryPage:
    """The words that a reader meets."""

    head: PageHead
    terms: tuple[Term, ...]
