"""Sets data sheets in worker processes, in their order; with one worker, in this process."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import forkserver, resource_tracker
from multiprocessing.process import parent_process

from generator.presenting.page_views import Letterhead, Sheet
from generator.rendering.sheets import render_sheet

Job = tuple[Sheet, Letterhead, Mapping[str, bytes]]


def rendered_sheets(jobs: Sequence[Job], workers: int) -> Iterator[bytes]:
    """Give the PDF of each job in turn. An error of one is raised in its turn, and no further job is begun then.

    Parameters
    ----------
    jobs
        Sheet, letterhead and attached records of each PDF.
    workers
        Processes to use, at least 1.
    """
    if workers == 1 or len(jobs) < 2:
        for job in jobs:
            yield render_sheet(*job)
        return
    # Not by forking: this process may have threads, of which a fork keeps none but their locks.
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([__name__])
    # The server inherits the mask, so that control-C, which reaches it too, does not end it with words of its own. The
    # tracker comes first, because its start lifts the mask.
    resource_tracker.ensure_running()
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        forkserver.ensure_running()
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
    pool = ProcessPoolExecutor(min(workers, len(jobs)), mp_context=context, initializer=_begin)
    try:
        yield from pool.map(_rendered, jobs)
    finally:
        pool.shutdown(cancel_futures=True)


def _rendered(job: Job) -> bytes:
    return render_sheet(*job)


def _begin() -> None:
    # A stop is the parent's to decide on; a worker whose parent was killed must not stay behind.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
