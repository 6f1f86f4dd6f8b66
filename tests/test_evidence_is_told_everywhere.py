"""Evidence and before-and-after of the demo: the same on the page, in the results as data and on paper."""

from __future__ import annotations

import subprocess
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from lxml import html

from generator.loading import load_catalogue
from tests.presenting.small_sites import context_of

TWO_UNITS, MODIFIED, ONE_CONFIGURATION = "hollybrake-hood", "brindlecombe-half", "bellheather-hood"


@cache
def results(records: Path) -> dict[str, Any]:
    """Return the results of the demo's devices as data."""
    catalogue = load_catalogue(records).catalogue
    assert catalogue is not None
    return {name: found.model_dump(mode="json") for name, found in context_of(catalogue).result.devices.items()}


def on_page(site: Path, device: str, identity: str) -> str:
    (element,) = html.fromstring((site / f"devices/{device}.html").read_bytes()).xpath(f'//*[@id="{identity}"]')
    # Cells of a row stand apart, though nothing stands between them in the page.
    parts = element.xpath("th | td") or [element]
    return " ".join(" ".join(part.text_content() for part in parts).split())


@cache
def on_paper(site: Path, device: str) -> str:
    pdf = site / f"devices/{device}.pdf"
    text = subprocess.run(["pdftotext", "-raw", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    return " ".join(text.replace("\N{NARROW NO-BREAK SPACE}", "").split())


def kind_recorded(one: str, recorded: list[str]) -> str:
    return f"{one}{'' if len(recorded) == 1 else 's'} recorded"


def expected_strip(evidence: dict[str, Any]) -> dict[str, tuple[str, str]]:
    """Return each cell of the strip from the data alone, with its label on paper."""
    uses = [use["state"] for use in evidence["instruments"]]
    not_tested = len(evidence["not_tested_stated"]) + len(evidence["gaps"])
    return {
        "evidence-wearers": ("wearers in all states", str(len(evidence["wearers"]))),
        "evidence-donnings": ("donnings in all states", str(evidence["donnings"])),
        "evidence-units": (kind_recorded("unit", evidence["units"]), str(len(evidence["units"]))),
        "evidence-lots": (kind_recorded("lot", evidence["lots"]), str(len(evidence["lots"]))),
        "evidence-raw": ("sessions with raw data", f"{evidence['with_raw']} of {evidence['completed']}"),
        "evidence-calibration": ("calibrations in date on the day", f"{uses.count('in_date')} of {len(uses)}"),
        "evidence-deviations": ("deviations stated", str(len(evidence["deviations"]))),
        "evidence-not-tested": ("points named as not tested", str(not_tested)),
    }


@pytest.mark.parametrize("device", [TWO_UNITS, MODIFIED])
def test_the_strip(demo_site: Path, demo_records: Path, device: str) -> None:
    cells = expected_strip(results(demo_records)[device]["evidence"])
    assert {identity: on_page(demo_site, device, identity) for identity in cells} == {
        identity: text for identity, (_, text) in cells.items()
    }
    assert " ".join(f"{label} {text}" for label, text in cells.values()) in on_paper(demo_site, device)


def test_the_strip_against_the_records(demo_records: Path) -> None:
    evidence = results(demo_records)[TWO_UNITS]["evidence"]
    # Source: read off the two records of this device by hand: units, lots, and the letters of those who wore it.
    assert evidence["records"] == [
        "hollybrake-hood-2025-06",
        "hollybrake-hood-2025-08",
        "hollybrake-hood-2025-11",
        "hollybrake-hood-2025-11-pair",
    ]
    assert evidence["units"] == ["HB-2502-017", "HB-2505-140"]
    assert evidence["lots"] == ["HB-2502", "HB-2505"]
    assert evidence["wearers"] == ["A", "B", "E"]


def test_two_units_are_named_and_stand_apart(demo_site: Path, demo_records: Path) -> None:
    rows = results(demo_records)[TWO_UNITS]["evidence"]["fit_by_item"]
    assert [row["item"]["unit"] for row in rows] == ["HB-2502-017", "HB-2505-140"]
    for number, row in enumerate(rows, start=1):
        for end in ("lowest", "highest"):
            shown = on_page(demo_site, TWO_UNITS, f"unit-fit-{number}-{end}")
            # Three digits are shown, or as many as the interval allows: half a step of the second digit at most.
            assert float(shown.replace("\N{NARROW NO-BREAK SPACE}", "")) == pytest.approx(row[end]["value"], rel=0.05)
            assert shown in on_paper(demo_site, TWO_UNITS)
    assert ", on two units, the fit factor was " in on_page(demo_site, TWO_UNITS, "answer")


def test_before_and_after(demo_site: Path, demo_records: Path) -> None:
    modified = results(demo_records)[MODIFIED]["configurations"][1]
    assert (modified["name"], modified["based_on"]) == ("third-strap", "as-sold")
    (pair,) = modified["fit"]
    assert {session["side"] for session in pair["sessions"]} == {"before", "after"}
    assert {session["wearer"] for session in pair["sessions"]} == {"A", "B", "C"}
    for session in pair["sessions"]:
        row = f"configuration-third-strap-fit-1-{session['record']}"
        value = on_page(demo_site, MODIFIED, f"{row}-{session['overall']['key']}-value")
        assert float(value.replace("\N{NARROW NO-BREAK SPACE}", "")) == pytest.approx(
            session["overall"]["value"], rel=0.05
        )
        label = f"{session['wearer']}, {session['side']}"
        assert on_page(demo_site, MODIFIED, f"{row}-{session['session']}").startswith(f"{label} {session['donning']} ")
        assert f"{label} {session['donning']} {value} " in on_paper(demo_site, MODIFIED)


def test_what_follows_of_before_and_after(demo_site: Path, demo_records: Path) -> None:
    (pair,) = results(demo_records)[MODIFIED]["configurations"][1]["fit"]
    found = pair["difference"]
    key, chance = found["ratio"]["key"], found["chance"]["value"]
    # source: definition; three pairs that all lie on one side are 2 of 8 patterns
    assert (key, found["people"], chance) == ("change-third-strap-1", "same_wearers", 0.25)
    assert found["decision"]["apart"] == "cannot_be_told_apart"
    for name, words in (
        ("ratio", "After the change the fit factor was 2.1 times that before it"),
        ("apart", "Before and after cannot be told apart, which is not the same as equal."),
        ("chance", "with a probability of 0.25; with three wearers it cannot go below 0.25."),
    ):
        assert words in on_page(demo_site, MODIFIED, f"{key}.{name}")
        assert words in on_paper(demo_site, MODIFIED)


def test_what_the_change_costs(demo_site: Path, demo_records: Path) -> None:
    modified = results(demo_records)[MODIFIED]["configurations"][1]
    anchor, costs = "configuration-third-strap", modified["costs"]
    assert on_page(demo_site, MODIFIED, f"{anchor}-approval") == costs["approval"]
    assert on_page(demo_site, MODIFIED, f"{anchor}-noise") == costs["noise"]
    mass = on_page(demo_site, MODIFIED, f"{anchor}-mass")
    assert mass == f"before: {modified['mass_before']}; after: {costs['mass']}"
    for text in (costs["approval"], costs["noise"]):
        assert text in on_paper(demo_site, MODIFIED)


def test_a_device_of_one_configuration_has_no_such_section(demo_site: Path) -> None:
    page = html.fromstring((demo_site / f"devices/{ONE_CONFIGURATION}.html").read_bytes())
    assert (page.xpath('count(//*[@id="evidence"])'), page.xpath('count(//*[@id="configurations"])')) == (1, 0)
