"""In a browser a previewed page loads itself when its record is saved, keeps its place, and tells of problems."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from generator.contributing.preview import Preview
from generator.contributing.preview_server import PreviewServer
from tests.contributing.previewing import RECORD, broken, served
from tests.outside.conftest import until


@pytest.fixture
def preview(small_records: Path) -> Preview:
    shown = Preview(small_records)
    shown.refresh()
    return shown


@pytest.fixture
def server(preview: Preview) -> Iterator[PreviewServer]:
    with served(preview) as serving:
        yield serving


@pytest.fixture
def page(browser: Browser, server: PreviewServer) -> Iterator[Page]:
    """A page of the preview; nothing may be said on the console, and no other place be asked."""
    context = browser.new_context(viewport={"width": 390, "height": 800})
    opened = context.new_page()
    told: list[str] = []
    opened.on("console", lambda message: told.append(message.text))
    opened.on("pageerror", lambda error: told.append(str(error)))
    opened.on("request", lambda request: None if request.url.startswith(server.url) else told.append(request.url))
    yield opened
    context.close()
    assert told == []


def renamed(records: Path, name: str) -> None:
    path = records / "devices" / "patchwork-cover.yaml"
    path.write_text(re.sub(r"(?m)^name: .*$", f"name: {name}", path.read_text(encoding="utf-8")), encoding="utf-8")


def test_a_saved_record_is_shown_where_the_reader_was(
    page: Page, server: PreviewServer, preview: Preview, small_records: Path
) -> None:
    page.goto(f"{server.url}records/{RECORD}.html")
    # Open or not as they are not by themselves.
    page.evaluate("document.querySelectorAll('details').forEach((each, place) => { each.open = place === 1 })")
    page.evaluate("scrollTo({ top: 900, behavior: 'instant' })")
    place = page.evaluate("scrollY")
    assert place > 500
    renamed(small_records, "Quite another cover")
    preview.refresh()
    expect(page.locator("main")).to_contain_text("Quite another cover")
    until(page, f"scrollY === {place}")
    opened = page.evaluate("Array.from(document.querySelectorAll('details'), (each) => each.open)")
    assert len(opened) > 2
    assert [place for place, is_open in enumerate(opened) if is_open] == [1]


def test_a_page_that_a_change_does_not_touch_is_left_alone(
    page: Page, server: PreviewServer, preview: Preview, small_records: Path
) -> None:
    page.goto(f"{server.url}methods/index.html")
    page.evaluate("document.body.dataset.mark = 'left alone'")
    renamed(small_records, "Other")
    with page.expect_response(lambda answer: answer.request.method == "HEAD"):
        preview.refresh()
    page.wait_for_timeout(300)
    assert page.evaluate("document.body.dataset.mark") == "left alone"


def test_problems_are_told_and_go(page: Page, server: PreviewServer, preview: Preview, small_records: Path) -> None:
    page.goto(server.url)
    expect(page.locator(".preview-notice")).to_have_count(0)
    whole = (small_records / "device_tests" / f"{RECORD}.yaml").read_text(encoding="utf-8")
    path = broken(small_records, "performed: <img src=x onerror=alert(1)>")
    preview.refresh()
    expect(page.get_by_role("heading", name="One problem in the records")).to_be_visible()
    expect(page.locator(".preview-line mark")).to_have_text("<img src=x onerror=alert(1)>")
    # Asked again until it holds: a heading can be seen before the style sheet has come.
    until(page, "document.documentElement.scrollWidth <= 390")
    path.write_text(whole, encoding="utf-8")
    preview.refresh()
    expect(page.locator(".preview-notice")).to_have_count(0)
