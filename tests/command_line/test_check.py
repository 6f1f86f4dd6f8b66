"""`inward check`, as a contributor calls it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from generator.command_line import run
from tests.loading.example_records import change, good_copy

HEAVY = ("scipy", "matplotlib", "weasyprint", "jinja2", "numpy")


@pytest.fixture
def records(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A good records folder, with its parent as the current directory."""
    folder = good_copy(tmp_path)
    monkeypatch.chdir(tmp_path)
    return folder


def spoil(records: Path) -> None:
    """Put one problem into a test record and two into an instrument."""
    change(records, "device_tests/hood-march.yaml", "pressure: 1009 hPa", "pressure: 1009")
    change(records, "instruments/meter.yaml", "k: 2.0", "k: 20")
    change(records, "instruments/meter.yaml", "version: ", "versio: ")


def test_good_records_give_one_line(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check"]) == 0
    out, err = capsys.readouterr()
    # 19 YAML files and four logs, counted by hand
    assert out == "No problems in 23 files.\n"
    assert err == ""


def test_every_problem_of_every_file_is_told_in_one_run(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(records)
    assert run(["check"]) == 1
    out, err = capsys.readouterr()
    assert [line.split(": ")[0] for line in out.splitlines()] == [
        "records/device_tests/hood-march.yaml:21:13",
        "records/instruments/meter.yaml:1:1",
        "records/instruments/meter.yaml:2:1",
        "records/instruments/meter.yaml:15:8",
    ]
    assert err == "4 problems in 2 of 23 files.\n"


def test_only_the_named_file_is_told_of(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(records)
    assert run(["check", "records/device_tests/hood-march.yaml"]) == 1
    out, err = capsys.readouterr()
    assert out.startswith("records/device_tests/hood-march.yaml:21:13: environment.pressure [unit-missing]: ")
    assert err == "1 problem in 1 of 1 file (3 problems elsewhere in the records).\n"


def test_a_good_file_among_bad_ones_is_good(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(records)
    assert run(["check", "records/devices"]) == 0
    assert capsys.readouterr().out == "No problems in 2 files (4 problems elsewhere in the records).\n"


def test_files_are_shown_from_where_one_stands(
    records: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    spoil(records)
    monkeypatch.chdir(records / "devices")
    assert run(["check", str(records / "device_tests"), "../testers/quill.yaml"]) == 1
    out, err = capsys.readouterr()
    assert out.startswith("../device_tests/hood-march.yaml:21:13: ")
    assert err == "1 problem in 1 of 6 files (3 problems elsewhere in the records).\n"


def test_a_record_that_uses_another_is_told_of_the_other(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (records / "testers" / "quill.yaml").unlink()
    assert run(["check", "records/device_tests/half-april.yaml"]) == 1
    assert "tester [unknown-reference]: found `quill`" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("path", "message"),
    [
        ("nowhere", "inward: [wrong-usage] found nothing at `nowhere`, expected a file or folder of records"),
        ("lonely.yaml", "inward: [wrong-usage] found `lonely.yaml` outside any records folder"),
    ],
)
def test_a_path_that_cannot_be_checked_is_wrong_usage(
    records: Path, path: str, message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("lonely.yaml").write_text("id: lonely\n")
    (records.parent / "other").mkdir()
    assert run(["check", path]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(message)


def test_no_records_folder_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["check"]) == 2


def test_a_folder_without_records_lacks_the_publication(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "empty" / "below").mkdir(parents=True)
    monkeypatch.chdir(tmp_path)
    assert run(["check", "empty/below"]) == 1
    assert "[publication-missing]" in capsys.readouterr().out


def test_checking_loads_nothing_heavy(records: Path) -> None:
    code = f"""
import sys
from generator.command_line import run
code = run(["check"])
print(code, [name for name in {HEAVY!r} if name in sys.modules])
"""
    root = Path(__file__).resolve().parent.parent.parent
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env={"PYTHONPATH": str(root)}
    )
    assert done.stdout.splitlines()[-1] == "0 []"
