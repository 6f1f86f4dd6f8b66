"""Every sentence of every device's page in the demo is pinned by a table of case and text in these tests.

Pages are cut into clauses, where a reader pauses. In a clause, numbers, counts and what stands in the records may vary;
its other words must stand in the same order, with no other word between them, in a text that a test expects, in the
reference data, or in the records. A new sentence fails here, by its words, until a test says when it is written and how
it reads.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import yaml
from lxml import html

from generator.model.device import DeviceKind
from generator.model.published import published
from generator.presenting.context import Context
from generator.presenting.device_page import present_device_page
from generator.presenting.letterhead import letterhead
from generator.rendering import pages

if TYPE_CHECKING:
    from generator.model.catalogue import Catalogue
    from generator.model.catalogue_result import CatalogueResult

TESTS = Path(__file__).resolve().parent.parent
REFERENCE = TESTS.parent / "generator" / "reference"
CASES = yaml.safe_load((TESTS / "presenting" / "said_on_device_pages.yaml").read_text(encoding="utf-8"))
TABLES = tuple(
    path
    for pattern in ("presenting/*.py", "reference/test_caution*.py")
    for path in sorted(TESTS.glob(pattern))
    if path.name != Path(__file__).name
)
"""Where the tables of case and text stand."""
SENTENCES = "//main//*[self::p or self::li or self::figcaption or self::summary or self::caption or self::small]"
NOT_SENTENCES = "ancestor::*[@class='symbols' or local-name()='math' or self::blockquote] or self::li[ancestor::nav]"
IN_CAPTION = "ancestor::code or ancestor::*[self::p or self::details][ancestor::figcaption]"
"""The links and the folded table in a chart's caption are read by themselves, and so are checked by themselves."""
PAUSE = re.compile(r"[.:;,?](?=\s|$)|[()“”]|\s–\s|\n|\s·\s|\sand\s")
ADDRESS = r"https?://[^\s)]*[\w/]"
HASH = r"\b[0-9a-f]{16}\b"
"""An address and a hash in a citation say nothing in words, and differ from page to page."""
NUMBER = r"[−-]?\d+(?:[\u202f.,:/-]\d+)*"
UNIT = r"%|L/min|dB\(A\)|/cm³|cm³|cm²|cm/s|m/s|Pa|kPa|hPa|min|s|h|g|kg|nm|µm|cm|mm|L|Wh|°C|EUR"
COUNT = "no|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
MONTH = "January|February|March|April|May|June|July|August|September|October|November|December"
LETTER = r"\b[B-Z]\b|\bA(?=[,)]|\s\(|\sand [B-Z]\b)"
PLURAL = re.compile(
    r"\b(wearer|donning|unit|lot|record|session|figure|way|attempt|exercise|reading|run|state|run-down|device|listener|talker)s\b"
)
VARYING = re.compile(
    rf"{ADDRESS}|{HASH}|{NUMBER}(?:\s?(?:{UNIT})(?![a-zA-Z]))?|\b(?i:{COUNT})\b|\b(?:{MONTH})\b|{LETTER}|\uffff"
)
"""What differs from case to case: addresses, hashes, numbers with units, counts, months, letters of wearers."""
GAP = "\ufffe"


def clauses(text: str) -> list[str]:
    """Cut a text where a reader pauses, and put one sign for whatever varies; a clause without words is left out."""
    cut = (" ".join(part.split()) for part in PAUSE.split(VARYING.sub(GAP, text)))
    joined = (re.sub(rf"{GAP}(?:[ /]|to|of)*(?={GAP})", "", part).strip(" ’'") for part in cut)
    joined = (PLURAL.sub(r"\1", part) for part in joined)
    return [part for part in joined if re.search(r"[a-z]{2}", part)]


def literals(path: Path) -> Iterator[str]:
    """Return the texts that a module writes out; what it fills in may vary."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    joined = [node for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)]
    inner = {id(part) for node in joined for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in inner:
            yield node.value
        elif isinstance(node, ast.JoinedStr):
            yield "".join(str(part.value) if isinstance(part, ast.Constant) else "\uffff" for part in node.values)


def spoken(element: html.HtmlElement, apart: str = "ancestor::code") -> str:
    """Return what an element says, without hashes and what stands `apart`; a link may end within a word."""
    said = " ".join(" ".join(element.xpath(f".//text()[not({apart})]")).split())
    return re.sub(r"(?<=\w) (?=['’]s\b)", "", said)


def strings_of(part: object) -> Iterator[str]:
    """Return every text in what a record or the reference data dump to."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, dict):
        for key, value in part.items():
            yield from strings_of(key)
            yield from strings_of(value)
    elif isinstance(part, (list, tuple)):
        for item in part:
            yield from strings_of(item)


class Pinned:
    """What tests, reference data and records say, and whether a page's clause is among it."""

    def __init__(self, texts: Iterable[str], recorded: Iterable[str]) -> None:
        """Cut the texts into clauses. `recorded` are texts of records, which may stand inside a clause."""
        own = {clause.lower() for text in recorded for clause in clauses(text)}
        names = "|".join(re.escape(name) for name in sorted(own, key=lambda name: (-len(name), name)))
        self.names = re.compile(rf"(?<!\w)(?:{names or '(?!)'})(?!\w)")
        said = {clause.lower() for text in texts for clause in clauses(text.replace("~", "\u202f"))}
        self.said = said | own | {self.opened(clause) for clause in said}

    def opened(self, clause: str) -> str:
        """Leave open where texts of records stand in a clause."""
        return re.sub(rf"{GAP} *(?={GAP})", "", self.names.sub(GAP, clause))

    def holds(self, clause: str) -> bool:
        """Whether a clause is pinned, as it stands or with the texts of records in it left open."""
        plain = clause.lower()
        if plain in self.said:
            return True
        opened = self.opened(plain)
        return re.search(r"[a-z]{2}", opened) is None or opened in self.said


@pytest.fixture(scope="module")
def shown_pages(demo: Catalogue, scored: CatalogueResult) -> dict[str, html.HtmlElement]:
    """The pages of the demo's devices, without their drawings."""
    context = Context(published(demo), scored)
    head = letterhead(context)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pages, "_drawn", lambda chart, narrow: "<svg></svg>")
        return {
            device.id: html.fromstring(pages.page_markup("device.html", present_device_page(device, context), head))
            for device in context.catalogue.devices.values()
        }


@pytest.fixture(scope="module")
def pinned(demo: Catalogue) -> Pinned:
    """What tests and reference data say, and the records."""
    out = published(demo)
    records = (out.devices, out.device_tests, out.instruments, out.comparisons, out.protocols, out.testers)
    recorded: list[object] = [part.model_dump(mode="json") for parts in records for part in parts.values()]
    recorded += [out.publication.model_dump(mode="json"), [kind.heading for kind in DeviceKind]]
    reference = [yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted(REFERENCE.rglob("*.yaml"))]
    said = [text for path in TABLES for text in literals(path)]
    return Pinned([*said, *strings_of(CASES), *strings_of(reference)], strings_of(recorded))


def sentences(page: html.HtmlElement) -> Iterator[str]:
    """Return what each element of a page says that is read as a sentence."""
    for element in page.xpath(f"{SENTENCES}[not({NOT_SENTENCES})]"):
        yield spoken(element, IN_CAPTION) if element.tag == "figcaption" else spoken(element)


def not_pinned(page: html.HtmlElement, pinned: Pinned) -> list[str]:
    """Return each sentence with a clause that no test pins, and that clause."""
    return [
        f"{clause.replace(GAP, '#')!r} in {sentence!r}"
        for sentence in sentences(page)
        for clause in clauses(sentence)
        if not pinned.holds(clause)
    ]


def section_text(page: html.HtmlElement, section: str) -> str:
    """Return what a section of a page says; all of the page stands for what is above its sections."""
    parts = page.xpath("//main" if section == "top" else f"//*[@id='{section}']")
    return re.sub(r" (?=[.,;:)])", "", " ".join(spoken(part) for part in parts))


@pytest.mark.parametrize("case", CASES, ids=[f"{case['section']}: {case['case']}" for case in CASES])
def test_a_page_says_it_in_this_case_and_in_no_other(
    case: dict[str, Any], shown_pages: dict[str, html.HtmlElement]
) -> None:
    on = section_text(shown_pages[case["page"]], case["section"])
    assert [text for text in case["says"] if text not in on] == []
    if "other_page" in case:
        other = section_text(shown_pages[case["other_page"]], case["section"])
        assert [text for text in case["says"] if text in other] == []


def test_every_sentence_of_every_device_is_pinned(shown_pages: dict[str, html.HtmlElement], pinned: Pinned) -> None:
    assert len(shown_pages) > 15
    found: dict[str, str] = {}
    for name, page in shown_pages.items():
        for missing in not_pinned(page, pinned):
            found.setdefault(missing.partition(" in ")[0], f"{name}: {missing}")
    assert not found, "\n".join(found.values())


@pytest.mark.parametrize(
    ("planted", "named"),
    [
        ("This hood keeps out every virus.", "This hood keeps out every virus"),
        ("On three wearers in four donnings, the fit factor was 90, and all is well.", "all is well"),
        ("The flow was measured by hearsay.", "The flow was measured by hearsay"),
        ("Data sheet (PDF) · Buy it here", "Buy it here"),
        ("https://nowhere.example/all-is-well (all is well).", "all is well"),
    ],
)
def test_a_sentence_that_no_test_pins_is_named(planted: str, named: str, pinned: Pinned) -> None:
    page = html.fromstring(f"<html><body><main><section><p>{planted}</p></section></main></body></html>")
    assert not_pinned(page, pinned) == [f"{named!r} in {planted!r}"]


def test_what_stands_apart_in_a_caption_is_checked_too(pinned: Pinned) -> None:
    inner = "<p>All is well.</p><details><summary>Buy it here</summary><p>Trust it.</p></details>"
    page = html.fromstring(f"<main><figure><figcaption>Harm is gone.{inner}</figcaption></figure></main>")
    assert [line.partition(" in ")[0] for line in not_pinned(page, pinned)] == [
        "'Harm is gone'",
        "'All is well'",
        "'Buy it here'",
        "'Trust it'",
    ]


def test_figures_names_and_counts_may_vary(pinned: Pinned) -> None:
    words = "On 14 wearers in twelve donnings, the fit factor was 33 to 1500, with the blower at normal."
    page = html.fromstring(f"<html><body><main><p>{words}</p></main></body></html>")
    assert not_pinned(page, pinned) == []


def test_the_contents_name_every_numbered_section_in_its_order(shown_pages: dict[str, html.HtmlElement]) -> None:
    for name, page in shown_pages.items():
        listed = [(link.get("href"), link.text_content()) for link in page.xpath("//nav[@class='contents']//a")]
        numbered = page.xpath("//div[@class='numbered']/section")
        assert listed == [(f"#{each.get('id')}", each.xpath("string(h2)")) for each in numbered], name
        assert len(listed) > 8


def test_every_point_in_brief_and_every_caution_of_design_leads_somewhere(
    shown_pages: dict[str, html.HtmlElement],
) -> None:
    for name, page in shown_pages.items():
        ids = page.xpath("//@id")
        assert len(ids) == len(set(ids)), name
        leads = page.xpath("//*[@id='in-brief']//a/@href | //*[@id='device']//li/a/@href")
        assert [href for href in leads if href.partition("#")[2] not in ids] == [], name
