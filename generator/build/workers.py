"""Runs jobs in worker processes, or in this one; tells what each took, and whose error was the first."""

from __future__ import annotations

import atexit
import os
import pickle
import signal
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing import get_context, resource_tracker
from multiprocessing.process import parent_process
from typing import TypeVar

from generator.build.jobs import Clock, Job, Seconds, Worker
from generator.build.timings import memory_mib
from generator.errors import GeneratorFailed, LibraryMissing, PublishFailed
from generator.garbage import looked_for_afterwards, seldom_looked_for
from generator.publishing.stop_signals import STOP_SIGNALS, stop_signals_held

AJob = TypeVar("AJob", bound=Job)
_AHEAD = 3
"""Jobs that wait for each worker: enough that none idles, and few enough that they take little memory."""

_WORTH_STARTING = 4.0
"""Processes are started for work that takes longer than this: each needs two seconds to begin. [s]"""


@dataclass(frozen=True)
class Outcome:
    """What a job that was done took."""

    seconds: Seconds
    memory_mib: float


class Workers:
    """Processes that do jobs; they are started when there is enough to do, and stay for all that follows."""

    def __init__(self, worker: Worker, processes: int) -> None:
        """Take what every job works with, and how many processes to use; with one, jobs run in this process."""
        self._worker = worker
        self._processes = processes
        self._pool: ProcessPoolExecutor | None = None
        self._beginning: list[Future[None]] = []

    def __enter__(self) -> Workers:
        return self

    def __exit__(self, *exception: object) -> None:
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)

    def done(self, jobs: Sequence[AJob]) -> Iterator[tuple[AJob, Outcome]]:
        """Do jobs and give each when it is done, in whatever order.

        After the first error no job is begun any more; it is raised with what it is about.
        """
        worth_it = sum(job.expected_seconds for job in jobs) > _WORTH_STARTING
        if self._processes == 1 or len(jobs) < 2 or not (worth_it or self._have_begun()):
            for job in jobs:
                yield job, _run(job, self._worker)
            return
        pool = self._started()
        waiting: dict[Future[Outcome], AJob] = {}
        for job in jobs:
            # Packed here: what cannot be packed would else fail in a thread of the pool, which may then wait forever.
            waiting[pool.submit(_run_packed, pickle.dumps(job))] = job
            if len(waiting) >= self._processes * _AHEAD:
                yield from _finished(waiting)
        while waiting:
            yield from _finished(waiting)

    def begin_for(self, seconds: float) -> None:
        """Start the processes ahead of so much work where that is worth it: they get ready beside what is done here."""
        if self._processes > 1 and seconds > _WORTH_STARTING:
            self._started()

    def _have_begun(self) -> bool:
        return bool(self._beginning) and all(future.done() for future in self._beginning)

    def _started(self) -> ProcessPoolExecutor:
        if self._pool is not None:
            return self._pool
        # Not by forking: this process may have threads, of which a fork keeps none but their locks. Nor by a fork
        # server: its socket lies in the folder for passing files, whose path may be longer than a socket's may.
        pool = self._pool = ProcessPoolExecutor(
            self._processes,
            get_context("spawn"),
            initializer=_begin,
            initargs=(pickle.dumps(self._worker),),
        )
        with _signals_held():
            self._beginning = [pool.submit(_ready) for _ in range(self._processes)]
        return pool


def _finished(waiting: dict[Future[Outcome], AJob]) -> Iterator[tuple[AJob, Outcome]]:
    for future in wait(waiting, return_when=FIRST_COMPLETED).done:
        yield waiting.pop(future), future.result()


@contextmanager
def _signals_held() -> Iterator[None]:
    """Hold what asks to stop until the workers have been started; they inherit it, and let go when they are ready.

    Otherwise control-C, which reaches them too, would end them in the middle of their start with words of their own.
    And this process, interrupted between starting one and putting it down, would wait for it for ever: a mask does not
    suffice for that, since the system hands a signal to any thread without one.
    """
    resource_tracker.ensure_running()  # first, because its start lifts the mask
    with stop_signals_held():
        before = signal.pthread_sigmask(signal.SIG_BLOCK, STOP_SIGNALS)
        try:
            yield
        finally:
            signal.pthread_sigmask(signal.SIG_SETMASK, before)


_here: list[Worker] = []
"""What the jobs of a worker process work with, once it has begun."""


def _ready() -> None:
    """Import what pages and papers are made with: the pool starts a process for each job that waits, up to its number.

    A library that is missing is told by the first job that needs it.
    """
    import generator.rendering.whole_site  # noqa: F401
    from generator.rendering.sheets import setting_library

    with suppress(LibraryMissing):
        setting_library()


def _run_packed(packed: bytes) -> Outcome:
    job: Job = pickle.loads(packed)
    return _run(job, _here[0])


def _run(job: Job, worker: Worker) -> Outcome:
    clock = Clock()
    try:
        with looked_for_afterwards():
            job.run(worker, clock)
    except (LibraryMissing, PublishFailed):
        # About the machine, not about what was made on it.
        raise
    except GeneratorFailed as error:
        raise type(error)(f"{job.about}: {error}") from error
    except Exception as error:
        error.add_note(f"while {job.about} was made")
        raise
    return Outcome(clock.seconds, memory_mib())


def _begin(packed: bytes) -> None:
    seldom_looked_for()
    # A stop is the parent's to decide on; a worker whose parent was killed must not stay behind.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    for stop in {*STOP_SIGNALS} - {signal.SIGINT}:
        signal.signal(stop, signal.SIG_DFL)
    signal.pthread_sigmask(signal.SIG_UNBLOCK, STOP_SIGNALS)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    # Taking down all that was imported and made would take most of a second, and serve nobody.
    atexit.register(os._exit, 0)
    _here.append(pickle.loads(packed))


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
