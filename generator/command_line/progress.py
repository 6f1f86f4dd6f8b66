"""How far a long command is: a bar on a terminal, plain lines anywhere else."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

from generator.command_line.stopping import stop_if_asked

_LINES_PER_STAGE = 10


@contextmanager
def shown_progress() -> Iterator[Callable[[int, int, str], None]]:
    """Give the function that a build reports to; what it shows goes to stderr."""
    if sys.stderr.isatty():
        with _bar() as report:
            yield report
    else:
        yield _PlainLines().report


@contextmanager
def _bar() -> Iterator[Callable[[int, int, str], None]]:
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (TextColumn("{task.description}", markup=False), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as progress:
        task = progress.add_task("Starting", total=None)

        def report(done: int, total: int, what: str) -> None:
            stop_if_asked()
            progress.update(task, completed=done, total=total or None, description=what)

        yield report


class _PlainLines:
    """One line when the stage changes, and about ten within a long one, so that a log stays short."""

    def __init__(self) -> None:
        self._shown = (-1, -1, "")

    def report(self, done: int, total: int, what: str) -> None:
        """Print the line, unless it would say nothing new."""
        stop_if_asked()
        tenth = done * _LINES_PER_STAGE // total if total else 0
        if total == 0 and what == self._shown[2]:
            return
        if total and (tenth, total) == self._shown[:2] and done < total:
            return
        self._shown = (tenth, total, what)
        click.echo(f"{done}/{total} {what}" if total else what, err=True)
