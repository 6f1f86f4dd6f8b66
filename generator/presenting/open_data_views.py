"""What those who cite, follow or compute anew read: citations, the feed, the page of open data."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.page_parts import PageHead
from generator.presenting.views import Fact, Table


@dataclass(frozen=True)
class VersionView:
    """A page as it stood from one day on. `id` is its address on the page, for good."""

    id: str
    day: str
    text: str


@dataclass(frozen=True)
class Citation:
    """How a page is cited, and since when it reads as it does. Both end with what stands now."""

    text: str
    versions: tuple[VersionView, ...]
    note: str
    """What is kept of earlier versions."""


@dataclass(frozen=True)
class FeedEntry:
    """One event, as RFC 4287 has entries."""

    id: str
    title: str
    updated: str
    category: str
    summary: str
    address: str


@dataclass(frozen=True)
class Feed:
    """All events that the feed tells of, newest first."""

    address: str
    site: str
    title: str
    subtitle: str
    updated: str
    author: str
    contact: str
    rights: str
    version: str
    """The generator's."""
    entries: tuple[FeedEntry, ...]


@dataclass(frozen=True)
class DataPage:
    """What data there is, under which licence, how it is cited and checked."""

    head: PageHead
    licence: str
    licence_address: str | None
    citation: Citation
    files: tuple[Table, ...]
    reading: tuple[Fact, ...]
    """What a reader of the tables must know: bounds, empty cells, formulas."""
    feed: str | None
    """What the feed tells; None where no event has a date, so that there is no feed."""
