"""Writing a file as a whole: beside its place first, then into it in one step, so that nobody finds half of it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from generator.errors import WrongUsage

_READABLE = 0o644


def write_whole(path: Path, content: bytes) -> None:
    """Write a file; one that stands there is replaced in one step, and keeps standing where that fails.

    Raises
    ------
    WrongUsage
        The system does not let it be written.
    """
    try:
        # Hidden and without an ending that records have, should the machine stop in between.
        descriptor, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
        beside = Path(name)
        try:
            with os.fdopen(descriptor, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            beside.chmod(_mode(path))
            beside.replace(path)
        except BaseException:
            beside.unlink()
            raise
    except OSError as error:
        raise WrongUsage(
            f"found that `{path}` cannot be written ({error.strerror}), expected a folder that can be written to. "
            "Look at its permissions and the room on the disk"
        ) from error


def _mode(path: Path) -> int:
    try:
        return path.stat().st_mode & 0o777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def write_new(path: Path, content: bytes) -> None:
    """Write a file under another name and then give it its own, which fails where a file has that name already.

    Raises
    ------
    OSError
        It cannot be written, or a file is there.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    # A name that editors' files have, which the loader passes over, should it ever stay behind.
    descriptor, name = tempfile.mkstemp(prefix=".#", dir=path.parent)
    try:
        with os.fdopen(descriptor, "wb") as file:
            os.fchmod(file.fileno(), _READABLE)
            file.write(content)
        try:
            os.link(name, path)
        except FileExistsError:
            raise
        except OSError:
            # A file system without second names of a file, such as that of a memory stick.
            Path(name).rename(path)
    finally:
        Path(name).unlink(missing_ok=True)
