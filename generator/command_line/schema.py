"""`inward schema`: write the JSON Schemas by which an editor helps to write records."""

from __future__ import annotations

from pathlib import Path

import click

from generator.command_line.counting import counted
from generator.command_line.records_option import records_option
from generator.loading.record_kinds import RECORD_KINDS


@click.command(short_help="Write JSON Schemas of the records, for editors.")
@click.argument("kind", required=False, type=click.Choice(tuple(RECORD_KINDS)), metavar="[KIND]")
@records_option
@click.option("--check", is_flag=True, help="Write nothing; say which schemas are missing or out of date.")
def schema(kind: str | None, records: Path, check: bool) -> None:
    """Write a JSON Schema (2020-12) for each kind of record into .schemas/ of the records folder.

    An editor that reads them completes keys, shows what each one means, and marks what cannot be right while it is
    written. They see one file each: `inward check` has the last word.

    With KIND, the schema of one kind is printed and nothing is written. KIND is device_test, device, instrument,
    wearer, tester, publication, protocol, criterion or comparison.

    Exit codes: 0 good, 1 with --check: some are missing or out of date, 2 there is no such folder.
    """
    from generator.contributing.record_schemas.files import FOLDER, file_name, out_of_date, schema_text, write_schemas

    if kind is not None and not check:
        click.echo(schema_text(kind), nl=False)
        return
    folder, asked = records / FOLDER, [kind] if kind is not None else list(RECORD_KINDS)
    if not check:
        written = write_schemas(records)
        said = f"Wrote {counted(len(written), 'schema')}" if written else "Every schema is as it should be"
        click.echo(f"{said}: {folder}")
        return
    old = [each for each in out_of_date(records) if each in asked]
    for each in old:
        click.echo(f"{folder / file_name(each)}: missing or out of date")
    if old:
        click.echo(f"{len(old)} of {counted(len(asked), 'schema')} to be written: inward schema", err=True)
        click.get_current_context().exit(1)
    click.echo(f"{counted(len(asked), 'schema')} up to date: {folder}")
