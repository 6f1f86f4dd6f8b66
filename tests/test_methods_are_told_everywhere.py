"""Every figure of the demo leads to its method and back, and words lead to the glossary from sentences alone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from lxml import html

from generator.model.catalogue_result import CatalogueResult

METHODS = 'contains(@href, "methods/")'


def page(site: Path, path: str) -> Any:
    return html.fromstring((site / path).read_bytes())


def test_every_figure_of_a_record_leads_to_its_method(demo_site: Path, scored: CatalogueResult) -> None:
    seen = 0
    for name, record in scored.records.items():
        by_id = {element.get("id"): element for element in page(demo_site, f"records/{name}.html").xpath("//*[@id]")}
        for topic in record.topics.values():
            for figure in topic.figures:
                if figure.working is None:
                    continue
                links = by_id[f"working.{figure.key}"].xpath(".//a/@href")
                assert f"../methods/{figure.working.method}.html" in links, (name, figure.key)
                seen += 1
            for verdict in topic.verdicts:
                if verdict.rule is not None and "verdict" in (by_id[verdict.key].get("class") or ""):
                    assert by_id[verdict.key].xpath(f".//a[{METHODS}]"), (name, verdict.key)
    assert seen > 1000


def test_every_shown_figure_and_working_names_a_method(demo_site: Path) -> None:
    for path in sorted([*demo_site.glob("devices/*.html"), *demo_site.glob("records/*.html")]):
        shown = html.fromstring(path.read_bytes())
        for element in shown.xpath('//*[@class="figure"] | //*[starts-with(@id, "working.")]'):
            assert element.xpath(f".//a[{METHODS}]"), (path.name, element.get("id"))


def test_methods_lead_back_to_what_they_stand_behind(demo_site: Path) -> None:
    used = [
        path
        for path in demo_site.glob("methods/*.html")
        if page(demo_site, f"methods/{path.name}").xpath('//*[@id="uses"]//li')
    ]
    assert len(used) > 100
    flow = page(demo_site, "methods/mean-flow.html")
    assert flow.xpath('string(//*[@id="uses"]//p)').startswith("It stands behind ")
    assert all(href.startswith("../") for href in flow.xpath('//*[@id="uses"]//li/a/@href'))
    for check in flow.xpath('//*[@id="checks"]//li'):
        assert [term.text_content() for term in check.xpath(".//dt")][:2] == ["Expected", "The function gives"]


def test_first_uses_stand_in_sentences_alone_and_once(demo_site: Path) -> None:
    linked = 0
    for folder in ("devices", "records", "comparisons"):
        for path in sorted((demo_site / folder).glob("*.html")):
            links = html.fromstring(path.read_bytes()).xpath('//main//a[contains(@href, "glossary.html#")]')
            places = [link.get("href") for link in links]
            assert len(places) == len(set(places)), path.name
            for link in links:
                parents = {parent.tag for parent in link.iterancestors()}
                assert "p" in parents, (path.name, link.text)
                assert not parents & {"h1", "h2", "h3", "h4", "table", "summary", "a"}, (path.name, link.text)
            linked += len(places)
    assert linked > 500
