"""Opening what stands in the records folder, and nothing else: no link is followed, no pipe waited for.

Each folder is opened as itself and each file relative to its opened folder, so that a folder that is exchanged for a
link in the meantime leads nowhere. What is checked is what was opened, not what a name led to a moment before.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager

_OPEN_FOLDER = os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC
_OPEN_FILE = os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_NOCTTY | os.O_CLOEXEC

_KINDS = (
    (stat.S_ISLNK, "a link"),
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)


class NotRead(Exception):
    """A file or folder that is not read: slug, what was found, what was expected, what to do."""

    def __init__(self, slug: str, found: str, expected: str, remedy: str) -> None:
        """Keep the words of the problem; the caller knows the name."""
        super().__init__(slug)
        self.words = (slug, found, expected, remedy)


@contextmanager
def opened_folder(name: str | os.PathLike[str], within: int | None = None) -> Iterator[int]:
    """Open a folder; one within another folder must not be a link.

    Raises
    ------
    NotRead
        It is something else than a folder, or the system does not let it be opened.
    """
    try:
        if within is not None:
            kind = kind_of(os.stat(name, dir_fd=within, follow_symlinks=False).st_mode)
            if kind != "a folder":
                raise _outside(kind, "a folder")
        links = 0 if within is None else os.O_NOFOLLOW
        descriptor = os.open(name, _OPEN_FOLDER | links, dir_fd=within)
    except OSError as error:
        raise _unreadable(error, "folder") from error
    try:
        yield descriptor
    finally:
        os.close(descriptor)


def names_in(folder: int) -> list[str]:
    """Return what stands in an opened folder, sorted.

    Raises
    ------
    NotRead
        The system does not let it be read.
    """
    try:
        return sorted(os.listdir(folder))
    except OSError as error:
        raise _unreadable(error, "folder") from error


def kind_of(mode: int) -> str:
    """Say what a thing is by its mode."""
    return next((words for test, words in _KINDS if test(mode)), "a file")


def read_file(name: str, folder: int, most: int) -> bytes:
    """Return the first `most` bytes of a file in an opened folder, and one more where there are more.

    Raises
    ------
    NotRead
        It is not a file that belongs to this folder alone, cannot be read, or changed meanwhile.
    """
    try:
        # Looked at before it is opened, since opening alone can set a device going.
        kind = kind_of(os.stat(name, dir_fd=folder, follow_symlinks=False).st_mode)
        if kind != "a file":
            raise _outside(kind, "a file")
        descriptor = os.open(name, _OPEN_FILE, dir_fd=folder)
        try:
            return _read_opened(descriptor, name, folder, most)
        finally:
            os.close(descriptor)
    except FileNotFoundError as error:
        raise _changed("a file that went away while it was read") from error
    except OSError as error:
        raise _unreadable(error, "file") from error


def _read_opened(descriptor: int, name: str, folder: int, most: int) -> bytes:
    before = os.fstat(descriptor)
    if not stat.S_ISREG(before.st_mode):
        raise _outside(kind_of(before.st_mode), "a file")
    if before.st_nlink > 1:
        raise _outside("a hard link, a second name of one file", "a file of its own")
    parts: list[bytes] = []
    missing = most + 1
    while missing > 0 and (part := os.read(descriptor, missing)):
        parts.append(part)
        missing -= len(part)
    content = b"".join(parts)
    after = os.fstat(descriptor)
    named = os.stat(name, dir_fd=folder, follow_symlinks=False)
    if (
        _state(before) != _state(after)
        or _state(after) != _state(named)
        or len(content) != min(before.st_size, most + 1)
    ):
        raise _changed("a file that changed while it was read")
    return content


def _state(status: os.stat_result) -> tuple[int, int, int, int]:
    return status.st_dev, status.st_ino, status.st_size, status.st_mtime_ns


def _outside(found: str, expected: str) -> NotRead:
    remedy = "Put what it stands for into the records folder itself"
    return NotRead("outside-records", found, f"{expected} in the records folder", remedy)


def _changed(found: str) -> NotRead:
    return NotRead("changed-while-read", found, "a file that stays as it is", "Check again when nothing writes to it")


def _unreadable(error: OSError, what: str) -> NotRead:
    found, expected = f"that it cannot be read ({error.strerror})", f"a {what} that can be read"
    return NotRead("unreadable-file", found, expected, f"Look at the permissions of the {what}")
