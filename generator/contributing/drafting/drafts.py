"""All drafts that a planned test needs, and their way into the records folder: whole, and never over another file."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.contributing.drafting.on_record import OnRecord
from generator.contributing.drafting.other_records import (
    draft_of_device,
    draft_of_instrument,
    draft_of_publication,
    draft_of_tester,
    draft_of_wearer,
    free_letters,
)
from generator.contributing.drafting.record_of_a_test import draft_of_test
from generator.contributing.record_schemas.files import schema_line, write_schemas
from generator.contributing.whole_files import write_new
from generator.errors import WrongUsage
from generator.loading.files import PUBLICATION
from generator.loading.yaml_source import read_yaml
from generator.model.planned_test import PlannedTest


@dataclass(frozen=True)
class Draft:
    """One draft: where it goes below the records folder, and its text."""

    path: str
    text: str


def drafts_for(plan: PlannedTest, known: OnRecord) -> tuple[Draft, ...]:
    """Return the draft of a test's record, and of each record that it refers to and that is not there yet."""
    text = draft_of_test(plan, known.protocols, _opening("device_test"))
    return (Draft(f"device_tests/{plan.record}.yaml", text), *_of_what_is_missing(plan, known))


def _of_what_is_missing(plan: PlannedTest, known: OnRecord) -> Iterator[Draft]:
    if plan.device not in known.devices:
        text = draft_of_device(plan.device, plan.kind, plan.settings, _opening("device"))
        yield Draft(f"devices/{plan.device}.yaml", text)
    for instrument in (plan.particle_counter, plan.flow_meter):
        if instrument is not None and instrument.id not in known.instruments:
            text = draft_of_instrument(instrument.id, instrument.kind, _opening("instrument"))
            yield Draft(f"instruments/{instrument.id}.yaml", text)
    if plan.tester not in known.testers:
        yield Draft(f"testers/{plan.tester}.yaml", draft_of_tester(plan.tester, _opening("tester")))
    new = [name for name in plan.wearers if name not in known.wearers]
    for name, letter in zip(new, free_letters(known.letters), strict=False):
        yield Draft(f"wearers/{name}.yaml", draft_of_wearer(name, letter, _opening("wearer")))
    if not known.publication_file:
        yield Draft(PUBLICATION, draft_of_publication(_opening("publication")))


def _opening(kind: str) -> tuple[str, ...]:
    return (schema_line(kind).removeprefix("# "),)


def blanks_in(draft: Draft) -> int:
    """Return how many blanks a draft has."""
    return _nothings(read_yaml(draft.text.encode(), draft.path).data)


def _nothings(data: Any) -> int:
    if isinstance(data, dict | list):
        return sum(_nothings(each) for each in (data.values() if isinstance(data, dict) else data))
    return 1 if data is None else 0


def write_drafts(folder: Path, drafts: Sequence[Draft]) -> tuple[Path, ...]:
    """Write drafts below a records folder and return where they are; a new folder gets the schemas for editors too.

    Each is written whole under another name and then given its own, which fails where a file has that name already.

    Raises
    ------
    WrongUsage
        A file is there already, or cannot be written.
    """
    paths = [folder.joinpath(*draft.path.split("/")) for draft in drafts]
    for path in paths:
        if os.path.lexists(path):
            raise WrongUsage(f"found `{path}` already, expected a name that is free. No draft is written over a file")
    written: list[Path] = []
    for path, draft in zip(paths, drafts, strict=True):
        try:
            write_new(path, draft.text.encode())
        except OSError as error:
            done = f" Written before: {', '.join(str(each) for each in written)}" if written else ""
            raise WrongUsage(f"`{path}` cannot be written: {error.strerror or error}.{done}") from error
        written.append(path)
    if any(draft.path == PUBLICATION for draft in drafts):
        write_schemas(folder)
    return tuple(written)
