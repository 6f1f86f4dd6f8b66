"""Access for everyone: axe-core's rules for WCAG 2.2 A and AA, reflow, doubled text, and what the keyboard reaches."""

from collections.abc import Mapping
from pathlib import Path

import axe_playwright_python
import pytest
from playwright.sync_api import Browser, Page

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")
OF_COLOUR = ("color-contrast", "link-in-text-block")
"""The rules whose answer a dark ground can change; all others ask for structure, names and sizes."""
ASKED = "rules => axe.run(document, {runOnly: rules, resultTypes: ['violations']})"
LOOKS = (("light", 1280), ("light", 390), ("dark", 390), ("dark", 1280))
PAGE_TYPES: Mapping[str, tuple[str, ...]] = {
    "index.html": ("index.html",),
    "about.html": ("about.html",),
    "requirements.html": ("requirements.html",),
    "cautions.html": ("cautions.html",),
    "compare.html": ("compare.html#devices=osierfold-visor,tansy-fold,allotment-hood", "compare.html"),
    "corrections.html": ("corrections.html",),
    "data.html": ("data.html",),
    "glossary.html": ("glossary.html",),
    "reading.html": ("reading.html",),
    "devices/*": ("devices/osierfold-visor.html", "devices/sallowby-pleat.html"),
    "records/*": (
        "records/meadowrue-pleat-2025-02.html",
        "records/thriftleaf-fold-2025-08.html",
        "records/leatfoot-full-2025-11-pressure.html",
    ),
    "methods/*": ("methods/overall-fit-factor.html",),
    "methods/index.html": ("methods/index.html",),
    "methods/traced-log.html": ("methods/traced-log.html",),
    "instruments/*": ("instruments/bench-counter.html",),
    "instruments/index.html": ("instruments/index.html",),
    "comparisons/*": ("comparisons/kind-loose-powered-hood.html",),
    "comparisons/index.html": ("comparisons/index.html",),
}
"""Every type of page, and the pages that stand for it: those that hold much of what pages of the type may hold."""
PAGES = tuple(path for paths in PAGE_TYPES.values() for path in paths)
NARROWEST = 320
"""Width at which WCAG 2.2, 1.4.10 (reflow) asks that nothing scrolls sideways: 1280 px at 400 %. [px]"""


def open_page(page: Page, site: Path, path: str) -> None:
    """Open a page, with what stands behind the # of its address, and wait until all of it is there."""
    file, _, state = path.partition("#")
    page.goto("about:blank")
    # What stands behind the # is loaded after the page.
    page.goto((site / file).as_uri() + (f"#{state}" if state else ""), wait_until="networkidle" if state else "load")


def remarks(page: Page, site: Path, path: str) -> list[str]:
    """Open a page and return what axe-core has against it, light and dark, on a phone's width and a desk's."""
    open_page(page, site, path)
    page.evaluate(AXE)
    told = []
    for scheme, width in LOOKS:
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        page.set_viewport_size({"width": width, "height": 900})
        rules = {"type": "tag", "values": RULES} if scheme == "light" else {"type": "rule", "values": OF_COLOUR}
        told += [
            f"{path}, {scheme}, {width} px: {rule['id']}: {rule['help']}: {node['target']}: {node['failureSummary']}"
            for rule in page.evaluate(ASKED, rules)["violations"]
            for node in rule["nodes"]
        ]
    return told


def looks(browser: Browser, scheme: str, width: int) -> Page:
    """Open a window of a width in light or dark. The pages' own policy would keep axe-core out."""
    context = browser.new_context(
        viewport={"width": width, "height": 900},
        color_scheme="dark" if scheme == "dark" else "light",
        bypass_csp=True,
    )
    return context.new_page()


def type_of(path: str) -> str:
    """Return the type of page that a path belongs to."""
    return path if path in PAGE_TYPES else f"{path.partition('/')[0]}/*"


def test_every_page_belongs_to_a_type_that_is_looked_at(demo_site: Path) -> None:
    pages = [path.relative_to(demo_site).as_posix() for path in demo_site.rglob("*.html")]
    assert [path for path in pages if type_of(path) not in PAGE_TYPES] == []
    assert [path for path in PAGES if path.partition("#")[0] not in pages] == []


def test_planted_faults_are_found(browser: Browser, tmp_path: Path) -> None:
    # source: WCAG 2.2: 1.1.1 text alternatives, 1.4.3 contrast, 2.5.8 target size, 4.1.2 name of a control
    (tmp_path / "bad.html").write_text(
        '<!doctype html><html lang="en"><title>A page</title><main><h1>One</h1><img src="data:,">'
        '<p style="color: #999; background: #fff">Pale words</p><button></button>'
        '<a href="#a" style="font-size: 9px; display: block">a</a><a href="#b" style="font-size: 9px">b</a></main>'
    )
    page = looks(browser, "light", 390)
    found = " ".join(remarks(page, tmp_path, "bad.html"))
    assert [rule for rule in ("image-alt", "color-contrast", "button-name", "target-size") if rule not in found] == []
    page.context.close()


@pytest.mark.parametrize("path", PAGES)
def test_no_page_breaks_a_rule(browser: Browser, demo_site: Path, path: str) -> None:
    page = looks(browser, "light", 1280)
    assert remarks(page, demo_site, path) == []
    page.context.close()


def sideways(page: Page) -> int:
    """Return by how much a page is wider than its window. [px]"""
    return int(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))


def test_nothing_scrolls_sideways_on_the_narrowest_screen_or_with_doubled_text(
    browser: Browser, demo_site: Path
) -> None:
    # source: WCAG 2.2, 1.4.10 (320 px) and 1.4.4 (text at 200 %)
    found = []
    narrow, doubled = looks(browser, "light", NARROWEST), looks(browser, "light", 1280)
    for path in PAGES:
        open_page(narrow, demo_site, path)
        open_page(doubled, demo_site, path)
        doubled.add_style_tag(content="html { font-size: 212.5% !important }")
        found += [
            f"{path}: {name}: {by} px too wide"
            for name, by in (("320 px", sideways(narrow)), ("200 %", sideways(doubled)))
            if by > 0
        ]
    assert found == []
    narrow.context.close()
    doubled.context.close()


def test_the_keyboard_reaches_every_link_and_shows_where_it_is(browser: Browser, demo_site: Path) -> None:
    page = looks(browser, "light", 1280)
    open_page(page, demo_site, PAGE_TYPES["comparisons/*"][0])
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the content"
    assert page.evaluate("document.activeElement.getBoundingClientRect().left") >= 0
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#content"
    reached = 0
    for _ in range(12):
        page.keyboard.press("Tab")
        style = page.evaluate(
            "(e => e === document.body ? null : getComputedStyle(e).outlineStyle)(document.activeElement)"
        )
        assert style == "solid"
        reached += 1
    assert reached == 12
    page.context.close()


def test_nothing_moves_for_those_who_asked_for_less_motion(browser: Browser, demo_site: Path) -> None:
    context = browser.new_context(reduced_motion="reduce")
    page = context.new_page()
    open_page(page, demo_site, "index.html")
    moving = page.evaluate(
        "[...document.querySelectorAll('*')].filter(e => { const s = getComputedStyle(e);"
        " return s.scrollBehavior === 'smooth' || parseFloat(s.transitionDuration) > 0 ||"
        " s.animationName !== 'none' }).length"
    )
    assert moving == 0
    context.close()
