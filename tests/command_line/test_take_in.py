"""`inward take-in`, as a tester calls it."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import click
import pytest

from generator.command_line import run
from generator.command_line.take_in import take_in
from generator.contributing.taking_in.cells import DELIMITERS
from generator.contributing.taking_in.time_forms import TIME_FORMS
from generator.loading import load_catalogue
from generator.loading.logs import sha256_of
from generator.model.log import Sampling
from tests.loading.example_records import change, good_copy

LOG = "records/logs/hood-march-first.csv"
RECORD = "records/device_tests/hood-march.yaml"
CALL = ["take-in", "log.csv", "--record", "hood-march", "--session", "first"]
TIMES = ["--start", "0", "--ambient-time", "5", "--in-mask-time", "10", "--settle", "2"]
READINGS = """    in_mask_time: 40 s
    ambient_before: 3000 /cm3
    ambient_after: 2950 /cm3
    exercises:
      - {exercise: standing, in_mask: 1.2 /cm3}
      - {exercise: bending, in_mask_count: 96}
"""
BLANKS = """    ambient_before:    # such as 1234 /cm3
    ambient_after:     # such as 1234 /cm3
    # Read off the screen, not from the printer.
    exercises:
      # She coughed here.
      - {exercise: standing, in_mask: }   # such as 1.2 /cm3
      - {exercise: bending, in_mask: }
"""
# Two-steps takes the air of the room first and last. By hand: 5 s of it, 2 s, two exercises of 10 s, 2 s, 5 s of it.
VALUES = [3000, 3010, 2990, 3005, 2995, 800, 90, *[2.5] * 10, *[4.0] * 10, 90, 800, 2950, 2940, 2960, 2955, 2945]
LINES = """    log:
      file: logs/hood-march-first.csv
      sha256: {sha256}
      unit: /cm3
      columns:
        time: time_s
        concentration: inside_per_cm3
      timetable:
        - {{sampling: ambient, start: 0 s, end: 5 s}}
        - {{sampling: in-mask, exercise: standing, start: 7 s, end: 17 s}}
        - {{sampling: in-mask, exercise: bending, start: 17 s, end: 27 s}}
        - {{sampling: ambient, start: 29 s, end: 34 s}}
"""


@pytest.fixture
def records(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A good records folder of which one session is still blank, and a log beside it."""
    folder = good_copy(tmp_path)
    change(folder, "device_tests/hood-march.yaml", READINGS, BLANKS)
    write_log(tmp_path / "log.csv")
    monkeypatch.chdir(tmp_path)
    return folder


def write_log(path: Path, values: list[float] | None = None) -> None:
    rows = [f"{second},{value}" for second, value in enumerate(VALUES if values is None else values)]
    path.write_text("\n".join(["time (s),inside (/cm3)", *rows]) + "\n", encoding="utf-8")


def at_a_terminal(monkeypatch: pytest.MonkeyPatch, *answers: str) -> None:
    """Let the command be answered as at a terminal."""
    typed = io.StringIO("".join(f"{answer}\n" for answer in answers))
    monkeypatch.setattr(typed, "isatty", lambda: True)
    monkeypatch.setattr(sys, "stdin", typed)


def everything(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_the_lines_are_printed_and_nothing_but_the_log_is_written(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = everything(records)
    assert run([*CALL, *TIMES, "--yes"]) == 0
    out, err = capsys.readouterr()
    written = Path(LOG).read_bytes()
    assert out == LINES.format(sha256=sha256_of(written))
    assert written.decode().splitlines()[:3] == ["time_s,inside_per_cm3", "0,3000", "1,3010"]
    assert everything(records) == {**before, "logs/hood-march-first.csv": written}
    assert err.startswith("Read as\n  encoding    utf-8\n")
    assert f"{LOG}: written, {len(written)} bytes." in err


def test_the_lines_are_put_into_the_record_in_place_of_blanks_and_every_comment_line_stays(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = Path(RECORD).read_text(encoding="utf-8")
    assert run([*CALL, *TIMES, "--yes", "--into-record"]) == 0
    out, err = capsys.readouterr()
    lines = LINES.format(sha256=sha256_of(Path(LOG).read_bytes()))
    comments = "    # Read off the screen, not from the printer.\n", "      # She coughed here.\n"
    assert Path(RECORD).read_text(encoding="utf-8") == before.replace(BLANKS, comments[0] + lines + comments[1])
    assert out == ""
    assert err.endswith("No problems left in the record.\n")
    catalogue = load_catalogue(records).catalogue
    assert catalogue is not None
    samples = catalogue.logs["logs/hood-march-first.csv"].samples
    assert [sample.concentration_per_cm3 for sample in samples] == VALUES
    assert sum(sample.sampling is Sampling.IN_MASK for sample in samples) == 20


def test_a_blank_log_of_a_draft_keeps_the_words_beside_it(records: Path) -> None:
    change(
        records,
        "device_tests/hood-march.yaml",
        BLANKS,
        "    # Written by `inward take-in`.\n    log:    # The raw log\n",
    )
    assert run([*CALL, *TIMES, "--yes", "--into-record"]) == 0
    text = Path(RECORD).read_text(encoding="utf-8")
    assert (
        "    # Written by `inward take-in`.\n    log:  # The raw log\n      file: logs/hood-march-first.csv\n" in text
    )
    assert load_catalogue(records).problems == ()


def test_the_same_log_again_is_there_already(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*CALL, *TIMES, "--yes"]) == 0
    before = everything(records)
    assert run([*CALL, *TIMES, "--yes"]) == 0
    assert f"{LOG}: is there already." in capsys.readouterr().err
    assert everything(records) == before


def test_another_log_is_never_written_over_unless_it_is_asked_for(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([*CALL, *TIMES, "--yes", "--into-record"]) == 0
    before = everything(records)
    write_log(Path("log.csv"), [value + 1 for value in VALUES])
    assert run([*CALL, *TIMES, "--yes", "--into-record"]) == 2
    assert f"[wrong-usage] found another log in {LOG}, expected no file of that name." in capsys.readouterr().err
    assert everything(records) == before
    assert run([*CALL, *TIMES, "--yes", "--into-record", "--replace"]) == 0
    assert load_catalogue(records).problems == ()
    assert everything(records) != before


def test_readings_are_never_written_over(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(records, "device_tests/hood-march.yaml", "in_mask: }   #", "in_mask: 3 /cm3}   #")
    before = everything(records)
    assert run([*CALL, *TIMES, "--yes", "--into-record", "--replace"]) == 2
    said = "found `exercises` in session `first` already, expected none. Remove what is wrong by hand first"
    assert said in capsys.readouterr().err
    assert everything(records) == before


def test_a_log_that_would_give_problems_is_not_written(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = everything(records)
    times = ["--exercise-at", "standing=7-17", "--ambient-at", "0-5", "--ambient-at", "29-34"]
    assert run([*CALL, *times, "--yes", "--into-record"]) == 1
    out, err = capsys.readouterr()
    assert f"{LOG}:1:1: log [exercises-missing]: found a completed session without `bending`, expected" in out
    assert err.endswith("1 problem with the log as it would be; nothing was written.\n")
    assert everything(records) == before


def test_what_else_is_blank_is_counted_and_left(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(records, "device_tests/hood-march.yaml", "pressure: 1009 hPa", "pressure:")
    assert run([*CALL, *TIMES, "--yes", "--into-record"]) == 0
    assert capsys.readouterr().err.endswith("1 problem left in the record; `inward check` names them.\n")


def test_a_session_that_is_good_stays_so_or_nothing_is_written(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(records, "device_tests/hood-march.yaml", BLANKS, READINGS)
    change(records, "device_tests/hood-march.yaml", "outcome: completed", "outcome: aborted\n    reason: he asked")
    change(records, "device_tests/hood-march.yaml", READINGS, "    ambient_before: 3000 /cm3\n    in_mask_time: 40 s\n")
    assert load_catalogue(records).problems == ()
    before = everything(records)
    assert run([*CALL, *TIMES, "--yes", "--into-record"]) == 2
    assert "found `ambient_before` in session `first` already" in capsys.readouterr().err
    assert everything(records) == before


def test_problems_of_lines_end_with_1(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write_log(Path("log.csv"), [*VALUES[:20], -1, *VALUES[20:]])
    assert run([*CALL, *TIMES, "--yes"]) == 1
    out, err = capsys.readouterr()
    assert out.startswith("log.csv:22:4: line 22 [log-number]: found `-1`, expected a number, 0 or more")
    assert err == "1 problem in the log; nothing was written.\n"
    assert not Path(LOG).exists()


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ([], "found nobody to ask whether this is right, expected `--yes`."),
        (["--yes"], "found neither columns of marks nor times of the exercises, expected to be told by `--start`"),
        (["--yes", "--record", "hood-mach"], "found no protocol in the session, expected one to cut the log by."),
        (["--record", "none", "--protocol", "two-steps", "--into-record"], "found no record `none` in records"),
        (
            ["--session", "third"],
            f"found no session `third` in {RECORD}, expected one of its sessions (`first`, `second`)",
        ),
        (["--protocol", "two-around"], "found `--protocol two-around` and `protocol: two-steps` in the record"),
        (["--record", "x", "--protocol", "two-step"], "found no protocol `two-step`, expected one of "),
        (["--lines", "9-3"], "found `--lines 9-3`, expected two lines such as `10-700`."),
        (["--mark", "x"], "found `--mark x`, expected a word and its meaning"),
        (["--name", "../up"], "found `../up` as the name of the log, expected at most 64 lower-case letters"),
        (["--unit", "/cm2"], "found the unit `/cm2`, expected to be told by `--unit`: one of /cm3, /L, /m3."),
    ],
)
def test_what_is_missing_or_wrong_is_named_with_its_option(
    records: Path, capsys: pytest.CaptureFixture[str], more: list[str], said: str
) -> None:
    before = everything(records)
    assert run([*CALL, *more]) == 2
    assert f"inward: [wrong-usage] {said}" in capsys.readouterr().err
    assert everything(records) == before


@pytest.mark.parametrize(("path", "said"), [("none.csv", "No such file"), ("records", "is no file")])
def test_what_is_no_file_is_told(records: Path, capsys: pytest.CaptureFixture[str], path: str, said: str) -> None:
    assert run(["take-in", path, *CALL[2:]]) == 2
    assert said in capsys.readouterr().err


def test_at_a_terminal_everything_can_be_answered_and_a_wrong_cut_answered_again(
    records: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # Read right; begins at 0:03, samples of 5 s, inside 10 s, settling 0 s: wrong; again, rightly.
    wrong, right = ("0:03", "5", "10", "0"), ("0:00", "5", "10", "2")
    at_a_terminal(monkeypatch, "y", *wrong, "n", "y", *right, "y")
    assert run([*CALL, "--into-record"]) == 0
    err = capsys.readouterr().err
    assert "The log leaves open (--start): neither columns of marks nor times of the\n  exercises.\n" in err
    assert err.count("Is it cut right?") == 2
    assert LINES.format(sha256=sha256_of(Path(LOG).read_bytes())) in Path(RECORD).read_text(encoding="utf-8")


def test_choices_are_numbered_at_a_terminal(
    records: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    rows = "\n".join(f"{second}\t{value}" for second, value in enumerate(VALUES))
    Path("log.csv").write_text(f"time\tinside\n{rows}\n", encoding="utf-8")
    # Seconds are the first form of a time, particles in a cubic centimetre the first unit.
    at_a_terminal(monkeypatch, "1", "1", "y", "y")
    assert run([*CALL, *TIMES]) == 0
    err = capsys.readouterr().err
    assert "  1  seconds, a number of seconds\n" in err
    assert "  1  /cm3\n" in err
    assert Path(LOG).exists()


def test_what_is_not_confirmed_is_not_written(
    records: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = everything(records)
    at_a_terminal(monkeypatch, "n")
    assert run(CALL) == 2
    assert "Nothing was written. Options correct what was taken wrongly" in capsys.readouterr().err
    assert everything(records) == before


def test_nothing_is_wider_than_a_terminal(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*CALL, *TIMES, "--yes", "--into-record"]) == 0
    assert max(map(len, capsys.readouterr().err.splitlines())) <= 80


def test_a_log_that_names_terminal_codes_shows_none(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = Path("log.csv").read_text(encoding="utf-8").replace("inside", "inside\x1b[31m")
    Path("log.csv").write_text(text, encoding="utf-8")
    assert run([*CALL, *TIMES, "--yes"]) == 0
    assert "\x1b" not in capsys.readouterr().err


@pytest.mark.parametrize(("option", "known"), [("time_format", tuple(TIME_FORMS)), ("delimiter", tuple(DELIMITERS))])
def test_the_choices_are_those_that_can_be_read(option: str, known: tuple[str, ...]) -> None:
    (found,) = (each for each in take_in.params if each.name == option)
    assert isinstance(found.type, click.Choice)
    assert tuple(found.type.choices) == known
