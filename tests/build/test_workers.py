"""Jobs done by several processes: the same outcome, one error that says what it is about, and nobody left behind."""

from __future__ import annotations

import multiprocessing
import os
import shutil
import signal
import subprocess
import sys
import time
import weakref
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from generator.build.jobs import Clock, ViewJob, Worker
from generator.build.scored_here import ScoredHere
from generator.build.workers import Workers
from generator.errors import GeneratorFailed, LibraryMissing
from generator.model.published import published
from generator.publishing.kept_files import KeptFiles
from tests.presenting.small_sites import a_whole_catalogue, given, shown
from tests.scoring.builders import a_test


@pytest.fixture
def worker(tmp_path: Path) -> Worker:
    """What jobs work with."""
    return Worker(
        published(a_whole_catalogue(a_test([given(150.0)]))), KeptFiles(tmp_path / "kept", "tool"), ScoredHere(tmp_path)
    )


@dataclass(frozen=True)
class Slow(ViewJob):
    """A job that is worth starting processes for."""

    @property
    def expected_seconds(self) -> float:
        """Tell a time. [s]"""
        return 10.0


def jobs(number: int) -> list[Slow]:
    """Return as many jobs that make a page."""
    site = shown(a_whole_catalogue(a_test([given(150.0)])))
    present = partial(_itself, site.glossary)
    return [
        Slow(
            f"{count:02}" * 8,
            f"page-{count}.html",
            "glossary.html",
            present,
            site.letterhead,
            with_charts=False,
            devices=1,
        )
        for count in range(number)
    ]


def _itself(view: object) -> object:
    return view


def _after(seconds: float, view: object) -> object:
    time.sleep(seconds)
    return view


def _fails(error: Exception) -> object:
    raise error


def failing(error: Exception) -> Slow:
    """Return a job that fails."""
    (job,) = jobs(1)
    return Slow(
        "ff" * 8, "failing.html", job.template, partial(_fails, error), job.letterhead, with_charts=False, devices=1
    )


def done(worker: Worker, processes: int, todo: list[Slow]) -> dict[str, bytes]:
    """Do jobs and return what they made."""
    with Workers(worker, processes) as crew:
        assert {job.key for job, _ in crew.done(todo)} == {job.key for job in todo}
    made: dict[str, bytes] = {}
    for job in todo:
        entry = worker.kept.get(job.key)
        assert entry is not None
        made[job.path] = entry.read(job.path)
        worker.kept.forget(job.key)
    return made


def test_the_number_of_processes_changes_nothing(worker: Worker) -> None:
    todo = jobs(9)
    alone = done(worker, 1, todo)
    assert len(alone) == 9
    assert done(worker, 2, todo) == alone
    assert [child for child in multiprocessing.active_children() if child.is_alive()] == []


def test_this_process_and_the_others_both_do_jobs(worker: Worker) -> None:
    todo = [replace(job, present=partial(_after, 0.5, job.present())) for job in jobs(12)]
    with Workers(worker, 2) as crew:
        crew.begin_for(100.0)
        outcomes = [outcome for _, outcome in crew.done(todo)]
    here = [outcome for outcome in outcomes if outcome.memory_mib is None]
    elsewhere = [outcome for outcome in outcomes if outcome.memory_mib is not None]
    assert len(here) + len(elsewhere) == 12
    assert (len(here) > 1, len(elsewhere) > 1) == (True, True)


@pytest.mark.parametrize(("processes", "todo"), [(1, 2), (2, 1)])
def test_memory_of_this_process_is_not_told_as_that_of_a_worker(worker: Worker, processes: int, todo: int) -> None:
    with Workers(worker, processes) as crew:
        assert [outcome.memory_mib for _, outcome in crew.done(jobs(todo))] == [None] * todo


@pytest.mark.parametrize("processes", [1, 2])
@pytest.mark.parametrize(
    ("error", "said"),
    [
        (GeneratorFailed, r"^failing\.html: no ink$"),
        (LibraryMissing, r"^no ink$"),
        (KeyError, "no ink"),
    ],
    ids=["ours", "of the machine", "unforeseen"],
)
def test_the_first_error_is_raised_with_what_it_is_about(
    worker: Worker, processes: int, error: type[Exception], said: str
) -> None:
    with (
        Workers(worker, processes) as crew,
        pytest.raises(error, match=said) as raised,
    ):
        list(crew.done([failing(error("no ink")), *jobs(20)]))
    if error is KeyError:
        assert raised.value.__notes__ == ["while failing.html was made"]
    made = sum(worker.kept.get(job.key) is not None for job in jobs(20))
    # Those that had been handed out already may be done, no others.
    assert made <= (0 if processes == 1 else 8)
    assert [child for child in multiprocessing.active_children() if child.is_alive()] == []


@pytest.mark.parametrize("error", [GeneratorFailed("no ink"), KeyError("no ink")], ids=["ours", "unforeseen"])
def test_an_error_in_another_process_is_raised_here(worker: Worker, error: Exception) -> None:
    first, *others = [replace(job, present=partial(_after, 0.2, job.present())) for job in jobs(40)]
    with Workers(worker, 2) as crew, pytest.raises(type(error), match="no ink") as raised:
        list(crew.done([first, failing(error), *others]))
    assert "failing.html" in "\n".join([str(raised.value), *getattr(raised.value, "__notes__", ())])
    assert sum(worker.kept.get(job.key) is not None for job in others) < 39
    assert multiprocessing.active_children() == []


def test_another_process_that_is_lost_is_told_and_not_waited_for(worker: Worker) -> None:
    first, *others = [replace(job, present=partial(_after, 0.2, job.present())) for job in jobs(40)]
    lost = replace(first, key="dd" * 8, path="lost.html", present=partial(os._exit, 1))
    with Workers(worker, 2) as crew, pytest.raises(BrokenProcessPool, match="terminated abruptly"):
        list(crew.done([first, lost, *others]))
    assert multiprocessing.active_children() == []


def test_what_cannot_be_sent_to_a_worker_is_told_and_not_waited_for(worker: Worker) -> None:
    (job,) = jobs(1)
    odd = Slow(
        "ee" * 8,
        "odd.html",
        job.template,
        partial(_itself, memoryview(b"")),
        job.letterhead,
        with_charts=False,
        devices=1,
    )
    with Workers(worker, 2) as crew, pytest.raises(TypeError, match=r"cannot pickle '?memoryview'? object"):
        list(crew.done([job, odd]))


def test_few_short_jobs_start_no_process(worker: Worker) -> None:
    short = [
        ViewJob(each.key, each.path, each.template, each.present, each.letterhead, with_charts=False, devices=1)
        for each in jobs(5)
    ]
    with Workers(worker, 2) as crew:
        for _ in crew.done(short):
            assert multiprocessing.active_children() == []


def test_processes_get_ready_ahead_of_long_work_alone(worker: Worker) -> None:
    with Workers(worker, 1) as crew:
        crew.begin_for(100.0)
        assert multiprocessing.active_children() == []
    with Workers(worker, 3) as crew:
        crew.begin_for(3.9)
        assert multiprocessing.active_children() == []
        crew.begin_for(4.1)
        begun = {child.pid for child in multiprocessing.active_children()}
        assert len(begun) == 2
        assert {job.key for job, _ in crew.done(jobs(9))} == {job.key for job in jobs(9)}
        assert {child.pid for child in multiprocessing.active_children()} == begun
    assert multiprocessing.active_children() == []


def test_a_stop_while_processes_are_started_waits_until_all_are_known(
    worker: Worker, monkeypatch: pytest.MonkeyPatch
) -> None:
    start: Any = vars(ProcessPoolExecutor)["_spawn_process"]

    def stopped_then_started(pool: ProcessPoolExecutor) -> None:
        # As when the system hands the signal to another thread, which does not hold it back.
        signal.pthread_sigmask(signal.SIG_UNBLOCK, [signal.SIGINT])
        signal.raise_signal(signal.SIGINT)
        start(pool)

    monkeypatch.setattr(ProcessPoolExecutor, "_spawn_process", stopped_then_started)
    with Workers(worker, 3) as crew:
        with pytest.raises(KeyboardInterrupt, match=r"^$"):
            crew.begin_for(100.0)
        assert len(multiprocessing.active_children()) == 2
    assert multiprocessing.active_children() == []


def test_what_a_job_leaves_in_cycles_is_gone_after_it(worker: Worker) -> None:
    left: list[weakref.ref[object]] = []

    def leaves_a_cycle(view: object) -> object:
        class HoldsItself:
            pass

        left.append(weakref.ref(HoldsItself))  # a class is in a cycle of its own
        return view

    (job,) = jobs(1)
    with Workers(worker, 1) as crew:
        assert len(list(crew.done([replace(job, present=partial(leaves_a_cycle, job.present()))]))) == 1
    assert [each() for each in left] == [None]


def test_a_clock_adds_up_what_is_timed_under_one_name() -> None:
    clock = Clock()
    for name in ("one", "other", "one"):
        with clock.on(name):
            sum(range(100_000))
    assert list(clock.seconds) == ["one", "other"]
    assert clock.seconds["one"] > 0


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
    """Return those processes that have not ended."""
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
    words = [
        "publish",
        "--records",
        str(some_records),
        "--output",
        str(tmp_path / "output"),
        "--workers",
        "3",
        "--anew",
    ]
    with subprocess.Popen(
        [sys.executable, "-m", "generator", *words],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ,
    ) as process:
        assert process.stderr is not None
        for line in process.stderr:
            if "Making devices" in line:
                break
        deadline = time.monotonic() + 60
        while len(below := running_below(process.pid)) < 3 and time.monotonic() < deadline:
            time.sleep(0.1)
        process.send_signal(signal.SIGKILL)
    assert len(below) >= 3  # two workers at least, and what keeps their books
    deadline = time.monotonic() + 30
    while alive(below) and time.monotonic() < deadline:
        time.sleep(0.1)
    assert alive(below) == []
