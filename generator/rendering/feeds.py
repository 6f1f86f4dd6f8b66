"""What programs fetch to learn what is new and what there is: the Atom feed, the sitemap, robots.txt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlsplit

from generator.presenting.feed import FEED_FILE
from generator.presenting.page_views import Site
from generator.rendering.pages import page_markup

SITEMAP_FILE = "sitemap.xml"
ROBOTS_FILE = "robots.txt"


@dataclass(frozen=True)
class Listed:
    """A page in the sitemap: its address, and the day of its last change where the records tell it."""

    address: str
    changed: str | None


def _sitemap(site: Site, paths: Sequence[str]) -> bytes:
    base, changes = site.data.catalogue.publication.base_address, site.last_changes
    days = ((path, changes.get(path)) for path in paths)
    listed = [Listed(f"{base}{path}", day.isoformat() if day is not None else None) for path, day in days]
    return page_markup(SITEMAP_FILE, listed, site.letterhead).encode()


def _robots(base_address: str) -> dict[str, bytes]:
    """Return robots.txt, which has a meaning only at the root of a host."""
    if urlsplit(base_address).path != "/":
        return {}
    return {ROBOTS_FILE: f"User-agent: *\nDisallow:\nSitemap: {base_address}{SITEMAP_FILE}\n".encode()}


def pages_for_programs(site: Site, paths: Sequence[str]) -> dict[str, bytes]:
    """Return feed, sitemap and robots.txt, by their paths; `paths` are those of all pages."""
    feed = {FEED_FILE: page_markup(FEED_FILE, site.feed, site.letterhead).encode()} if site.feed is not None else {}
    return feed | {SITEMAP_FILE: _sitemap(site, paths)} | _robots(site.data.catalogue.publication.base_address)
