"""Writing a file as a whole: beside its place first, then into it in one step, so that nobody finds half of it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from generator.errors import WrongUsage


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
