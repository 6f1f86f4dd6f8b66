"""`inward publish`: nothing is done where nothing changed, all is made anew where that is asked for, time is told."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from generator.build.timings import Timings
from generator.command_line import run
from generator.command_line.profile_text import profile_text
from tests.conftest import ROOT
from tests.publishing.test_tool_key import HEAVY


@pytest.fixture
def command(small_records: Path, tmp_path: Path) -> list[str]:
    """The words that publish a small catalogue."""
    return ["publish", "--records", str(small_records), "--output", str(tmp_path / "output")]


def stamps(folder: Path) -> dict[str, tuple[int, int]]:
    return {str(path): (path.stat().st_ino, path.stat().st_mtime_ns) for path in folder.rglob("*")}


def test_where_nothing_changed_nothing_is_done_and_nothing_heavy_is_imported(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(command) == 0
    published = capsys.readouterr().out
    before = stamps(tmp_path / "output")
    script = (
        "import sys; from generator.command_line import run; code = run(sys.argv[1:]); "
        f"print(code, [name for name in {HEAVY} if name in sys.modules])"
    )
    told = subprocess.run(
        [sys.executable, "-c", script, *command], cwd=ROOT, env=os.environ, capture_output=True, text=True, check=True
    )
    what = re.match(r"Published (.*): ", published)
    assert what is not None
    assert told.stdout.splitlines() == [
        f"Nothing has changed since {what[1]} were published: {tmp_path / 'output' / 'index.html'}",
        "0 []",
    ]
    assert told.stderr == ""
    assert stamps(tmp_path / "output") == before


def test_a_changed_record_is_published_and_what_stays_is_taken_over(
    command: list[str], small_records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(command) == 0
    before = stamps(tmp_path / "output")
    (record,) = small_records.glob("device_tests/*.yaml")
    record.write_text(record.read_text(encoding="utf-8") + "# read again\n", encoding="utf-8")
    capsys.readouterr()
    assert run(command) == 0
    assert capsys.readouterr().out.startswith("Published 1 device and 1 test record as ")
    after = stamps(tmp_path / "output")
    same = {Path(path).relative_to(tmp_path / "output").as_posix() for path in after if after[path] == before[path]}
    # The record's hash stands on its page and its device's; no method's page knows of it.
    assert "methods/index.html" in same
    assert "requirements.html" in same
    assert not {"devices/patchwork-cover.html", "records/patchwork-cover-2025-03.html", "index.html"} & same


def test_anew_makes_all_again(command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(command) == 0
    before = {path: path.read_bytes() for path in (tmp_path / "output").rglob("*") if path.is_file()}
    capsys.readouterr()
    assert run([*command, "--anew", "--profile"]) == 0
    captured = capsys.readouterr()
    assert captured.out.startswith("Published 1 device")
    assert "1 job for files of a device: 1 done, 0 kept from before" in captured.err
    assert {path: path.read_bytes() for path in before} == before


def test_the_profile_says_what_took_the_time() -> None:
    timings = Timings()
    with timings.stage("reading"):
        pass
    timings.stages = {"reading": 1.0, "pages and PDFs": 3.0}
    timings.add("files of a device", {"sheets": 4.0, "pages": 1.0}, 200.0)
    timings.add("files of a device", {"sheets": 4.0, "pages": 1.0}, 150.0)
    timings.taken["files of a device"] += 1
    *lines, of_this_process = profile_text(timings).splitlines()
    assert re.fullmatch(r"Most memory of the process that holds the catalogue: [1-9][0-9]+ MiB", of_this_process)
    assert lines == [
        "stage                              seconds   share",
        "reading                               1.00   25.0%",
        "pages and PDFs                        3.00   75.0%",
        "all                                   4.00  100.0%",
        "",
        "jobs, in all processes               CPU s   share",
        "sheets                                8.00   80.0%",
        "pages                                 2.00   20.0%",
        "3 jobs for files of a device: 2 done, 1 kept from before",
        "Most memory of a process that does jobs alone: 200 MiB",
    ]


def test_memory_is_counted_in_mebibytes_and_of_the_process_alone() -> None:
    # Taken here, and no part of what the process started below has taken.
    here = bytearray(300 << 20)
    here[::4096] = b"x" * len(here[::4096])
    script = (
        "from generator.build.timings import memory_mib\nbefore = memory_mib()\ntaken = bytearray(200 << 20)\n"
        "taken[::4096] = b'x' * len(taken[::4096])\nprint(before, memory_mib())"
    )
    told = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    before, after = map(float, told.split())
    assert 5 < before < 200
    assert 190 < after - before < 230
