"""Sets data sheets and other papers in worker processes, in their order; with one worker, in this process."""

from __future__ import annotations

import os
import pickle
import signal
import threading
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context, resource_tracker
from multiprocessing.process import parent_process

from generator.presenting.page_parts import Letterhead, Paper
from generator.rendering.sheets import render_sheet

STOPPING = {signal.SIGINT, signal.SIGTERM, signal.SIGHUP}

Job = tuple[Paper, Letterhead, Mapping[str, bytes]]


def rendered_sheets(jobs: Sequence[Job], workers: int) -> Iterator[bytes]:
    """Give the PDF of each job in turn. An error of one is raised in its turn, and no further job is begun then.

    Parameters
    ----------
    jobs
        Paper, letterhead and attached records of each PDF.
    workers
        Processes to use, at least 1.
    """
    if workers == 1 or len(jobs) < 2:
        for job in jobs:
            yield render_sheet(*job)
        return
    # Not by forking: this process may have threads, of which a fork keeps none but their locks. Nor by a fork server:
    # its socket lies in the folder for passing files, whose path may be longer than a socket's may.
    pool = ProcessPoolExecutor(min(workers, len(jobs)), get_context("spawn"), initializer=_begin)
    try:
        with _signals_held():
            # Packed here: what cannot be packed would else fail in a thread of the pool, which may then wait forever.
            results = pool.map(_rendered, [pickle.dumps(job) for job in jobs])
        yield from results
    finally:
        pool.shutdown(cancel_futures=True)


@contextmanager
def _signals_held() -> Iterator[None]:
    """Hold what asks to stop until the workers have been started; they inherit it, and let go when they are ready.

    Otherwise control-C, which reaches them too, would end them in the middle of their start with words of their own.
    """
    resource_tracker.ensure_running()  # first, because its start lifts the mask
    before = signal.pthread_sigmask(signal.SIG_BLOCK, STOPPING)
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _rendered(packed: bytes) -> bytes:
    job: Job = pickle.loads(packed)
    return render_sheet(*job)


def _begin() -> None:
    # A stop is the parent's to decide on; a worker whose parent was killed must not stay behind.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    for stop in STOPPING - {signal.SIGINT}:
        signal.signal(stop, signal.SIG_DFL)
    signal.pthread_sigmask(signal.SIG_UNBLOCK, STOPPING)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
