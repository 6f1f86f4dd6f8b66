"""`inward verify`: compute a published site anew and name what differs."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import click


@click.command(short_help="Compute a published site anew and name every figure that differs.")
@click.argument("site", type=click.Path(path_type=Path), default=Path("output"))
def verify(site: Path) -> None:
    """Compute a published site anew from its own published records, and name every figure that differs.

    SITE is the folder that `inward publish` wrote, by default output/. Pages, sheets, tables and data are compared;
    each difference is told with its file, its place, what is published and what the records give.

    Exit codes: 0 nothing differs, 1 something differs or the published data cannot be read.
    """
    from generator.command_line.progress import shown_progress
    from generator.contributing.verification import verify as verified

    with shown_progress() as report:
        found = verified(site, report)
    if found.published_with != found.recomputed_with:
        before, now = _listed(found.published_with), _listed(found.recomputed_with)
        click.echo(f"Published with {before}; recomputed with {now}.", err=True)
    for difference in found.differences:
        click.echo(str(difference))
    if found.differences:
        files = len({difference.file for difference in found.differences})
        number = len(found.differences)
        click.echo(f"{number} difference{'s' if number > 1 else ''} in {files} of {found.files} files.", err=True)
        raise click.exceptions.Exit(1)
    click.echo(f"All {found.files} files are what the published records give.")


def _listed(versions: Mapping[str, str]) -> str:
    return ", ".join(f"{name} {version}" for name, version in versions.items())
