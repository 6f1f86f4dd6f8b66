"""Hold back the signals that ask a process to stop, while the output folder is changed."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

STOP_SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)
"""Control-C, a polite kill, a terminal that was closed."""


@contextmanager
def stop_signals_held() -> Iterator[list[int]]:
    """Give the list of the signals that came meanwhile; what is left in it at the end is sent anew.

    Whoever finds a signal in the list early enough gives up; whoever is too far on to give up empties it. Signals that
    the process ignores stay ignored. Outside the main thread no signal arrives, and nothing is held.
    """
    came: list[int] = []
    if threading.current_thread() is not threading.main_thread():
        yield came
        return

    def keep(number: int, frame: FrameType | None) -> None:
        came.append(number)

    before = {number: signal.getsignal(number) for number in STOP_SIGNALS}
    held = [number for number, handler in before.items() if handler not in (signal.SIG_IGN, None)]
    try:
        for number in held:
            signal.signal(number, keep)
        yield came
    finally:
        for number in held:
            signal.signal(number, before[number])
        if came:
            signal.raise_signal(came[0])
