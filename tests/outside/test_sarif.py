"""`inward check --format sarif`, held against the schema of the standard by a general validator.

source: `sarif-schema-2.1.0.json` is the JSON Schema of SARIF 2.1.0 (OASIS Standard) as the package schemastore 0.2.3
carries it, unchanged. Copyright OASIS Open; OASIS lets its documents be copied and furnished to others without
restriction as long as this notice stands with them (its notice in the standard; from memory).
"""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from generator import __version__
from generator.command_line import run
from tests.loading.example_records import change, good_copy

SCHEMA = json.loads((Path(__file__).parent / "sarif-schema-2.1.0.json").read_text(encoding="utf-8"))
MARCH = "device_tests/hood-march.yaml"


def judged(log: Any) -> None:
    """Let the schema judge a log, with its formats."""
    jsonschema.Draft7Validator(SCHEMA, format_checker=jsonschema.FormatChecker()).validate(log)


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository with its records in a folder that an address cannot hold as it is."""
    (tmp_path / ".git").mkdir()
    folder = tmp_path / "mes données #1"
    folder.mkdir()
    records = good_copy(folder)
    change(records, MARCH, "temperature: 21.5 degC", "temperature: 70 degC")
    change(records, "device_tests/half-april.yaml", "wearer: finch", "wearer: finsh")
    (records / "notes.txt").write_text("no record\n")
    monkeypatch.chdir(records / "devices")
    return tmp_path


def sarif(capsys: pytest.CaptureFixture[str], *options: str) -> Any:
    run(["check", "--format", "sarif", *options])
    out, err = capsys.readouterr()
    assert err == ""
    assert out.isascii()
    return json.loads(out)


def test_the_log_is_valid_and_says_where(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log = sarif(capsys, "--findings", "..")
    judged(log)
    (made,) = log["runs"]
    assert log["version"] == "2.1.0"
    assert made["columnKind"] == "unicodeCodePoints"
    assert made["invocations"] == [{"executionSuccessful": True}]
    assert made["tool"]["driver"]["version"] == __version__
    assert list(made["originalUriBaseIds"]) == ["SRCROOT"]
    by_rule = {result["ruleId"]: result for result in made["results"]}
    assert set(by_rule) == {"unknown-reference", "unexpected-file", "unlikely-temperature"}

    place = by_rule["unlikely-temperature"]["locations"][0]
    assert by_rule["unlikely-temperature"]["level"] == "warning"
    assert place == {
        "physicalLocation": {
            "artifactLocation": {
                "uri": "mes%20donn%C3%A9es%20%231/records/device_tests/hood-march.yaml",
                "uriBaseId": "SRCROOT",
            },
            # The value begins in column 16 and has seven characters.
            "region": {
                "startLine": 20,
                "startColumn": 16,
                "endLine": 20,
                "endColumn": 23,
                "snippet": {"text": "70 degC"},
            },
        },
        "logicalLocations": [{"fullyQualifiedName": "environment.temperature"}],
    }
    # What is about a file as such has no region.
    (whole,) = by_rule["unexpected-file"]["locations"]
    assert list(whole["physicalLocation"]) == ["artifactLocation"]
    assert by_rule["unexpected-file"]["level"] == "error"


def test_rules_are_explained_and_results_name_them(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (made,) = sarif(capsys, "--findings", "..")["runs"]
    rules = made["tool"]["driver"]["rules"]
    assert [rules[result["ruleIndex"]]["id"] for result in made["results"]] == [
        result["ruleId"] for result in made["results"]
    ]
    assert [rules[result["ruleIndex"]]["defaultConfiguration"]["level"] for result in made["results"]] == [
        result["level"] for result in made["results"]
    ]
    assert all(rule["shortDescription"]["text"] and rule["help"]["text"] for rule in rules)


def test_what_scoring_notices_is_a_note(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    records = good_copy(tmp_path)
    log = sarif(capsys, str(records / MARCH))
    judged(log)
    (made,) = log["runs"]
    levels = {result["ruleId"]: result["level"] for result in made["results"]}
    assert levels["attempts-not-completed"] == "note"
    assert set(levels.values()) == {"note"}
    # Without a repository, files are named from beside the records.
    uris = {result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for result in made["results"]}
    assert uris == {"records/device_tests/hood-march.yaml"}


def test_fingerprints_stay_when_lines_move_and_differ_from_one_another(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    def prints() -> list[tuple[str, str]]:
        (made,) = sarif(capsys, "--findings", "..")["runs"]
        return sorted((each["ruleId"], *each["partialFingerprints"].values()) for each in made["results"])

    before = prints()
    for path in repository.glob("*/records/device_tests/*.yaml"):
        path.write_text("# one\n# two\n# three\n" + path.read_text())
    assert prints() == before
    assert len(set(before)) == len(before)


def test_a_record_full_of_what_terminals_obey_gives_a_valid_log(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (record,) = repository.glob(f"*/records/{MARCH}")
    text = record.read_text()
    record.write_bytes(text.replace("place: Bench room", 'place: "\\u202e\\x1b[2J 測量"').encode() + b"# \xff\n")
    judged(sarif(capsys, ".."))
    record.write_text(text.replace("place: Bench room", "place: \x1b[2J"))
    judged(sarif(capsys, ".."))


def test_nothing_to_tell_is_a_valid_log_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log = sarif(capsys, str(good_copy(tmp_path)))
    judged(log)
    assert log["runs"][0]["results"] == []


@pytest.mark.parametrize(
    ("spoil", "message"),
    [
        (lambda log: log["runs"][0].pop("tool"), "'tool' is a required property"),
        (lambda log: log["runs"][0]["results"][0].update(level="wrong"), "'wrong' is not one of"),
        (lambda log: log["runs"][0].update(columnKind="bytes"), "'bytes' is not one of"),
        (lambda log: log["runs"][0]["results"][0].update(line=3), "Additional properties are not allowed"),
        (
            lambda log: log["runs"][0]["results"][0]["locations"][0]["physicalLocation"].update(
                region={"startLine": 0}
            ),
            "0 is less than the minimum of 1",
        ),
    ],
)
def test_the_judge_finds_what_is_wrong(
    spoil: Any, message: str, repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = copy.deepcopy(sarif(capsys, ".."))
    spoil(bad)
    with pytest.raises(jsonschema.ValidationError, match=message):
        judged(bad)
