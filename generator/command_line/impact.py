"""`inward impact`: say what a change does to published results."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.command_line.records_option import records_option

if TYPE_CHECKING:
    from generator.presenting.impact_views import ImpactView


@click.command(short_help="Say what a change does to published results.")
@click.argument("base")
@records_option
@click.option(
    "--format",
    "layout",
    type=click.Choice(["text", "markdown", "json"]),
    default="text",
    show_default=True,
    help="Text for reading, Markdown for a comment on a pull request, JSON for programs.",
)
def impact(base: str, records: Path, layout: str) -> None:
    """Say what a change does to published results: verdicts, cautions, figures and pages, before and after.

    BASE is what the records as they stand are held against: a git revision, such as `main` or `HEAD~1`, whose records
    are taken out of the repository without touching any file; a folder of records; or a published site, such as
    output/.

    With a revision or a folder, both sides are scored by this program, so that what differs is what the records
    changed. With a published site, what this program and its requirements changed shows too.

    Exit codes: 0 compared, whatever differs, 1 the records of one side have problems, 2 there is no such BASE.
    """
    from generator.command_line.progress import shown_progress
    from generator.contributing.impact.bases import SideHasProblems
    from generator.contributing.impact.impact_of import impact_of

    try:
        with shown_progress() as report:
            view = impact_of(records, base, report)
    except SideHasProblems as error:
        click.echo(f"Not compared: {error.side} have problems.", err=True)
        raise
    click.echo(_laid_out(view, layout), nl=False)


def _laid_out(view: ImpactView, layout: str) -> str:
    if layout == "markdown":
        from generator.rendering.impact_comment import impact_comment

        return impact_comment(view)
    if layout == "json":
        return json.dumps(asdict(view), ensure_ascii=False, indent=2) + "\n"
    from generator.command_line.impact_text import impact_text

    return impact_text(view)
