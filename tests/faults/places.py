"""What the tests of faults share: a published catalogue, the command run on it, a hash of all around the site."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.conftest import ROOT

WITHOUT_PRIVILEGES = ("setpriv", "--bounding-set=-all", "--inh-caps=-all")
"""Put before a command, the modes of files bind it even where root runs the tests."""


def tree_hash(folder: Path) -> str:
    """Return one hash of every name, link and content below a folder, hidden ones too."""
    digest = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        content = b"folder" if path.is_dir() else b""
        if path.is_symlink():
            content = os.fsencode(path.readlink())
        elif path.is_file():
            content = path.read_bytes()
        digest.update(f"{path.relative_to(folder)}\0{len(content)}\0".encode() + content)
    return digest.hexdigest()


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@dataclass(frozen=True)
class Ended:
    """How a command ended."""

    code: int
    out: str
    err: str

    @property
    def last(self) -> str:
        """The last line on stderr; the lines before it tell of the progress."""
        return self.err.splitlines()[-1]


@dataclass
class Place:
    """A catalogue published where a fault is to come."""

    records: Path
    output: Path

    @property
    def publishing(self) -> list[str]:
        """The words that publish it."""
        return ["publish", "--records", str(self.records), "--output", str(self.output)]

    def run(self, *words: str, before: Sequence[str] = (), **environment: str) -> Ended:
        """Run `inward` in a process of its own, with `before` put before it."""
        child = subprocess.run(
            [*before, sys.executable, "-m", "generator", *(words or self.publishing)],
            env=os.environ | {"PYTHONPATH": str(ROOT)} | environment,
            cwd=self.output.parent.parent,
            capture_output=True,
            text=True,
            check=False,
        )
        return Ended(child.returncode, child.stdout, child.stderr)

    def change(self) -> None:
        """Change a word of the records, so that a publish that went through would be seen."""
        publication = self.records / "publication.yaml"
        lines = publication.read_text(encoding="utf-8").splitlines(keepends=True)
        lines = ["subtitle: Changed since\n" if line.startswith("subtitle:") else line for line in lines]
        publication.write_text("".join(lines), encoding="utf-8")


@contextmanager
def mounted(folder: Path, *arguments: str) -> Iterator[Path]:
    """Mount something on a folder meanwhile; a machine on which this is not permitted cannot run the test."""
    subprocess.run(["mount", *arguments, str(folder)], check=True, capture_output=True)
    try:
        yield folder
    finally:
        subprocess.run(["umount", "--lazy", str(folder)], check=True, capture_output=True)
