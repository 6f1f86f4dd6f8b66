"""Reads files of a revision out of a git repository without checking anything out, and without running what is in it.

A repository may be a stranger's: its hooks, filters, attributes, pagers, aliases and helpers are commands that it could
have run. So only three commands are called, none of which looks at the index, at working files or at attributes, and
fetching what a partial copy lacks is refused.
"""

from __future__ import annotations

import os
import re
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.errors import WrongUsage, on_one_line

_NAME = re.compile(r"[A-Za-z0-9@][A-Za-z0-9._/@~^+-]{0,199}")
"""Names of revisions that are handed on: no option, no range, no path, no search through messages."""
_LONGEST_WAIT_S = 120
_KEPT = ("GIT_CONFIG_GLOBAL", "GIT_CONFIG_SYSTEM", "GIT_CONFIG_NOSYSTEM", "GIT_CEILING_DIRECTORIES", "GIT_EXEC_PATH")
"""Of git's variables, those that belong to the user; the others would name another repository, or run something."""
_HARMLESS = {
    "GIT_ALLOW_PROTOCOL": "none",
    "GIT_NO_LAZY_FETCH": "1",
    "GIT_NO_REPLACE_OBJECTS": "1",
    "GIT_OPTIONAL_LOCKS": "0",
    "GIT_TERMINAL_PROMPT": "0",
    "LC_ALL": "C",
}
LINK, SUBMODULE = "120000", "160000"
"""Modes of entries that are no files."""


@dataclass(frozen=True)
class TreeEntry:
    """One file of a revision: its place below the folder that was asked for, what it is, and where its bytes are."""

    path: str
    mode: str
    object: str
    size: int
    """Bytes; 0 for what is no file, or is lacking."""


@dataclass(frozen=True)
class Revision:
    """A revision as it was named, and the commit that it is."""

    name: str
    commit: str
    folder: Path
    """A folder of the repository, to which the paths of entries are relative."""
    within: str
    """Where that folder stands in the repository, empty or with a slash at its end."""

    @property
    def words(self) -> str:
        """The name, with the commit where it says more."""
        short = self.commit[:10]
        return self.name if self.commit.startswith(self.name) else f"{self.name} ({short})"


def find_revision(name: str, folder: Path) -> Revision:
    """Return the commit that a name stands for in the repository of a folder.

    Raises
    ------
    WrongUsage
        There is no such folder or revision, the folder is in no repository, or there is no git.
    """
    expected = "a folder of records, a published site, or a git revision such as `main` or `HEAD~1`"
    if not _NAME.fullmatch(name) or ".." in name:
        raise WrongUsage(f"found `{_shown(name)}`, expected {expected}. Correct BASE")
    try:
        within = _git(folder, "rev-parse", "--show-prefix").removesuffix(b"\n").decode(errors="replace")
    except _GitRefused as error:
        raise WrongUsage(
            f"found no folder `{name}`, and no git repository in which to look for such a revision ({error}). "
            f"Expected {expected}. Name a folder, or call the command inside the repository of the records"
        ) from error
    try:
        commit = _git(folder, "rev-parse", "--verify", "--quiet", f"{name}^{{commit}}").decode().strip()
    except _GitRefused as error:
        raise WrongUsage(
            f"found neither a folder nor a git revision `{name}`, expected {expected}. Correct BASE, or fetch the "
            "revision first: a shallow copy of a repository lacks the earlier ones"
        ) from error
    return Revision(name, commit, folder, within)


def entries_of(revision: Revision, folder: Path) -> tuple[TreeEntry, ...]:
    """Return what a revision holds of a folder of its repository and below.

    Raises
    ------
    WrongUsage
        It cannot be read.
    """
    listed = _asked(folder, "ls-tree", "-r", "-z", "-l", revision.commit)
    return tuple(map(_entry, listed.split(b"\0")[:-1]))


def contents_of(revision: Revision, objects: Sequence[str]) -> dict[str, bytes]:
    """Return the bytes of files by the names of their objects.

    Raises
    ------
    WrongUsage
        One of them cannot be read, such as one that a partial copy of a repository lacks.
    """
    names = list(dict.fromkeys(objects))
    told = _asked(revision.folder, "cat-file", "--batch", given="".join(f"{name}\n" for name in names).encode())
    found, at = {}, 0
    for name in names:
        end = told.find(b"\n", at)
        head = told[at:end].split()
        if end < 0 or len(head) != 3 or head[1] != b"blob":
            raise WrongUsage(
                f"found a file of {revision.words} that this copy of the repository lacks. Fetch the revision whole"
            )
        size = int(head[2])
        found[name] = told[end + 1 : end + 1 + size]
        at = end + size + 2
    return found


class _GitRefused(Exception):
    """git ended with an error; its words, on one line."""


def _asked(folder: Path, *arguments: str, given: bytes = b"") -> bytes:
    try:
        return _git(folder, *arguments, given=given)
    except _GitRefused as error:
        raise WrongUsage(f"found a git repository that cannot be read ({error}). Name a folder as BASE") from error


def _git(folder: Path, *arguments: str, given: bytes = b"") -> bytes:
    environment = {name: value for name, value in os.environ.items() if not name.startswith("GIT_") or name in _KEPT}
    command = ("git", "--no-pager", "-c", "core.fsmonitor=false", "-c", "core.hooksPath=/dev/null", *arguments)
    try:
        ended = subprocess.run(
            command,
            cwd=folder,
            env=environment | _HARMLESS,
            input=given,
            capture_output=True,
            timeout=_LONGEST_WAIT_S,
            check=False,
        )
    except FileNotFoundError as error:
        raise WrongUsage("found no git on this machine, expected it for a revision as BASE. Name a folder") from error
    except subprocess.TimeoutExpired as error:
        raise _GitRefused(f"no answer in {_LONGEST_WAIT_S} s") from error
    if ended.returncode:
        raise _GitRefused(_shown(ended.stderr.decode(errors="replace")) or f"git ended with {ended.returncode}")
    return ended.stdout


def _entry(line: bytes) -> TreeEntry:
    head, _, path = line.partition(b"\t")
    mode, _, name, size = head.split()
    # `-` for what is no file, `BAD` for one that this copy lacks, which is told when it is read.
    return TreeEntry(os.fsdecode(path), mode.decode(), name.decode(), int(size) if size.isdigit() else 0)


def _shown(text: str) -> str:
    """Return a text as it can stand in a message: one line, not long, nothing that a terminal would obey."""
    line = " ".join(on_one_line(text).split())
    return line if len(line) <= 160 else f"{line[:159]}…"
