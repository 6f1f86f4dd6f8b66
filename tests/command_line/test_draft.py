"""`inward draft`, as a contributor calls it: with options, asked on a terminal, for a worksheet."""

from __future__ import annotations

import io
import re
import sys
from pathlib import Path

import pypdf
import pytest

from generator.command_line import questions, run
from tests.loading.example_records import good_copy

NEW = [
    "draft", "north-hood-1", "--device", "north-hood", "--kind", "loose_powered_hood", "--setting", "low",
    "--configuration", "as_supplied", "--tester", "quill", "--fit", "--protocol", "four-exercises-elastomeric",
    "--readings", "counts", "--wearer", "finch", "--donnings", "1", "--blower", "low",
    "--counter", "counter", "--counter-kind", "optical_particle_counter", "--no-flow",
]  # fmt: skip
OF_GOOD = ["draft", "half-july", "--device", "half", "--configuration", "as_supplied", "--tester", "quill"]


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty records folder, with its parent as the current directory."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "records").mkdir()
    return tmp_path / "records"


@pytest.fixture
def records(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A good records folder, with its parent as the current directory."""
    monkeypatch.chdir(tmp_path)
    return good_copy(tmp_path)


def answering(monkeypatch: pytest.MonkeyPatch, *answers: str) -> None:
    """Let somebody answer on a terminal."""
    monkeypatch.setattr(questions, "can_ask", lambda: True)
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{each}\n" for each in answers)))


def files_in(folder: Path) -> list[str]:
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def test_in_an_empty_folder_everything_gets_a_draft(empty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(NEW) == 0
    out, err = capsys.readouterr()
    # The blanks were counted by hand in the drafts.
    assert out == (
        "records/device_tests/north-hood-1.yaml: 22 blanks to fill in\n"
        "records/devices/north-hood.yaml: 17 blanks to fill in\n"
        "records/instruments/counter.yaml: 14 blanks to fill in\n"
        "records/testers/quill.yaml: 2 blanks to fill in\n"
        "records/wearers/finch.yaml: 3 blanks to fill in\n"
        "records/publication.yaml: 12 blanks to fill in\n"
    )
    assert err == "Fill in what is empty; `inward check` names each blank that is left.\n"
    schemas = [name for name in files_in(empty) if str(name).startswith(".schemas/")]
    assert (len(files_in(empty)) - len(schemas), len(schemas)) == (6, 9)


def test_no_file_is_written_over(empty: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(NEW) == 0
    before = {name: (empty / name).read_text() for name in files_in(empty)}
    assert run(NEW) == 2
    assert (
        "found the record `north-hood-1` in `records` already, expected an id that is free" in capsys.readouterr().err
    )
    assert {name: (empty / name).read_text() for name in files_in(empty)} == before


def test_a_draft_can_be_looked_at_first(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = files_in(records)
    given = ["--protocol", "two-steps", "--readings", "counts", "--wearer", "finch", "--donnings", "2"]
    assert run([*OF_GOOD, *given, "--counter", "counter", "--print"]) == 0
    out, err = capsys.readouterr()
    assert out.startswith(
        "# --- device_tests/half-july.yaml\n"
        "# yaml-language-server: $schema=../.schemas/device_test.schema.json\n"
        "# Draft of a test record.\n"
    )
    assert out.count("# --- ") == 1
    assert err == ""
    assert files_in(records) == before


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ([], "found no `--protocol`, and no terminal on which to ask: Protocol? Expected it among the options"),
        (["--protocol", "two-step"], "found `two-step`, expected a protocol: one of "),
        (["--protocol", "two-steps"], "found no `--readings`, and no terminal"),
        (
            ["--protocol", "as-given", "--readings", "counts"],
            "expected a form of readings under the protocol `as-given`",
        ),
        (["--protocol", "as-given"], "found no `--wearer`, and no terminal"),
        (["--protocol", "as-given", "--wearer", "A Name"], "Write it as `a-name`"),
        (["--protocol", "as-given", "--wearer", "finch", "--donnings", "0"], "expected a whole number from 1 to 20"),
        (
            ["--protocol", "as-given", "--wearer", "finch", "--donnings", "1", "--blower", "off"],
            "found `--blower` for a device without a blower",
        ),
        (
            [
                "--protocol",
                "two-steps",
                "--readings",
                "log",
                "--wearer",
                "finch",
                "--donnings",
                "1",
                "--counter",
                "meter",
            ],
            "found `meter`, a thermal mass flow meter, expected a particle counter",
        ),
        (
            [
                "--protocol",
                "two-steps",
                "--readings",
                "log",
                "--wearer",
                "finch",
                "--donnings",
                "1",
                "--counter",
                "new",
            ],
            "found no `--counter-kind`, and no terminal",
        ),
    ],
)
def test_what_is_missing_or_cannot_be_is_named(
    given: list[str], message: str, records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = files_in(records)
    assert run([*OF_GOOD, *given]) == 2
    err = capsys.readouterr().err
    assert err.startswith("inward: [wrong-usage] ")
    assert message in err
    assert files_in(records) == before


def test_a_flow_is_asked_of_no_device_without_a_blower(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given = ["--protocol", "as-given", "--wearer", "finch", "--donnings", "1", "--flow"]
    assert run([*OF_GOOD, *given]) == 2
    assert "found `--flow` for `half`, which has no blower, expected none" in capsys.readouterr().err


def test_a_test_without_wearers_and_flow_is_none(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given = ["draft", "x", "--device", "hood", "--configuration", "as_supplied", "--tester", "quill"]
    assert run([*given, "--no-fit", "--no-flow"]) == 2
    assert "found neither fit sessions nor flow runs, expected one of them" in capsys.readouterr().err


def test_what_is_not_given_is_asked_and_a_wrong_answer_asked_again(
    records: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    answering(
        monkeypatch,
        "hood",  # device
        "",  # configuration, as suggested
        "quill",  # tester
        "y",  # wearers
        "two-stps", "two-steps",  # protocol: misspelt, then right
        "1",  # readings, by number: counts
        "finch, new one", "finch, new-one",  # a pseudonym that can name no file, then one that can
        "",  # donnings
        "high, off",  # blower
        "counter",
        "y", "fresh", "", "meter",  # flow
        "",  # id
    )  # fmt: skip
    assert run(["draft"]) == 0
    out, err = capsys.readouterr()
    assert "Did you mean `two-steps`?" in " ".join(err.split())
    assert "Write it as `new-one`" in " ".join(err.split())
    assert "No name of a person goes into a record" in " ".join(err.split())
    numbered = [line for line in err.splitlines() if line[:3].strip().isdigit()]
    assert len(numbered) >= 10
    assert [line for line in numbered if len(line) > 80] == []
    text = (records / "device_tests" / "hood-1.yaml").read_text()
    assert text.count("\n  - id: s") == 4
    assert "in_mask_count" in text
    assert "\n    blower: off\n" in text
    assert out.splitlines()[1].startswith("records/wearers/new-one.yaml: ")


def test_questions_that_are_broken_off_leave_nothing(
    records: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = files_in(records)
    answering(monkeypatch, "hood")
    assert run(["draft"]) == 2
    assert "the questions were broken off, so that nothing was written" in capsys.readouterr().err
    assert files_in(records) == before


def test_questions_are_plain_where_no_colour_is_wanted(
    records: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    answering(monkeypatch, "hood")
    run(["draft"])
    assert "\x1b" not in capsys.readouterr().err


def test_names_in_records_bring_no_terminal_codes(
    records: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    path = records / "devices" / "hood.yaml"
    path.write_text(re.sub(r"settings: .*", r'settings: ["lo\\e[31mw"]', path.read_text()))
    (records / "testers" / "te\x1b[31mster.yaml").write_text("id: x\n")
    answering(monkeypatch, "hood", "", "quill", "y", "two-steps", "1", "finch", "1", "high")
    assert run(["draft"]) == 2
    err = capsys.readouterr().err
    assert "U+001B[31m" in err
    assert "\x1b" not in err


def test_a_folder_that_is_not_there_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(NEW) == 2
    assert "'records' does not exist" in capsys.readouterr().err


def test_a_worksheet_of_a_record_and_of_a_draft(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["draft", "hood-march", "--worksheet", "sheet.pdf"]) == 0
    # A page for the day, one for each of two sessions, one for the flow run.
    assert capsys.readouterr().out == "sheet.pdf: a worksheet of 4 pages\n"
    pages = [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(tmp_path / "sheet.pdf").pages]
    assert "Session first · wearer finch · donning 1 · blower high" in pages[1]
    assert "Session second · wearer heron · donning 1 · blower off" in pages[2]
    assert "high · battery fresh · filter new" in pages[3]
    assert run(["draft", "hood-march", "--worksheet", "sheet.pdf"]) == 2
    assert "found `sheet.pdf` already, expected a name that is free" in capsys.readouterr().err
