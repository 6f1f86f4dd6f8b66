"""`inward publish`: make the catalogue and put it in place."""

from __future__ import annotations

from pathlib import Path

import click

from generator.command_line.counting import counted
from generator.command_line.records_option import records_option


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
    default=1,
    show_default=True,
    help="Processes that set PDFs. The site is the same whatever their number.",
)
@click.option(
    "--stills",
    is_flag=True,
    help="Draw stills for video too: fit factors and air supply of each device, 1920 by 1080, in stills/.",
)
def publish(records: Path, output: Path, workers: int, stills: bool) -> None:
    """Make the catalogue from the records and put it in place.

    Every page and PDF is made anew, every link is followed, and only then is the old site replaced. Where a record has
    a problem, or anything fails, the old site stays as it is.
    """
    from generator.build import build
    from generator.command_line.progress import shown_progress

    with shown_progress() as report:
        summary = build(records, output, report, workers, with_stills=stills)
    devices, tests = counted(summary.devices, "device"), counted(summary.device_tests, "test record")
    pages, sheets = counted(summary.pages, "page"), counted(summary.sheets, "PDF")
    made = f"{pages}, {sheets} and {counted(summary.stills, 'still')}" if stills else f"{pages} and {sheets}"
    click.echo(f"Published {devices} and {tests} as {made}: {summary.output / 'index.html'}")
