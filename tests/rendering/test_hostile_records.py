"""A catalogue with a hostile text in every free text of every record: its pages have the same elements as ever."""

from __future__ import annotations

import io
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import html5lib
import pypdf
import pytest

from generator.loading import load_catalogue
from generator.model.published import published
from generator.presenting.page_views import Site
from generator.presenting.whole_site import present
from generator.publishing.links import link_faults
from generator.publishing.page_links import page_links
from generator.rendering import whole_site
from generator.rendering.assets import SCRIPTS
from generator.rendering.pages import page_markup
from generator.rendering.sheets import render_sheet
from generator.rendering.whole_site import render_site
from generator.scoring.catalogue import score_catalogue
from tests.conftest import ROOT
from tests.publishing.parsed_links import parsed
from tests.rendering.record_texts import HEADINGS, KINDS, free_fields, retell
from tests.rendering.test_panels import handed, markup_of

HOSTILE = {
    "markup": "</title></script><script>alert(1)</script><img src=x onerror=alert(1)>\" onload=\"alert(1)' onload='x"
    " {{7*7}}{%raw%}]]><!-- &lt;b&gt;",
    "addresses": "![x](file:///etc/hostname)![x](data:image/png;base64,eA==)[y](javascript:alert(1)) <data:text/html,x>"
    " url(http://other.example/xyz)",
}
"""Each leaves room for some of the text that it stands before: the shortest limit is 200 characters."""
PLAIN = str.maketrans({character: "x" for character in "<>\"'&{}%[]()!/:=*;@#-\\"})
SAID = ("title", "aria-label", "content", "alt", "summary")
"""Attributes that hold what a reader is told."""
SVG = "{http://www.w3.org/2000/svg}"
OWN_CRITERION = ROOT / "tests" / "loading" / "examples" / "good" / "criteria" / "bench-flow.yaml"
DEVICES = (
    "brindlecombe-half",
    "cinderpool-cup",
    "furzecroft-visor",
    "gorseback-half",
    "hollybrake-hood",
    "mothwing-hood",
    "osierfold-visor",
    "sallowby-pleat",
    "wallstone-half",
)
"""Together their records hold every free text there is, which is asserted; the whole demo would take long."""
COMPARISON = "third-strap"
OWN_SCRIPTS = [
    ("script", (("type", "application/ld+json"),)),
    *(("script", (("src", f"{root}scripts/{name}.js"), ("defer", ""))) for root in ("", "../") for name in SCRIPTS),
]
"""Data that no browser runs, and the site's own scripts, each loaded from its file and with nothing said of it."""
NOT_ON_A_PAGE = {place for model in HEADINGS for place in free_fields(model)}
"""Headings must be those of the log; no page shows them."""


@dataclass(frozen=True)
class Told:
    """The site of the demo with one text before each of its texts, and its pages and sheets as markup."""

    site: Site
    pages: dict[str, str]
    files: dict[str, bytes]


def _keep(folder: Path) -> None:
    """Leave only the records of some devices, and what they refer to."""
    for path in (*folder.glob("devices/*.yaml"), *folder.glob("device_tests/*.yaml")):
        if not path.name.startswith(DEVICES):
            path.unlink()
    for path in folder.glob("comparisons/*.yaml"):
        if path.stem != COMPARISON:
            path.unlink()
    texts = "".join(path.read_text(encoding="utf-8") for path in folder.rglob("*.yaml"))
    for path in (*folder.glob("logs/*"), *folder.glob("pictures/*")):
        if f"file: {path.parent.name}/{path.name}" not in texts:
            path.unlink()


def told(folder: Path, text: str, patch: pytest.MonkeyPatch) -> Told:
    shutil.copytree(ROOT / "records", folder)
    _keep(folder)
    (folder / "criteria").mkdir()
    shutil.copy(OWN_CRITERION, folder / "criteria")
    seen = retell(folder, lambda words, most: f"{text} {words}"[:most].rstrip())
    assert {place for model in KINDS.values() for place in free_fields(model)} - seen == NOT_ON_A_PAGE
    loaded = load_catalogue(folder)
    assert loaded.problems == ()
    assert loaded.catalogue is not None
    catalogue = published(loaded.catalogue)
    site = present(catalogue, score_catalogue(catalogue))
    # Sheets are compared as markup; setting them all takes long.
    patch.setattr(whole_site, "render_sheet", lambda *parts: b"%PDF")
    files = render_site(site, lambda done, total, what: None)
    pages = {path: content.decode() for path, content in files.items() if path.endswith(".html")}
    pages |= {
        path: "".join(markup_of(handed(content))) for path, content in files.items() if path.startswith("panels/")
    }
    pages |= {
        paper.path: page_markup(paper.template, paper, site.letterhead, paper=True)
        for paper in (*site.sheets, *site.papers)
    }
    return Told(site, pages, files)


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Told]:
    """The demo told with a text that harms nobody."""
    with pytest.MonkeyPatch.context() as patch:
        yield told(tmp_path_factory.mktemp("plain") / "records", HOSTILE["markup"].translate(PLAIN), patch)


@pytest.fixture(scope="module", params=list(HOSTILE))
def pair(
    request: pytest.FixtureRequest, plain: Told, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[Told, Told]]:
    """The demo told with a hostile text, and with one of the same length that harms nobody."""
    text = HOSTILE[request.param]
    assert len(text) == len(HOSTILE["markup"])
    with pytest.MonkeyPatch.context() as patch:
        yield told(tmp_path_factory.mktemp("hostile") / "records", text, patch), plain


Element = tuple[str, tuple[tuple[str, str], ...]]


@cache
def elements(markup: str) -> list[Element]:
    """Return every element of a page in its order, with its attributes, less what they say to a reader.

    Where the shapes of a drawing stand depends on the width of its texts; of them each kind is given once.
    """
    page = html5lib.parse(markup, namespaceHTMLElements=False)
    found: list[Element] = []
    shapes: set[Element] = set()
    for element in page.iter():
        tag = str(element.tag)
        if tag.startswith(SVG):
            shapes.add((tag, tuple((str(name), "") for name in sorted(element.attrib))))
        else:
            told = ((str(name), "" if name in SAID else value) for name, value in element.attrib.items())
            found.append((tag, tuple(told)))
    return found + sorted(shapes)


def test_pages_and_sheets_have_the_same_elements_as_with_plain_texts(pair: tuple[Told, Told]) -> None:
    hostile, plain = pair
    assert list(hostile.pages) == list(plain.pages)
    assert len(hostile.pages) > 60
    for path, markup in hostile.pages.items():
        assert elements(markup) == elements(plain.pages[path]), path


def test_no_page_or_sheet_has_what_could_run_or_load(pair: tuple[Told, Told]) -> None:
    for path, markup in pair[0].pages.items():
        found = [element for element in elements(markup) if element not in OWN_SCRIPTS]
        tags = {tag.rpartition("}")[2] for tag, _ in found}
        assert tags & {"script", "iframe", "object", "embed", "form", "style", "base"} == set(), path
        names = {name for _, attributes in found for name, _ in attributes}
        assert [name for name in names if name.startswith("on")] == [], path
        addresses = [value for _, attributes in found for name, value in attributes if name in ("href", "src")]
        assert [each for each in addresses if each.startswith(("javascript:", "data:", "file:", "//"))] == [], path


def test_every_hostile_text_is_shown_as_it_is(pair: tuple[Told, Told]) -> None:
    hostile = pair[0]
    for device in hostile.site.devices:
        page = html5lib.parse(hostile.pages[device.head.path], namespaceHTMLElements=False)
        (heading,) = page.iter("h1")
        assert "".join(heading.itertext()) == device.name
        assert device.name.startswith(tuple(HOSTILE.values()))


def test_every_link_still_leads_somewhere(pair: tuple[Told, Told]) -> None:
    assert link_faults(pair[0].files) == []


def test_the_links_that_are_followed_are_those_that_a_parser_finds(pair: tuple[Told, Told]) -> None:
    for path, content in pair[0].files.items():
        if path.endswith(".html"):
            ids, links = parsed(content.decode())
            read = page_links(path, content)
            assert list(read.ids) == [name for _, name in ids], path
            found = [(line, link.tag, link.attribute, link.target) for link in read.links for line in link.lines]
            assert sorted(found) == links, path


def test_a_hostile_sheet_is_set_from_the_builds_own_bytes(pair: tuple[Told, Told]) -> None:
    hostile = pair[0].site
    sheet = hostile.sheets[0]
    attached = {item.name: pair[0].files[f"records/{item.name}"] for item in sheet.attached}
    reader = pypdf.PdfReader(io.BytesIO(render_sheet(sheet, hostile.letterhead, attached)))
    text = "".join("".join(page.extract_text().split()) for page in reader.pages)
    assert "".join(sheet.device.name.split()) in text
    actions = [
        note.get_object().get("/A", {}) for page in reader.pages for note in page.get("/Annots", ()) if note is not None
    ]
    assert {action.get("/S") for action in actions} <= {"/URI", "/GoTo", None}
    assert "/JavaScript" not in str(reader.trailer["/Root"])
