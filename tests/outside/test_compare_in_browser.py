"""Devices of a reader's own choice in a browser, from disk: chosen by keyboard, kept in the address, printed whole."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pypdf
import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from generator.presenting.page_views import Site
from generator.publishing.output_folder import OutputFolder
from generator.rendering import whole_site
from generator.rendering.whole_site import render_site
from tests.outside.conftest import until
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import Data, a_run, a_session, a_test, a_wearer, readings
from tests.scoring.comparison_builders import WEARERS, one_each, several, worn

HOSTILE = "</script><img src=x onerror=alert(1)> קסדה"
DEVICES: dict[str, Data] = {
    "alder": {},
    "birch": {},
    "cedar": {"name": HOSTILE},
    "damson": {"kind": "loose_powered_hood"},
    "elm": {"kind": "loose_powered_hood"},
    "fir": {"withdrawn": {"date": "2025-11-02", "reason": "It was recalled."}},
}


def a_site() -> Site:
    tests = [
        worn("alder", one_each("30 /cm3", "10 /cm3", "20 /cm3")),
        worn("birch", one_each("300 /cm3", "200 /cm3", "100 /cm3")),
        worn("cedar", one_each("3 /cm3")),
        a_test(
            [a_session(readings("30 /cm3", "20 /cm3", "9 /cm3"), blower="high", wearer="dunlin")],
            [a_run([17.0, 17.1])],
            id="damson-test",
            device="damson",
        ),
    ]
    wearers = {name: a_wearer(name, letter) for name, letter in zip(WEARERS, "ABCD", strict=True)}
    return shown(several([], DEVICES, base=a_whole_catalogue(*tests, wearers=wearers)))


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small site on disk; the sheets are left out, which take long to set."""
    folder = tmp_path_factory.mktemp("compare") / "site"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(whole_site, "render_sheet", lambda *parts: b"%PDF")
        OutputFolder(folder).replace_with(render_site(a_site(), lambda done, total, what: None))
    return folder


@dataclass
class Reader:
    """A reader's window, and what the browser complained of or asked for."""

    page: Page
    folder: Path
    complaints: list[str]
    asked: list[str]

    def open(self, choice: str = "") -> None:
        self.page.goto("about:blank")
        self.page.goto((self.folder / "compare.html").as_uri() + choice)
        self.settled()

    def settled(self) -> None:
        """Wait until what is in the address is shown."""
        until(self.page, "document.getElementById('status').textContent.trim() !== ''")
        self.page.wait_for_load_state("networkidle")

    def shown(self) -> list[str]:
        return [text.strip("\u2068\u2069") for text in self.page.locator("#short [data-part] h3").all_inner_texts()]

    def status(self) -> str:
        return " ".join((self.page.locator("#status").text_content() or "").split())

    def choice(self) -> str:
        return self.page.url.partition("#")[2]


@pytest.fixture
def reader(browser: Browser, site: Path) -> Iterator[Reader]:
    context = browser.new_context(viewport={"width": 1280, "height": 900}, reduced_motion="reduce")
    yield from _watched(context, site)


def _watched(context: BrowserContext, site: Path) -> Iterator[Reader]:
    page = context.new_page()
    reader = Reader(page, site, [], [])
    page.on("console", lambda message: reader.complaints.append(message.text))
    page.on("pageerror", lambda error: reader.complaints.append(str(error)))
    page.on("request", lambda request: reader.asked.append(request.url))
    yield reader
    assert reader.complaints == []
    assert [address for address in reader.asked if not address.startswith(("file:", "about:"))] == []
    context.close()


def test_an_address_opens_its_choice_in_its_order(reader: Reader) -> None:
    reader.open("#devices=birch,alder")
    assert reader.shown() == ["Birch", "Alder"]
    assert reader.page.locator("h1").inner_text() == "Birch · Alder"
    assert reader.page.title().startswith("Birch, Alder · ")
    assert reader.status() == "Shown one above the other: Birch, Alder."
    for part in ("#fit", "#flow"):
        assert reader.page.locator(f"{part} ul > li").count() == 2
    heads = reader.page.locator(".chosen thead th").all_inner_texts()
    assert [head.split("\n")[0] for head in heads[1:]] == ["Birch", "Alder"]
    assert reader.page.locator(".chosen tbody tr").first.locator("td").all_inner_texts()[1].startswith("three wearers")
    assert {len(row.locator("td").all()) for row in reader.page.locator(".chosen tbody tr").all()} == {2}
    # Only what was chosen was loaded.
    assert [url.rpartition("/")[2] for url in reader.asked if "/panels/" in url] == ["birch.js", "alder.js"]


def test_all_charts_of_a_kind_have_their_ends_at_the_same_places(reader: Reader) -> None:
    reader.open("#devices=alder,birch,damson")
    script = """[...document.querySelectorAll('#fit svg.wide')].map(svg => ['1', '100000'].map(
        tick => Math.round(svg.querySelector(`[id$="-tick-${tick}"]`).getBoundingClientRect().x)))"""
    ends = reader.page.evaluate(script)
    assert len(ends) == 4
    assert ends == [ends[0]] * 4
    assert ends[0][1] - ends[0][0] > 300


def test_devices_are_chosen_and_removed_by_keyboard_alone(reader: Reader) -> None:
    reader.open()
    page = reader.page
    assert reader.status() == "Nothing is chosen yet."
    assert not page.locator("#compared").is_visible()
    _tab_to(page, "input[value=alder]")
    page.keyboard.press("Space")
    page.wait_for_selector("#short li")
    reader.settled()
    assert reader.choice() == "devices=alder"
    assert reader.status() == "One device is chosen. Tick another to compare the two."
    assert not page.locator("#differences").is_visible()
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    page.wait_for_selector("#short li:nth-child(2)")
    assert reader.choice() == "devices=alder,birch"
    assert reader.shown() == ["Alder", "Birch"]
    _tab_to(page, "#short li:first-child button")
    assert page.evaluate("document.activeElement.textContent") == "Remove Alder from this page"
    page.keyboard.press("Enter")
    page.wait_for_selector("#short li:nth-child(2)", state="detached")
    assert reader.shown() == ["Birch"]
    assert page.evaluate("document.activeElement.textContent") == "Remove Birch from this page"
    page.keyboard.press("Enter")
    page.wait_for_selector("#short li", state="detached")
    assert page.evaluate("document.activeElement.tagName") == "SUMMARY"
    assert (reader.choice(), reader.status()) == ("devices=", "Nothing is chosen yet.")


def _tab_to(page: Page, selector: str) -> None:
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    raise AssertionError(f"{selector} is not reached by the keyboard")


def test_the_way_back_takes_a_choice_back(reader: Reader) -> None:
    reader.open("#devices=alder,birch")
    reader.page.locator("#choices summary").click()
    reader.page.locator("input[value=damson]").check()
    reader.page.wait_for_selector("#short li:nth-child(3)")
    reader.page.go_back()
    reader.page.wait_for_selector("#short li:nth-child(3)", state="detached")
    assert reader.shown() == ["Alder", "Birch"]
    assert not reader.page.locator("input[value=damson]").is_checked()
    reader.page.go_forward()
    reader.page.wait_for_selector("#short li:nth-child(3)")
    assert reader.choice() == "devices=alder,birch,damson"


def test_five_at_most_and_it_says_why(reader: Reader) -> None:
    reader.open("#devices=alder,birch,cedar,damson,elm,fir")
    assert len(reader.shown()) == 5
    assert reader.status().endswith("Five devices are shown at most, and this address names more. Left out: Fir.")
    box = reader.page.locator("input[value=fir]")
    reader.page.locator("#choices summary").click()
    assert box.get_attribute("aria-disabled") == "true"
    box.focus()
    reader.page.keyboard.press("Space")
    assert not box.is_checked()
    assert reader.status() == "Five devices are shown at most. Remove one to choose another."
    assert len(reader.shown()) == 5


@pytest.mark.parametrize("unknown", ["nothing", "../alder", "%3Cb%3E", "%", "constructor"])
def test_what_is_not_in_this_catalogue_is_named_and_never_loaded(reader: Reader, unknown: str) -> None:
    reader.open(f"#devices=alder,{unknown},birch,alder")
    named = "<b>" if unknown.startswith("%3C") else unknown
    assert reader.status() == f"Shown one above the other: Alder, Birch. Not in this catalogue: {named}."
    assert reader.shown() == ["Alder", "Birch"]
    assert sorted(url.rpartition("/")[2] for url in reader.asked if url.endswith(".js")) == [
        "alder.js",
        "birch.js",
        "compare.js",
    ]


def test_a_panel_that_is_gone_is_named(reader: Reader, site: Path, tmp_path: Path) -> None:
    for path in ("compare.html", "scripts/compare.js", "style.css", "panels/alder.js"):
        (tmp_path / path).parent.mkdir(exist_ok=True)
        (tmp_path / path).write_bytes((site / path).read_bytes())
    reader.folder = tmp_path
    reader.open("#devices=alder,birch")
    assert reader.status().endswith("What is on record of these could not be loaded: Birch.")
    assert reader.shown() == ["Alder"]
    # The browser itself says that files are missing: the panel, and the typefaces that were not copied.
    assert all("ERR_FILE_NOT_FOUND" in complaint for complaint in reader.complaints)
    reader.complaints.clear()


def test_pairs_are_stated_not_stated_or_not_compared_with_the_reason(reader: Reader) -> None:
    reader.open("#devices=birch,alder,damson,fir")
    page = reader.page
    assert page.locator("#stated h3").all_inner_texts() == ["Birch and Alder"]
    stated = " ".join(page.locator("#stated article").inner_text().split())
    assert "Fit factor with Alder as a multiple of that with Birch: 10 times 95 % interval 1.7 to 56" in stated
    assert "The two cannot be told apart, which is not the same as equal." in stated
    entries = page.locator("#not-stated > div").all()
    assert [tuple(" ".join(text.split()) for text in entry.inner_text().split("\n", 1)) for entry in entries] == [
        ("Birch and Damson", page.locator("#other-kind").evaluate("each => each.content.textContent")),
        ("Birch and Fir", "Not compared: Fir was withdrawn."),
        ("Alder and Damson", page.locator("#other-kind").evaluate("each => each.content.textContent")),
        ("Alder and Fir", "Not compared: Fir was withdrawn."),
        ("Damson and Fir", "Not compared: Fir was withdrawn."),
    ]
    answers = dict(zip(page.locator("#answers dt").all_inner_texts(), page.locator("#answers dd").all(), strict=True))
    assert answers["Birch and Alder"].inner_text().startswith("The two cannot be told apart, which is not the same as")
    assert answers["Birch and Damson"].inner_text() == "Not compared: they are of different kinds."
    assert answers["Birch and Fir"].inner_text() == "Not compared: Fir was withdrawn."
    # The answer leads to its difference, and the choice stays in the address.
    page.locator("#answers a").first.click()
    assert page.evaluate("document.activeElement.id") == "pair-birch-alder"
    assert reader.choice() == "devices=birch,alder,damson,fir"
    sure = page.locator("#stated .how-sure")
    assert not sure.get_by_text("chance alone would set").is_visible()
    sure.locator("summary").click()
    assert sure.get_by_text("chance alone would set").is_visible()
    reader.open("#devices=elm,damson")
    assert page.locator("#stated article").count() == 0
    assert "Not stated: no fit test of one of the two" in page.locator("#not-stated").inner_text()


def test_a_hostile_name_is_shown_as_it_is(reader: Reader) -> None:
    reader.open("#devices=cedar,alder")
    assert reader.shown()[0] == HOSTILE
    assert reader.page.locator("h1").inner_text().startswith(f"\u2068{HOSTILE}\u2069")
    assert reader.page.locator("img").count() == 0


def test_the_way_past_the_letterhead_keeps_the_choice(reader: Reader) -> None:
    reader.open("#devices=alder,birch")
    reader.page.keyboard.press("Tab")
    reader.page.keyboard.press("Enter")
    assert reader.page.evaluate("document.activeElement.id") == "content"
    assert reader.choice() == "devices=alder,birch"


@pytest.mark.parametrize("width", [320, 390, 768, 1280])
def test_nothing_is_wider_than_the_window(reader: Reader, width: int) -> None:
    reader.page.set_viewport_size({"width": width, "height": 800})
    reader.open("#devices=alder,birch,cedar,damson,fir")
    reader.page.locator("#choices summary").click()
    assert reader.page.evaluate("document.documentElement.scrollWidth") <= width
    for control in ("#choices summary", "#choices label", "#short button"):
        for box in reader.page.locator(control).all():
            size = box.bounding_box()
            assert size is not None
            # source: WCAG 2.2, 2.5.8, target size (minimum): 24 by 24 CSS pixels
            assert size["height"] >= 24
            assert size["width"] >= 24


def test_what_is_printed_has_every_chosen_device_and_no_control(reader: Reader) -> None:
    reader.open("#devices=alder,birch,damson")
    pdf = pypdf.PdfReader(io.BytesIO(reader.page.pdf(format="A4")))
    text = " ".join(" ".join(page.extract_text().split()) for page in pdf.pages)
    for words in ("Alder · Birch · Damson", "In short", "Side by side", "Differences"):
        assert words in text
    for name in ("Alder", "Birch", "Damson"):
        # In the heading, its own entry, its chart and the head of its column.
        assert text.count(name) >= 4
    assert "This device delivered less air than custom asks of its kind." in text
    assert "The two cannot be told apart" in text
    # What is folded on the screen is open on paper.
    assert "chance alone would set the two" in text
    # What holds for every page is folded on the screen and open on paper.
    assert "Source: common practice" in text
    assert reader.page.locator("#always details[open]").count() == 0
    for control in ("Remove", "Choose two to five", "Compare devices of your choice", "stand ready"):
        assert control not in text


def test_without_scripts_it_says_so_and_lists_what_stands_ready(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "compare.html").as_uri() + "#devices=alder,birch")
    assert page.locator("#needs-scripts").is_visible()
    assert [page.locator(part).is_visible() for part in ("#choosing", "#compared")] == [False, False]
    page.locator("#ready a").first.click()
    assert page.locator("h1").inner_text() == "Filtering facepieces, side by side"
    assert page.locator("#device-alder th").inner_text().startswith("Alder")
    context.close()


def test_a_device_page_leads_here_with_its_device_chosen(reader: Reader, site: Path) -> None:
    reader.page.goto((site / "devices/alder.html").as_uri())
    reader.page.get_by_role("link", name="Compare with others").click()
    reader.settled()
    assert reader.shown() == ["Alder"]
    assert reader.page.locator("#choices").get_attribute("open") is not None
