"""`inward score`: print the results of one test record."""

from __future__ import annotations

import json
import os
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.command_line.known_records import near_hint, published_records
from generator.errors import WrongUsage

if TYPE_CHECKING:
    from generator.model.published import PublishedCatalogue

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
    """Print the results of one test record: figures, intervals, verdicts and findings; or those of a device.

    RECORD is a file in a records folder's device_tests/, or the id of one. The whole records folder is read either way,
    since records refer to one another. It may also be the id of a device, or, with `--format json`, of a comparison,
    such as `kind-loose-powered-hood`, or of an instrument.

    The JSON of a record has the keys `record`, `device`, `topics`, `findings` and `instruments`. Each topic has
    `figures` (key, name, value, unit, relation, other_bound where an instrument's ceiling sets one, interval,
    sample_size, sample_of, method, working, and no_interval or not_scored with a reason where there is no interval or
    no value), `verdicts` (key, figure, criterion, outcome, rule, limit, ratio, probability_of_conformity, reason),
    `findings` (rule, where, facts), and its `sessions` or `runs`, which hold the same figures in their place; a session
    has its `level` and `basis` too. A working names its method and its inputs: symbol, meaning, value, unit, where it
    stands, and the working it was itself derived by.

    The JSON of a device holds what its records say together: `records` that stand, `topics` with the groups of sessions
    that may stand beside one another and the run that governs, `claims` and `approvals` with their outcome, `meaning`
    with what may be set beside its fit factors, `findings`.
    That of a comparison holds its `devices` as summarised, and for each pair a difference: the figures `ratio`,
    `chance`, `least_chance`, `adjusted_chance` and `better_for_new_wearer`, `people` (the same wearers or others), and
    the `decision`. The `configurations` of a device hold the same as `difference` of after and before a change.
    That of an instrument holds `calibrations` with `state` and the records `affected` where one was found out of
    tolerance, `records`, and `checks` with `limits` and `readings`.

    The record guide, records/README.md, explains every key under "Results as JSON".

    Exit codes: 0 good, 1 the records have problems, 2 there is no such record.
    """
    folder, name = _place(record, records)
    catalogue = published_records(folder)
    if name in catalogue.device_tests:
        click.echo(_record(name, layout, catalogue), nl=False)
    elif name in catalogue.devices:
        click.echo(_device(name, layout, catalogue), nl=False)
    else:
        click.echo(_other(name, layout, catalogue, folder), nl=False)


def _json(document: object) -> str:
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def _record(name: str, layout: str, catalogue: PublishedCatalogue) -> str:
    from generator.scoring.instruments import score_instruments
    from generator.scoring.one_record import score_record

    test = catalogue.device_tests[name]
    result = score_record(test, catalogue)
    if layout == "json":
        instruments, used = score_instruments(catalogue), sorted(test.instruments.by_role.values())
        shown = {each: instruments[each].model_dump(mode="json") for each in used}
        return _json(result.model_dump(mode="json") | {"instruments": shown})

    from generator.command_line.record_text import record_text
    from generator.model.catalogue_result import CatalogueResult
    from generator.presenting.context import Context
    from generator.presenting.record_page import present_record_page

    context = Context(catalogue, CatalogueResult(records={name: result}, devices={}))
    return record_text(present_record_page(test, context))


def _device(name: str, layout: str, catalogue: PublishedCatalogue) -> str:
    from generator.scoring.catalogue import score_catalogue
    from generator.scoring.same_day import same_day_tests

    # What others hold bears on it only in comparisons, and where its wearers wore them on the same day.
    tests = (*catalogue.tests_of(name), *same_day_tests(name, catalogue))
    alone = replace(
        catalogue,
        devices={each: catalogue.devices[each] for each in sorted({name, *(test.device for test in tests)})},
        device_tests={test.id: test for test in tests},
        comparisons={},
    )
    result = score_catalogue(alone)
    if layout == "json":
        return _json(result.devices[name].model_dump(mode="json"))

    from generator.command_line.device_text import device_text
    from generator.presenting.context import Context
    from generator.presenting.device_page import present_device_page

    return device_text(present_device_page(catalogue.devices[name], Context(alone, result)))


def _other(name: str, layout: str, catalogue: PublishedCatalogue, folder: Path) -> str:
    from generator.scoring.catalogue import score_catalogue
    from generator.scoring.instruments import score_instrument

    if name in catalogue.instruments and name not in catalogue.comparisons and layout == "json":
        # Only a comparison needs every record scored.
        return _json(score_instrument(catalogue.instruments[name], catalogue).model_dump(mode="json"))
    result = score_catalogue(catalogue)
    for what, found in (("a comparison", result.comparisons), ("an instrument", result.instruments)):
        if name in found:
            if layout != "json":
                raise WrongUsage(f"found `{name}`, {what}, expected a record or device. Add `--format json` for it")
            return _json(found[name].model_dump(mode="json"))
    known = (*catalogue.device_tests, *catalogue.devices, *result.comparisons, *result.instruments)
    where = folder / FOLDER_OF_TESTS
    raise WrongUsage(f"found no test record `{name}` in `{where}`, expected one; {near_hint(name, known)}")


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
