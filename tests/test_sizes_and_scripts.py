"""Catalogues of extremes are published: valid pages, accessible sheets, links that lead somewhere, no complaint."""

from __future__ import annotations

import html
import re
import shutil
from dataclasses import dataclass
from pathlib import Path

import pypdf
import pytest
from playwright.sync_api import sync_playwright

from generator.publishing.links import link_faults
from tests.faults.places import Ended, Place
from tests.outside.conftest import QUIET
from tests.outside.test_browser import faults
from tests.outside.test_html_checker import remarks
from tests.outside.test_pdf_accessibility import faults as pdf_faults
from tests.sizes_and_scripts import LOG_S, NAMES, NOTES, WEARERS, extreme_records, letters, long_notes


@dataclass(frozen=True)
class Extreme:
    """What was published, and what the command said."""

    place: Place
    ended: Ended

    def page(self, path: str) -> str:
        """Return a page."""
        return (self.place.output / path).read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def extreme(tmp_path_factory: pytest.TempPathFactory, demo_records: Path) -> Extreme:
    folder = tmp_path_factory.mktemp("extreme")
    place = Place(extreme_records(demo_records, folder / "records"), folder / "published" / "output")
    place.output.parent.mkdir()
    return Extreme(place, place.run())


def test_it_is_published_without_a_word_too_many(extreme: Extreme) -> None:
    assert extreme.ended.code == 0, extreme.ended.err
    assert extreme.ended.out.startswith(f"Published {len(NAMES)} devices and 3 test records as ")
    usual = re.compile(
        r"Reading the records|Scoring|\d+/\d+ [^,]+(, .* left)?|Checking every link and putting the site in place"
    )
    assert [line for line in extreme.ended.err.splitlines() if not usual.fullmatch(line)] == []


def test_every_link_leads_somewhere(extreme: Extreme) -> None:
    site = extreme.place.output
    files = {str(path.relative_to(site)): path.read_bytes() for path in site.rglob("*") if path.is_file()}
    assert link_faults(files) == []


def test_every_page_is_valid(extreme: Extreme) -> None:
    assert remarks(*[str(path) for path in sorted(extreme.place.output.rglob("*.html"))]) == []


def test_every_sheet_is_accessible(extreme: Extreme) -> None:
    pdfs = sorted(extreme.place.output.rglob("*.pdf"))
    assert len(list(extreme.place.output.glob("devices/*.pdf"))) == len(NAMES)
    assert {
        "catalogue.pdf",
        *(f"{page.stem}.pdf" for page in extreme.place.output.glob("comparisons/kind-*.html")),
    } <= {pdf.name for pdf in pdfs}
    assert [f"{pdf.name}: {fault}" for pdf in pdfs for fault in pdf_faults(pdf.read_bytes())] == []


def test_every_name_is_shown_on_its_page_as_it_was_written(extreme: Extreme) -> None:
    for device, name in NAMES.items():
        heading = re.search(r"<h1>\u2068?(.*?)\u2069?</h1>", extreme.page(f"devices/{device}.html"))
        assert heading is not None, device
        assert html.unescape(heading[1]) == name


def test_a_sheet_names_the_characters_that_it_lacks(extreme: Extreme) -> None:
    # No typeface of the test's machine, nor any of the two families, has these; where one has, the sheet shows them.
    reader = pypdf.PdfReader(extreme.place.output / "devices" / "chinese.pdf")
    text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
    missing = [character for character in NAMES["chinese"] if character not in text]
    for character in missing:
        assert f"U+{ord(character):04X}" in text
    assert ("A □ stands for a character that no typeface at hand has" in text) == bool(missing)
    assert reader.metadata is not None
    assert reader.metadata.title == f"{NAMES['chinese']}: data sheet"


def test_every_wearer_has_a_letter_of_their_own(extreme: Extreme) -> None:
    page = extreme.page("records/many-wearers.html")
    # source: 26 letters and 174 of the pairs AA, AB ... are 200; 200 - 1 = 7 * 26 + 17, so the last is G and R
    assert (letters(0), letters(25), letters(26), letters(WEARERS - 1)) == ("A", "Z", "AA", "GR")
    for number in range(WEARERS):
        assert re.search(rf"\b[Ww]earer {letters(number)}\b", page), letters(number)


def test_the_long_log_is_scored_and_the_long_notes_are_whole(extreme: Extreme) -> None:
    log = extreme.place.records / "logs" / "long.csv"
    assert len(log.read_text().splitlines()) == LOG_S + 1
    assert 'id="fit.s0.overall"' in extreme.page("records/long-log.html")
    assert len(long_notes()) == NOTES
    words = re.sub(r"<[^>]+>", " ", extreme.page("records/many-wearers.html")).split()
    tail = [word for word in re.sub(r"[*-]", " ", long_notes()).split()][-40:]
    assert " ".join(tail) in " ".join(word.replace("*", "") for word in words)


def test_a_browser_shows_it_without_a_fault(extreme: Extreme) -> None:
    site = extreme.place.output
    pages = [
        site / "index.html",
        *(site / "devices" / f"{name}.html" for name in NAMES),
        site / "records" / "spoken.html",
    ]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(QUIET))
        found = [fault for width in (390, 1280) for fault in faults(browser, pages, width, scripts=False)]
        browser.close()
    assert found == []


@pytest.mark.parametrize("left", ["nothing", "a device without tests"])
def test_a_catalogue_without_tests_is_published(left: str, demo_records: Path, tmp_path: Path) -> None:
    place = Place(tmp_path / "records", tmp_path / "published" / "output")
    place.output.parent.mkdir()
    place.records.mkdir()
    shutil.copy(demo_records / "publication.yaml", place.records)
    if left != "nothing":
        (place.records / "devices").mkdir()
        shutil.copy(demo_records / "devices" / "tidewrack-full.yaml", place.records / "devices")
    ended = place.run()
    devices = "0 devices" if left == "nothing" else "1 device"
    assert (ended.code, ended.out.partition(" as ")[0]) == (0, f"Published {devices} and 0 test records"), ended.err
    pages = sorted(str(path) for path in place.output.rglob("*.html"))
    assert remarks(*pages) == []
    for pdf in place.output.rglob("*.pdf"):
        assert pdf_faults(pdf.read_bytes()) == []
