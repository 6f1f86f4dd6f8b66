"""Runs jobs in this process and in others beside it; tells what each took, and whose error was the first.

This process has imported what jobs need before the others have, and would else only wait for them: it does jobs too.
"""

from __future__ import annotations

import atexit
import os
import pickle
import signal
import threading
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from functools import partial
from multiprocessing import get_context, resource_tracker
from multiprocessing.process import parent_process
from queue import SimpleQueue
from typing import Generic, TypeVar

from generator.build.jobs import Clock, Job, Seconds, Worker
from generator.build.kept_equations import KeptEquations
from generator.build.timings import memory_mib
from generator.errors import GeneratorFailed, LibraryMissing, PublishFailed
from generator.garbage import looked_for_afterwards, seldom_looked_for
from generator.publishing.stop_signals import STOP_SIGNALS, stop_signals_held
from generator.rendering.equations import drawn_before

AJob = TypeVar("AJob", bound=Job)
_AHEAD = 8
"""Jobs that wait for each worker, packed: enough that none idles while this process does one, and few enough that they
take little memory."""

_WORTH_STARTING = 4.0
"""Processes are started for work that takes longer than this: each needs two seconds to begin. [s]"""


@dataclass(frozen=True)
class Outcome:
    """What a job that was done took."""

    seconds: Seconds
    memory_mib: float | None = None
    """The most memory of the process so far; None where it is the one that holds the whole catalogue. [MiB]"""


class Workers:
    """Processes that do jobs; they are started when there is enough to do, and stay for all that follows."""

    def __init__(self, worker: Worker, processes: int) -> None:
        """Take what every job works with, and how many processes to use, of which this is one."""
        self._worker = worker
        self._others = processes - 1
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
        if not self._others or len(jobs) < 2 or not (worth_it or self._have_begun()):
            for job in jobs:
                yield job, _run(job, self._worker)
            return
        shared = _SharedJobs(self._started(), self._others, jobs)
        try:
            while (mine := shared.take()) is not None:
                shared.hand_out()
                yield mine, _run(mine, self._worker)
                yield from shared.ended(wait=False)
            yield from shared.ended(wait=True)
        finally:
            shared.stop()

    def begin_for(self, seconds: float) -> None:
        """Start the processes ahead of so much work where that is worth it: they get ready beside what is done here."""
        if self._others and seconds > _WORTH_STARTING:
            self._started()

    def _have_begun(self) -> bool:
        return bool(self._beginning) and all(future.done() for future in self._beginning)

    def _started(self) -> ProcessPoolExecutor:
        if self._pool is not None:
            return self._pool
        # Not by forking: this process may have threads, of which a fork keeps none but their locks. Nor by a fork
        # server: its socket lies in the folder for passing files, whose path may be longer than a socket's may.
        pool = self._pool = ProcessPoolExecutor(
            self._others,
            get_context("spawn"),
            initializer=_begin,
            initargs=(pickle.dumps(self._worker),),
        )
        with _signals_held():
            self._beginning = [pool.submit(_ready) for _ in range(self._others)]
        return pool


class _SharedJobs(Generic[AJob]):
    """Jobs that are taken one by one: by this process, and for another one whenever that is done with its last."""

    def __init__(self, pool: ProcessPoolExecutor, others: int, jobs: Sequence[AJob]) -> None:
        """Take the pool, the number of its processes, and the jobs, the longest first."""
        self._pool = pool
        self._others = others
        self._later = deque(jobs)
        self._ended: SimpleQueue[tuple[AJob, Future[Outcome]]] = SimpleQueue()
        # Below is what a thread of the pool looks at too, which notes that a job has ended, and hands out the next.
        self._lock = threading.Lock()
        self._packed: deque[tuple[AJob, bytes]] = deque()
        self._running = 0
        self._handed = 0
        self._told = 0

    def take(self) -> AJob | None:
        """Return a job for this process, or None where all were taken."""
        # Packed by this thread, since a job holds what others hold too, and a job that runs here may work out and keep
        # a value in it meanwhile. What cannot be packed is told here as well; the pool might wait for it forever.
        while self._later and len(self._packed) <= self._others * _AHEAD:
            job = self._later.popleft()
            packed = pickle.dumps(job)
            with self._lock:
                self._packed.append((job, packed))
        with self._lock:
            return self._packed.popleft()[0] if self._packed else None

    def hand_out(self) -> None:
        """Hand out jobs until each of the other processes has one."""
        while True:
            with self._lock:
                if self._running == self._others or not self._packed:
                    return
                job, packed = self._packed.popleft()
                self._running += 1
                self._handed += 1
            try:
                future = self._pool.submit(_run_packed, packed)
            except RuntimeError as error:  # the pool has lost a process, or was shut down
                future = Future()
                future.set_exception(error)
            future.add_done_callback(partial(self._note, job))

    def ended(self, *, wait: bool) -> Iterator[tuple[AJob, Outcome]]:
        """Give the jobs that the others have done since; where it is waited for, all that they were handed."""
        while self._told < self._handed and (wait or not self._ended.empty()):
            job, future = self._ended.get()
            self._told += 1
            yield job, future.result()

    def stop(self) -> None:
        """Hand out no job any more."""
        self._later.clear()
        with self._lock:
            self._packed.clear()

    def _note(self, job: AJob, future: Future[Outcome]) -> None:
        failed = future.cancelled() or future.exception() is not None
        with self._lock:
            self._running -= 1
            if failed:
                self._packed.clear()
        self._ended.put((job, future))
        self.hand_out()


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
    return replace(_run(job, _here[0]), memory_mib=memory_mib())


def _run(job: Job, worker: Worker) -> Outcome:
    clock = Clock()
    try:
        with looked_for_afterwards(), drawn_before(KeptEquations(worker.kept, worker.anew)):
            job.run(worker, clock)
    except (LibraryMissing, PublishFailed):
        # About the machine, not about what was made on it.
        raise
    except GeneratorFailed as error:
        raise type(error)(f"{job.about}: {error}") from error
    except Exception as error:
        error.add_note(f"while {job.about} was made")
        raise
    return Outcome(clock.seconds)


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
