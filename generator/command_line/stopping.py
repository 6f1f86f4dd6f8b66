"""What happens when a command is asked to stop: it ends where it is, leaves nothing half-written, and says so."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

STOP_SIGNALS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)
"""The same as in `publishing.stop_signals`, which is not imported here, so that `inward --help` stays quick."""

_asked: list[int] = []


class Stopped(BaseException):
    """Raised wherever the command is when it is asked to stop; no failure, so that nothing on the way handles it."""


@contextmanager
def stopping_on_signals() -> Iterator[None]:
    """Let the signals that ask a process to stop raise `Stopped` meanwhile."""
    _asked.clear()
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.getsignal(number) for number in STOP_SIGNALS}
    try:
        for number, handler in before.items():
            # A signal that the process was started to ignore, as by nohup, stays ignored.
            if handler is not signal.SIG_IGN:
                signal.signal(number, _stop)
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _stop(number: int, frame: FrameType | None) -> None:
    _asked.append(number)
    raise Stopped


def signal_that_stopped() -> int | None:
    """Return the number of the signal that asked the command to stop, or None."""
    return _asked[0] if _asked else None


def stop_if_asked() -> None:
    """Raise `Stopped` anew: where a library ran a call-back of its own, it may have swallowed the first."""
    if _asked:
        raise Stopped
