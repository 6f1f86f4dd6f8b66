"""Descriptions for programs inside pages: read back whole, ended by no text, and without a figure or a rating."""

from __future__ import annotations

import json
from typing import Any

import html5lib
import pytest

from generator.presenting.page_views import Site
from generator.rendering.linked_data import json_in_script
from generator.rendering.pages import page_markup
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import a_device, a_test

HOSTILE = '</script><script>alert(1)</script><!-- \u2028 & " \\ ]]>'
GONE = {"date": "2025-09-02", "reason": "Another mask had been worn."}


def read_back(markup: str) -> list[Any]:
    """Return the data of a page's scripts, as a reader of HTML finds them."""
    page = html5lib.parse(markup, namespaceHTMLElements=False)
    return [json.loads(script.text or "") for script in page.iter("script") if script.get("src") is None]


@pytest.mark.parametrize("text", [HOSTILE, "<!--<script>", "a < b > c & d", "\u2029", "plain"])
def test_what_is_put_in_is_read_back_and_ends_nothing(text: str) -> None:
    written = json_in_script({"name": text, "parts": [text, True, None]})
    assert not set("<>&\u2028\u2029") & set(written)
    markup = f'<title>x</title><script type="application/ld+json">{written}</script><p>y'
    assert read_back(markup) == [{"name": text, "parts": [text, True, None]}]


@pytest.fixture(scope="module")
def site() -> Site:
    device = a_device(name=HOSTILE, maker=HOSTILE, withdrawn=GONE)
    publication = {"title": HOSTILE, "publisher": HOSTILE, "data_licence": HOSTILE}
    return shown(a_whole_catalogue(a_test([given(100.0)]), device=device, publication=publication))


def test_pages_of_hostile_records_hold_their_description_and_nothing_else(site: Site) -> None:
    for template, page in (
        ("index.html", site.index),
        ("device.html", site.devices[0]),
        ("record.html", site.records[0]),
    ):
        assert read_back(page_markup(template, page, site.letterhead)) == [page.head.linked_data]
    assert site.devices[0].head.linked_data is not None
    assert site.devices[0].head.linked_data["name"] == f"Tests of {HOSTILE}"


def test_other_pages_have_none(site: Site) -> None:
    assert read_back(page_markup("data.html", site.data_page, site.letterhead)) == []


def test_a_description_has_dates_licence_and_state_of_the_record(site: Site) -> None:
    device, record = site.devices[0].head.linked_data, site.records[0].head.linked_data
    assert device is not None
    assert record is not None
    assert (record["datePublished"], record["dateModified"], record["version"]) == ("2025-07-01", "2025-07-01", "1")
    assert (device["datePublished"], device["dateModified"]) == ("2025-07-01", "2025-09-02")
    assert (device.get("creativeWorkStatus"), record.get("creativeWorkStatus")) == ("Withdrawn", None)
    # A licence in other words than the known ones is named, not linked.
    assert record["license"] == {"@type": "CreativeWork", "name": HOSTILE}


def test_no_description_holds_a_figure_a_rating_or_a_review(site: Site) -> None:
    for page in (site.index, site.devices[0], site.records[0]):
        names = set(keys(page.head.linked_data))
        assert not names & {"value", "minValue", "maxValue", "review", "aggregateRating", "ratingValue", "award"}
        assert {"name", "license", "publisher", "distribution"} <= names


def keys(value: object) -> list[str]:
    if isinstance(value, dict):
        return [name for key, part in value.items() for name in (key, *keys(part))]
    return [name for part in value for name in keys(part)] if isinstance(value, list) else []


def test_what_was_built_at_home_is_nobodys_product() -> None:
    pages = [shown(a_whole_catalogue(a_test([given(100.0)]), device=a_device(home_built=own))) for own in (False, True)]
    about = [page.devices[0].head.linked_data for page in pages]
    assert [each and each["about"] for each in about] == [
        {"@type": "Product", "name": "Device", "manufacturer": {"@type": "Organization", "name": "Maker"}},
        {"@type": "Thing", "name": "Device"},
    ]
