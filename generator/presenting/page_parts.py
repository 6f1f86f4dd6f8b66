"""What pages and papers are put together from: letterhead, head, notices, the report's rows, pictures, attachments."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.model.base import Day
from generator.presenting.views import Fact, Link, Table

LinkedData = Mapping[str, object]
"""A description for programs in JSON-LD, by the terms of schema.org."""


@dataclass(frozen=True)
class Letterhead:
    """What stands on every page."""

    title: str
    subtitle: str
    publisher: str
    contact: str
    licence: str
    made_with: str
    """The generator and the libraries that took part in scoring, with their versions."""
    version: str
    feed: bool
    """Whether there is a feed to lead to."""
    invented: str | None
    not_accredited: str | None
    defer: str
    paper_style: str | None = None
    """The style sheet that papers are set with after their own; None for A4."""


@dataclass(frozen=True)
class Notice:
    """What must be read before anything else on a page: that what it is about was withdrawn."""

    id: str
    heading: str
    text: str
    replaced_by: Link | None


@dataclass(frozen=True)
class RecordsState:
    """One hash over the hashes of records, and which records these are: the state that a page was made from."""

    words: str
    sha256: str


@dataclass(frozen=True)
class PageHead:
    """The head of one page. `root` leads from the page to the site's root; `state` stands as on a letterhead."""

    path: str
    root: str
    title: str
    description: str
    state: tuple[Fact, ...]
    trail: tuple[Link, ...]
    notices: tuple[Notice, ...] = ()
    """What stands above everything else on the page."""
    linked_data: LinkedData | None = None
    """What programs read about what the page is about."""
    records: RecordsState | None = None
    """The records that the page was made from; None where it is made from no record, or from one named on it."""


@dataclass(frozen=True)
class AmendmentView:
    """A change after the issue: when, what, why, and a table of earlier figures beside today's."""

    date: str
    changed: str
    reason: str
    earlier: Table | None


@dataclass(frozen=True)
class ReportRow:
    """One point that a test report answers: restated in short, and answered from the record."""

    id: str
    clause: str
    asked: str
    answer: str
    links: tuple[Link, ...] = ()


@dataclass(frozen=True)
class Report:
    """A record as a test report, point by point; `standing` says that no accredited laboratory wrote it."""

    standing: str
    rows: tuple[ReportRow, ...]
    end: str


@dataclass(frozen=True)
class PictureView:
    """A picture on a page; `alt` says what is to be seen."""

    src: str
    alt: str
    caption: str


@dataclass(frozen=True)
class PictureFile:
    """A picture to publish: its path, and its bytes as they were made anew from the record's file."""

    path: str
    content: bytes


@dataclass(frozen=True)
class Attached:
    """A published record attached to a sheet; `day` is the record's, so that the file does not depend on the clock."""

    record: str
    name: str
    description: str
    day: Day


@dataclass(frozen=True, kw_only=True)
class Paper:
    """A page on paper, to be set as a PDF: where it goes, its template, what runs along its head, what it encloses.

    Paper has no site around it: the root of its head is the published address.
    """

    path: str
    template: str
    head: PageHead
    running_head: str
    attached: tuple[Attached, ...] = ()
