"""Instrument pages as markup: each value is that of the data, links lead there and back, hostile texts stay texts."""

from __future__ import annotations

import json
from typing import Any

import html5lib
import pytest
from lxml import html

from generator.presenting.page_views import Site
from generator.publishing.links import link_faults
from generator.rendering import whole_site
from generator.rendering.whole_site import render_site
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import Data, a_calibration, a_check_standard, a_meter, a_run, a_test

HOSTILE = '"><script>alert(1)</script><img src=x onerror=alert(1)> {{ 7 * 7 }} & \N{HEBREW LETTER ALEF}'
WORDS = {
    "inside": "within the warning limits",
    "beyond_warning": "beyond a warning limit",
    "beyond_action": "beyond an action limit",
}


def a_site(text: str = "", **changes: Any) -> Site:
    out: Data = {"within_tolerance": False, "found": f"{text} read 7 % high"}
    calibrations = [
        a_calibration(date="2025-01-10", due="2026-01-10", laboratory=f"{text} Laboratory", certificate=f"{text} C1"),
        a_calibration(date="2025-06-10", due="2026-06-10", as_found=out),
    ]
    readings = (("2025-02-01", 49.8), ("2025-03-01", 50.9), ("2025-04-01", 51.25), ("2025-05-01", 48.0))
    standards = [a_check_standard(*readings, what=f"{text} an orifice plate", established=f"{text} Twenty readings")]
    meter = a_meter(calibrations=calibrations, check_standards=standards, name=f"{text} Meter", **changes)
    return shown(a_whole_catalogue(a_test(flow=[a_run([200.0, 201.0])]), meter=meter))


def files_of(site: Site, monkeypatch: pytest.MonkeyPatch) -> dict[str, bytes]:
    # The setting of sheets has tests of its own, and takes long.
    monkeypatch.setattr(whole_site, "render_sheet", lambda *parts: b"%PDF")
    return render_site(site, lambda done, total, what: None)


def text_of(page: html.HtmlElement, identity: str) -> str:
    (element,) = page.xpath(f"//*[@id='{identity}']")
    return " ".join(element.text_content().split())


def number(text: str) -> float:
    return float(text.replace("\N{MINUS SIGN}", "-"))


def test_the_page_shows_what_the_data_hold(monkeypatch: pytest.MonkeyPatch) -> None:
    files = files_of(a_site(), monkeypatch)
    result = json.loads(files["data/catalogue.json"])["instrument_results"]["meter"]
    page = html.fromstring(files["instruments/meter.html"])
    (check,) = result["checks"]
    for name in ("action_high", "warning_high", "centre", "warning_low", "action_low"):
        assert number(text_of(page, f"check.orifice.{name}")) == pytest.approx(check["limits"][name], rel=1e-12), name
    for place, reading in enumerate(check["readings"], start=1):
        key = f"check.orifice.reading.{place}"
        assert number(text_of(page, f"{key}.value")) == reading["value"]
        assert text_of(page, f"{key}.state") == WORDS[reading["state"]]
    assert [reading["state"] for reading in check["readings"]] == [
        "inside",
        "beyond_warning",
        "beyond_action",
        "beyond_action",
    ]
    assert text_of(page, "check.orifice.mean").startswith("mean of the readings 50.0")
    assert check["mean"]["value"] == pytest.approx(49.9875, rel=1e-12)  # source: by hand, 199.95 / 4
    affected = {record for calibration in result["calibrations"] for record in calibration["affected"]}
    listed = {identity.removeprefix("affected-") for identity in page.xpath("//li/@id") if "affected-" in identity}
    assert listed == affected == {"test"}
    used = {identity.removeprefix("used-") for identity in page.xpath("//li/@id") if "used-" in identity}
    assert used == set(result["records"])
    assert [calibration["state"] for calibration in result["calibrations"]] == ["in_force", "made_later"]
    assert [text_of(page, f"calibration.{row}.state") for row in (1, 2)] == ["in force", "made after that day"]


def test_links_lead_from_record_to_instrument_and_back(monkeypatch: pytest.MonkeyPatch) -> None:
    files = files_of(a_site(), monkeypatch)
    assert link_faults(files) == []
    record = html.fromstring(files["records/test.html"])
    assert record.xpath("//*[@id='instruments-used']//a/@href") == [
        "../instruments/counter.html",
        "../instruments/meter.html",
    ]
    page = html.fromstring(files["instruments/meter.html"])
    assert page.xpath("//*[@id='affected-test']/a/@href") == ["../records/test.html"]
    assert page.xpath("//*[@id='used-test']/a/@href") == ["../records/test.html"]
    index = html.fromstring(files["instruments/index.html"])
    assert index.xpath("//*[@id='instrument-meter']/th/a/@href") == ["../instruments/meter.html"]
    for path, content in files.items():
        if path.endswith(".html"):
            links = html.fromstring(content).xpath("//header//nav//a[.='Instruments']/@href")
            assert links == ["../" * path.count("/") + "instruments/index.html"], path


def test_a_record_in_doubt_says_so_first(monkeypatch: pytest.MonkeyPatch) -> None:
    files = files_of(a_site(), monkeypatch)
    for path in ("records/test.html", "devices/device.html"):
        headings = html.fromstring(files[path]).xpath("//*[@id='cautions']//h3/text()")
        assert "An instrument used here was later found to read wrongly." in headings, path
        assert (
            "The last check by the day of the test showed that an instrument no longer read as it should." in headings
        ), path


def test_a_chart_is_drawn_twice_and_its_readings_stand_beside_it_as_a_table(monkeypatch: pytest.MonkeyPatch) -> None:
    page = html.fromstring(files_of(a_site(), monkeypatch)["instruments/meter.html"])
    assert page.xpath("//figure[@class='chart']/svg/@class") == ["scale wide", "scale narrow"]
    identities = page.xpath("//@id")
    assert len(identities) == len(set(identities))
    assert len(page.xpath("//*[@id='check-orifice-readings']//tbody/tr")) == 4


def test_an_instrument_without_checks_and_tests_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    files = files_of(shown(a_whole_catalogue()), monkeypatch)
    page = html.fromstring(files["instruments/meter.html"])
    assert text_of(page, "checks") == "Checks between calibrations No readings of a check standard are on record."
    assert text_of(page, "used") == "Test records that used it None in this catalogue."
    assert page.xpath("//*[@id='found-out']") == []


@pytest.mark.parametrize("path", ["instruments/meter.html", "instruments/index.html"])
def test_hostile_texts_stay_texts(path: str, monkeypatch: pytest.MonkeyPatch) -> None:
    files, plain = files_of(a_site(HOSTILE), monkeypatch), files_of(a_site("x"), monkeypatch)
    tree = html5lib.parse(files[path].decode(), namespaceHTMLElements=False)
    same = html5lib.parse(plain[path].decode(), namespaceHTMLElements=False)
    assert [str(element.tag) for element in tree.iter()] == [str(element.tag) for element in same.iter()]
    assert [name for element in tree.iter() for name in element.attrib if str(name).startswith("on")] == []
    assert HOSTILE in html.fromstring(files["instruments/meter.html"]).xpath("string(//h1)")
