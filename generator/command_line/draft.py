"""`inward draft`: write the draft of a test record, and of what it refers to, with the blanks to fill in."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.command_line.counting import counted
from generator.command_line.records_option import records_option
from generator.errors import WrongUsage

if TYPE_CHECKING:
    from generator.contributing.drafting.on_record import OnRecord
    from generator.model.planned_test import PlannedTest


@dataclass(frozen=True)
class Given:
    """What was given as options; None or nothing where it is to be asked."""

    record: str | None
    device: str | None
    kind: str | None
    settings: tuple[str, ...]
    state: str | None
    tester: str | None
    fit: bool | None
    protocol: str | None
    readings: str | None
    wearers: tuple[str, ...]
    donnings: str | None
    blowers: tuple[str, ...]
    counter: str | None
    counter_kind: str | None
    flow: bool | None
    batteries: tuple[str, ...]
    filters: tuple[str, ...]
    meter: str | None
    meter_kind: str | None


@click.command(short_help="Write the draft of a test record, with the blanks to fill in.")
@click.argument("record", required=False)
@records_option
@click.option("--device", metavar="ID", help="The device's id; a draft of its record is written where there is none.")
@click.option("--kind", metavar="KIND", help="The kind of a device that is not on record yet.")
@click.option("--setting", "settings", multiple=True, help="A blower setting; of a device on record, one to be tested.")
@click.option("--configuration", "state", metavar="STATE", help="`as_supplied` or `modified`.")
@click.option("--tester", metavar="ID", help="The tester's id, a pseudonym.")
@click.option("--fit/--no-fit", default=None, help="Whether wearers put the device on.")
@click.option("--protocol", metavar="ID", help="The protocol of the fit sessions.")
@click.option("--readings", metavar="FORM", help="What is written down: counts, concentrations, factors or log.")
@click.option("--wearer", "wearers", multiple=True, metavar="ID", help="A wearer's id, a pseudonym. Give one for each.")
@click.option("--donnings", metavar="NUMBER", help="How many times each wearer puts the device on.")
@click.option("--blower", "blowers", multiple=True, help="A state of the blower in fit sessions: `off` or a setting.")
@click.option("--counter", metavar="ID", help="The particle counter's id.")
@click.option("--counter-kind", metavar="KIND", help="The kind of a particle counter that is not on record yet.")
@click.option("--flow/--no-flow", default=None, help="Whether the air supply is measured.")
@click.option("--battery", "batteries", multiple=True, help="A state of the battery: fresh, at_alarm or mains.")
@click.option("--filter", "filters", multiple=True, help="A state of the filter in flow runs: new or loaded.")
@click.option("--meter", metavar="ID", help="The flow meter's id.")
@click.option("--meter-kind", metavar="KIND", help="The kind of a flow meter that is not on record yet.")
@click.option("--print", "printed", is_flag=True, help="Print the drafts, and write nothing into the records.")
@click.option(
    "--worksheet",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE.pdf",
    help="Make a worksheet to print too; for a RECORD that is there already, this alone.",
)
def draft(records: Path, printed: bool, worksheet: Path | None, **given: object) -> None:
    """Write the draft of a test record, with exactly the blanks to fill in.

    RECORD is the id of the new record. What is not given is asked. Device, tester, wearers and instruments that are not
    on record yet get drafts of their own, and an empty records folder one of publication.yaml. No file is ever written
    over. When the blanks are filled in, `inward check` says so.

    No name of a person goes into a record: wearers and testers are known by pseudonyms.

    Exit codes: 0 good, 2 something was not answered, cannot be, or is there already.
    """
    from generator.command_line.draft_answers import planned
    from generator.contributing.drafting.drafts import blanks_in, drafts_for, write_drafts
    from generator.contributing.drafting.on_record import on_record

    answers = Given(**given)  # type: ignore[arg-type]
    known = on_record(records)
    if answers.record is not None and answers.record in known.tests:
        _worksheet_of_record(answers.record, known, records, worksheet)
        return
    try:
        plan = planned(answers, known)
    except click.Abort as ended:
        raise WrongUsage(
            "the questions were broken off, so that nothing was written. Call `inward draft` again"
        ) from ended

    drafts = drafts_for(plan, known)
    if printed:
        click.echo("\n".join(f"# --- {each.path}\n{each.text}" for each in drafts), nl=False)
    else:
        for path, each in zip(write_drafts(records, drafts), drafts, strict=True):
            click.echo(f"{path}: {counted(blanks_in(each), 'blank')} to fill in")
    if worksheet is not None:
        _make_worksheet(plan, known, worksheet)
    if not printed:
        click.echo(_NEXT, err=True)


_NEXT = "Fill in what is empty; `inward check` names each blank that is left."


def _worksheet_of_record(record: str, known: OnRecord, records: Path, worksheet: Path | None) -> None:
    if worksheet is None:
        raise WrongUsage(
            f"found the record `{record}` in `{records}` already, expected an id that is free. Give another one, or "
            "add `--worksheet FILE.pdf` for a worksheet of it"
        )
    from generator.contributing.drafting.planned_on_record import planned_on_record

    _make_worksheet(planned_on_record(record, known), known, worksheet)


def _make_worksheet(plan: PlannedTest, known: OnRecord, file: Path) -> None:
    from generator.contributing.drafting.worksheet_file import write_worksheet

    pages = write_worksheet(plan, known, file)
    click.echo(f"{file}: a worksheet of {counted(pages, 'page')}")
