"""A small catalogue and edits of it, each of which can be made and undone whatever others are made."""

from __future__ import annotations

import hashlib
import re
import shutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from tests.conftest import copy_some

DEVICES = ("sallowby-pleat", "meadowrue-pleat", "cinderpool-cup", "patchwork-cover")
_LOG = "logs/cinderpool-cup-2025-06-c2.csv"
_COMPARISON = """\
id: two-pleats
version: "1"
title: Two against a cup
question: Which lets in less?
devices: [cinderpool-cup, meadowrue-pleat, patchwork-cover]
"""


def _in(file: str, old: str, new: str) -> Callable[[Path], None]:
    """Return the edit that puts one text in the place of another, which stands there once at least."""

    def edit(folder: Path) -> None:
        path = folder / file
        text = path.read_text(encoding="utf-8")
        assert old in text, (file, old)
        path.write_text(text.replace(old, new, 1), encoding="utf-8")

    return edit


def _all(*edits: Callable[[Path], None]) -> Callable[[Path], None]:
    def edit(folder: Path) -> None:
        for each in edits:
            each(folder)

    return edit


def _restored(folder: Path) -> None:
    """Take back that a device and its record were withdrawn."""
    for file in ("devices/sallowby-pleat.yaml", "device_tests/sallowby-pleat-2025-03.yaml"):
        path = folder / file
        text = path.read_text(encoding="utf-8")
        path.write_text(re.split(r"(?m)^(?:amendments:|# A withdrawn|withdrawn:)", text)[0], encoding="utf-8")


def _replaced(folder: Path) -> None:
    """Say what stands in the place of a withdrawn device, unless it is back: its page names the other by its name."""
    path = folder / "devices/sallowby-pleat.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("withdrawn:\n", "withdrawn:\n  replaced_by: patchwork-cover\n", 1), encoding="utf-8")


def _another_log(folder: Path) -> None:
    """Change a reading of a log, and its hash on record with it."""
    path = folder / _LOG
    old = hashlib.sha256(path.read_bytes()).hexdigest()
    path.write_text(path.read_text(encoding="utf-8").replace("4231.2", "4331.2", 1), encoding="utf-8")
    new = hashlib.sha256(path.read_bytes()).hexdigest()
    _in("device_tests/cinderpool-cup-2025-06.yaml", old, new)(folder)


def _write(file: str, text: str) -> Callable[[Path], None]:
    def edit(folder: Path) -> None:
        (folder / file).parent.mkdir(exist_ok=True)
        (folder / file).write_text(text, encoding="utf-8")

    return edit


@dataclass(frozen=True)
class Edit:
    """One edit, and what it is there to catch."""

    name: str
    make: Callable[[Path], None]


_PATCHWORK = "device_tests/patchwork-cover-2025-03.yaml"
EDITS = (
    Edit("a reading", _in("device_tests/cinderpool-cup-2025-06.yaml", "in_mask: ", "in_mask: 1")),
    Edit("a comment alone", _in("device_tests/meadowrue-pleat-2025-07.yaml", "version:", "# Read again.\nversion:")),
    Edit("a device's name", _in("devices/patchwork-cover.yaml", "name: Patchwork Cover", "name: Sewn Cover")),
    Edit("a device is back", _restored),
    Edit("a device is replaced", _replaced),
    Edit("a record is gone", lambda folder: (folder / "device_tests/meadowrue-pleat-2025-11.yaml").unlink()),
    Edit("a log", _another_log),
    Edit(
        # The two share a wearer, protocol and counter: each shows the other then.
        "the same day",
        _all(
            _in(_PATCHWORK, "tester: lamplighter", "tester: thimble"),
            _in(_PATCHWORK, "performed: 2025-03-08", "performed: 2025-03-01"),
            _in("device_tests/meadowrue-pleat-2025-02.yaml", "performed: 2025-02-22", "performed: 2025-03-01"),
            _in("device_tests/meadowrue-pleat-2025-02.yaml", "issued: 2025-02-28", "issued: 2025-03-02"),
        ),
    ),
    Edit("a comparison", _write("comparisons/two-pleats.yaml", _COMPARISON)),
    Edit("a claim", _in("devices/cinderpool-cup.yaml", "fit_factor_at_least: 100", "fit_factor_at_least: 10")),
    Edit(
        "an instrument",
        _in("instruments/bench-counter.yaml", "expanded_uncertainty: 10 %", "expanded_uncertainty: 12 %"),
    ),
    Edit("a letter", _in("wearers/wren.yaml", "catalogue_letter: A", "catalogue_letter: ZZ")),
    Edit("the publisher", _in("publication.yaml", "title: The Dust Shelf", "title: The Other Shelf")),
    Edit("a tester", _in("testers/thimble.yaml", "Volunteer of the library.", "Member of the library.")),
)


def write_state(base: Path, folder: Path, edits: Iterable[int]) -> None:
    """Write the catalogue with some of the edits made, always in the same order, in place of what the folder holds."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(base, folder)
    for number in sorted(edits):
        EDITS[number].make(folder)


def write_base(demo_records: Path, folder: Path) -> Path:
    """Write the catalogue without any edit."""
    return copy_some(demo_records, folder, DEVICES)
