"""The first page in a browser, from disk: searched, filtered, ordered, ticked by keyboard, brought back by a link."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from generator.rendering.assets import shared_files
from generator.rendering.pages import page_markup
from tests.outside.conftest import QUIET, until
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import NONE, Data, a_run
from tests.scoring.comparison_builders import several, worn

LOOSE = "loose_powered_hood"
DEVICES: dict[str, Data] = {
    "alder": {"name": "Älder Cup", "maker": "Quernhollow Works", "price": "4.60 EUR"},
    "birch": {"name": "Birch Fold", "maker": "Éclat d'Étang", "price": "1.90 EUR"},
    "cedar": {"name": "Cedar Half", "kind": "elastomeric_half_facepiece", "price": "40.00 USD"},
    "dogwood": {"name": "Dogwood Hood", "kind": LOOSE, "price": "520.00 EUR", "home_built": True},
    "elm": {"name": "Elm Hood", "kind": LOOSE, "price": NONE, "maker": "W" * 80},
    "fir": {"name": '"><b id=bold>Fir</b>', "kind": LOOSE, "price": "9.00 EUR"},
}
TESTS = (
    worn("alder", [given(45.0)]),
    worn("birch", [given(150.0), given(90.0, id="pm", wearer="plover")]),
    worn("cedar", [given(102.0)]),
    worn("dogwood", [given(200.0, blower="high")], flow=[a_run([200.0, 201.0, 202.0])]),
    worn("elm", [], flow=[a_run([20.0, 20.1, 20.2])]),
)
BY_KIND = ["birch", "alder", "cedar", "fir", "dogwood", "elm"]
"""As the page has them: kinds in their order, names in each; a letter with dots comes after all others."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """The system's Chromium, without a window, as it is where someone listens to it."""
    with sync_playwright() as playwright:
        listened_to = [*QUIET, "--force-renderer-accessibility"]
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=listened_to)
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Where the first page of a small catalogue lies, with what it loads."""
    site = shown(several([], DEVICES, base=a_whole_catalogue(*TESTS)))
    folder = tmp_path_factory.mktemp("first page")
    files = shared_files() | {"index.html": page_markup("index.html", site.index, site.letterhead).encode()}
    for path, content in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    return Path(folder / "index.html").as_uri()


@pytest.fixture
def page(browser: Browser, address: str) -> Iterator[Page]:
    """The page, opened anew; a message or an error in it is a fault."""
    page = browser.new_page(viewport={"width": 1280, "height": 900})
    found: list[str] = []
    page.on("console", lambda message: found.append(message.text))
    page.on("pageerror", lambda error: found.append(str(error)))
    page.goto(address)
    yield page
    page.close()
    assert found == []


def rows(page: Page) -> list[str]:
    """Return the devices that are shown, in their order."""
    ids: list[str] = page.evaluate(
        "[...document.querySelectorAll('tr[data-device]')].filter(row => row.checkVisibility())"
        ".map(row => row.dataset.device)"
    )
    return ids


def state(page: Page, wanted: str) -> None:
    """Wait until a state stands in the address, which is written a moment after the last change."""
    until(page, f"location.hash === {json.dumps(f'#{wanted}' if wanted else '')}")


def at(page: Page) -> str:
    """Return the id, or else the text, of what has the focus."""
    text: str = page.evaluate("document.activeElement.id || document.activeElement.textContent")
    return text


def tab_to(page: Page, wanted: str, presses: int = 60) -> None:
    for _ in range(presses):
        page.keyboard.press("Tab")
        if at(page) == wanted:
            return
    pytest.fail(f"{wanted} is not reached by the Tab key")


def test_without_scripts_all_is_there_and_no_control_is_dead(browser: Browser, address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address)
    assert page.locator("tr[data-device]").count() == len(DEVICES)
    assert [row.is_visible() for row in page.locator("tr[data-device]").all()] == [True] * len(DEVICES)
    headings = page.locator("tr.kind").all_inner_texts()
    assert headings == ["Filtering facepieces", "Elastomeric half facepieces", "Loose-fitting powered, hood or helmet"]
    controls = page.locator("input, select, button, #picked")
    assert controls.count() > 5
    assert [control.is_visible() for control in controls.all()] == [False] * controls.count()
    context.close()


def test_by_keyboard_alone_a_reader_searches_filters_orders_and_ticks(page: Page) -> None:
    assert rows(page) == BY_KIND
    tab_to(page, "find-search")
    page.keyboard.type("hood works")
    assert rows(page) == []
    assert page.locator("#shown").inner_text() == "Nothing matches: clear the filters, or change one."
    tab_to(page, "clear")
    page.keyboard.press("Enter")
    assert (rows(page), at(page)) == (BY_KIND, "find-search")
    page.keyboard.type("HOOD")
    assert rows(page) == ["fir", "dogwood", "elm"]
    assert page.locator("#shown").inner_text() == "3 of 6 devices shown."
    tab_to(page, "find-supply")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    assert rows(page) == ["dogwood"]
    page.keyboard.press("Home")
    tab_to(page, "Fit factor")
    page.keyboard.press("Enter")
    assert rows(page) == ["dogwood", "fir", "elm"]
    assert page.locator("th[aria-sort]").get_attribute("aria-sort") == "ascending"
    page.keyboard.press("Space")
    assert page.locator("th[aria-sort]").get_attribute("aria-sort") == "descending"
    assert page.locator("#ordered").inner_text().startswith("Ordered by the lowest overall fit factor")
    page.keyboard.press("Tab")
    assert at(page) == "Air supply"
    page.keyboard.press("Enter")
    assert rows(page)[:2] == ["elm", "dogwood"]
    for _ in range(2):
        while page.evaluate("document.activeElement.type") != "checkbox":
            page.keyboard.press("Tab")
        page.keyboard.press("Space")
        page.keyboard.press("Tab")
    assert page.locator("#picked-names").inner_text() == "Elm Hood, Dogwood Hood"
    tab_to(page, "picked-compare")
    assert page.locator("#picked-compare").get_attribute("href") == "compare.html#devices=elm,dogwood"
    state(page, "search=HOOD&sort=flow&devices=elm,dogwood")
    tab_to(page, "picked-clear")
    page.keyboard.press("Enter")
    assert not page.locator("#picked").is_visible()


@pytest.mark.parametrize(
    ("fragment", "shown"),
    [
        ("#search=%C3%89TANG", ["birch"]),
        ("#search=alder+facepieces", ["alder"]),
        ("#kind=loose-powered-hood", ["fir", "dogwood", "elm"]),
        ("#power=unpowered", ["birch", "alder", "cedar"]),
        ("#supply=benchmark", ["dogwood"]),
        ("#supply=does-not-meet", ["elm"]),
        ("#wearers=2", ["birch"]),
        ("#price=9&currency=EUR", ["birch", "alder", "fir"]),
        ("#price=40&currency=USD", ["cedar"]),
        ("#sort=price", ["birch", "alder", "fir", "dogwood", "cedar", "elm"]),
        ("#sort=price&down=1", ["cedar", "dogwood", "fir", "alder", "birch", "elm"]),
        ("#sort=fit", ["alder", "birch", "cedar", "dogwood", "fir", "elm"]),
        ("#sort=fit&down=1", ["dogwood", "cedar", "birch", "alder", "fir", "elm"]),
        ("#kind=no-such-kind&supply=%3Cb%3E&price=cheap&wearers=-&sort=__proto__&devices=,x", BY_KIND),
        ("#comparisons", BY_KIND),
        ("#loose-powered-hood", BY_KIND),
    ],
)
def test_a_link_brings_back_what_was_chosen(page: Page, address: str, fragment: str, shown: list[str]) -> None:
    page.goto("about:blank")
    page.goto(address + fragment)
    assert rows(page) == shown


def test_a_fragment_set_while_the_page_is_open_is_followed_and_a_plain_one_only_scrolls(page: Page) -> None:
    page.evaluate("location.hash = 'kind=filtering-facepiece&devices=alder,birch'")
    until(page, "!document.getElementById('picked').hidden")
    assert rows(page) == ["birch", "alder"]
    page.evaluate("location.hash = 'comparisons'")
    until(page, "scrollY > 0")
    assert rows(page) == ["birch", "alder"]


def test_the_state_is_written_where_history_may_not_be_changed(page: Page) -> None:
    page.evaluate("() => { history.replaceState = () => { throw new DOMException('no', 'SecurityError'); }; }")
    page.fill("#find-search", "hood")
    state(page, "search=hood")
    page.fill("#find-search", "")
    state(page, "kind=")
    assert rows(page) == BY_KIND


def test_a_sixth_device_cannot_be_ticked_and_its_box_says_why(page: Page) -> None:
    boxes = page.locator("tr[data-device] input")
    for number in range(5):
        boxes.nth(number).check()
    sixth = page.locator("tr[data-device] label").nth(5)
    assert sixth.inner_text().split("\n")[0].startswith("Compare: 5 at most")
    assert boxes.nth(5).get_attribute("aria-disabled") == "true"
    boxes.nth(5).focus()
    page.keyboard.press("Space")
    assert [box.is_checked() for box in boxes.all()] == [True] * 5 + [False]
    assert page.locator("#picked-compare").inner_text() == "Compare 5 devices"
    boxes.nth(0).uncheck()
    assert sixth.inner_text().startswith("Compare")
    assert boxes.nth(5).get_attribute("aria-disabled") == "false"


def test_one_ticked_device_leads_nowhere_yet(page: Page) -> None:
    page.locator("tr[data-device] input").first.check()
    assert page.locator("#picked-compare").inner_text() == "Tick one more to compare."
    assert page.locator("#picked-compare").get_attribute("href") is None


def test_names_from_records_stay_texts(page: Page) -> None:
    page.locator('tr[data-device="fir"] input').check()
    assert page.locator("#picked-names").inner_text() == DEVICES["fir"]["name"]
    assert page.locator("#bold").count() == 0


@pytest.mark.parametrize("width", [320, 390, 900, 1280])
def test_nothing_scrolls_sideways_and_every_control_is_large_enough(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 800})
    page.locator("tr[data-device] input").nth(1).check()
    page.locator("tr[data-device] input").nth(2).check()
    page.select_option("#find-sort", "price")
    assert page.evaluate("document.documentElement.scrollWidth") == width
    sizes: list[list[Any]] = page.evaluate(
        "[...document.querySelectorAll('main :is(button, select, input, label.pick, #picked a)')]"
        ".filter(each => each.checkVisibility() && each.type !== 'checkbox')"
        ".map(each => [each.id || each.textContent, each.getBoundingClientRect().height])"
    )
    assert len(sizes) > 10
    assert [size for size in sizes if size[1] < 24] == []


def test_what_has_the_focus_is_not_hidden_by_what_stays_in_place(page: Page) -> None:
    page.set_viewport_size({"width": 1280, "height": 500})
    page.emulate_media(reduced_motion="reduce")  # Otherwise the page is still on its way when it is looked at.
    for number in (0, 1):
        page.locator("tr[data-device] input").nth(number).check()
    page.locator("#find-search").focus()
    seen = 0
    while at(page) != "picked-compare":
        page.keyboard.press("Tab")
        covered: bool = page.evaluate(
            "() => { const at = document.activeElement, box = at.getBoundingClientRect();"
            " const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);"
            " return !(top && (at.contains(top) || top.contains(at))); }"
        )
        assert not covered, at(page)
        seen += 1
    assert seen > 20


def test_the_folded_table_stays_a_table_for_those_who_listen(page: Page) -> None:
    page.set_viewport_size({"width": 390, "height": 800})
    session = page.context.new_cdp_session(page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    roles = [node.get("role", {}).get("value") for node in nodes]
    assert roles.count("table") == 1
    kinds = page.locator("tr.kind").count()
    assert (roles.count("rowheader"), roles.count("row")) == (len(DEVICES) + kinds, len(DEVICES) + kinds)
    assert roles.count("cell") == 6 * len(DEVICES)
    (search,) = (node for node in nodes if node.get("role", {}).get("value") == "search")
    assert search["name"]["value"] == "Search, filter and order the devices"
    names = {node["name"]["value"] for node in nodes if node.get("role", {}).get("value") == "checkbox"}
    assert {"Compare Birch Fold", "in reverse"} <= names


def test_nothing_moves_where_less_motion_is_asked_for(browser: Browser, address: str) -> None:
    context = browser.new_context(reduced_motion="reduce")
    page = context.new_page()
    page.goto(f"{address}#sort=price&devices=alder,birch")
    moving: list[str] = page.evaluate(
        "[...document.querySelectorAll('*')].filter(each => { const style = getComputedStyle(each);"
        " return style.transitionDuration !== '0s' || style.animationName !== 'none'"
        " || style.scrollBehavior !== 'auto'; })"
        ".map(each => each.tagName)"
    )
    assert moving == []
    context.close()
