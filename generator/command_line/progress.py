"""How far a long command is: a bar on a terminal, plain lines anywhere else."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import monotonic

import click

from generator.command_line.stopping import stop_if_asked

_LINES_PER_STAGE = 10
_LEAST_DONE = 3
_LEAST_SECONDS = 5.0
"""Of what took less than this nothing is foretold. [s]"""


@contextmanager
def shown_progress() -> Iterator[Callable[[int, int, str], None]]:
    """Give the function that a build reports to; what it shows goes to stderr."""
    if sys.stderr.isatty():
        with _bar() as report:
            yield report
    else:
        yield _PlainLines().report


class TimeLeft:
    """Says how long a stage will take yet, from how long what was done of it took.

    What had been done when the stage began, as where it was kept from before, tells nothing of it.
    """

    def __init__(self, clock: Callable[[], float] = monotonic) -> None:
        """Take the clock. [s]"""
        self._clock = clock
        self._total = self._first = self._last = 0
        self._started = 0.0

    def words(self, done: int, total: int) -> str:
        """Return how much time is left, as words; nothing while that cannot be told."""
        if total != self._total or done < self._last:
            self._total, self._first, self._started = total, done, self._clock()
        self._last = done
        elapsed, since = self._clock() - self._started, done - self._first
        if since < _LEAST_DONE or elapsed < _LEAST_SECONDS or done >= total:
            return ""
        minutes = elapsed / since * (total - done) / 60
        if minutes < 1:
            return "under a minute left"
        hours, rest = divmod(round(minutes), 60)
        return f"about {hours} h {rest} min left" if hours else f"about {rest} min left"


@contextmanager
def _bar() -> Iterator[Callable[[int, int, str], None]]:
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
        TextColumn("{task.fields[left]}", markup=False),
    )
    with Progress(*columns, console=Console(stderr=True), transient=True) as progress:
        task = progress.add_task("Starting", total=None, left="")
        left = TimeLeft()

        def report(done: int, total: int, what: str) -> None:
            stop_if_asked()
            progress.update(task, completed=done, total=total or None, description=what, left=left.words(done, total))

        yield report


class _PlainLines:
    """One line when the stage changes, and about ten within a long one, so that a log stays short."""

    def __init__(self) -> None:
        self._shown = (-1, -1, "")
        self._left = TimeLeft()

    def report(self, done: int, total: int, what: str) -> None:
        """Print the line, unless it would say nothing new."""
        stop_if_asked()
        left = self._left.words(done, total)
        tenth = done * _LINES_PER_STAGE // total if total else 0
        if total == 0 and what == self._shown[2]:
            return
        if total and (tenth, total) == self._shown[:2] and done < total:
            return
        self._shown = (tenth, total, what)
        line = f"{done}/{total} {what}" if total else what
        click.echo(f"{line}, {left}" if left else line, err=True)
