"""What follows from a powered device's air: the same in the data, on the device's page, on paper and in a terminal."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from lxml import html

from tests.conftest import ROOT

HOOD, RECORD = "bellheather-hood", "bellheather-hood-2025-11"
WORST, EASIEST = "low-at-alarm-loaded", "high-fresh-new"
TOLD = {
    # what a reader asks -> the figure that answers it, in its record
    "flow": f"flow.{WORST}.mean",
    "flow of another state": f"flow.{EASIEST}.mean",
    "share beyond the supply, at rest": f"breathing.{WORST}.very-light.share",
    "share beyond the supply, at work": f"breathing.{WORST}.heavy.share",
    "share beyond the supply, speaking": f"breathing.{WORST}.cycling-speaking.share",
    "litres in a breath, speaking": f"breathing.{WORST}.cycling-speaking.breath",
    "cleaner with the hood's air": f"breathing.{WORST}.cycling-speaking.mixed",
    "carbon dioxide at desk work": f"gas.{WORST}.desk-work-carbon-dioxide",
    "carbon dioxide at heavy work": f"gas.{WORST}.heavy-carbon-dioxide",
    "oxygen at moderate work": f"gas.{WORST}.moderate-oxygen",
    "rebreathing": "gas.off-walking.exchange",
    "velocity through the openings": f"air_balance.{WORST}.velocity",
    "lowest pressure": "air_balance.trace-high.lowest",
    "face velocity": f"filter.{WORST}.velocity",
    "run time": "run_time.high-full.run_time",
    "time to stop": "run_time.high-full.to_stop",
    "predicted flow": "blower.high-fresh-curve.new",
    "noise": "burden.noise-high.level",
    "words understood": "burden.words-high.rating",
    "cost": "burden.use.an_hour",
}


def plain(text: str) -> str:
    """Return a text in which only the letters and digits count, not how its spaces are set."""
    return "".join(text.split())


def scored(record: str, *options: str) -> str:
    done = subprocess.run(
        [sys.executable, "-m", "generator", "score", record, *options],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


@cache
def figures() -> dict[str, Any]:
    topics = json.loads(scored(RECORD, "--format", "json"))["topics"]
    return {figure["key"]: figure for topic in topics.values() for figure in topic["figures"]}


@cache
def device_page(site: Path) -> Any:
    return html.fromstring((site / f"devices/{HOOD}.html").read_bytes())


@cache
def on_paper(site: Path) -> str:
    pdf = site / f"devices/{HOOD}.pdf"
    text = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    return plain(text)


@cache
def in_terminal() -> str:
    return plain(scored(HOOD))


def cell(site: Path, key: str) -> tuple[str, str]:
    """Return what a figure's cell on the device's page says, and the note below it."""
    (found,) = device_page(site).xpath(f'//*[@id="{RECORD}-{key}"]')
    note = "".join(part.text_content() for part in found.iter("small")).strip()
    return " ".join(found.text_content().split()).removesuffix(" ".join(note.split())).strip(), note


@pytest.mark.parametrize("key", TOLD.values(), ids=TOLD.keys())
def test_a_figure_is_the_same_in_all_four(demo_site: Path, key: str) -> None:
    said, note = cell(demo_site, key)
    assert any(character.isdigit() for character in said)
    assert plain(said) in on_paper(demo_site)
    assert plain(said) in in_terminal()
    assert plain(note) in on_paper(demo_site)
    assert plain(note) in in_terminal()
    # The number that is shown is the one of the data, to the last digit shown; a bound is rounded to its weaker side.
    shown = re.search(r"[0-9.]+", plain(said).replace("\N{MINUS SIGN}", "-"))
    assert shown is not None
    step = 10.0 ** -len(shown[0].partition(".")[2])
    assert float(shown[0]) == pytest.approx(figures()[key]["value"], abs=step)


def test_each_cell_has_a_figure_of_a_record(demo_site: Path) -> None:
    topics = "flow|breathing|gas|air_balance|filter|blower|run_time|burden"
    cells = device_page(demo_site).xpath("//td[@id]/@id")
    keys = [match[1] for each in cells if (match := re.fullmatch(rf"{RECORD}-((?:{topics})\..+)", each))]
    assert len(keys) == len(set(keys)) > 60
    assert set(keys) <= set(figures())


def test_coverage_of_work_is_told_silent_and_speaking(demo_site: Path) -> None:
    sentences = " ".join(device_page(demo_site).xpath('//*[@id="breathing"]')[0].text_content().split())
    assert "Speaking at work is not covered" in sentences
    assert "Silent work is covered up to" in sentences
    for told in ("Speaking at work is not covered", "Silent work is covered up to"):
        assert plain(told) in on_paper(demo_site)
        assert plain(told) in in_terminal()
    # Source: a half sine of mean inspiratory flow 2 VE has its peak at pi VE, shared with every silent breath.
    covered = figures()[f"breathing.{WORST}.covered-silent"]
    assert covered["value"] == pytest.approx(figures()[f"flow.{WORST}.mean"]["value"] / 3.141592653589793, rel=1e-9)


def test_the_uncertainty_of_a_flow_is_told_with_its_factor(demo_site: Path) -> None:
    text = device_page(demo_site).xpath('//*[@id="flow-runs"]')[0].text_content()
    assert "k = 1.96" in " ".join(text.replace("\N{NARROW NO-BREAK SPACE}", " ").split())
    assert "k=1.96" in in_terminal()
    assert "k=1.96" in on_paper(demo_site)
