"""When garbage in cycles is looked for: the collector of the language is told where there is some, and where none.

What is read, scored and worded stays until the end, and next to nothing of it lies in cycles: to look through all of it
again and again takes a third of the time. What lies in cycles is made by a paper or a page, and left when it is done.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


def seldom_looked_for() -> None:
    """Look for garbage seldom from now on, and among young things alone."""
    gc.set_threshold(200_000, 50, 1000)


def left_to_the_system() -> None:
    """Look for no garbage any more, since the process ends: the system takes back all of its memory at once."""
    gc.freeze()


@contextmanager
def left_alone() -> Iterator[None]:
    """Look for no garbage meanwhile: for what makes next to none."""
    looked_for = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if looked_for:
            gc.enable()


@contextmanager
def made_to_stay() -> Iterator[None]:
    """Look for no garbage meanwhile, and count what is there then as old, without going through it."""
    with left_alone():
        yield
        gc.freeze()
        gc.unfreeze()


@contextmanager
def looked_for_afterwards() -> Iterator[None]:
    """Look for garbage once, at the end, among what was made meanwhile: for what leaves all of its own behind."""
    with left_alone():
        try:
            yield
        finally:
            # Whatever is made while it is left alone is of the youngest; what was there before is not gone through.
            gc.collect(0)
