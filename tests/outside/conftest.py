"""What tests in a browser share: the system's Chromium, without a window and without a word to anyone."""

import time
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """The system's Chromium, once for a module."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(QUIET))
        yield browser
        browser.close()


def until(page: Page, condition: str) -> None:
    """Wait until a condition holds, asked for from outside: a page whose policy forbids `eval` cannot ask itself."""
    deadline = time.monotonic() + 20
    while not page.evaluate(condition):
        assert time.monotonic() < deadline, condition
        page.wait_for_timeout(20)
