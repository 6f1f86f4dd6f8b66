"""`inward preview`: show the catalogue on this machine while its records are written."""

from __future__ import annotations

import gc
import os
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.command_line.counting import counted
from generator.command_line.records_option import records_option
from generator.command_line.stopping import Stopped, stop_if_asked
from generator.garbage import left_alone

if TYPE_CHECKING:
    from generator.contributing.preview import Preview, Refreshed

FIRST_PORT = 8000
MOST_NAMED = 3
"""Changed files that a line names."""


@click.command(short_help="Show the catalogue on this machine while its records are written.")
@records_option
@click.option(
    "--port", type=click.IntRange(1, 65_535), help=f"Port to listen at.  [default: {FIRST_PORT}, or the next free one]"
)
@click.option(
    "--host", default="127.0.0.1", show_default=True, help="Loopback address to listen at; others are refused."
)
def preview(records: Path, port: int | None, host: str) -> None:
    """Show the catalogue on this machine while its records are written.

    The catalogue is made in memory and served to this machine's browser alone; nothing is written. When a record is
    saved, what it changes is made anew and open pages load themselves. Where the records have problems, the pages say
    which, above what stood before. Control-C ends the preview.

    Exit codes: 0 ended, 2 there is no such folder or port.
    """
    from generator.contributing.preview import Preview
    from generator.contributing.preview_server import PORTS_TRIED, listening, loopback_address
    from generator.publishing.cache_folder import libraries_write_here

    address = loopback_address(host)
    shown = Preview(records)
    ports = range(FIRST_PORT, FIRST_PORT + PORTS_TRIED) if port is None else (port,)
    try:
        with libraries_write_here(), listening(shown, address, ports) as server:
            click.echo(f"Reading and scoring the records in {records}.", err=True)
            _refresh(shown, ())
            # The first page draws what others draw as well, and imports what they need.
            shown.answer("")
            # Most of what is there now stays: to look through it for garbage takes as long as a refresh.
            gc.freeze()
            threading.Thread(target=server.serve_forever, daemon=True).start()
            click.echo(f"Preview at {server.url} for this machine only; nothing is written. Control-C ends it.")
            try:
                _follow(shown, records)
            finally:
                server.shutdown()
    except Stopped:
        click.echo("Preview ended.", err=True)


def _follow(shown: Preview, records: Path) -> None:
    from generator.contributing.watched_folder import changes

    for names in changes(records):
        stop_if_asked()
        # Files that an editor made in passing are gone by now.
        _refresh(shown, tuple(name for name in names if os.path.lexists(records / name)) or names)
    stop_if_asked()


def _refresh(shown: Preview, names: tuple[str, ...]) -> None:
    """Show the records as they are now, and tell in one line what became of the change."""
    begun = time.perf_counter()
    with left_alone():
        refreshed = shown.refresh()
    if refreshed.changed:
        took_s = time.perf_counter() - begun
        click.echo(f"{_named(names)}: {_outcome(refreshed)} ({took_s:.2f} s)", err=True)


def _named(names: tuple[str, ...]) -> str:
    if not names:
        return "All records"
    return ", ".join(names[:MOST_NAMED]) + (f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else "")


def _outcome(refreshed: Refreshed) -> str:
    if refreshed.failure is not None:
        return f"the catalogue could not be made: {refreshed.failure}"
    if refreshed.problems:
        return f"{counted(len(refreshed.problems), 'problem')}, told above every page"
    return f"shown anew, {counted(len(refreshed.scored), 'record')} scored"
