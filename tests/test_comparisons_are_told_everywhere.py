"""Comparisons and the whole catalogue of the demo: page, results as JSON and paper say the same."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pypdf
import pytest
from lxml import html

from generator.command_line import run

COMPARISON = "lime-plaster-weekend"


@cache
def paper(path: Path) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(path).pages)


def text_of(page: html.HtmlElement, identity: str) -> str:
    (element,) = page.xpath(f'//*[@id="{identity}"]')
    return " ".join(element.text_content().split())


def scored(records: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    capsys.readouterr()
    assert run(["score", COMPARISON, "--records", str(records), "--format", "json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_a_difference_is_the_same_on_page_in_json_and_on_paper(
    demo_site: Path, demo_records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = html.fromstring((demo_site / f"comparisons/{COMPARISON}.html").read_bytes())
    on_paper = paper(demo_site / f"comparisons/{COMPARISON}.pdf")
    stated = 0
    for difference in scored(demo_records, capsys)["differences"]:
        row = f"difference-{difference['first']}-{difference['second']}"
        ratio = difference["ratio"]
        if ratio["value"] is None:
            assert "not stated" in text_of(page, row)
            continue
        stated += 1
        times = text_of(page, f"{row}.ratio").split()[0]
        # A ratio is shown to two or three digits.
        assert float(times) == pytest.approx(ratio["value"], rel=0.05)
        assert f"{times} times" in on_paper
        decided = {
            "first_higher": "was higher with",
            "second_higher": "was higher with",
            "cannot_be_told_apart": "cannot be told apart, which is not the same as equal",
        }[difference["decision"]["apart"]]
        assert decided in text_of(page, f"{row}.apart")
        assert decided in on_paper
        least = f"{difference['least_chance']['value']:.2f}"
        assert f"it cannot go below {least}." in text_of(page, f"{row}.chance")
        assert f"it cannot go below {least}." in on_paper
        # Verdict before ratio; how sure it is stands folded on the page, and open on paper.
        (sentence,) = page.xpath(f'//*[@id="{row}.chance"]')
        (folded,) = sentence.iterancestors("details")
        assert folded.get("open") is None
        assert on_paper.index(decided) < on_paper.index(f"{times} times")
    assert stated == 3


def test_every_device_stands_in_the_catalogue_on_paper_as_on_the_first_page(demo_site: Path) -> None:
    page = html.fromstring((demo_site / "index.html").read_bytes())
    on_paper = paper(demo_site / "catalogue.pdf").replace("\u202f", " ")
    rows = page.xpath('//table[@class="devices"]//tr[@data-device]')
    assert len(rows) == 21
    for row in rows:
        assert row.xpath("./th/a")[0].text_content() in on_paper
        for value in row.xpath('./td[@class="fit" or @class="flow"]/span[@class="value"]'):
            shown = " ".join(value.text_content().replace("\u202f", " ").split())
            assert shown in on_paper, shown
