"""`inward plan`: text and JSON of a device, the day it is planned for, and what is wrong usage."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator.command_line import run
from generator.contributing.planning import planned
from generator.loading import load_catalogue
from generator.model.published import published
from tests.conftest import SMALL_DEVICE


def plan(capsys: pytest.CaptureFixture[str], records: Path, *arguments: str) -> tuple[int, str, str]:
    code = run(["plan", "--records", str(records), *arguments])
    out, err = capsys.readouterr()
    return code, out, err


def test_a_device_with_a_test(small_records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = plan(capsys, small_records, SMALL_DEVICE)
    assert (code, err) == (0, "")
    assert out.startswith("Patchwork Cover: what to test next\n\nWhat further tests would newly allow to say")
    headings = ("Next, in this order", "What lacks evidence", "What numbers of wearers take for granted")
    places = [out.index(f"\n{heading}\n{'-' * len(heading)}\n") for heading in headings]
    assert places == sorted(places)
    assert [line for line in out.splitlines() if len(line) > 80 or line != line.rstrip()] == []
    assert "\N{ESCAPE}" not in out
    # An id is copied whole: no line ends within it.
    assert f"On record in {SMALL_DEVICE}-2025-03." in " ".join(out.split())
    assert plan(capsys, small_records, SMALL_DEVICE) == (0, out, "")


def test_a_device_without_a_test(small_records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (small_records / "device_tests" / f"{SMALL_DEVICE}-2025-03.yaml").unlink()
    code, out, _ = plan(capsys, small_records, SMALL_DEVICE)
    assert code == 0
    assert "No test of this device is on record, or none of them stands." in " ".join(out.split())
    assert "\nWhat can be said\n" not in out
    # No test and no day named: there is no day to look at instruments on.
    assert "Instruments on" not in out
    _, out, _ = plan(capsys, small_records, SMALL_DEVICE, "--on", "2031-01-04")
    assert "\nInstruments on 4 January 2031\n" in out
    assert "lapsed, it was due on" in " ".join(out.split())


def test_json_is_the_plan_with_every_number(small_records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = plan(capsys, small_records, SMALL_DEVICE, "--format", "json")
    assert (code, err) == (0, "")
    loaded = load_catalogue(small_records)
    assert loaded.catalogue is not None
    document = json.loads(out)
    assert document == planned(SMALL_DEVICE, published(loaded.catalogue)).model_dump(mode="json")
    (share,) = [each for each in document["statements"] if each["rule"] == "share-of-wearers"]
    assert share["sizes"][1]["confidence"] == 0.95


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["patchwork-cover-2"], "found no device `patchwork-cover-2`"),
        (["patchwork-cover-2"], "did you mean `patchwork-cover`?"),
        (["zzz"], "expected one; see the files there."),
    ],
)
def test_a_device_that_is_not_there(
    arguments: list[str], message: str, small_records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = plan(capsys, small_records, *arguments)
    assert (code, out) == (2, "")
    assert err.startswith("inward: [wrong-usage] ")
    assert message in err


def test_a_day_that_is_none(small_records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = plan(capsys, small_records, SMALL_DEVICE, "--on", "tomorrow")
    assert (code, out) == (2, "")
    assert "Invalid value for '--on'" in err


def test_records_with_problems_are_not_planned_on(small_records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = small_records / "devices" / f"{SMALL_DEVICE}.yaml"
    path.write_text(path.read_text(encoding="utf-8") + "colour: blue\n", encoding="utf-8")
    code, out, err = plan(capsys, small_records, SMALL_DEVICE)
    assert (code, out) == (1, "")
    assert "[unknown-key]" in err
