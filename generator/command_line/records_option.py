"""The option that names the folder of the records, for commands that make a catalogue of it."""

from __future__ import annotations

from pathlib import Path

import click

records_option = click.option(
    "--records",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    default=Path("records"),
    show_default=True,
    help="Folder of the records.",
)
