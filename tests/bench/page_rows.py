"""Pages that grow with the number of devices measured: the catalogue as one PDF, and a search on the first page."""

from __future__ import annotations

import statistics
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.bench.measuring import Row, told
from tests.outside.conftest import QUIET
from tests.rendering.large_first_page import write_large_first_page

DEVICES = 1000


def row_of_catalogue(cache: Path) -> Row:
    """Time the catalogue PDF of many devices; the floor is a table of as many bare rows and nothing else."""
    took = told([Path(__file__).with_name("catalogue_pdf.py"), str(DEVICES)], cache)
    return Row("catalogue PDF", f"{DEVICES} devices (bare rows)", took["seconds"], took["floor"], took["mib"])


SEARCHED = """() => {
  const search = document.getElementById('find-search');
  const took = (job) => {
    const start = performance.now();
    job();
    document.body.offsetHeight; // Asks for the layout.
    return performance.now() - start;
  };
  const type = (text) => { search.value = text; search.dispatchEvent(new Event('input')); };
  const hide = (rows, some) => rows.forEach((row, place) => { row.hidden = some && place % 3 > 0; });
  const rows = [...document.querySelectorAll('tr[data-device]')];
  const turns = [];
  for (let turn = 0; turn < 10; turn += 1) {
    const ours = took(() => type('etang')) + took(() => type(''));
    turns.push([ours, took(() => hide(rows, true)) + took(() => hide(rows, false))]);
  }
  return turns;
}"""


def row_of_first_page(folder: Path) -> Row:
    """Time a search and its clearing on a large first page in Chromium; the floor hides and shows its rows."""
    path = write_large_first_page(DEVICES, folder)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(QUIET))
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        page.goto(path.as_uri())
        turns = page.evaluate(SEARCHED)
        browser.close()
    ours, least = (statistics.median(times) / 1000 for times in zip(*turns, strict=True))
    return Row("search the first page", f"{DEVICES} devices (hiding)", ours, least)
