"""A browser opens every page from disk, without scripts, on a phone's width and a desk's."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Request

WIDTHS = (390, 1280)


def faults(browser: Browser, paths: list[Path], width: int, *, scripts: bool) -> list[str]:
    """Open pages and return what went wrong: requests elsewhere, failures, messages, sideways scrolling."""
    found: list[str] = []
    context = browser.new_context(viewport={"width": width, "height": 844}, java_script_enabled=scripts)
    page = context.new_page()
    page.on("console", lambda message: found.append(f"{page.url}: console: {message.text}"))
    page.on("pageerror", lambda error: found.append(f"{page.url}: error: {error}"))
    page.on("requestfailed", lambda request: found.extend(_not_loaded(page, request)))
    page.on("request", lambda request: found.extend(_elsewhere(page, request.url)))
    for path in paths:
        page.goto(path.as_uri(), wait_until="load")
        needed = page.evaluate("document.documentElement.scrollWidth")
        if needed > width:
            found.append(f"{page.url}: needs {needed} px of {width}")
    context.close()
    return found


def _not_loaded(page: Page, request: Request) -> list[str]:
    # A font still on its way when the next page is opened is given up, which is no fault of the page.
    return [] if request.failure == "net::ERR_ABORTED" else [f"{page.url}: could not load {request.url}"]


def _elsewhere(page: Page, address: str) -> list[str]:
    return [] if address.startswith("file:///") else [f"{page.url}: request to {address}"]


def test_planted_faults_are_found(browser: Browser, tmp_path: Path) -> None:
    (tmp_path / "wide.html").write_text('<div style="width: 900px">x</div>')
    (tmp_path / "missing.html").write_text('<img src="gone.png">')
    (tmp_path / "elsewhere.html").write_text('<img src="http://127.0.0.1:9/x.png">')
    (tmp_path / "talks.html").write_text("<script>console.log('a word')</script>")
    found = faults(browser, sorted(tmp_path.iterdir()), 390, scripts=True)
    for words in ("needs 90", "could not load file:", "request to http://127.0.0.1:9/x.png", "console: a word"):
        assert any(words in fault for fault in found), (words, found)
    found = faults(browser, [tmp_path / "wide.html", tmp_path / "talks.html"], 390, scripts=False)
    assert [fault.partition("wide.html: ")[2][:8] for fault in found] == ["needs 90"]


def pages_to_open(site: Path) -> list[Path]:
    """Return all pages, but of those about methods, which are many and alike, one in eight."""
    methods = sorted(site.glob("methods/*.html"))
    return sorted({*site.rglob("*.html")} - {*methods} | {*methods[::8], site / "methods" / "index.html"})


@pytest.mark.parametrize(("width", "scripts"), [(390, True), (1280, False)], ids=["phone", "desk, without scripts"])
def test_every_page_opens_without_a_fault(browser: Browser, demo_site: Path, width: int, scripts: bool) -> None:
    # Without scripts, on a wide screen, less can go wrong, so that every other page tells enough.
    pages = pages_to_open(demo_site)[:: 1 if scripts else 2]
    assert len(pages) > 60
    assert faults(browser, pages, width, scripts=scripts) == []


def test_a_page_is_readable_without_scripts(browser: Browser, demo_site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((demo_site / "index.html").as_uri())
    assert page.locator("h1").first.is_visible()
    assert page.locator("noscript").count() == 0
    context.close()
