"""Pages: what is missing stops them, what is hostile is escaped, nothing on them runs or asks elsewhere."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib
import pytest
from jinja2 import UndefinedError
from lxml import html

from generator.presenting.page_views import Site
from generator.presenting.views import TopicSection
from generator.rendering import whole_site
from generator.rendering.assets import SCRIPTS
from generator.rendering.fonts import FACES
from generator.rendering.pages import page_markup
from generator.rendering.whole_site import render_site
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import Data, a_device, a_run, a_session, a_test, readings
from tests.scoring.comparison_builders import a_comparison

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; base-uri 'none'; "
    "form-action 'none'"
)
OWN_SCRIPTS = "@src and @defer and not(text()) and count(@*)=2"
"""A script of the site's own: loaded from a file after the page was read; nothing stands inside it."""
DATA = "@type='application/ld+json' and count(@*)=1"
"""Data that search engines read; a browser runs no script of this type."""
PAPERS = ("sheet.html", "comparison_sheet.html", "catalogue.html")
HOSTILE = '"><script>alert(1)</script><img src=x onerror=alert(1)> {{ 7 * 7 }} {% raw %} & \u202e'


def a_site(**parts: Data) -> Site:
    amendment = {"date": "2025-08-01", "reason": HOSTILE, "changed": HOSTILE}
    earlier = [{"figure": "fit.am.overall", "was": HOSTILE}]
    texts = dict.fromkeys(("notes", "place", "customer", "hygiene", "raw_data"), HOSTILE)
    lists = {key: [HOSTILE] for key in ("deviations", "not_tested", "external_results")}
    test: Data = {**texts, **lists, "amendments": [{**amendment, "earlier": earlier}]} if parts else {}
    sessions = [
        a_session(readings(0, 4, 9), blower="high", adverse_event=HOSTILE if parts else None),
        a_session(id="stop", donning=2, outcome="aborted", reason=HOSTILE if parts else "x", blower="off"),
    ]
    device = a_device("loose_powered_hood", **parts.get("device", {}))
    publication = parts.get("publication", {})
    catalogue = a_whole_catalogue(
        a_test(sessions, [a_run([17.0, 17.1])], **test), device=device, publication=publication
    )
    if parts:
        other = device.model_copy(update={"id": "other"})
        compared = a_comparison("device", "other", title=HOSTILE, question=HOSTILE, note=HOSTILE)
        catalogue = replace(catalogue, devices={"device": device, "other": other}, comparisons={"own": compared})
    return shown(catalogue)


def is_own_script(element: Element) -> bool:
    """Say whether a script is one of the site's own, loaded from its file and nothing else."""
    own = {f"{root}scripts/{name}.js" for root in ("", "../") for name in SCRIPTS}
    return (
        element.tag == "script"
        and element.get("src") in own
        and set(element.attrib) == {"src", "defer"}
        and not (element.text or len(element))
    )


def page_of(site: Site, template: str, page: object) -> str:
    return page_markup(template, page, site.letterhead)


@pytest.fixture(scope="module")
def hostile() -> Site:
    device = {
        "name": HOSTILE,
        "maker": HOSTILE,
        "summary": HOSTILE,
        "amendments": [{"date": "2025-08-01", "reason": HOSTILE, "changed": HOSTILE}],
        "withdrawn": {"date": "2025-08-01", "reason": HOSTILE},
        "claims": [{"quotation": HOSTILE, "where": HOSTILE, "date": "2025-01-01"}],
        "approvals_stated": [{"scheme": HOSTILE, "number": HOSTILE, "date_checked": "2025-01-01", "covers": HOSTILE}],
    }
    publication = {"title": HOSTILE, "subtitle": HOSTILE, "publisher": HOSTILE, "disclosure": HOSTILE}
    return a_site(device=device, publication=publication)


@pytest.mark.parametrize(
    ("template", "part"),
    [
        ("index.html", lambda site: site.index),
        ("device.html", lambda site: site.devices[0]),
        ("record.html", lambda site: site.records[0]),
        ("about.html", lambda site: site.about),
        ("corrections.html", lambda site: site.corrections),
        ("data.html", lambda site: site.data_page),
        ("requirements.html", lambda site: site.requirements),
        ("reading.html", lambda site: site.reading),
        ("glossary.html", lambda site: site.glossary),
        ("methods_index.html", lambda site: site.methods_index),
        ("method.html", lambda site: site.methods[0]),
        ("sheet.html", lambda site: site.sheets[0]),
        ("comparison.html", lambda site: site.comparisons[0]),
        ("comparisons_index.html", lambda site: site.comparisons_index),
        ("compare.html", lambda site: site.comparing),
        ("comparison_sheet.html", lambda site: site.papers[0]),
        ("catalogue.html", lambda site: site.papers[-1]),
    ],
)
def test_hostile_texts_stay_texts(template: str, part: object, hostile: Site) -> None:
    assert callable(part)
    markup = page_markup(template, part(hostile), hostile.letterhead, paper=template in PAPERS)
    page = html5lib.parse(markup, namespaceHTMLElements=False)
    active = [each for each in page.iter() if str(each.tag).rpartition("}")[2] in ("script", "img")]
    foreign = [each for each in active if not is_own_script(each) and each.attrib != {"type": "application/ld+json"}]
    assert [(each.tag, each.attrib, each.text) for each in foreign] == []
    attributes = [name for element in page.iter() for name in element.attrib if str(name).startswith("on")]
    assert attributes == []
    assert "49" not in re.findall(r"alert\(1\)[^{]{0,20}\b49\b", markup)


def test_hostile_names_are_shown_as_they_are(hostile: Site) -> None:
    page = html.fromstring(page_of(hostile, "device.html", hostile.devices[0]))
    assert page.xpath("string(//h1)") == HOSTILE
    assert HOSTILE in page.xpath("string(//head/title)")
    assert HOSTILE in page.xpath("string(//*[@id='withdrawn'])")
    # The device's amendment and its record's, each with what and why; the reason of the withdrawal.
    assert page.xpath("string(//*[@id='corrections'])").count(HOSTILE) == 5
    record = html.fromstring(page_of(hostile, "record.html", hostile.records[0]))
    for identity in (
        "report-c",
        "report-e",
        "report-n",
        "report-p",
        "hygiene",
        "adverse-events",
        "amendments",
        "corrected",
    ):
        assert HOSTILE in record.xpath("string(//*[@id=$identity])", identity=identity)


def test_something_missing_stops_a_page() -> None:
    site = a_site()
    with pytest.raises(UndefinedError, match="RecordPage object' has no attribute 'kind'"):
        page_of(site, "device.html", site.records[0])


def test_a_topic_without_a_template_stops_a_page() -> None:
    site = a_site()
    section = TopicSection("../../secrets", "x", "x", (), (), None, (), (), ())
    with pytest.raises(KeyError, match="secrets"):
        page_of(site, "device.html", replace(site.devices[0], measured=(section,)))


def test_pages_have_two_drawings_of_a_chart_and_paper_one() -> None:
    site = a_site()
    page = page_of(site, "device.html", site.devices[0])
    # Two scales and the diagram of the air path.
    assert [page.count(f'class="scale {kind}"') for kind in ("wide", "narrow")] == [3, 3]
    paper = page_markup("sheet.html", site.sheets[0], site.letterhead, paper=True)
    assert [paper.count(f'class="scale {kind}"') for kind in ("wide", "narrow")] == [3, 0]
    assert ("<math" in page_of(site, "record.html", site.records[0]), "<math" in paper) == (True, False)


def test_a_link_to_a_place_on_the_same_page_is_that_place_alone(hostile: Site) -> None:
    record, device = hostile.records[0], hostile.devices[0]
    links = html.fromstring(page_of(hostile, "record.html", record)).xpath("//a/@href")
    assert [link for link in links if f"{record.head.path}#" in link] == []
    # The place in the record on which a working rests.
    assert links.count("#fit.am") > 1
    elsewhere = html.fromstring(page_of(hostile, "device.html", device)).xpath("//a/@href")
    assert any(link.startswith(f"../{record.head.path}#") for link in elsewhere)


def test_every_page_of_the_demo_carries_the_policy_and_runs_nothing_but_the_sites_own_scripts(demo_site: Path) -> None:
    pages = sorted(demo_site.rglob("*.html"))
    assert len(pages) > 40
    for path in pages:
        page = html.fromstring(path.read_bytes())
        where = str(path.relative_to(demo_site))
        assert page.xpath("//meta[@http-equiv='Content-Security-Policy']/@content") == [POLICY], where
        runs = f"//script[not({OWN_SCRIPTS}) and not({DATA})]"
        leads_away = "//style | //iframe | //object | //embed | //form"
        assert page.xpath("//link[@rel!='stylesheet' and @rel!='alternate']") == [], where
        assert page.xpath(f"{runs} | {leads_away}") == [], where
        assert page.xpath("//@style") == [], where
        assert [name for element in page.iter() for name in element.attrib if str(name).startswith("on")] == [], where


def test_no_page_of_the_demo_asks_for_anything_elsewhere(demo_site: Path) -> None:
    for path in demo_site.rglob("*.html"):
        page = html.fromstring(path.read_bytes())
        asked = page.xpath("//@src | //link/@href | //@srcset | //@poster | //@data | //*[local-name()='use']/@href")
        assert [address for address in asked if ":" in address or address.startswith("//")] == [], path.name


def test_no_page_of_the_demo_ends_a_sentence_twice(demo_site: Path) -> None:
    found = [
        (path.name, match[0])
        for path in demo_site.rglob("*.html")
        for match in re.finditer(r"[^.]{1,40}\.\.(?!\.)", html.fromstring(path.read_bytes()).text_content())
    ]
    assert found == []


def test_the_site_is_made_of_pages_sheets_style_and_fonts(monkeypatch: pytest.MonkeyPatch) -> None:
    site = a_site()
    told: list[tuple[int, int, str]] = []
    # The setting of sheets has tests of its own, and takes long.
    monkeypatch.setattr(whole_site, "render_sheet", lambda *parts: b"%PDF")
    files = render_site(site, lambda done, total, what: told.append((done, total, what)))
    assert {"index.html", "about.html", "requirements.html", "methods/index.html", "style.css"} < set(files)
    assert files["devices/device.pdf"] == b"%PDF"
    assert {f"fonts/{name}.woff2" for _, name, _ in FACES} < set(files)
    made = [path for path in files if path.endswith((".html", ".pdf"))]
    assert [what for _, _, what in told] == made
    assert [done for done, _, _ in told] == list(range(1, len(made) + 1))
    assert {total for _, total, _ in told} == {len(made)}


def test_a_record_without_fit_or_flow_shows_only_what_it_has() -> None:
    site = shown(a_whole_catalogue(a_test([given(150.0)])))
    page = html.fromstring(page_of(site, "record.html", site.records[0]))
    assert page.xpath("//section/@id")[:2] == ["record", "fit"]
    assert "flow" not in page.xpath("//section/@id")
