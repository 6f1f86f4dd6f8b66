"""`inward check`, as a contributor calls it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from generator.command_line import run
from tests.loading.example_records import change, good_copy

HEAVY = ("scipy", "matplotlib", "weasyprint", "jinja2", "numpy")
NOT_LOOKED_FOR = "Findings were not looked for; name files, or add `--findings`.\n"
NOT_SCORED = "Scoring looks for more findings once no record has a problem.\n"
MARCH = "records/device_tests/hood-march.yaml"


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
    assert err == NOT_LOOKED_FOR


def test_every_problem_of_every_file_is_told_in_one_run(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(records)
    assert run(["check"]) == 1
    out, err = capsys.readouterr()
    assert [line.split(": ")[0] for line in out.splitlines() if not line.startswith("  ")] == [
        "records/device_tests/hood-march.yaml:21:13",
        "records/instruments/meter.yaml:1:1",
        "records/instruments/meter.yaml:2:1",
        "records/instruments/meter.yaml:15:8",
    ]
    assert err == f"4 problems in 2 of 23 files.\n{NOT_LOOKED_FOR}"


def test_only_the_named_file_is_told_of(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(records)
    assert run(["check", "records/device_tests/hood-march.yaml"]) == 1
    out, err = capsys.readouterr()
    assert out.startswith("records/device_tests/hood-march.yaml:21:13: environment.pressure [unit-missing]: ")
    assert err == f"1 problem in 1 of 1 file (3 problems elsewhere in the records).\n{NOT_SCORED}"


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
    assert err == f"1 problem in 1 of 6 files (3 problems elsewhere in the records).\n{NOT_LOOKED_FOR}"


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


def test_below_each_problem_stand_its_line_and_a_caret(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spoil(records)
    assert run(["check", MARCH]) == 1
    # Counted by hand: `pressure` is indented by two, its value begins in column 13 and has four characters.
    assert capsys.readouterr().out == (
        "records/device_tests/hood-march.yaml:21:13: environment.pressure [unit-missing]: found the bare number 1009, "
        "expected a number and a unit (Pa, hPa, mbar, kPa, mmH2O, mmHg, inHg). Add the unit it was read in, as in "
        "`1013 hPa`.\n"
        "   21 |   pressure: 1009\n"
        "      |             ^~~~\n"
    )


def unlikely(records: Path) -> None:
    """Put two findings into a test record: a unit that was mistaken, and a share without its hundredth."""
    change(records, "device_tests/hood-march.yaml", "temperature: 21.5 degC", "temperature: 70 degC")
    change(records, "device_tests/hood-march.yaml", "humidity: 45 %", "humidity: 0.45 %")


UNLIKELY = (
    "records/device_tests/hood-march.yaml:20:16: finding: environment.temperature [unlikely-temperature]: found "
    "70 degC, expected a temperature of the room of 5 to 40 degC, as a rule. Did you mean `70 degF`? Correct it; "
    "leave it as it is if it was read so.",
    "   20 |   temperature: 70 degC",
    "      |                ^~~~~~~",
    "records/device_tests/hood-march.yaml:22:13: finding: environment.humidity [unlikely-humidity]: found 0.45 %, "
    "expected a relative humidity of 5 to 99 %, as a rule. Did you mean `45 %`? Correct it; leave it as it is if it "
    "was read so.",
    "   22 |   humidity: 0.45 %",
    "      |             ^~~~~~",
)


def test_a_file_that_is_named_is_told_its_findings_too(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    unlikely(records)
    assert run(["check", MARCH]) == 0
    out, err = capsys.readouterr()
    told = out.splitlines()
    # First what the record does not hold, at its first key; then line by line.
    assert told[0].startswith(f"{MARCH}:2:1: finding: probe [probe-not-recorded]: found that ")
    assert told[1:3] == ["    2 | id: hood-march", "      | ^"]
    assert tuple(told[3:9]) == UNLIKELY
    assert (
        f"{MARCH}:26:1: finding: fit [attempts-not-completed]: found that a fit session was aborted or voided. Readers "
        "will be told “Not every attempt was completed”; correct the record if that is not so."
    ) in told
    assert told[-2:] == ["   51 |   - id: high-fresh", "      |     ^"]
    findings = sum(": finding: " in line for line in told)
    assert err == f"{findings} findings in 1 of 1 file.\n"


@pytest.mark.parametrize(
    ("options", "code", "told"),
    [
        ((), 0, False),
        (("--findings",), 0, True),
        (("--strict",), 1, True),
        (("records",), 0, False),
        (("records", "--findings"), 0, True),
        ((MARCH, "--no-findings"), 0, False),
    ],
)
def test_when_findings_are_looked_for_and_what_strict_makes_of_them(
    options: tuple[str, ...], code: int, told: bool, records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    unlikely(records)
    assert run(["check", *options]) == code
    out, err = capsys.readouterr()
    assert ("[unlikely-temperature]" in out) == told
    assert (NOT_LOOKED_FOR in err) == (not told)


def test_strict_is_good_where_there_is_nothing_to_find(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", "--strict", "records/devices/half.yaml"]) == 0
    assert capsys.readouterr().out == "No problems and no findings in 1 file.\n"


def test_strict_without_findings_is_wrong_usage(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", "--strict", "--no-findings"]) == 2
    assert capsys.readouterr().err.startswith("inward: [wrong-usage] found `--strict` with `--no-findings`")


def test_where_a_record_has_a_problem_scoring_looks_for_nothing_but_the_rest_does(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    unlikely(records)
    (records / "testers" / "quill.yaml").write_text("id: quill\n")
    assert run(["check", MARCH]) == 0
    out, err = capsys.readouterr()
    assert tuple(out.splitlines()) == UNLIKELY
    assert err == f"2 findings in 1 of 1 file (3 problems elsewhere in the records).\n{NOT_SCORED}"


def test_findings_move_with_the_lines(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    unlikely(records)
    assert run(["check", MARCH]) == 0
    before = [line for line in capsys.readouterr().out.splitlines() if not line.startswith("  ")]
    path = records / "device_tests" / "hood-march.yaml"
    path.write_text("# one\n# two\n# three\n" + path.read_text())
    assert run(["check", MARCH]) == 0
    after = [line for line in capsys.readouterr().out.splitlines() if not line.startswith("  ")]
    moved = []
    for line in before:
        file, number, rest = line.split(":", 2)
        moved.append(f"{file}:{int(number) + 3}:{rest}")
    assert after == moved
    assert len(after) >= 6


def test_on_a_terminal_it_is_grouped_wrapped_and_coloured(
    records: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    spoil(records)
    monkeypatch.setattr("generator.command_line.check.sys.stdout.isatty", lambda: True)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("NO_COLOR", "1")
    assert run(["check", MARCH]) == 1
    plain = capsys.readouterr().out
    assert plain == (
        "records/device_tests/hood-march.yaml\n"
        "\n"
        "  21:13  environment.pressure [unit-missing]\n"
        "    found the bare number 1009, expected a number and a unit (Pa, hPa, mbar,\n"
        "    kPa, mmH2O, mmHg, inHg). Add the unit it was read in, as in `1013 hPa`.\n"
        "   21 |   pressure: 1009\n"
        "      |             ^~~~\n"
        "\n"
    )


def test_an_encoding_without_a_records_characters_writes_them_by_number(records: Path) -> None:
    change(records, "device_tests/hood-march.yaml", "pressure: 1009 hPa", "pressure: 1009  # 測量")
    root = Path(__file__).resolve().parent.parent.parent
    done = subprocess.run(
        [sys.executable, "-m", "generator", "check", "records"],
        capture_output=True,
        check=False,
        env={"PYTHONPATH": str(root), "PYTHONIOENCODING": "iso-8859-1"},
    )
    assert done.returncode == 1
    assert done.stdout.decode("iso-8859-1").splitlines()[1] == "   21 |   pressure: 1009  # \\u6e2c\\u91cf"


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
