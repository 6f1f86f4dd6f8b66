"""`inward publish`: make the catalogue and put it in place."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

import click

from generator.command_line.counting import counted
from generator.command_line.records_option import records_option

MOST_WORKERS = 8
"""So many are started unless more are asked for: each takes up to half a gigabyte."""


def cores() -> int:
    """Return how many processes can run at once for this one, at most `MOST_WORKERS`."""
    known = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return min(known, MOST_WORKERS)


@click.command()
@records_option
@click.option(
    "--output",
    type=click.Path(path_type=Path),
    default=Path("output"),
    show_default=True,
    help="Folder to publish. It is replaced as a whole, so it must be new, empty or published before.",
)
@click.option(
    "--workers",
    type=click.IntRange(1, 64),
    default=cores,
    show_default="one for each core, at most 8",
    help="Processes that score, draw and set PDFs. The site is the same whatever their number.",
)
@click.option(
    "--stills",
    is_flag=True,
    help="Draw stills for video too: fit factors and air supply of each device, 1920 by 1080, in stills/.",
)
@click.option("--anew", is_flag=True, help="Make all again, whatever was kept of earlier publishes.")
@click.option("--profile", is_flag=True, help="Say at the end what took the time.")
def publish(records: Path, output: Path, workers: int, stills: bool, anew: bool, profile: bool) -> None:
    """Make the catalogue from the records and put it in place.

    What was made before from the same records is taken from the cache folder, and what is put in place is the same as
    if all had been made again. Every link is followed, and only then is the old site replaced. Where a record has a
    problem, or anything fails, the old site stays as it is.
    """
    from generator.publishing.last_publish import standing
    from generator.publishing.output_folder import OutputFolder

    stands = None if anew else standing(records, output, with_stills=stills)
    if stands is not None:
        place = OutputFolder(output).output / "index.html"
        click.echo(f"Nothing has changed since {_what(stands)} were published: {place}")
        return

    from generator.build import Wishes, build
    from generator.build.timings import Timings
    from generator.command_line.progress import shown_progress

    timings = Timings()
    with shown_progress() as report:
        summary = build(records, output, report, Wishes(workers=workers, stills=stills, anew=anew), timings)
    click.echo(f"Published {_what(summary.counts)}: {summary.output / 'index.html'}")
    if profile:
        from generator.command_line.profile_text import profile_text

        click.echo(profile_text(timings), err=True)


def _what(counts: Mapping[str, int]) -> str:
    devices, tests = counted(counts["devices"], "device"), counted(counts["device_tests"], "test record")
    pages, sheets = counted(counts["pages"], "page"), counted(counts["sheets"], "PDF")
    stills = counts["stills"]
    made = f"{pages}, {sheets} and {counted(stills, 'still')}" if stills else f"{pages} and {sheets}"
    return f"{devices} and {tests} as {made}"
