"""A new file, written whole or not at all, and never over another one."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

_READABLE = 0o644


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
