"""What stands beside a device's fit factors in the demo: the same on the page, in the results as data and on paper."""

from __future__ import annotations

import math
import subprocess
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from lxml import html

from generator.model.catalogue_result import CatalogueResult

APPROVED, HOME_BUILT, NOT_APPROVED = "bellheather-hood", "allotment-hood", "wallstone-half"


def page(site: Path, device: str) -> Any:
    return html.fromstring((site / f"devices/{device}.html").read_bytes())


def on_page(site: Path, device: str, identity: str) -> str:
    (element,) = page(site, device).xpath(f'//*[@id="{identity}"]')
    return " ".join(element.text_content().split())


@cache
def on_paper(site: Path, device: str) -> str:
    pdf = site / f"devices/{device}.pdf"
    text = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    return " ".join(text.replace("\N{NARROW NO-BREAK SPACE}", "").split())


@pytest.mark.parametrize("device", [APPROVED, HOME_BUILT, NOT_APPROVED])
def test_what_would_be_left_with_time_off(demo_site: Path, scored: CatalogueResult, device: str) -> None:
    found = scored.devices[device].meaning.off_time
    assert found is not None
    for row in found.rows:
        # source: the mean concentration over the whole time, hour by hour of a hundred, by arithmetic of its own
        off = round(100 * row.share_off)
        breathed = math.fsum([1.0] * off + [1 / found.assumed] * (100 - off)) / 100
        assert row.protection == pytest.approx(1 / breathed, rel=1e-12)
        shown = float(on_page(demo_site, device, f"off-time-{off}-protection"))
        # Two digits, rounded down.
        assert 0.909 * row.protection < shown <= row.protection
    assert "Hypothetical" in on_page(demo_site, device, "off-time")
    assert "Nobody measured this" in on_paper(demo_site, device)
    table = on_page(demo_site, device, "off-time-5-protection")
    assert f"5% of the time 24min of 8 hours {table} 20 " in on_paper(demo_site, device)


def test_assigned_factors_stand_in_a_strip_of_their_own(demo_site: Path, scored: CatalogueResult) -> None:
    found = scored.devices[APPROVED].meaning.assigned
    assert [(factor.rule, factor.value) for factor in found.factors] == [
        # source: 29 CFR 1910.134(d)(3)(i)(A), Table 1: helmet or hood 25, or 1000 with evidence
        ("osha-powered-hood", 25),
        ("osha-powered-hood-with-evidence", 1000),
    ]
    for factor in found.factors:
        assert on_page(demo_site, APPROVED, f"assigned-{factor.rule}-value") == f"{factor.value:g}"
        condition = on_page(demo_site, APPROVED, f"assigned-{factor.rule}-condition").replace(
            "\N{NARROW NO-BREAK SPACE}", ""
        )
        assert condition in on_paper(demo_site, APPROVED)
    (section,) = page(demo_site, APPROVED).xpath('//*[@id="assigned"]')
    assert section.xpath(".//svg | .//figure") == []
    assert "It is not a measurement of any device" in section.text_content()
    # No scale, no register and no answer of any device names an assigned factor.
    for device in scored.devices:
        for identity in ("fit", "answer"):
            assert "ssigned" not in on_page(demo_site, device, identity)


@pytest.mark.parametrize(
    ("device", "sentence"),
    [
        (HOME_BUILT, "and this one was built at home."),
        (NOT_APPROVED, "and no approval of this one is on record."),
    ],
)
def test_why_none_is_given(demo_site: Path, device: str, sentence: str) -> None:
    text = on_page(demo_site, device, "assigned")
    assert text.endswith(sentence)
    assert text.removeprefix("Assigned protection factors ") in on_paper(demo_site, device)


def test_every_section_is_of_a_device_that_has_one(demo_site: Path, scored: CatalogueResult) -> None:
    for device, result in scored.devices.items():
        found = page(demo_site, device)
        assert found.xpath('count(//*[@id="assigned"])') == 1
        assert found.xpath('count(//*[@id="off-time"])') == (result.meaning.off_time is not None)
        assert found.xpath('count(//*[@id="same-day"])') == bool(result.meaning.same_day)
        for day in result.meaning.same_day:
            for session in (*day.own, *day.others):
                assert found.xpath(f'count(//*[@id="same-day-{session.record}-{session.session}"])') == 1
