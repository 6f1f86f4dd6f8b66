"""Events, citations and the feed: what the records tell of new, amended and withdrawn, by their own dates."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from generator.model.catalogue import Catalogue
from generator.presenting.citations import cite_catalogue, cite_device, cite_record
from generator.presenting.feed import LONGEST_FEED, present_feed
from generator.presenting.history import Happened
from tests.presenting.small_sites import a_whole_catalogue, context_of, given
from tests.scoring.builders import Data, a_device, a_test

CHANGED = {"date": "2025-08-01", "reason": "a slip of the pen", "changed": "the humidity from 63 % to 43 %"}
GONE = {"date": "2025-09-02", "reason": "Another mask had been worn."}


def a_history(device: Data | None = None, publication: Data | None = None, **test: Any) -> Catalogue:
    return a_whole_catalogue(a_test([given(100.0)], **test), device=a_device(**device or {}), publication=publication)


def days_of(catalogue: Catalogue, page: str) -> list[tuple[str, str]]:
    return [(event.day.isoformat(), event.what.value) for event in context_of(catalogue).history.on(page)]


ISSUED = "2025-07-01"


@pytest.mark.parametrize(
    ("test", "device", "of_record", "of_device"),
    [
        ({}, {}, [(ISSUED, "new")], [(ISSUED, "new")]),
        (
            {"amendments": [CHANGED], "withdrawn": GONE},
            {},
            [(ISSUED, "new"), ("2025-08-01", "amended"), ("2025-09-02", "withdrawn")],
            [(ISSUED, "new"), ("2025-08-01", "amended"), ("2025-09-02", "withdrawn")],
        ),
        (
            {},
            {"amendments": [CHANGED], "withdrawn": GONE},
            [(ISSUED, "new")],
            [(ISSUED, "new"), ("2025-08-01", "amended"), ("2025-09-02", "withdrawn")],
        ),
    ],
)
def test_what_happened_to_a_page(
    test: Data, device: Data, of_record: list[tuple[str, str]], of_device: list[tuple[str, str]]
) -> None:
    catalogue = a_history(device, **test)
    assert days_of(catalogue, "records/test") == of_record
    assert days_of(catalogue, "devices/device") == of_device


def test_a_device_without_a_record_has_no_date_and_no_entry() -> None:
    alone = a_whole_catalogue(device=a_device())
    context = context_of(alone)
    assert context.history.events == ()
    assert present_feed(context) is None
    assert "(undated)" in cite_device(context.catalogue.devices["device"], context).text
    assert cite_device(context.catalogue.devices["device"], context).versions == ()


def test_the_feed_has_an_entry_for_each_event_newest_first_with_an_id_of_its_own() -> None:
    feed = present_feed(context_of(a_history({"amendments": [CHANGED]}, amendments=[CHANGED], withdrawn=GONE)))
    assert feed is not None
    host = feed.site.removeprefix("https://").rstrip("/")
    # source: RFC 4151, section 2.1: "tag:" authorityName "," date ":" specific
    assert [(entry.id, entry.category) for entry in feed.entries] == [
        (f"tag:{host},2025-09-02:/records/test/withdrawn", "withdrawn"),
        (f"tag:{host},2025-08-01:/records/test/amended-1", "amended"),
        (f"tag:{host},2025-08-01:/devices/device/amended-1", "amended"),
        (f"tag:{host},{ISSUED}:/records/test/new", "new"),
        (f"tag:{host},{ISSUED}:/devices/device/new", "new"),
    ]
    assert feed.updated == feed.entries[0].updated == "2025-09-02T00:00:00Z"
    assert feed.entries[1].summary.endswith("the humidity from 63 % to 43 %. Reason: a slip of the pen."), feed.entries[
        1
    ].summary
    assert feed.entries[0].summary.endswith("Reason: Another mask had been worn.")
    assert feed.entries[0].address == f"{feed.site}records/test.html"


def test_a_site_below_a_host_keeps_its_path_in_the_ids() -> None:
    feed = present_feed(context_of(a_history(publication={"base_address": "https://bench.example/masks/"})))
    assert feed is not None
    assert feed.entries[0].id == f"tag:bench.example,{ISSUED}:/masks/records/test/new"


def test_the_feed_stops_at_its_longest() -> None:
    many = [{**CHANGED, "changed": f"line {number}"} for number in range(LONGEST_FEED)]
    context = context_of(a_history(amendments=many))
    feed = present_feed(context)
    assert len(context.history.events) == LONGEST_FEED + 2
    assert feed is not None
    assert len(feed.entries) == LONGEST_FEED
    assert {entry.category for entry in feed.entries} == {Happened.AMENDED.value}


def test_an_invented_catalogue_says_so_wherever_it_is_cited_or_followed() -> None:
    for invented, found in ((True, 1), (False, 0)):
        context = context_of(a_history(publication={"invented": invented}))
        feed, test = present_feed(context), context.catalogue.device_tests["test"]
        assert feed is not None
        texts = [
            cite_record(test, context).text,
            cite_catalogue(context).text,
            feed.subtitle,
            feed.entries[0].summary,
        ]
        assert [text.count("Invented demonstration") for text in texts] == [found] * 4


def test_a_record_is_cited_with_version_day_address_and_hash() -> None:
    catalogue = a_history(amendments=[CHANGED], version="2", publication={"invented": False})
    context = context_of(replace(catalogue, record_sha256={"test": "0123456789abcdef" * 4}))
    citation = cite_record(context.catalogue.device_tests["test"], context)
    base, publisher, title = (
        getattr(context.catalogue.publication, name) for name in ("base_address", "publisher", "title")
    )
    name = context.catalogue.devices["device"].name
    assert citation.text == (
        f"{publisher} (2025). Test report test: {name}. Version 2, amended 1 August 2025. {title}. "
        f"{base}records/test.html#version-of-2025-08-01 (SHA-256 0123456789abcdef)."
    )
    assert [version.id for version in citation.versions] == [f"version-of-{ISSUED}", "version-of-2025-08-01"]


def test_a_device_is_cited_with_the_hash_of_all_records_and_says_what_its_address_keeps() -> None:
    context = context_of(replace(a_history(), record_sha256={"test": "0123456789abcdef" * 4}))
    citation = cite_device(context.catalogue.devices["device"], context)
    # source of the hash: sha256sum, GNU coreutils, over "test", a space and the record's own hash, without a line's end
    assert citation.text == (
        "Nobody (2025). Device (device): what tests gave. Device file version 1, state of 1 July 2025. Catalogue. "
        "https://nowhere.example/devices/device.html#version-of-2025-07-01 (SHA-256 1f0090cc4408a706). Invented "
        "demonstration data."
    )
    assert citation.note == (
        "This address leads to the page as it reads today. Earlier versions are not kept whole: what changed stands "
        "with the records and amendments. The SHA-256 over the device’s records says which state a copy belongs to."
    )


def test_what_happened_on_one_day_has_one_address() -> None:
    same = {**GONE, "date": CHANGED["date"]}
    context = context_of(a_history(amendments=[CHANGED], withdrawn=same))
    record = cite_record(context.catalogue.device_tests["test"], context)
    assert [(version.id, version.text) for version in record.versions][1:] == [
        ("version-of-2025-08-01", "amended; withdrawn.")
    ]
    device = cite_device(context.catalogue.devices["device"], context)
    assert device.versions[-1].text == "test amended; test withdrawn."


def test_no_citation_ends_a_sentence_twice() -> None:
    publication = {"publisher": "Bench and Co.", "title": "What masks did.", "invented": False}
    context = context_of(a_history({"name": "Mask no. 1."}, publication=publication))
    texts = [
        cite_record(context.catalogue.device_tests["test"], context).text,
        cite_device(context.catalogue.devices["device"], context).text,
    ]
    assert [re.findall(r"\.\.", text) for text in texts] == [[], []]
