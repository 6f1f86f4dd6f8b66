"""Watches a folder of records, also while it is gone."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator
from pathlib import Path

from watchfiles import Change, watch

_GATHER_MS = 400
"""Changes that follow one another are told together, at the latest after this time."""
_QUIET_MS = 40
"""They are told as soon as nothing happened for this time: editors write a file in several steps."""
_LOOK_MS = 300
"""How often it is looked whether the folder is still the same one."""

Shape = tuple[tuple[str, int, int, int], ...]


def shape(folder: Path) -> Shape:
    """Return what tells a folder and those within it from others put in their place: name, device, number, mode."""
    try:
        inside = sorted(entry.path for entry in os.scandir(folder) if entry.is_dir(follow_symlinks=False))
        places = [(name, os.stat(name)) for name in (str(folder), *inside)]  # noqa: PTH116
    except OSError:
        return ()
    return tuple((name, stat.st_dev, stat.st_ino, stat.st_mode) for name, stat in places)


def changes(folder: Path) -> Iterator[tuple[str, ...]]:
    """Yield the names of what changed below a folder, relative to it and in order, again and again.

    None are named where something may have changed that was not seen: before a watch began, or when folders came, went
    or were exchanged. Ends when the process is asked to stop.
    """
    known, polling = shape(folder), None
    while True:
        if not known:
            time.sleep(_LOOK_MS / 1000)
            known = shape(folder)
            if known:
                yield ()
            continue
        just_begun = True
        try:
            for found in _watched(folder, polling):
                names, newest = {os.path.relpath(name, folder) for _, name in found}, shape(folder)
                if names or newest != known or just_begun:
                    yield tuple(sorted(names))
                just_begun = False
                if newest != known:
                    known = newest
                    break
        except KeyboardInterrupt:
            # What a signal's handler raised while the library waited; it makes this of it.
            return
        except OSError:
            # The folder has just gone, which is seen next; or the system watches no more folders, so look at each file.
            polling, known = True, shape(folder)


def _watched(folder: Path, polling: bool | None) -> Iterator[set[tuple[Change, str]]]:
    """Yield what changed, and nothing every so often."""
    return watch(
        folder,
        watch_filter=None,
        debounce=_GATHER_MS,
        step=_QUIET_MS,
        rust_timeout=_LOOK_MS,
        yield_on_timeout=True,
        force_polling=polling,
        ignore_permission_denied=True,
    )
