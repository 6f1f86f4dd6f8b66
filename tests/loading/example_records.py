"""Example records: the good folder, and the bad ones as changes to it beside their exact messages.

A bad example is a text file of sections. `--- in FILE` names the file that the `--- replace` and `--- by` below it
change; `--- cut-from` and `--- cut-to` take out everything from one text up to another; `--- add FILE` adds a file,
`--- remove FILE` removes one. `--- expected` holds the messages, written by hand before the code printed them.
"""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass
from pathlib import Path

from generator.loading import Reference
from generator.loading.logs import sha256_of
from generator.loading.reference import items_in
from generator.model.reference import Protocol

EXAMPLES = Path(__file__).parent / "examples"
GOOD = EXAMPLES / "good"
BAD = sorted((EXAMPLES / "bad").glob("*.txt"))

_PUBLISHED = b"""
- id: published-steps
  title: A published protocol
  source: {document: Invented standard, edition: first, clause: '1', status: from_memory}
  ambient: first_and_last
  exercises:
    - {id: standing, name: Standing, duration: 60 s, counted: true}
"""
REFERENCE = Reference(
    criteria={},
    protocols={item.id: item for item in items_in(_PUBLISHED, "published.yaml", Protocol)},
    methods={},
    caution_rules=(),
    landmarks=(),
    panels={},
    assigned_protection=(),
    work_levels=(),
    work_gas={},
    gas_limits={},
)
"""Reference data of the tests' own, so that the examples do not depend on what is published."""


@dataclass(frozen=True)
class BadExample:
    """A change to the good folder, and what is to be said of it."""

    sections: tuple[tuple[str, str], ...]
    expected: tuple[str, ...]

    @property
    def changed_files(self) -> tuple[str, ...]:
        """The files that the example changes or adds."""
        return tuple(title.split()[1] for title, _ in self.sections if title.startswith(("in ", "add ")))


def read_bad_example(path: Path) -> BadExample:
    """Read a bad example."""
    parts = re.split(r"^--- (.+)\n", path.read_text(), flags=re.MULTILINE)
    sections = tuple(zip(parts[1::2], parts[2::2], strict=True))
    assert sections[-1][0] == "expected", path
    return BadExample(sections[:-1], tuple(sections[-1][1].splitlines()))


def good_copy(folder: Path) -> Path:
    """Copy the good folder to where it can be changed."""
    return Path(shutil.copytree(GOOD, folder / "records"))


def change(folder: Path, file: str, old: str, new: str) -> None:
    """Change the one place of a file where a text stands."""
    path = folder / file
    text = path.read_text()
    # Several sessions are alike; a change is meant for the first of them.
    assert old in text, f"{file} does not hold {old!r}"
    path.write_text(text.replace(old, new, 1))


def apply(example: BadExample, folder: Path) -> None:
    """Make the changes of an example; a log that was changed gets its new SHA-256 in the record."""
    file, old = "", ""
    for title, text in example.sections:
        kind, _, name = title.partition(" ")
        if kind == "in":
            file = name
        elif kind in ("replace", "cut-from"):
            old = text
        elif kind == "by":
            # Texts end with a line break here; a change within a line is one without.
            within_a_line = old not in (folder / file).read_text()
            change(folder, file, old[:-1] if within_a_line else old, text[:-1] if within_a_line else text)
        elif kind == "cut-to":
            content = (folder / file).read_text()
            start = content.index(old.rstrip("\n"))
            (folder / file).write_text(content[:start] + (content[content.index(text) :] if text else ""))
        elif kind == "add":
            (folder / name).parent.mkdir(exist_ok=True)
            (folder / name).write_text(text)
        else:
            assert kind == "remove", title
            (folder / name).unlink()
    if file.startswith("logs/"):
        before = _sha256(GOOD / file)
        (record,) = [path.name for path in (GOOD / "device_tests").iterdir() if before in path.read_text()]
        change(folder, f"device_tests/{record}", before, _sha256(folder / file))


def _sha256(path: Path) -> str:
    return sha256_of(path.read_bytes())
