"""`inward plan`: say what to test next of a device."""

from __future__ import annotations

import datetime
import json
from pathlib import Path

import click

from generator.command_line.known_records import near_hint, published_records
from generator.command_line.records_option import records_option
from generator.errors import WrongUsage


@click.command(short_help="Say what to test next of a device, and what each statement lacks.")
@click.argument("device")
@records_option
@click.option(
    "--on",
    "day",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DAY",
    help="The day that the sessions are planned for, such as 2026-03-14; instruments are looked at on that day.",
)
@click.option(
    "--format",
    "layout",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="Text for reading, JSON with every number.",
)
def plan(device: str, records: Path, day: datetime.datetime | None, layout: str) -> None:
    """Say what to test next of a device, the session that tells most first, and what each statement still lacks.

    DEVICE is the id of a device in the records folder, whether it was tested or not. Sample sizes are told with what
    they take for granted. No clock is read: without `--on` the instruments are looked at on the day of the newest test
    on record.

    The JSON has the keys `device`, `withdrawn`, `day`, `day_named`, `sessions`, `statements` and `instruments`. A
    session names the ids of the `statements` that it brings further, and its `tier`, by which sessions are ordered. A
    statement has its `standing` (`said`, `in_part`, `lacking` or `not_measurable`), the `records` that carry it, what
    is `missing`, and its `sizes`.

    Exit codes: 0 good, 1 the records have problems, 2 there is no such device.
    """
    from generator.contributing.planning import planned

    catalogue = published_records(records)
    if device not in catalogue.devices:
        hint = near_hint(device, catalogue.devices)
        raise WrongUsage(f"found no device `{device}` in `{records / 'devices'}`, expected one; {hint}")
    found = planned(device, catalogue, day.date() if day is not None else None)
    if layout == "json":
        click.echo(json.dumps(found.model_dump(mode="json"), ensure_ascii=False, indent=2))
        return

    from generator.command_line.plan_text import plan_text
    from generator.model.catalogue_result import CatalogueResult
    from generator.presenting.context import Context
    from generator.presenting.planning.page import present_plan

    context = Context(catalogue, CatalogueResult(records={}, devices={}))
    click.echo(plan_text(present_plan(found, context)), nl=False)
