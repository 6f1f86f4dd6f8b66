"""The records of a git revision as a folder that is read as any other, and whether its program differs."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory

import generator
from generator.contributing.impact.git_objects import (
    LINK,
    SUBMODULE,
    Revision,
    TreeEntry,
    contents_of,
    entries_of,
)
from generator.errors import WrongUsage
from generator.loading.files import LARGEST_LOG

MOST_FILES = 50_000
LARGEST_IN_ALL = 1024 * 1024 * 1024
"""Bytes of all files together that are taken out of a revision."""
_LEADS_NOWHERE = "a link of the revision, which is not followed"
_PROGRAM = (".py", ".yaml")


@dataclass(frozen=True)
class ProgramChanges:
    """How many files of the program differ between a revision and what runs now."""

    code: int
    reference: int
    """Of criteria, protocols, methods, cautions and other data that come with the program."""

    def __bool__(self) -> bool:
        """Whether any does."""
        return bool(self.code or self.reference)


@contextmanager
def records_at(revision: Revision) -> Iterator[Path]:
    """Give the records of a revision as a folder, which is gone afterwards.

    Links become links that lead nowhere, submodules empty folders: that they are there is a problem of the records, and
    is told as such.

    Raises
    ------
    WrongUsage
        The revision has no such folder, or more in it than records can be.
    """
    entries = entries_of(revision, revision.folder)
    if not entries:
        raise WrongUsage(
            f"found no `{revision.within or '.'}` in the revision {revision.words}, expected the records as they were. "
            "Name a revision that has them, or a folder"
        )
    if len(entries) > MOST_FILES or sum(min(entry.size, LARGEST_LOG) for entry in entries) > LARGEST_IN_ALL:
        raise WrongUsage(
            f"found {len(entries)} files in `{revision.within or '.'}` of {revision.words}, expected a folder of "
            "records alone. Name the folder of the records with `--records`"
        )
    with TemporaryDirectory(prefix="inward-impact-") as kept:
        folder = Path(kept) / "records"
        folder.mkdir()
        _write(revision, entries, folder)
        yield folder


def _write(revision: Revision, entries: tuple[TreeEntry, ...], folder: Path) -> None:
    # A file larger than any record is told as such by its size alone.
    read = [entry.object for entry in entries if _is_file(entry) and entry.size <= LARGEST_LOG]
    contents = contents_of(revision, read)
    for entry in entries:
        path = folder / _safe(entry.path)
        path.parent.mkdir(parents=True, exist_ok=True)
        if entry.mode == LINK:
            path.symlink_to(_LEADS_NOWHERE)
        elif entry.mode == SUBMODULE:
            path.mkdir()
        else:
            with path.open("xb") as file:
                file.write(contents.get(entry.object, b""))
                file.truncate(min(entry.size, LARGEST_LOG + 1))


def _is_file(entry: TreeEntry) -> bool:
    return entry.mode not in (LINK, SUBMODULE)


def _safe(name: str) -> PurePosixPath:
    """Return a path that stays where it is put: a tree can be written with names that no checkout would make."""
    parts = name.split("/")
    if any(part in ("", ".", "..") for part in parts):
        raise WrongUsage(f"found the path {name!a} in the revision, expected names of files. Name a folder")
    return PurePosixPath(*parts)


def program_changes(revision: Revision) -> ProgramChanges | None:
    """Say how the program that runs differs from the revision's; None where it stands in another place.

    Files are compared by the hash that git gives them, so that nothing of the repository's own is run.
    """
    package = Path(generator.__file__).resolve().parent
    root = _root(revision)
    if not package.is_relative_to(root):
        return None
    before = {entry.path: entry.object for entry in entries_of(revision, package) if entry.path.endswith(_PROGRAM)}
    if not before:
        return None
    now = {
        path.relative_to(package).as_posix(): _object(path.read_bytes(), len(revision.commit))
        for path in sorted(package.rglob("*"))
        if path.suffix in _PROGRAM and path.is_file()
    }
    differing = [path for path in {**before, **now} if before.get(path) != now.get(path)]
    reference = sum(path.startswith("reference/") and path.endswith(".yaml") for path in differing)
    return ProgramChanges(len(differing) - reference, reference)


def _root(revision: Revision) -> Path:
    folder = Path(os.path.realpath(revision.folder))
    return folder.parents[len(PurePosixPath(revision.within).parts) - 1] if revision.within else folder


def _object(content: bytes, length: int) -> str:
    """Return the name that git gives to a file of this content: 40 characters of SHA-1, or 64 of SHA-256."""
    whole = b"blob %d\0%s" % (len(content), content)
    if length == hashlib.sha256().digest_size * 2:
        return hashlib.sha256(whole).hexdigest()
    return hashlib.sha1(whole, usedforsecurity=False).hexdigest()
