"""`inward score`: print the results of one test record."""

from __future__ import annotations

import difflib
import json
import os
from pathlib import Path

import click

from generator.errors import RecordsHaveProblems, WrongUsage

FOLDER_OF_TESTS = "device_tests"


@click.command(short_help="Print the results of one test record or comparison, with their working.")
@click.argument("record")
@click.option(
    "--format",
    "layout",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="Text for reading, JSON with everything at full precision.",
)
@click.option(
    "--records",
    type=click.Path(path_type=Path),
    default=Path("records"),
    show_default=True,
    help="The records folder, where RECORD is an id.",
)
def score(record: str, layout: str, records: Path) -> None:
    """Print the results of one test record: figures, intervals, verdicts and findings; or those of a comparison.

    RECORD is a file in a records folder's device_tests/, or the id of one. The whole records folder is read either way,
    since records refer to one another.

    The JSON has the keys `record`, `device`, `topics`, `findings` and `instruments`. Each topic has `figures` (key,
    name, value, unit, relation, interval, sample_size, sample_of, method, working, and no_interval or not_scored with a
    reason where there is no interval or no value), `verdicts` (key, figure, criterion, outcome, rule, limit, ratio,
    probability_of_conformity, reason), `findings` (rule, where, facts), and its `sessions` or `runs`, which hold the
    same figures in their place. A working names its method and its inputs: symbol, meaning, value, unit, where it
    stands, and the working it was itself derived by. Instruments stand by their id: `calibrations` with `state` and
    the records `affected` where one was found out of tolerance, `records`, and `checks` with `limits` and `readings`.

    RECORD may also be the id of a device, with `--format json`: its records' `topics` summed up, `claims` with the
    outcome and the figure that decides, `approvals` with what lies outside of each, and `findings`.

    Or that of a comparison, such as `kind-loose-powered-hood`, with `--format json`: its `devices` as
    summarised, and for each pair of them a difference whose `ratio` is a figure.

    Exit codes: 0 good, 1 the records have problems, 2 there is no such record.
    """
    folder, name = _place(record, records)

    from generator.loading import load_catalogue
    from generator.model.published import published

    loaded = load_catalogue(folder)
    if loaded.catalogue is None:
        raise RecordsHaveProblems(loaded.problems)
    catalogue = published(loaded.catalogue)
    tests = catalogue.device_tests
    if name not in tests and layout == "json":
        from generator.scoring.catalogue import score_catalogue

        scored = score_catalogue(catalogue)
        summed_up = scored.devices.get(name) or scored.comparisons.get(name)
        if summed_up is not None:
            click.echo(json.dumps(summed_up.model_dump(mode="json"), ensure_ascii=False, indent=2))
            return
    if name not in tests:
        near = difflib.get_close_matches(name, tests, n=1)
        hint = f"did you mean `{near[0]}`?" if near else "see the files there."
        raise WrongUsage(f"found no test record `{name}` in `{folder / FOLDER_OF_TESTS}`, expected one; {hint}")

    from generator.scoring.catalogue import score_record
    from generator.scoring.instruments import instruments_used, score_instruments

    result = score_record(tests[name], catalogue)
    if layout == "json":
        document = result.model_dump(mode="json")
        instruments, used = score_instruments(catalogue), sorted(instruments_used(tests[name]).values())
        document["instruments"] = {each: instruments[each].model_dump(mode="json") for each in used}
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        return

    from generator.command_line.record_text import record_text
    from generator.model.catalogue_result import CatalogueResult
    from generator.presenting.context import Context
    from generator.presenting.record_page import present_record_page

    context = Context(catalogue, CatalogueResult(records={name: result}, devices={}))
    click.echo(record_text(present_record_page(tests[name], context)), nl=False)


def _place(record: str, records: Path) -> tuple[Path, str]:
    """Return the records folder and the record's id."""
    path = Path(record)
    if path.suffix != ".yaml":
        if not os.path.isdir(records):  # noqa: PTH112 - Path.is_dir raises where a folder above cannot be searched
            raise WrongUsage(f"found no folder `{records}`, expected the records folder. Correct `--records`")
        return records, record
    if not os.path.isfile(path):  # noqa: PTH113 - the same
        raise WrongUsage(f"found nothing at `{path}`, expected a test record. Correct the path")
    folder = Path(path.absolute()).parent
    if folder.name != FOLDER_OF_TESTS:
        raise WrongUsage(f"found `{path}`, expected a file in a records folder's {FOLDER_OF_TESTS}/. Correct the path")
    return path.parent.parent if len(path.parts) > 2 else folder.parent, path.stem
