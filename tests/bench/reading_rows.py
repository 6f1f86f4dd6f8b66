"""Reading records measured: a thousand of them, one of them, and one that was just saved."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from pydantic import BaseModel
from yaml._yaml import CParser

from generator.contributing.preview import Preview
from generator.loading import load_catalogue
from generator.loading.yaml_source import read_yaml
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from generator.model.published import published
from generator.scoring.catalogue import score_catalogue
from tests.bench.many_devices import RECORDS, RECORDS_EACH, shapes, write_catalogue
from tests.bench.measuring import ROUNDS, Row, medians, once, run

DEVICES = 333
"""With three records each, a thousand but one."""
_KINDS: dict[str, type[BaseModel]] = {"devices": Device, "device_tests": DeviceTest}
_NEEDED = "import click, pydantic, yaml; from generator.model.device_test import DeviceTest"
"""What checking a record cannot do without: the command line, the parser, the model."""


class FloorParser(CParser):
    """The C parser, composing nodes with their positions and reading no meaning into them."""

    def resolve(self, kind: object, value: object, implicit: object) -> str:
        """Give every node the same tag."""
        return "any"

    def descend_resolver(self, parent: object, index: object) -> None:
        """Prepare nothing."""

    def ascend_resolver(self) -> None:
        """Undo nothing."""


def rows_of_reading(folder: Path) -> list[Row]:
    """Time the check of a thousand records; the floor composes the YAML in C and validates JSON of the same."""
    # A log is read beside its record, for which there is no floor.
    write_catalogue(folder, DEVICES, among=[shape for shape in shapes() if not shape.beside])
    files = [(kind, path.read_bytes()) for kind in _KINDS for path in sorted((folder / kind).glob("*.yaml"))]
    as_json = [(kind, content, json.dumps(read_yaml(content, "bench").data, default=str)) for kind, content in files]

    def floor() -> None:
        for kind, content, text in as_json:
            FloorParser(content).get_single_node()
            _KINDS[kind].model_validate_json(text)

    loaded = load_catalogue(folder)
    if loaded.catalogue is None:
        raise SystemExit("\n".join(str(problem) for problem in loaded.problems[:5]))
    catalogue = loaded.catalogue
    of = f"{DEVICES * RECORDS_EACH} records"
    load, least, command, start = medians(
        lambda: load_catalogue(folder),
        floor,
        lambda: run(["-m", "generator", "check", folder], folder.parent),
        lambda: run(["-c", _NEEDED], folder.parent),
        rounds=ROUNDS,
    )
    record = RECORDS / "device_tests" / "tansy-fold-2025-11.yaml"
    one, bare, start_again = medians(
        lambda: run(["-m", "generator", "check", record], folder.parent),
        lambda: run(["-m", "generator", "check", "--no-findings", record], folder.parent),
        lambda: run(["-c", _NEEDED], folder.parent),
        rounds=ROUNDS,
    )
    score = once(lambda: score_catalogue(published(catalogue)))
    return [
        Row("load and check", f"{of} (C parse, validation)", load, least),
        Row("check, the whole command", f"{of} (and start)", command, start + least),
        Row("check, one record, findings", "the demo (start and imports)", one, start_again),
        Row("check, one record", "the demo, without findings (start, imports)", bare, start_again),
        Row("score", of, score),
    ]


def row_of_preview(folder: Path) -> Row:
    """Time a preview from a saved record to its device's page; the floor reads the demo's records and nothing else."""
    shutil.copytree(RECORDS, folder)
    record = folder / "device_tests" / "gorseback-half-2025-11.yaml"
    text = record.read_text(encoding="utf-8")
    other = text.replace("values: [126, 127", "values: [125, 127", 1)
    assert other != text
    files = sorted(folder.glob("*/*.yaml"))
    as_json = [json.dumps(read_yaml(path.read_bytes(), "bench").data, default=str) for path in files]
    preview = Preview(folder)
    preview.refresh()

    def save() -> None:
        record.write_text(text if record.read_text(encoding="utf-8") == other else other, encoding="utf-8")
        assert preview.refresh().scored == (record.stem,)
        preview.answer("devices/gorseback-half.html")

    def floor() -> None:
        for path, data in zip(files, as_json, strict=True):
            FloorParser(path.read_bytes()).get_single_node()
            json.loads(data)

    save()
    ours, least = medians(save, floor, rounds=ROUNDS)
    return Row("preview a saved record", "the demo (reading)", ours, least)
