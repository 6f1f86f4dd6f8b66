"""On either paper no row of a PDF is split, no heading or caption left alone at a page's end; bookmarks lead there."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest
import weasyprint
from pypdf import PdfReader

from generator.contributing.site_in_memory import SiteInMemory
from generator.model.catalogue import Catalogue
from generator.model.catalogue_result import CatalogueResult
from generator.model.people import PaperSize
from generator.model.published import published
from tests.outside.pdf_layout import layout_faults

# source: ISO 216, A4 is 210 mm by 297 mm; ANSI/ASME Y14.1, size A is 8.5 in by 11 in; a point is 1/72 in
A4 = (210 / 25.4 * 72, 297 / 25.4 * 72)
US_LETTER = (8.5 * 72, 11 * 72)
ON_LETTER = ("devices/patchwork-cover.pdf", "devices/tansy-fold.pdf", "comparisons/third-strap.pdf", "catalogue.pdf")


def sizes(reader: PdfReader) -> set[tuple[float, float]]:
    return {(float(page.mediabox.width), float(page.mediabox.height)) for page in reader.pages}


def test_every_paper_of_the_demo_on_a4(demo_site: Path) -> None:
    papers = sorted(demo_site.rglob("*.pdf"))
    assert len(papers) > 20
    for path in papers:
        reader = PdfReader(path)
        assert (path.name, layout_faults(reader)) == (path.name, [])
        assert all(size == pytest.approx(A4, abs=0.1) for size in sizes(reader))


@pytest.fixture(scope="module")
def on_letter(demo: Catalogue, scored: CatalogueResult) -> dict[str, PdfReader]:
    out = published(demo)
    letter = out.publication.model_copy(update={"paper": PaperSize.US_LETTER})
    site = SiteInMemory(replace(out, publication=letter), scored)
    made = {path: site.file(path) for path in ON_LETTER}
    return {path: PdfReader(io.BytesIO(content)) for path, content in made.items() if content is not None}


@pytest.mark.parametrize("path", ON_LETTER)
def test_papers_on_us_letter(on_letter: dict[str, PdfReader], path: str) -> None:
    assert layout_faults(on_letter[path]) == []
    assert sizes(on_letter[path]) == {US_LETTER}


def set_as(body: str) -> PdfReader:
    style = "@page { size: 60mm 60mm; margin: 5mm } h1 { bookmark-level: 1 } p, td { line-height: 8mm; margin: 0 }"
    markup = f'<html lang="en"><head><title>t</title><style>{style}</style></head><body>{body}</body></html>'
    return PdfReader(io.BytesIO(weasyprint.HTML(string=markup).write_pdf(pdf_variant="pdf/ua-1")))


@pytest.mark.parametrize(
    ("body", "fault"),
    [
        (
            f"<h1>a</h1><table><tr><th>b</th><td>{'one<br>' * 9}</td></tr></table>",
            "a row is split between page 1 and page 2",
        ),
        (
            '<p>one</p><div><h1 style="break-after: page">a</h1></div><p>two</p>',
            "/H1 on page 1 is parted from what follows on page 2",
        ),
        (
            "<h1>a</h1><table><caption style='break-after: page'>b</caption><tr><td>one</td></tr></table>",
            "/Caption on page 1 is parted from what follows on page 2",
        ),
        ("<p>one</p>", "there are no bookmarks"),
        ("<h1 style=\"bookmark-label: 'else'\">a</h1><p>one</p>", "the bookmark 'else' leads to page 1"),
    ],
)
def test_planted_faults_are_found(body: str, fault: str) -> None:
    assert layout_faults(set_as(body)) == [fault]


def test_a_good_page_has_no_fault() -> None:
    rows = "<tr><th>a</th><td>one</td></tr>" * 20
    assert layout_faults(set_as(f"<h1>a</h1><table><caption>b</caption>{rows}</table>")) == []
