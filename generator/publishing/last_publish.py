"""What was published last into a folder, and from what: whether there is anything to do is told without doing it.

Kept in the cache folder, by the output's path. It is believed only where it is whole and every file of the output is
still the one that was written: of the same length, time and place on the disk.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from generator.publishing.cache_folder import cache_folder, write_at_once
from generator.publishing.output_folder import MARK, OutputFolder
from generator.publishing.tool_key import tool_key

FORMAT = 1
Status = tuple[int, int, int, int]
"""Length, time of the last change, mode and number on the disk of a file."""


def made_from(records: Path, tool: str, *, with_stills: bool) -> str | None:
    """Return one hash over all that a site is made from; None where that cannot be told at a glance."""
    state = state_of(records)
    if state is None:
        return None
    return hashlib.sha256(f"{FORMAT}\n{tool}\n{state}\n{with_stills}\n".encode()).hexdigest()


@dataclass(frozen=True)
class LastPublish:
    """What stands in the output and what it was made from."""

    made_from: str
    summary: Mapping[str, int]
    sha256: Mapping[str, str]
    """The hash of each file, by its path."""
    status: Mapping[str, Status]

    def stands(self, output: Path) -> bool:
        """Say whether the output holds just the files that were published, untouched."""
        try:
            return dict(statuses(output)) == self.status
        except OSError:
            return False


def unchanged(output: Path, sha256: Mapping[str, str]) -> frozenset[str]:
    """Return the paths of files that stand in an output as they were published, with the hashes that are wanted."""
    last = last_publish(output)
    try:
        now = dict(statuses(output)) if last is not None else {}
    except OSError:
        return frozenset()
    return frozenset(
        path
        for path, status in now.items()
        if last is not None and last.status.get(path) == status and last.sha256[path] == sha256.get(path)
    )


def statuses(folder: Path, below: str = "") -> Iterator[tuple[str, Status]]:
    """Yield path and status of every file below a folder."""
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                yield from statuses(Path(entry.path), f"{below}{entry.name}/")
            else:
                status = entry.stat(follow_symlinks=False)
                yield f"{below}{entry.name}", (status.st_size, status.st_mtime_ns, status.st_mode, status.st_ino)


def state_of(folder: Path) -> str | None:
    """Return one hash over all files below a folder, hidden ones apart; None where it cannot be told at a glance.

    That is so where something in it is no plain file or folder, or cannot be read.
    """
    digest = hashlib.sha256()
    try:
        for path, place in sorted(_plain_files(folder, "")):
            content = hashlib.sha256(Path(place).read_bytes()).hexdigest()
            digest.update(f"{path}\n{content}\n".encode("utf-8", "surrogateescape"))
    except (OSError, _NotPlainError):
        return None
    return digest.hexdigest()


class _NotPlainError(Exception):
    """Something is neither a file nor a folder."""


def _plain_files(folder: Path, below: str) -> Iterator[tuple[str, str]]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.name.startswith("."):
                continue
            mode = entry.stat(follow_symlinks=False).st_mode
            if stat.S_ISDIR(mode):
                yield from _plain_files(Path(entry.path), f"{below}{entry.name}/")
            elif stat.S_ISREG(mode):
                yield f"{below}{entry.name}", entry.path
            else:
                raise _NotPlainError


def last_publish(output: Path) -> LastPublish | None:
    """Return what is on record of an output, or None where nothing believable is."""
    try:
        first, _, rest = _place(output).read_bytes().partition(b"\n")
        if first.decode() != hashlib.sha256(rest).hexdigest():
            return None
        told = json.loads(rest)
        if told["format"] != FORMAT:
            return None
        files = told["files"]
        return LastPublish(
            made_from=told["made_from"],
            summary=told["summary"],
            sha256={path: sha256 for path, (sha256, *_) in files.items()},
            status={path: (size, time, mode, number) for path, (_, size, time, mode, number) in files.items()},
        )
    except (OSError, ValueError, TypeError, KeyError):
        return None


def standing(records: Path, output: Path, *, with_stills: bool) -> Mapping[str, int] | None:
    """Return the numbers of what stands in an output, where publishing would put just the same there; else None.

    What an interrupted publish left beside the output is put right first.

    Raises
    ------
    WrongUsage, PublishFailed
        See `OutputFolder.prepare`.
    """
    last = last_publish(output)
    if last is None:
        return None
    OutputFolder(output).prepare()
    if last.made_from != made_from(records, tool_key(), with_stills=with_stills) or not last.stands(output):
        return None
    return last.summary


def note_publish(output: Path, made_from: str, summary: Mapping[str, int], sha256: Mapping[str, str]) -> None:
    """Put on record what was just published into an output; `sha256` are the hashes of its files."""
    try:
        status = dict(statuses(output))
        if status.keys() != {*sha256, MARK}:
            return
        files = {path: (sha256.get(path, ""), *status[path]) for path in status}
        rest = json.dumps({"format": FORMAT, "made_from": made_from, "summary": summary, "files": files}).encode()
        write_at_once(_place(output), (hashlib.sha256(rest).hexdigest().encode() + b"\n", rest))
    except OSError:
        # The site is in place; without this note the next publish only takes longer.
        return


def _place(output: Path) -> Path:
    name = hashlib.sha256(os.fsencode(os.path.abspath(output))).hexdigest()  # noqa: PTH100 - links are not followed
    return cache_folder() / "last" / f"{name}.json"
