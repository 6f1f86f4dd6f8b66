"""The feed of what is new, amended or withdrawn. All of its dates are the records' own."""

from __future__ import annotations

from urllib.parse import urlsplit

from generator import __version__
from generator.model.base import Day
from generator.presenting.context import Context
from generator.presenting.history import Event, Happened
from generator.presenting.open_data_views import Feed, FeedEntry

FEED_FILE = "feed.xml"
LONGEST_FEED = 500
"""Entries at most: a reader asks for the feed again and again. What is older stands on the pages."""
_TITLES = {Happened.NEW: "New", Happened.AMENDED: "Amended", Happened.WITHDRAWN: "Withdrawn"}


def _moment(day: Day) -> str:
    """Write a day as RFC 4287 asks for a moment: records know no time of the day, so that it begins with the day."""
    return f"{day.isoformat()}T00:00:00Z"


def _tag(event: Event, base_address: str) -> str:
    """Return an event's id as RFC 4151 has tags: who named it, on which day, and what it is."""
    address = urlsplit(base_address)
    return f"tag:{address.hostname},{event.day.isoformat()}:{address.path}{event.place}/{event.key}"


def present_feed(context: Context) -> Feed | None:
    """Return the feed; None where nothing has a date yet, since a feed has to say when it was last changed."""
    publication, events = context.catalogue.publication, context.history.events
    if not events:
        return None
    base = publication.base_address
    invented = "Invented demonstration. " if publication.invented else ""
    return Feed(
        address=f"{base}{FEED_FILE}",
        site=base,
        title=f"{publication.title}: new, amended, withdrawn",
        subtitle=f"{invented}{publication.subtitle}",
        updated=_moment(events[-1].day),
        author=publication.publisher,
        contact=publication.contact,
        rights=publication.data_licence,
        version=__version__,
        entries=tuple(
            FeedEntry(
                id=_tag(event, base),
                title=f"{_TITLES[event.what]}: {event.subject}",
                updated=_moment(event.day),
                category=event.what.value,
                summary=f"{invented}{event.detail}",
                address=f"{base}{event.place}.html",
            )
            for event in reversed(events[-LONGEST_FEED:])
        ),
    )
