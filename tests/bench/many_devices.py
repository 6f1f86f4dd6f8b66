"""Writes catalogues of any size from the shapes of the demo: for measuring, and for tests of what grows.

    python tests/bench/many_devices.py FOLDER --devices 1000 --seed 1

Each device is one of the demo's under an id of its own, with three test records (the demo's own, the last one repeated
where it has fewer), their logs and pictures, particle counts drawn anew, and days that are later by one for each time
that its shape came round. Each round has testers of its own, so that no tester has worn a hundred devices on one day,
each of them told of beside all others. Wearers, instruments and protocols are the demo's. The same number of devices
and seed give the same bytes, and a larger catalogue begins with the devices of a smaller one.
"""

from __future__ import annotations

import argparse
import random
import re
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import combinations
from pathlib import Path

RECORDS = Path(__file__).resolve().parent.parent.parent / "records"
RECORDS_EACH = 3
SHARED = ("instruments", "protocols", "wearers", "publication.yaml")
"""What all devices of a catalogue have in common."""
_COUNT = re.compile(r"(?<=in_mask_count: )[0-9]+")
_CONCENTRATION = re.compile(r"(?<=in_mask: )[0-9]+(?= /cm3)")
_DAY = re.compile(r"\b20[0-9]{2}-[01][0-9]-[0-3][0-9]\b")
_TESTER = re.compile(r"(?m)^tester: (.+)$")
_PSEUDONYM = re.compile(r"(?m)^pseudonym: (.+)$")
_PRINTED_ID = re.compile(r"(?m)^id: .+$")


@dataclass(frozen=True)
class Shape:
    """A device of the demo: its record, its test records, and the logs and pictures that they name, as texts."""

    device: str
    record: str
    tests: tuple[tuple[str, str], ...]
    """Id and text of three test records."""
    beside: tuple[Path, ...]
    """Logs and pictures."""


def _stand_alone(record: str, kept: Sequence[tuple[str, str]], every: Sequence[tuple[str, str]]) -> bool:
    """Say whether neither the device nor the test records that are kept speak of one that is left out."""
    texts = "\n".join((record, *(text for _, text in kept)))
    left_out = [name for name, _ in every if name not in dict(kept)]
    based_on = re.findall(r"(?m)^  based_on: (.+)$", texts)
    named = re.findall(r"(?m)^  name: (.+)$", texts)
    return not any(re.search(rf"\b{name}\b(?!-)", texts) for name in left_out) and set(based_on) <= set(named)


def _shape(path: Path) -> Shape | None:
    record, device = path.read_text(encoding="utf-8"), path.stem
    tests = [
        (test.stem, test.read_text(encoding="utf-8"))
        for test in sorted((RECORDS / "device_tests").glob(f"{device}-2*.yaml"))
    ]
    chosen = next((some for some in combinations(tests, RECORDS_EACH) if _stand_alone(record, some, tests)), None)
    tests = list(chosen) if chosen is not None else tests
    if len(tests) > RECORDS_EACH:
        return None
    # A log belongs to one test record, so the one that is repeated has none.
    repeated = next(((name, of) for name, of in reversed(tests) if "logs/" not in of), None)
    for number in range(RECORDS_EACH - len(tests)):
        if repeated is None:
            return None
        name, text = repeated
        again = f"{name}-again-{number + 1}"
        tests.append((again, _PRINTED_ID.sub(f"id: {again}", text, count=1)))
    texts = record + "".join(text for _, text in tests)
    beside = [
        file
        for kind in ("logs", "pictures")
        for file in sorted((RECORDS / kind).iterdir())
        if f"{kind}/{file.name}" in texts
    ]
    return Shape(device, record, tuple(tests), tuple(beside))


def shapes() -> tuple[Shape, ...]:
    """Return the devices of the demo that can be repeated, by their ids in order."""
    found = (_shape(path) for path in sorted((RECORDS / "devices").glob("*.yaml")))
    return tuple(shape for shape in found if shape is not None)


def _redrawn(text: str, draw: random.Random) -> str:
    """Return a record's text with other readings in the mask, each within a fifth of what it was."""

    def other(match: re.Match[str]) -> str:
        return str(max(round(int(match[0]) * draw.uniform(0.8, 1.2)), 0))

    return _CONCENTRATION.sub(other, _COUNT.sub(other, text))


def write_catalogue(folder: Path, devices: int, seed: int = 1, among: Sequence[Shape] | None = None) -> None:
    """Write the records of a catalogue with so many devices into a new folder; `among` are shapes to take in turn."""
    folder.mkdir(parents=True)
    for name in SHARED:
        source = RECORDS / name
        copy = shutil.copytree if source.is_dir() else shutil.copyfile
        copy(source, folder / name)
    for kind in ("devices", "device_tests", "logs", "pictures", "comparisons", "testers"):
        (folder / kind).mkdir()
    among = among or shapes()
    for number in range(devices):
        turn, place = divmod(number, len(among))
        if place == 0:
            _write_testers(folder, turn)
        _write_device(folder, among[place], number, turn, random.Random(f"{seed}/{number}"))


def _write_testers(folder: Path, turn: int) -> None:
    for path in sorted((RECORDS / "testers").glob("*.yaml")):
        own = f"{path.stem}-{turn}"
        text = _PRINTED_ID.sub(f"id: {own}", path.read_text(encoding="utf-8"), count=1)
        text = _PSEUDONYM.sub(rf"pseudonym: \1 {turn}", text, count=1)
        (folder / "testers" / f"{own}.yaml").write_text(text, encoding="utf-8")


def _write_device(folder: Path, shape: Shape, number: int, turn: int, draw: random.Random) -> None:
    named = re.compile(rf"\b{re.escape(shape.device)}\b")
    own = f"{shape.device}-{number:04d}"
    # Else all devices of a shape would have been worn on one day.
    later = timedelta(days=turn)

    def renamed(text: str) -> str:
        text = _TESTER.sub(rf"tester: \1-{turn}", named.sub(own, text))
        return _DAY.sub(lambda day: (date.fromisoformat(day[0]) + later).isoformat(), text)

    record = re.sub(r"(?m)^name: (.+)$", rf"name: \1 {number}", renamed(shape.record), count=1)
    (folder / "devices" / f"{own}.yaml").write_text(record, encoding="utf-8")
    for name, text in shape.tests:
        path = folder / "device_tests" / f"{renamed(name)}.yaml"
        path.write_text(_redrawn(renamed(text), draw), encoding="utf-8")
    for file in shape.beside:
        shutil.copyfile(file, folder / file.parent.name / renamed(file.name))


def main() -> None:
    """Write a catalogue into the folder that is named."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--devices", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    write_catalogue(given.folder, given.devices, given.seed)
    print(f"{given.folder}: {given.devices} devices, {given.devices * RECORDS_EACH} test records")


if __name__ == "__main__":
    main()
