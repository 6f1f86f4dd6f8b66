"""One in-mask count of a demo record times ten: page, PDF, JSON and drawing all move to the value computed here."""

import json
import math
import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml
from lxml import html

from generator.command_line import run
from tests.rendering.charts import pieces_of

RECORD = "sandmartin-fold-2025-04"
DEVICE = "sandmartin-fold"
SESSION = "a1"
EXERCISE = "talking"
WEARER_AND_DONNING = "A, donning 1"
NOT_COUNTED = "grimace"
OVERALL = f"fit.{SESSION}.overall"
FACTOR = f"fit.{SESSION}.{EXERCISE}"


@dataclass(frozen=True)
class Published:
    """A copy of the demo with its site, and the fit factors computed here from the numbers in the record."""

    records: Path
    site: Path
    overall: float
    exercise: float


def concentration(text: str) -> float:
    """Read `2980 /cm3`. [/cm3]"""
    number, unit = text.split()
    assert unit == "/cm3"
    return float(number)


def expected_factors(record: Path) -> tuple[float, float]:
    """Compute the overall fit factor and the changed exercise's from the record, without the generator.

    source: 29 CFR 1910.134 App. A Part I.C.3.(b): ambient as the mean of before and after, overall = N / sum(1/FF);
    the grimace is left out (Part I.A.14.(b)).
    """
    document = yaml.safe_load(record.read_text(encoding="utf-8"))
    (session,) = (session for session in document["fit"] if session["id"] == SESSION)
    factors = {
        reading["exercise"]: (concentration(reading["ambient_before"]) + concentration(reading["ambient_after"]))
        / 2
        / concentration(reading["in_mask"])
        for reading in session["exercises"]
    }
    counted = [factor for exercise, factor in factors.items() if exercise != NOT_COUNTED]
    return len(counted) / sum(1 / factor for factor in counted), factors[EXERCISE]


def keep_only(records: Path, device: str) -> None:
    for path in [*records.glob("devices/*.yaml"), *records.glob("device_tests/*.yaml")]:
        if not path.name.startswith(device):
            path.unlink()
    for unused in ("logs", "pictures", "comparisons"):
        shutil.rmtree(records / unused)


@pytest.fixture(scope="module", params=[1, 10], ids=["as recorded", "ten times"])
def published(
    request: pytest.FixtureRequest, demo_records: Path, tmp_path_factory: pytest.TempPathFactory
) -> Published:
    """The device's records, as they are and with one in-mask reading multiplied, published."""
    folder = tmp_path_factory.mktemp("moved")
    records, site = folder / "records", folder / "site"
    shutil.copytree(demo_records, records)
    keep_only(records, DEVICE)
    record = records / "device_tests" / f"{RECORD}.yaml"
    lines = record.read_text(encoding="utf-8").splitlines(keepends=True)
    first = next(number for number, line in enumerate(lines) if line.startswith(f"  - id: {SESSION}"))
    place = next(number for number in range(first, len(lines)) if f"exercise: {EXERCISE}," in lines[number])
    reading = re.search(r"in_mask: ([0-9.]+) /cm3", lines[place])
    assert reading is not None
    changed = f"in_mask: {float(reading[1]) * request.param:g} /cm3"
    lines[place] = lines[place].replace(reading[0], changed)
    record.write_text("".join(lines), encoding="utf-8")
    assert run(["publish", "--records", str(records), "--output", str(site)]) == 0
    return Published(records, site, *expected_factors(record))


def shown_number(text: str) -> tuple[float, float]:
    """Return the number that a text starts with, and half a unit of its last digit."""
    match = re.match(r"[0-9\N{NARROW NO-BREAK SPACE}]+(\.[0-9]+)?", text.strip())
    assert match is not None, text
    digits = match[0].replace("\N{NARROW NO-BREAK SPACE}", "")
    whole = digits.partition(".")[0]
    if "." in digits:
        return float(digits), 0.5 * 10.0 ** -len(digits.partition(".")[2])
    idle = len(whole) - len(whole.rstrip("0"))
    return float(digits), 0.5 * 10.0**idle


def record_page(published: Published) -> html.HtmlElement:
    (path,) = published.site.rglob(f"{RECORD}.html")
    return html.fromstring(path.read_bytes())


def text_of(page: html.HtmlElement, key: str) -> str:
    """Return the value that a page shows for a figure."""
    (element,) = page.xpath("//*[@id=$key]//*[@class='value']", key=key)
    return str(element.text_content())


def test_the_two_publications_differ(demo_records: Path) -> None:
    overall, exercise = expected_factors(demo_records / "device_tests" / f"{RECORD}.yaml")
    assert exercise / 10 < overall


def test_the_page_shows_the_value(published: Published) -> None:
    value, half = shown_number(text_of(record_page(published), OVERALL))
    assert value == pytest.approx(published.overall, abs=half * 1.0001)


def test_the_sheet_shows_the_value_of_the_page(published: Published) -> None:
    (pdf,) = published.site.rglob(f"{DEVICE}.pdf")
    text = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    shown = text_of(record_page(published), OVERALL).strip()
    # The row of the register of attempts: wearer and donning, day, blower if any, how it ended, overall fit factor.
    day = r"(\d+ \w+ \d{4}\s)?"
    row = rf"^{WEARER_AND_DONNING}\s{day}(no blower\s)?completed\s{re.escape(shown)}\s"
    assert re.search(row, text, re.MULTILINE), shown


def test_the_json_holds_the_value(published: Published) -> None:
    record = published.records / "device_tests" / f"{RECORD}.yaml"
    child = subprocess.run(
        [sys.executable, "-m", "generator", "score", str(record), "--format", "json"],
        capture_output=True,
        text=True,
        check=True,
    )
    values = dict(figures_in(json.loads(child.stdout)))
    assert values[OVERALL] == pytest.approx(published.overall, rel=1e-9)
    assert values[FACTOR] == pytest.approx(published.exercise, rel=1e-9)


def figures_in(node: object) -> list[tuple[str, float]]:
    """Return key and value of every figure in what `--format json` prints."""
    found: list[tuple[str, float]] = []
    if isinstance(node, dict):
        if isinstance(node.get("key"), str) and isinstance(node.get("value"), float):
            found.append((node["key"], node["value"]))
        for child in node.values():
            found += figures_in(child)
    elif isinstance(node, list):
        for child in node:
            found += figures_in(child)
    return found


def middle(element: ElementTree.Element) -> float:
    """Return the middle of a drawn thing's extent along x. [px]"""
    paths = [part.attrib["d"] for part in element.iter() if "d" in part.attrib]
    places = [x for path in paths for piece in pieces_of(path) for x, _ in piece]
    assert places
    return (min(places) + max(places)) / 2


def drawings(page: html.HtmlElement) -> list[ElementTree.Element]:
    return [ElementTree.fromstring(html.tostring(drawing)) for drawing in page.xpath("//*[local-name()='svg']")]


@pytest.mark.parametrize("key", [OVERALL, FACTOR])
def test_the_drawing_shows_the_value_where_it_belongs(published: Published, key: str) -> None:
    expected = published.overall if key == OVERALL else published.exercise
    seen = 0
    for drawing in drawings(record_page(published)):
        named = {element.get("id", ""): element for element in drawing.iter()}
        points = [element for name, element in named.items() if name.endswith(f"-{key}")]
        if not points:
            continue
        ticks = {
            int(name.rpartition("-tick-")[2]): middle(element) for name, element in named.items() if "-tick-" in name
        }
        assert {1, 10, 100, 1000} <= set(ticks)
        decade = (ticks[1000] - ticks[10]) / 2
        (point,) = points
        value = 10 ** (1 + (middle(point) - ticks[10]) / decade)
        # Coordinates are written to a tenth of a pixel, of 100 in a decade: tick and mark may both be half of it off.
        assert value == pytest.approx(expected, rel=3e-3)
        assert math.isclose(ticks[100], (ticks[10] + ticks[1000]) / 2, abs_tol=0.1)
        seen += 1
    assert seen == 1, "the drawing for wide screens; the narrow one repeats it without ids"
