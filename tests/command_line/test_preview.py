"""`inward preview` says where it serves, tells each change in a line, writes nothing and ends when it is asked to."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from generator.command_line import run
from tests.conftest import ROOT
from tests.contributing.previewing import DEVICE_PAGE, broken


def line_with(process: subprocess.Popen[str], words: str) -> str:
    """Read lines until one has the words in it."""
    assert process.stdout is not None
    for line in process.stdout:
        if words in line:
            return line
    raise AssertionError(f"it ended without a line with {words!r}")


@pytest.mark.parametrize("asked", [signal.SIGINT, signal.SIGTERM])
def test_a_preview_from_its_start_to_its_end(small_records: Path, asked: signal.Signals) -> None:
    folder = small_records.parent
    before = sorted(folder.rglob("*"))
    environment = os.environ | {"PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1", "PYTHONDONTWRITEBYTECODE": "1"}
    process = subprocess.Popen(
        [sys.executable, "-m", "generator", "preview"],
        cwd=folder,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        assert re.fullmatch(r"All records: shown anew, 1 record scored \(\d+\.\d\d s\)\n", line_with(process, "All"))
        found = re.fullmatch(
            r"Preview at (http://127\.0\.0\.1:80\d\d/) for this machine only; nothing is written. Control-C ends it.\n",
            line_with(process, "Preview at"),
        )
        assert found is not None
        with urllib.request.urlopen(found[1] + DEVICE_PAGE, timeout=20) as answer:
            assert b"preview-strip" in answer.read()
        broken(small_records)
        told = line_with(process, "problem")
        assert re.fullmatch(
            r"device_tests/patchwork-cover-2025-03\.yaml: 1 problem, told above every page \(\d+\.\d\d s\)\n", told
        )
        process.send_signal(asked)
        assert process.stdout is not None
        assert process.stdout.read() == "Preview ended.\n"
        assert process.wait(20) == 0
    finally:
        process.kill()
        process.wait()
        assert process.stdout is not None
        process.stdout.close()
    assert sorted(folder.rglob("*")) == before


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--host", "0.0.0.0"], "found the host `0.0.0.0`, expected 127.0.0.1, ::1 or localhost"),
        (["--port", "{used}"], "found no free port at 127.0.0.1 among {used} (Address already in use)"),
        (["--port", "0"], "0 is not in the range"),
        (["--records", "gone"], "Directory 'gone' does not exist"),
    ],
)
def test_what_cannot_work_is_refused(
    options: list[str], words: str, small_records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        used = str(other.getsockname()[1])
        given = [option.format(used=used) for option in options]
        assert run(["preview", *([] if "--records" in given else ["--records", str(small_records)]), *given]) == 2
        assert words.format(used=used) in capsys.readouterr().err
