"""The one folder, beside the output's parent, that a publish may write into: what libraries keep for their next run."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from generator.errors import PublishFailed


def cache_folder() -> Path:
    """Return `inward` below the user's cache folder (XDG Base Directory Specification)."""
    base = os.environ.get("XDG_CACHE_HOME") or "~/.cache"
    return Path(base).expanduser() / "inward"


@contextmanager
def libraries_write_here() -> Iterator[None]:
    """Let libraries that are imported and used meanwhile keep caches and passing files in the cache folder.

    matplotlib asks for its folder once, while it is imported. Looking for a shared library makes passing files.
    """
    folders = {"MPLCONFIGDIR": _made("matplotlib"), "TMPDIR": _made("passing")}
    before = {name: os.environ.get(name) for name in folders}, tempfile.tempdir
    os.environ.update(folders)
    tempfile.tempdir = folders["TMPDIR"]
    try:
        yield
    finally:
        variables, tempfile.tempdir = before
        for name, value in variables.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


def _made(name: str) -> str:
    folder = cache_folder() / name
    try:
        folder.mkdir(parents=True, exist_ok=True)
        # What a mode says is not the whole truth: a disk may be full, or mounted for reading only.
        with tempfile.TemporaryFile(dir=folder) as file:
            file.write(b"a word")
    except OSError as error:
        raise PublishFailed(
            f"the cache folder {folder} cannot be written: {error.strerror or error}. Nothing was published. "
            "Remove what stands there, or set XDG_CACHE_HOME to a folder that you may write into."
        ) from error
    return str(folder)


def write_at_once(place: Path, pieces: Iterable[bytes]) -> None:
    """Write a file of the cache folder so that another process sees all of it or nothing.

    Raises
    ------
    OSError
        The system refused; nothing is left of it.
    """
    passing = place.with_name(f".{place.name}.{os.getpid()}")
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with passing.open("wb") as file:
            file.writelines(pieces)
        passing.replace(place)
    except OSError:
        with suppress(OSError):
            passing.unlink()
        raise
