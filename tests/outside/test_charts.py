"""Every chart of the demo as a browser draws it: no text on another or off the sheet, words and numbers beside it."""

from __future__ import annotations

import csv
import gzip
import html
import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser

CHART = re.compile(r'<svg class="scale.*?</svg>', re.DOTALL)
OWN = re.compile(r' id="[^"]*"| aria-labelledby="[^"]*"|<title.*?</title>|<desc.*?</desc>', re.DOTALL)
MOST_BYTES, MOST_ZIPPED = 250_000, 60_000
"""What a page of a device may weigh, and what of it goes over a line that packs it. [byte]"""
BOXES = """() => {
  const pen = document.createElement('canvas').getContext('2d');
  const found = [];
  for (const place of document.querySelectorAll('[data-from]')) {
    const drawing = place.querySelector('svg');
    const [width, height] = ['width', 'height'].map(name => Number(drawing.getAttribute(name)));
    const texts = [...drawing.querySelectorAll('text')].filter(text => text.textContent.trim()).map(text => {
      const across = text.getBBox(), style = getComputedStyle(text), baseline = Number(text.getAttribute('y'));
      pen.font = `${style.fontSize} ${style.fontFamily}`;
      const letters = pen.measureText(text.textContent);
      return {text: text.textContent, left: across.x, right: across.x + across.width,
              top: baseline - letters.actualBoundingBoxAscent, bottom: baseline + letters.actualBoundingBoxDescent};
    });
    texts.forEach((one, number) => {
      if (one.left < -1 || one.right > width + 1 || one.top < -1 || one.bottom > height + 1)
        found.push(`${place.dataset.from}: off the sheet: ${one.text}`);
      for (const other of texts.slice(number + 1))
        if (one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom)
          found.push(`${place.dataset.from}: ${one.text} | ${other.text}`);
    });
  }
  return found;
}"""
"""Across as the drawing has it (getBBox), upright as far as the letters go: a box of getBBox is as high as a line."""


@pytest.fixture(scope="module")
def drawings(demo_site: Path) -> dict[str, str]:
    """Every drawing of the demo that is not the same as another, by its page and its place there."""
    found: dict[str, tuple[str, str]] = {}
    for path in sorted(demo_site.rglob("*.html")):
        for number, drawing in enumerate(CHART.findall(path.read_text(encoding="utf-8"))):
            found.setdefault(OWN.sub("", drawing), (f"{path.relative_to(demo_site)} {number}", drawing))
    assert len(found) > 300
    return dict(found.values())


def overlaps(browser: Browser, style: str, drawings: dict[str, str], folder: Path) -> list[str]:
    """Return which texts meet or leave their sheet, with every drawing at its own size on one page."""
    body = "".join(f'<div data-from="{html.escape(place)}">{drawing}</div>' for place, drawing in drawings.items())
    page = folder / "drawings.html"
    sizes = "<style>svg.scale { display: block !important; max-width: none !important; }</style>"
    page.write_text(f"<!doctype html><meta charset=utf-8><link rel=stylesheet href='{style}'>{sizes}{body}", "utf-8")
    shown = browser.new_page(viewport={"width": 1280, "height": 900})
    shown.goto(page.as_uri(), wait_until="load")
    assert shown.evaluate("document.fonts.ready.then(() => document.fonts.check('12px \"Source Sans 3\"'))")
    found: list[str] = shown.evaluate(BOXES)
    shown.close()
    return found


def test_no_text_of_a_chart_lies_on_another_or_off_the_sheet(
    browser: Browser, demo_site: Path, drawings: dict[str, str], tmp_path: Path
) -> None:
    assert overlaps(browser, (demo_site / "style.css").as_uri(), drawings, tmp_path) == []


def test_planted_overlaps_are_found(browser: Browser, demo_site: Path, tmp_path: Path) -> None:
    def drawing(*texts: str) -> str:
        return f'<svg class="scale" width="100" height="40" font-size="12" fill="#000">{"".join(texts)}</svg>'

    two = '<text x="5" y="20">one text</text>', '<text x="40" y="24">another</text>'
    planted = {
        "met": drawing(*two),
        "left": drawing('<text x="95" y="20">gone</text>'),
        "fine": drawing(two[0], '<text x="5" y="34">below</text>'),
    }
    found = overlaps(browser, (demo_site / "style.css").as_uri(), planted, tmp_path)
    assert found == ["met: one text | another", "left: off the sheet: gone"]


def test_drawings_have_the_colours_of_the_style_sheet_and_texts_of_12_px(drawings: dict[str, str]) -> None:
    markup = "".join(OWN.sub("", drawing) for drawing in drawings.values())
    # source: the colours that styles/charts.css replaces by those of the ground; the size that the look asks for
    known = {"none", "currentColor", "#0b5a6b", "#9a3b1f", "#8d8779"}
    assert set(re.findall(r' (?:fill|stroke)="([^"]*)"', markup)) == known
    assert set(re.findall(r' font-size="([^"]*)"', markup)) == {"12"}


def test_no_page_of_a_device_is_heavy(demo_site: Path) -> None:
    pages = {path.name: path.read_bytes() for path in (demo_site / "devices").glob("*.html")}
    assert len(pages) > 15
    heavy = {name: len(page) for name, page in pages.items() if len(page) > MOST_BYTES}
    zipped = {name: len(gzip.compress(page, 6, mtime=0)) for name, page in pages.items()}
    assert (heavy, {name: size for name, size in zipped.items() if size > MOST_ZIPPED}) == ({}, {})


SAID = {
    r"key-scale": r"from 1 to 100 000",
    r"reading-(scale|flow)": r"\d",
    r"air-path": r"Air gets in: .*Air gets out: .*Seals: ",
    r"fit-scale": r": .*\d.*bars are 95 % intervals\.",
    r"flow-scale": r"\d.* L/min.*Bars are 95 % intervals\.",
    r"wearers-\d+-scale": r"^[A-Z]+: .*\d.*Bars are 95 % intervals\.",
    r"configuration-.*-scale": r"before: .*\d.*after: .*\d.*Bars are 95 % intervals\.",
    r"breathing-breath": r"breaths peak at \d.* L/min, the supply is \d.* L/min",
    r"pressure-inside": r"lowest .*\d.* Pa, .* below the pressure of the room",
    r"(.*-)?filter-pressure": r"\d.* Pa/\(L/s\).*highest measured flow",
    r"(.*-)?filter-loading-.*": r"from \d.* at the beginning to \d.* after \d.* min",
    r"blower-curve(-.*)?": r"falls from \d.* Pa at 0 L/min to \d.* Pa at \d.* L/min; predicted are ",
    r"run-time-curve": r"required \d+ L/min (for .*\d.* min|on this charge)",
    r".*-chart": r"\d+ readings from .* about a centre of .*\d.* limits at \d.*Beyond an action limit: ",
    r"log-.*": r"over \d.* s on a logarithmic axis: .*\d+ readings? .*\d",
    r"fit-(?!scale$).*": r"\d",
}
"""What the words of each chart say, by its id: the figures that are to be seen, not that there is a chart."""


def test_every_chart_says_what_it_shows(drawings: dict[str, str]) -> None:
    seen: set[str] = set()
    for place, drawing in drawings.items():
        words = re.search(r'<desc id="([^"]*)-desc">(.*?)</desc>', drawing, re.DOTALL)
        if words is None:
            assert 'class="scale narrow"' in drawing
            continue
        kinds = [kind for kind in SAID if re.fullmatch(kind, words[1])]
        assert len(kinds) == 1, (place, words[1])
        said = re.sub(r"[\u202f\u00a0]", " ", html.unescape(words[2]))
        assert re.search(SAID[kinds[0]], said, re.IGNORECASE | re.DOTALL), (place, said)
        seen.add(kinds[0])
    assert seen == set(SAID)


DRAWN_WITHOUT_NUMBERS = ("key-scale", "air-path", "reading-scale", "reading-flow")
"""Bare scales, the diagram of an air path, and the examples on the page that says how to read them."""


def with_numbers(page: str) -> list[str]:
    """Return the ids of the charts of a page that are drawn from numbers of their own."""
    shown = re.findall(r'<svg class="scale wide"[^>]*? aria-labelledby="(.*?)-title ', page)
    return [identity for identity in shown if identity not in DRAWN_WITHOUT_NUMBERS]


def test_the_numbers_of_every_chart_are_a_file_that_its_page_leads_to(demo_site: Path) -> None:
    led: dict[Path, Path] = {}
    for path in demo_site.rglob("*.html"):
        page = path.read_text(encoding="utf-8")
        led |= {(path.parent / link).resolve(): path for link in re.findall(r'<a href="([^"]*charts/[^"]*)"', page)}
        # The bare scale at the head of a page and the diagram of an air path have no numbers; small ones stand beside
        # theirs, and what a reader compares stands in a table.
        assert page.count('<p class="numbers">') == len(with_numbers(page)), path
    files = {path.resolve() for path in (demo_site / "charts").rglob("*.csv")}
    assert set(led) == files
    for path in files:
        head, *rows = csv.reader(path.read_text(encoding="utf-8").splitlines())
        assert head[0] in ("what", "panel")
        assert rows
        assert all(len(row) == len(head) for row in rows)
