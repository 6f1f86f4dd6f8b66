"""Comparisons and the whole catalogue: the same values on page, in JSON and in the PDF; a thousand rows in bounds."""

from __future__ import annotations

import io
import json
import math
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pypdf
import pytest
from lxml import html

from generator.presenting.comparison_views import CataloguePaper
from generator.presenting.digits import THIN
from generator.presenting.page_views import Site
from generator.rendering.open_data import open_data
from generator.rendering.pages import page_markup
from generator.rendering.sheets import render_sheet
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import Data, a_run, a_session, a_test, a_wearer
from tests.scoring.comparison_builders import WEARERS, a_comparison, inside, one_each, several, worn

ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.fixture(scope="module")
def site() -> Site:
    tests = [
        worn("first", one_each("30 /cm3", "10 /cm3", "20 /cm3", blower="high")),
        worn("second", one_each("300 /cm3", "200 /cm3", "100 /cm3", blower="low")),
        a_test(flow=[a_run([200.0, 200.0])], id="flows", device="first"),
    ]
    wearers = {name: a_wearer(name, letter) for name, letter in zip(WEARERS, "ABCD", strict=True)}
    base = a_whole_catalogue(*tests, wearers=wearers)
    note = "Read *this*."
    own = a_comparison("second", "first", title="Two hoods", question="Which of the two?", note=note)
    return shown(several([], {"first": {}, "second": {}}, "loose_powered_hood", [own], base))


def text_of(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def test_page_json_and_pdf_hold_the_same_difference(site: Site) -> None:
    (page, _), (paper, _, _) = site.comparisons, site.papers
    markup = html.fromstring(page_markup("comparison.html", page, site.letterhead))
    data = json.loads(open_data(site.data, ())["data/catalogue.json"])["comparison_results"]["own"]
    (difference,) = data["differences"]
    # source: definition; 10, 15 and 30 against 100, 300 and 150: the cube root of 1/10 times 1/20 times 1/5. The
    # logarithms lie at -ln 2, 0 and ln 2 from their mean, so that s = ln 2; t from scipy 1.17.1, stats.t.ppf(0.975, 2)
    half = 4.302652729749462 * math.log(2) / math.sqrt(3)
    assert difference["ratio"]["value"] == pytest.approx(0.1, rel=1e-9)
    assert "working" not in difference["ratio"]
    shown_ratio = markup.xpath("string(//*[@id='difference-second-first.ratio'])")
    assert " ".join(shown_ratio.replace(THIN, "~").split()) == "0.10 times 95 % interval 0.017 to 0.56"
    assert (difference["ratio"]["interval"]["low"], difference["ratio"]["interval"]["high"]) == pytest.approx(
        (0.1 / math.exp(half), 0.1 * math.exp(half))
    )
    text = " ".join(text_of(render_sheet(paper, site.letterhead, {})))
    assert "0.10 times 95 % interval 0.017 to 0.56" in text
    for identity in ("fit-first-1", "worn-first", "flow-flows-high", "mass-first"):
        value = " ".join(markup.xpath(f"string(//*[@id='{identity}'])").split())
        assert value
        assert value in text, identity
    assert data["devices"]["first"]["groups"][0]["highest"]["value"] == pytest.approx(300)
    assert markup.xpath("string(//*[@id='fit-first-1'])") == "100 to 300"


def test_the_working_of_a_difference_leads_to_the_sessions(site: Site) -> None:
    markup = html.fromstring(page_markup("comparison.html", site.comparisons[0], site.letterhead))
    (working,) = markup.xpath("//*[@id='working.difference-second-first']")
    assert "../records/first-test.html#working.fit.s0.overall" in working.xpath(".//@href")
    assert "../methods/paired-log-ratio.html" in working.xpath(".//@href")
    assert "Read <em>this</em>." in page_markup("comparison.html", site.comparisons[0], site.letterhead)


TREES = ("ash", "birch", "cedar", "dogwood", "elder", "fir", "gorse", "hazel", "ivy", "juniper", "larch")


def on(wearers: Sequence[str], factor: float) -> list[Data]:
    """Return a session of each wearer, whose factors are 1.2 times one another."""
    return [
        a_session(inside(f"{3000 / factor / 1.2**n:.3f} /cm3"), id=wearer, wearer=wearer)
        for n, wearer in enumerate(wearers)
    ]


def test_what_follows_is_the_same_on_page_in_json_and_on_paper() -> None:
    tests = (worn("first", on(TREES[:8], 900)), worn("second", on(TREES[:8], 90)), worn("third", on(TREES[7:], 9)))
    wearers = {name: a_wearer(name, letter) for name, letter in zip(TREES, "ABCDEFGHIJK", strict=True)}
    own = a_comparison("first", "second", "third")
    base = a_whole_catalogue(*tests, wearers=wearers)
    site = shown(several([], {"first": {}, "second": {}, "third": {}}, "filtering_facepiece", [own], base))
    markup = html.fromstring(page_markup("comparison.html", site.comparisons[0], site.letterhead))
    text = " ".join(text_of(render_sheet(site.papers[0], site.letterhead, {}))).replace(THIN, " ")
    found = json.loads(open_data(site.data, ())["data/catalogue.json"])["comparison_results"]["own"]["differences"]
    # source: definition; eight pairs all on one side are 2 of 256 patterns; both of other wearers are smaller
    assert [each["people"] for each in found] == ["same_wearers", "other_wearers", "other_wearers"]
    assert (found[0]["chance"]["value"], found[0]["adjusted_chance"]["value"]) == (2 / 256, 2 / 256)
    assert [each["decision"]["apart"] for each in found] == ["first_higher"] * 3
    assert "working" not in found[0]["decision"]
    said = {
        "difference-first-second.apart": "On these wearers the fit factor was higher with First than with Second.",
        "difference-first-second.chance": "a probability of 0.0078; with eight wearers it cannot go below 0.0078.",
        "difference-first-second.adjusted": "Adjusted for the three differences of this comparison: 0.0078.",
        "difference-first-second.people": "The same eight wearers wore both: A, B, C, D, E, F, G and H.",
        "difference-first-third.people": "Different people: A, B, C, D, E, F and G with First, I, J and K with Third.",
    }
    for identity, words in said.items():
        (element,) = markup.xpath(f"//*[@id='{identity}']")
        assert words in " ".join(element.text_content().split())
        assert words in text
    assert "Wearer H wore both and is left out" in text


def test_a_comparison_on_paper_says_what_it_is_and_where_it_ends(site: Site) -> None:
    paper = site.papers[0]
    texts = text_of(render_sheet(paper, site.letterhead, {}))
    assert paper.path == "comparisons/own.pdf"
    assert all("Two hoods · own · newest record issued 1 July 2025" in text for text in texts)
    assert "Which of the two?" in texts[0]
    assert "End of the comparison Two hoods (own)." in texts[-1]
    assert [text.endswith(f"{number} of {len(texts)}") for number, text in enumerate(texts, 1)] == [True] * len(texts)


def test_the_catalogue_on_paper(site: Site) -> None:
    paper = site.papers[-1]
    pdf = render_sheet(paper, site.letterhead, {})
    texts = text_of(pdf)
    assert paper.path == "catalogue.pdf"
    cover, contents, rows = texts[0], texts[1], texts[2]
    assert "Newest record issued 1 July 2025" in cover
    assert site.index.head.records is not None
    assert site.index.head.records.sha256 in cover
    assert "Invented demonstration" in cover
    # Numbers of pages are those that the library itself laid out: each heading is looked for on its page.
    for heading, number in (("Loose-fitting powered, hood or helmet", 3), ("Cautions", 3), ("Glossary", 5)):
        assert f"{heading} {number}" in contents
        assert heading in texts[number - 1]
    assert "Supply flow" in rows
    assert "at least 170" in rows
    assert "Source: 42 CFR Part 84" in rows
    assert "First Maker, devices/first.html" in rows
    assert "three wearers, three donnings" in rows
    assert "100 to 300; with the blower at high" in rows
    assert f"200{THIN}L/min: meets the requirement" in rows.replace("200 L/min", f"200{THIN}L/min")
    assert "No wearer put this device on twice." in " ".join(texts[2:])
    assert "Fit factor The concentration of particles outside over that inside." in " ".join(texts)
    assert "End of the catalogue Catalogue." in texts[-1]
    assert render_sheet(paper, site.letterhead, {}) == pdf


def test_the_catalogue_says_the_same_as_the_first_page(site: Site) -> None:
    markup = html.fromstring(page_markup("index.html", site.index, site.letterhead))
    assert markup.xpath("string(//a[@id='catalogue-pdf']/@href)") == "catalogue.pdf"
    (fit,) = markup.xpath("//tr[th/a[text()='First']]/td[1]/span[@class='value']/text()")
    paper = site.papers[-1]
    assert isinstance(paper, CataloguePaper)
    rows = {row.link.text: row for group in paper.groups for row in group.rows}
    assert rows["First"].fit.startswith(fit)


def test_levels_above_the_rows_are_those_of_their_columns(site: Site) -> None:
    paper = site.papers[-1]
    assert isinstance(paper, CataloguePaper)
    levels = {level for group in paper.groups for level in group.levels}
    # A limit from above, such as that of a resistance (42 CFR 84.172), has no column here, and is no least value.
    assert levels != set()
    assert [level for level in levels if "resistance" in level.lower()] == []


def test_a_withdrawn_device_keeps_its_row_and_a_long_caution_is_cut_after_a_word() -> None:
    withdrawn = {"withdrawn": {"date": "2025-11-02", "reason": "It was recalled."}}
    test = a_test(flow=[a_run([169.0, 171.0])], id="flows", device="second")
    catalogue = several([], {"first": withdrawn, "second": {}}, "loose_powered_hood", [], a_whole_catalogue(test))
    paper = shown(catalogue).papers[-1]
    assert isinstance(paper, CataloguePaper)
    first, second = paper.groups[0].rows
    assert (first.about, first.address) == ("Maker, withdrawn on 2 November 2025", "devices/first.html")
    assert (first.worn, first.flow) == ("nobody", "not measured")
    assert second.flow == f"170{THIN}L/min: undecided"
    assert second.cautions == "two cautions: The measurement cannot say whether the air flow meets the …"


def test_a_thousand_devices_stay_under_sixty_pages_and_400_megabytes() -> None:
    # The time is measured by `make bench`, against the same number of bare rows in the same run.
    made = subprocess.run(
        [sys.executable, "-m", "tests.rendering.large_catalogue", "1000"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    found = json.loads(made.stdout)
    assert found["rows"] == 1000
    assert found["pages"] < 60
    assert found["megabytes"] < 400
    assert "End of the catalogue" in found["end"]
