"""What happens when a command is asked to stop: it ends where it is, leaves nothing half-written, and says so."""

from __future__ import annotations

import signal
import sys
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
def stopping_on_signals(*, then_ignored: bool) -> Iterator[None]:
    """Let the signals that ask a process to stop raise `Stopped` meanwhile; afterwards all is as it was before.

    Where the process ends after this, they are ignored instead: a stop can then no longer change its exit code.
    """
    _asked.clear()
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.getsignal(number) for number in STOP_SIGNALS}
    hook = sys.unraisablehook

    def tell_of_others(unraisable: sys.UnraisableHookArgs) -> None:
        # `stop_if_asked` sees to a stop that fell into the clean-up of an object, where nothing can be raised.
        if not issubclass(unraisable.exc_type, Stopped):
            hook(unraisable)

    sys.unraisablehook = tell_of_others
    try:
        for number, handler in before.items():
            # A signal that the process was started to ignore, as by nohup, stays ignored.
            if handler is not signal.SIG_IGN:
                signal.signal(number, _stop)
        yield
    finally:
        sys.unraisablehook = hook
        for number, handler in before.items():
            signal.signal(number, signal.SIG_IGN if then_ignored else handler)


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
