"""`inward schema`, as a contributor calls it, and the schemas that come with the records."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from generator.command_line import run
from generator.contributing.record_schemas.files import FOLDER, file_name, out_of_date, schema_line, schema_text
from generator.loading import load_catalogue
from generator.loading.record_kinds import RECORD_KINDS
from tests.conftest import ROOT
from tests.loading.example_records import GOOD, REFERENCE, good_copy

Capture = pytest.CaptureFixture[str]
WRITE_AGAIN = "written with other code; write them again: inward schema"


@pytest.fixture
def records(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A good records folder, with its parent as the current directory."""
    folder = good_copy(tmp_path)
    monkeypatch.chdir(tmp_path)
    return folder


def written(records: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted((records / FOLDER).iterdir())}


def test_the_schemas_that_come_with_the_records_are_up_to_date() -> None:
    assert out_of_date(ROOT / "records") == (), WRITE_AGAIN
    assert {path.name for path in (ROOT / "records" / FOLDER).iterdir()} == {file_name(kind) for kind in RECORD_KINDS}


def test_every_schema_is_written_once_and_the_loader_passes_over_them(records: Path, capsys: Capture) -> None:
    assert run(["schema"]) == 0
    assert capsys.readouterr() == ("Wrote 9 schemas: records/.schemas\n", "")
    assert written(records) == {file_name(kind): schema_text(kind).encode() for kind in sorted(RECORD_KINDS)}
    assert run(["schema"]) == 0
    assert capsys.readouterr() == ("Every schema is as it should be: records/.schemas\n", "")
    assert load_catalogue(records, REFERENCE).problems == ()


def test_one_schema_is_printed_and_nothing_written(records: Path, capsys: Capture) -> None:
    assert run(["schema", "wearer"]) == 0
    out, err = capsys.readouterr()
    assert (out, err) == (schema_text("wearer"), "")
    assert json.loads(out)["title"] == "Wearer"
    assert not (records / FOLDER).exists()


def test_what_is_out_of_date_is_told_and_written_again(records: Path, capsys: Capture) -> None:
    assert run(["schema"]) == 0
    changed = records / FOLDER / "device.schema.json"
    changed.write_text(changed.read_text().replace('"title": "Device"', '"title": "Thing"'))
    (records / FOLDER / "wearer.schema.json").unlink()
    capsys.readouterr()
    assert run(["schema", "--check"]) == 1
    assert capsys.readouterr() == (
        "records/.schemas/device.schema.json: missing or out of date\n"
        "records/.schemas/wearer.schema.json: missing or out of date\n",
        "2 of 9 schemas to be written: inward schema\n",
    )
    assert run(["schema", "--check", "tester"]) == 0
    assert capsys.readouterr() == ("1 schema up to date: records/.schemas\n", "")
    assert run(["schema", "--check", "wearer"]) == 1
    capsys.readouterr()
    assert run(["schema"]) == 0
    assert capsys.readouterr().out == "Wrote 2 schemas: records/.schemas\n"
    assert run(["schema", "--check"]) == 0
    assert capsys.readouterr() == ("9 schemas up to date: records/.schemas\n", "")


def test_without_any_all_are_missing(records: Path, capsys: Capture) -> None:
    assert run(["schema", "--check"]) == 1
    assert capsys.readouterr().err == "9 of 9 schemas to be written: inward schema\n"


def test_what_is_no_schema_of_ours_is_left_alone(records: Path, capsys: Capture) -> None:
    (records / FOLDER).mkdir()
    own = records / FOLDER / "device.schema.json"
    own.write_text('{"title": "mine"}\n')
    assert run(["schema"]) == 2
    assert capsys.readouterr().err == (
        "inward: [wrong-usage] found something else than a schema of records at or in `records/.schemas`, expected "
        "nothing else as `device.schema.json`. Move it away\n"
    )
    assert written(records) == {"device.schema.json": b'{"title": "mine"}\n'}


@pytest.mark.parametrize("arguments", [["schema"], ["schema", "--check"]])
def test_a_link_out_of_the_records_is_not_followed(arguments: list[str], records: Path, capsys: Capture) -> None:
    (records.parent / "elsewhere").mkdir()
    (records / FOLDER).symlink_to(records.parent / "elsewhere")
    assert run(arguments) == 2
    assert "found a link at or in `records/.schemas`" in capsys.readouterr().err
    (records / FOLDER).unlink()
    (records / FOLDER).mkdir()
    os.mkfifo(records / FOLDER / "device.schema.json")
    assert run(arguments) == 2
    assert "found a pipe at or in `records/.schemas`" in capsys.readouterr().err
    assert list((records.parent / "elsewhere").iterdir()) == []


def test_a_disk_that_is_full_leaves_what_was_there(
    records: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run(["schema"]) == 0
    changed = records / FOLDER / "device.schema.json"
    changed.write_text(changed.read_text().replace('"title": "Device"', '"title": "Thing"'))
    before = written(records)
    capsys.readouterr()

    def full(*_arguments: object, **_named: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    assert run(["schema"]) == 3
    assert capsys.readouterr().err == (
        "inward: [generator-failed] the system refused to write records/.schemas: No space left on device. Check the "
        "room left on the disk and who may write there.\n"
    )
    assert written(records) == before


def test_there_is_no_such_kind_or_folder(records: Path, capsys: Capture) -> None:
    assert run(["schema", "mask"]) == 2
    assert "'mask' is not one of 'device_test', 'device'" in capsys.readouterr().err
    assert run(["schema", "--records", "nowhere"]) == 2
    assert "'nowhere' does not exist" in capsys.readouterr().err


@pytest.mark.parametrize("kind", RECORD_KINDS)
def test_the_line_at_the_top_of_a_record_leads_to_its_schema(kind: str) -> None:
    start, _, address = schema_line(kind).partition("$schema=")
    assert start == "# yaml-language-server: "
    record = ROOT / "records" / RECORD_KINDS[kind].place
    found = (record.parent / address).resolve()
    assert found == (ROOT / "records" / FOLDER / file_name(kind)).resolve()
    assert found.is_file()


def test_a_record_with_that_line_has_no_problem(records: Path) -> None:
    for name, kind in (("devices/half.yaml", "device"), ("publication.yaml", "publication")):
        (records / name).write_text(f"{schema_line(kind)}\n{(GOOD / name).read_text()}")
    assert load_catalogue(records, REFERENCE).problems == ()


def test_an_editor_is_told_which_schema_is_for_which_records() -> None:
    settings = json.loads((ROOT / ".vscode" / "settings.json").read_bytes())
    assert settings == {
        "yaml.schemas": {
            f"records/{FOLDER}/{file_name(kind)}": f"records/{record.place.replace('<id>', '*')}"
            for kind, record in RECORD_KINDS.items()
        }
    }
