"""The one folder, beside the output's parent, that a publish may write into: what libraries keep for their next run."""

from __future__ import annotations

import os
from pathlib import Path

from generator.errors import PublishFailed


def cache_folder() -> Path:
    """Return `inward` below the user's cache folder (XDG Base Directory Specification)."""
    base = os.environ.get("XDG_CACHE_HOME") or "~/.cache"
    return Path(base).expanduser() / "inward"


def keep_library_caches_here() -> None:
    """Make matplotlib keep its cache here. To be called before it is imported: it asks only once."""
    folder = cache_folder() / "matplotlib"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise PublishFailed(
            f"the cache folder {folder} cannot be made: {error.strerror or error}. "
            "Set XDG_CACHE_HOME to a folder that you may write into."
        ) from error
    os.environ["MPLCONFIGDIR"] = str(folder)
