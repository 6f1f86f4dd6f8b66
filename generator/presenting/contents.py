"""The table of contents of a device's page: its sections in their order, as the template sets them."""

from __future__ import annotations

from dataclasses import replace

from generator.presenting.page_views import DevicePage
from generator.presenting.views import Link


def with_contents(page: DevicePage) -> DevicePage:
    """Return the page with its table of contents."""
    return replace(page, contents=tuple(Link(heading, f"#{anchor}") for anchor, heading in _sections(page)))


def _sections(page: DevicePage) -> list[tuple[str, str]]:
    """Return id and heading of every numbered section."""
    meaning = page.meaning
    optional = {
        "configurations": page.configurations,
        "same-day": meaning.same_day,
        "off-time": meaning.off_time,
        "burden": page.burden,
        "comparisons": page.comparisons,
    }
    sections = [
        *((section.anchor, section.heading) for section in page.measured),
        ("evidence", "What this rests on"),
        ("configurations", "Configurations"),
        ("same-day", "Worn the same day by the same wearer"),
        ("off-time", "Hypothetical: what if it is not worn all the time?"),
        ("may-be-said", "What may be said"),
        ("records", "Test records"),
        ("claims", "What its maker says"),
        ("assigned", "Assigned protection factors"),
        ("device", "Design notes"),
        ("burden", "The burden of wearing it"),
        ("cost", "Cost"),
        ("corrections", "Corrections"),
        ("maker", "Letters to the maker, and interests"),
        ("comparisons", "Compared with others"),
    ]
    return [(anchor, heading) for anchor, heading in sections if optional.get(anchor, True)]
