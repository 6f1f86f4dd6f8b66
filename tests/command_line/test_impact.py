"""`inward impact` on a terminal and in a pull request: what it prints, its formats and exit codes."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from generator.command_line import run

RECORD = "device_tests/patchwork-cover-2025-03.yaml"


def impact(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    capsys.readouterr()
    code = run(["impact", *arguments])
    out, err = capsys.readouterr()
    return code, out, err


@pytest.fixture
def folders(small_records: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with `before` and `records`, which are the same."""
    shutil.copytree(small_records, small_records.parent / "before")
    monkeypatch.chdir(small_records.parent)
    return small_records.parent


def test_a_record_written_otherwise_changes_nothing(folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = folders / "records" / RECORD
    lines = (
        path.read_text(encoding="utf-8")
        .replace("place: the old", 'place: "the old')
        .replace(", upper floor", ', upper floor"')
    )
    version, others = re.search(r'(?m)^version: "1"\n', lines), lines
    assert version is not None
    # A comment, quotes, and a key at another place.
    path.write_text(f"# Looked through again.\n{others.replace(version[0], '')}{version[0]}", encoding="utf-8")
    assert path.read_text(encoding="utf-8").count('"the old net loft, upper floor"') == 1
    assert impact(capsys, "before")[1] == (
        "Compared: the records in before with the records in records, both scored by\n"
        "today’s program (inward 0.1.0).\n"
        "Nothing that is published changes.\n"
        "\n"
        "! One record file is written otherwise and says the same: only the SHA-256 that\n"
        "  pages print is another.\n"
        "\n"
        "Records (1)\n"
        "-----------\n"
        "patchwork-cover-2025-03\n"
        "  test record: written otherwise, says the same\n"
        "    version 1 → version 1\n"
    )


@pytest.fixture
def changed(folders: Path) -> Path:
    """The same, with one reading changed."""
    path = folders / "records" / RECORD
    text = path.read_text(encoding="utf-8")
    assert "in_mask: 386 /cm3" in text
    path.write_text(text.replace("in_mask: 386 /cm3", "in_mask: 350 /cm3"), encoding="utf-8")
    return folders


def test_text_tells_before_and_after_in_80_columns(changed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = impact(capsys, "before")
    assert (code, err) == (0, "Reading the records\nScoring\nComparing pages\n")
    assert [line for line in out.splitlines() if len(line) > 80] == []
    assert "\nFigures (3)\n-----------\npatchwork-cover-2025-03\n" in out
    # by hand: 872 /cm3 outside over 386 /cm3 inside are 2.259, over 350 /cm3 2.491; the second is 386/350 of the first
    figures = " ".join(out.partition("\nFigures (3)\n")[2].split())
    assert "fit.c1.normal-breathing, fit factor, Normal breathing: 1.10 times what it was 2.26 (95" in figures
    assert " → 2.49 (95" in figures
    assert "\nPages, papers and pictures (" in out
    assert "\x1b" not in out


def test_markdown_says_the_whole_first(changed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = impact(capsys, "before", "--format", "markdown")
    assert code == 0
    lines = out.splitlines()
    assert re.fullmatch(r"\*\*Three figures change; \w+ pages are touched\.\*\*", lines[0])
    assert lines[2].startswith("Compared: the records in before with the records in records, both scored by ")
    assert (
        "- **Note:** `patchwork-cover-2025-03`: published figures move, and its version stays 1. Raise the version."
        in out
    )
    assert "| `patchwork-cover-2025-03` | `fit.c1.normal-breathing` " in out


def test_json_holds_the_same(changed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = impact(capsys, "before", "--format", "json")
    assert code == 0
    told = json.loads(out)
    assert told["verdict"].startswith("Three figures change; ")
    figures = next(section for section in told["sections"] if section["id"] == "figures")
    assert [row["place"]["text"] for row in figures["rows"]] == [
        "fit.c1.normal-breathing",
        "fit.c1.overall",
        "fit.c1.leakage",
    ]


def test_a_base_folder_with_problems_is_named(changed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = changed / "before" / RECORD
    path.write_text("id: x\n", encoding="utf-8")
    code, out, err = impact(capsys, "before")
    assert (code, out) == (1, "")
    assert "Not compared: the records in before have problems.\n" in err
    assert f"before/{RECORD}:1:" in err


def test_without_base_it_is_wrong_usage(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = impact(capsys)
    assert code == 2
    assert "Missing argument 'BASE'" in err
