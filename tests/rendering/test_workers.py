"""Sheets set by several processes: the same bytes in the same order, one error, and nobody left behind."""

from __future__ import annotations

import multiprocessing
import os
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from generator.rendering.workers import Job, rendered_sheets
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import a_test


@pytest.fixture(scope="module")
def jobs() -> list[Job]:
    """Three sheets that differ in the name of their device."""
    site = shown(a_whole_catalogue(a_test([given(150.0)])))
    (sheet,) = site.sheets
    attached = {item.name: b"{}" for item in sheet.attached}
    named = [replace(sheet, device=replace(sheet.device, name=f"Device {number}")) for number in (1, 2, 3)]
    return [(one, site.letterhead, attached) for one in named]


def test_the_number_of_workers_changes_nothing(jobs: list[Job]) -> None:
    alone = list(rendered_sheets(jobs, 1))
    assert len(set(alone)) == 3
    assert list(rendered_sheets(jobs, 2)) == alone


def test_the_error_of_a_worker_is_raised(jobs: list[Job]) -> None:
    sheet, letterhead, _ = jobs[1]
    missing: Job = (sheet, letterhead, {})
    with pytest.raises(KeyError, match=r"test\.json"):
        list(rendered_sheets([jobs[0], missing, jobs[2]], 2))
    assert [child for child in multiprocessing.active_children() if child.is_alive()] == []


def test_what_cannot_be_sent_to_a_worker_is_told_and_not_waited_for(jobs: list[Job]) -> None:
    sheet, letterhead, _ = jobs[1]
    odd: Job = (sheet, letterhead, {"test.json": memoryview(b"{}")})  # type: ignore[dict-item]
    with pytest.raises(TypeError, match=r"cannot pickle '?memoryview'? object"):
        list(rendered_sheets([jobs[0], odd], 2))


def running_below(pid: int) -> list[int]:
    """Return the processes that descend from a process."""
    found = []
    for folder in Path("/proc").iterdir():
        if folder.name.isdigit():
            try:
                parent = int((folder / "stat").read_text().rpartition(")")[2].split()[1])
            except (OSError, ValueError):
                continue
            if parent == pid:
                found += [int(folder.name), *running_below(int(folder.name))]
    return found


def alive(pids: list[int]) -> list[int]:
    states = {pid: Path(f"/proc/{pid}/stat") for pid in pids}
    return [
        pid for pid, path in states.items() if path.exists() and path.read_text().rpartition(")")[2].split()[0] != "Z"
    ]


KEPT = ("meadowrue", "sallowby", "patchwork", "linnetbank", "thriftleaf")
"""Starts of the names of demo devices whose sheets take long enough to be caught in the middle."""


@pytest.fixture
def some_records(demo_records: Path, tmp_path: Path) -> Path:
    """The demo's records without most of its devices, and without what only those need."""
    folder = tmp_path / "records"
    shutil.copytree(demo_records, folder, ignore=shutil.ignore_patterns("README.md", "logs", "comparisons"))
    for path in [*folder.glob("devices/*.yaml"), *folder.glob("device_tests/*.yaml")]:
        if not path.name.startswith(KEPT):
            path.unlink()
    shutil.rmtree(folder / "pictures")
    return folder


def test_workers_end_with_a_parent_that_is_killed(some_records: Path, tmp_path: Path) -> None:
    words = ["publish", "--records", str(some_records), "--output", str(tmp_path / "output"), "--workers", "2"]
    with subprocess.Popen(
        [sys.executable, "-m", "generator", *words],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ,
    ) as process:
        assert process.stderr is not None
        for line in process.stderr:
            if ".pdf" in line:
                break
        below = running_below(process.pid)
        process.send_signal(signal.SIGKILL)
    assert len(below) >= 3  # two workers at least, and what keeps their books
    deadline = time.monotonic() + 30
    while alive(below) and time.monotonic() < deadline:
        time.sleep(0.1)
    assert alive(below) == []
