"""A published log of flow, pressure, voltage or current is one of the files that a site is computed anew from."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from generator.command_line import run
from tests.contributing.verifying import verified
from tests.loading.example_records import GOOD

LOG = "logs/hood-run-down.csv"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Publish the one good example that has such logs."""
    folder = tmp_path_factory.mktemp("series")
    records = folder / "records"
    shutil.copytree(GOOD, records)
    for path in records.glob("device_tests/*.yaml"):
        if path.stem != "hood-may":
            path.unlink()
    (records / "devices" / "half.yaml").unlink()
    (records / "logs" / "half-talk.csv").unlink()
    assert run(["publish", "--records", str(records), "--output", str(folder / "output")]) == 0
    return folder / "output"


def replaced(path: Path, old: bytes, new: bytes) -> None:
    content = path.read_bytes()
    assert old in content
    path.write_bytes(content.replace(old, new, 1))


def test_the_log_is_published_in_base_units_beside_its_hash(site: Path) -> None:
    lines = (site / "data" / LOG).read_bytes().decode().split("\r\n")
    assert lines[:2] == ["time_s,flow_l_per_min,voltage_v,current_a", "0.0,182.5,12.6,1.5"]
    # The file counts minutes.
    assert lines[2] == "3600.0,176.0,12.2,1.4"
    published = json.loads((site / "data" / "catalogue.json").read_bytes())
    assert sorted(published["series"]) == ["logs/hood-dust.csv", LOG, "logs/hood-trace.csv"]


def test_an_untouched_site_with_such_logs_is_what_its_records_give(
    site: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, lines = verified(site, capsys)
    assert code == 0, lines


def test_a_digit_changed_in_such_a_log_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    replaced(copy / "data" / LOG, b"7200.0,171.0,11.8,1.35", b"7200.0,179.0,11.8,1.35")
    code, lines = verified(copy, capsys)
    assert code == 1
    # The log itself would be written anew as it stands; its hash differs, and what was scored from it.
    for begins in (
        f"data/catalogue.json: published_logs.{LOG}: published ",
        "records/hood-may.html: #run_time.high-full.run_time: published ",
        "records/hood-may.csv: ",
    ):
        assert [line for line in lines if line.startswith(begins)] != [], lines


def test_a_digit_that_no_figure_is_made_from_is_named_too(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    replaced(copy / "data" / "logs" / "hood-dust.csv", b"180.0,120.0", b"180.0,120.1")
    code, lines = verified(copy, capsys)
    assert code == 1
    assert any(line.startswith("data/catalogue.json: published_logs.logs/hood-dust.csv: published ") for line in lines)


def test_a_log_that_reads_no_more_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    replaced(copy / "data" / LOG, b"7200.0,171.0", b"0.0,171.0")
    capsys.readouterr()
    assert run(["verify", str(copy)]) == 1
    assert f"data/{LOG}: found no log as it was published" in capsys.readouterr().err


def test_a_log_whose_hash_was_changed_is_named(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    data = copy / "data" / "catalogue.json"
    sha256 = json.loads(data.read_bytes())["series"][LOG]
    replaced(data, sha256.encode(), b"0" * 64)
    code, lines = verified(copy, capsys)
    assert code == 1
    assert lines[0].startswith(f'data/catalogue.json: series.{LOG}: published "{"0" * 64}", recomputed "{sha256}"')


def test_a_log_that_no_record_has_is_not_looked_for(copy: Path, capsys: pytest.CaptureFixture[str]) -> None:
    replaced(copy / "data" / "catalogue.json", b'"logs/hood-dust.csv"', b'"../../hood-dust.csv"')
    capsys.readouterr()
    assert run(["verify", str(copy)]) == 1
    assert "found the log `../../hood-dust.csv`, expected only logs that a" in capsys.readouterr().err
