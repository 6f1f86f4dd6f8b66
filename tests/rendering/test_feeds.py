"""Feed, sitemap and robots.txt: every page once, days of the records alone, and no text that is markup."""

from __future__ import annotations

from collections.abc import Sequence

from lxml import etree

from generator.presenting.page_views import Site
from generator.rendering.feeds import pages_for_programs
from generator.rendering.pages import page_markup
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import Data, a_device, a_test

HOSTILE = '</summary><link href="https://elsewhere.example/"/> & \u202e <![CDATA['
PATHS = ["index.html", "records/test.html", "about.html"]
ATOM = "{http://www.w3.org/2005/Atom}"


def a_site(publication: Data | None = None, amendments: Sequence[Data] = ()) -> Site:
    return shown(a_whole_catalogue(a_test([given(100.0)], amendments=list(amendments)), publication=publication))


def test_the_sitemap_names_every_page_and_the_day_of_its_last_change() -> None:
    amended = {"date": "2025-08-01", "reason": "a slip", "changed": "a number"}
    made = pages_for_programs(a_site({"base_address": "https://bench.example/masks/"}, amendments=[amended]), PATHS)
    # source: sitemaps.org, protocol 0.9: urlset, url, loc, lastmod as a W3C date; from memory
    space = {"s": "http://www.sitemaps.org/schemas/sitemap/0.9"}
    sitemap = etree.fromstring(made["sitemap.xml"])
    assert sitemap.tag == f"{{{space['s']}}}urlset"
    assert [
        (url.findtext("s:loc", namespaces=space), url.findtext("s:lastmod", namespaces=space)) for url in sitemap
    ] == [
        ("https://bench.example/masks/index.html", "2025-08-01"),
        ("https://bench.example/masks/records/test.html", "2025-08-01"),
        ("https://bench.example/masks/about.html", None),
    ]


def test_robots_are_spoken_to_at_the_root_of_a_host_only() -> None:
    # source: RFC 9309, section 2.3: the file stands at /robots.txt
    at_root, below = (
        pages_for_programs(a_site({"base_address": f"https://bench.example{path}"}), PATHS) for path in ("/", "/masks/")
    )
    assert at_root["robots.txt"] == b"User-agent: *\nDisallow:\nSitemap: https://bench.example/sitemap.xml\n"
    assert "robots.txt" not in below


def test_hostile_texts_stay_texts_in_the_feed() -> None:
    amended = {"date": "2025-08-01", "reason": HOSTILE, "changed": HOSTILE}
    site = a_site({"title": HOSTILE, "publisher": HOSTILE, "data_licence": HOSTILE}, amendments=[amended])
    feed = etree.fromstring(pages_for_programs(site, PATHS)["feed.xml"])
    assert [entry.findtext(f"{ATOM}category") for entry in feed.iter(f"{ATOM}entry")] == ["", "", ""]
    assert HOSTILE in feed.findtext(f"{ATOM}entry/{ATOM}summary", "")
    assert feed.findtext(f"{ATOM}author/{ATOM}name") == HOSTILE
    hosts = {link.get("href", "").split("/")[2] for link in feed.iter(f"{ATOM}link")}
    assert hosts == {site.data.catalogue.publication.base_address.split("/")[2]}


def test_a_catalogue_without_a_day_has_no_feed_and_leads_to_none() -> None:
    site = shown(a_whole_catalogue(device=a_device()))
    assert list(pages_for_programs(site, PATHS)) == ["sitemap.xml", "robots.txt"]
    for template, page in (("index.html", site.index), ("data.html", site.data_page)):
        assert "feed.xml" not in page_markup(template, page, site.letterhead)
    with_records = a_site()
    assert "feed.xml" in page_markup("data.html", with_records.data_page, with_records.letterhead)


def test_pages_lead_to_the_feed_from_their_head() -> None:
    site = a_site()
    for template, page, root in (
        ("index.html", site.index, ""),
        ("record.html", site.records[0], "../"),
        ("device.html", site.devices[0], "../"),
    ):
        head = page_markup(template, page, site.letterhead).partition("</head>")[0]
        title = site.letterhead.title
        assert f'<link rel="alternate" type="application/atom+xml" title="{title}" href="{root}feed.xml">' in head
