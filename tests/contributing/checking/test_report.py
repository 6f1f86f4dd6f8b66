"""What `inward check --format json` prints, held to a JSON Schema written by hand from the guide."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from generator.command_line import run
from generator.contributing.checking.report import CheckRemark, CheckReport
from tests.loading.example_records import change, good_copy

FOUND: dict[str, Any] = {"type": "string", "minLength": 1}
OR_NULL = ["string", "null"]
REMARK = {
    "type": "object",
    "additionalProperties": False,
    "required": list(CheckRemark.model_fields),
    "properties": {
        "file": FOUND,
        "line": {"type": "integer", "minimum": 1},
        "column": {"type": "integer", "minimum": 1},
        "end_line": {"type": ["integer", "null"], "minimum": 1},
        "end_column": {"type": ["integer", "null"], "minimum": 1},
        "path": FOUND,
        "slug": {"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$"},
        "level": {"enum": ["problem", "finding"]},
        "found": FOUND,
        "expected": {"type": OR_NULL},
        "remedy": FOUND,
        "message": {"type": "string", "pattern": "^found .+\\.$"},
        "source_line": {"type": OR_NULL},
    },
}
SCHEMA = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "type": "object",
    "additionalProperties": False,
    "required": list(CheckReport.model_fields),
    "properties": {
        "files": {"type": "integer", "minimum": 0},
        "problems": {"type": "integer", "minimum": 0},
        "findings": {"type": "integer", "minimum": 0},
        "problems_elsewhere": {"type": "integer", "minimum": 0},
        "findings_looked_for": {"type": "boolean"},
        "scored": {"type": "boolean"},
        "remarks": {"type": "array", "items": REMARK},
    },
}
MARCH = "records/device_tests/hood-march.yaml"


@pytest.fixture
def records(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = good_copy(tmp_path)
    monkeypatch.chdir(tmp_path)
    return folder


def printed(capsys: pytest.CaptureFixture[str], *options: str) -> tuple[int, Any]:
    code = run(["check", "--format", "json", *options])
    out, err = capsys.readouterr()
    assert err == ""
    assert out.isascii()
    return code, json.loads(out)


def test_a_problem_with_every_key(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(records, "device_tests/hood-march.yaml", "pressure: 1009 hPa", "pressure: 1009  # höher")
    code, report = printed(capsys, MARCH)
    jsonschema.Draft202012Validator(SCHEMA).validate(report)
    assert code == 1
    assert report == {
        "files": 1,
        "problems": 1,
        "findings": 0,
        "problems_elsewhere": 0,
        "findings_looked_for": True,
        "scored": False,
        "remarks": [
            {
                "file": MARCH,
                "line": 21,
                "column": 13,
                "end_line": 21,
                "end_column": 17,
                "path": "environment.pressure",
                "slug": "unit-missing",
                "level": "problem",
                "found": "the bare number 1009",
                "expected": "a number and a unit (Pa, hPa, mbar, kPa, mmH2O, mmHg, inHg)",
                "remedy": "Add the unit it was read in, as in `1013 hPa`",
                "message": "found the bare number 1009, expected a number and a unit (Pa, hPa, mbar, kPa, mmH2O, mmHg, "
                "inHg). Add the unit it was read in, as in `1013 hPa`.",
                "source_line": "  pressure: 1009  # höher",
            }
        ],
    }


def test_findings_and_what_is_about_no_line(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(records, "device_tests/hood-march.yaml", "humidity: 45 %", "humidity: 0.45 %")
    code, report = printed(capsys, "--findings")
    jsonschema.Draft202012Validator(SCHEMA).validate(report)
    assert (code, report["problems"], report["scored"]) == (0, 0, True)
    assert report["findings"] == len(report["remarks"]) > 10
    told = {(each["slug"], each["expected"] is None) for each in report["remarks"]}
    assert {("unlikely-humidity", False), ("attempts-not-completed", True)} <= told
    (records / "notes.txt").write_text("what is not a record\n")
    code, report = printed(capsys)
    jsonschema.Draft202012Validator(SCHEMA).validate(report)
    ((file, line),) = [(each["file"], each["source_line"]) for each in report["remarks"]]
    assert (code, file, line) == (1, "records/notes.txt", None)


def test_strict_counts_here_too(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(records, "device_tests/hood-march.yaml", "humidity: 45 %", "humidity: 0.45 %")
    code, report = printed(capsys, "--strict", MARCH)
    assert (code, report["problems"]) == (1, 0)


def test_the_schema_above_can_fail() -> None:
    with pytest.raises(jsonschema.ValidationError, match="'files' is a required property"):
        jsonschema.Draft202012Validator(SCHEMA).validate({"remarks": []})
