"""Pages that grow with the number of devices measured: the catalogue as one PDF, and a search on the first page."""

from __future__ import annotations

import statistics
from pathlib import Path

import weasyprint
from playwright.sync_api import sync_playwright

from generator.rendering.sheets import render_sheet
from tests.bench.measuring import Row, medians, memory_mib
from tests.outside.conftest import QUIET
from tests.rendering.large_catalogue import a_large_paper
from tests.rendering.large_first_page import write_large_first_page

DEVICES = 1000


def row_of_catalogue() -> Row:
    """Time the catalogue PDF of many devices; the floor is a table of as many bare rows and nothing else."""
    paper, letterhead = a_large_paper(DEVICES)
    rows = "".join(
        f"<tr><th>Device {number}</th><td>two wearers</td><td>{number}</td><td>no blower</td><td>no cautions</td></tr>"
        for number in range(DEVICES)
    )
    bare = f'<html lang="en"><head><title>Rows</title></head><body><table>{rows}</table></body></html>'
    ours, least = medians(
        lambda: render_sheet(paper, letterhead, {}),
        lambda: weasyprint.HTML(string=bare).write_pdf(pdf_variant="pdf/ua-1"),
        rounds=3,
    )
    return Row("catalogue PDF", f"{DEVICES} devices (bare rows)", ours, least, memory_mib())


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
