"""Which file names a site may use: names that every system and every web server reads the same way."""

from __future__ import annotations

import re
from collections.abc import Iterable

from generator.errors import PublishFailed

_SEGMENT = re.compile(r"[A-Za-z0-9_][A-Za-z0-9._-]{0,99}(?<!\.)")
_RESERVED = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?", re.IGNORECASE)
_LONGEST_PATH = 200


def check_file_names(paths: Iterable[str]) -> None:
    """Raise PublishFailed where a path leaves the site, is unusual, or collides with another one."""
    seen: dict[str, str] = {}
    for path in sorted(paths):
        if not _is_plain(path):
            raise PublishFailed(
                f"the file name {path!r} cannot be published: expected a relative path of at most {_LONGEST_PATH} "
                "letters, digits, dots, hyphens and underscores with forward slashes, no part of which starts with a "
                "dot or hyphen or ends with a dot. Rename what the file is made from."
            )
        folded = path.casefold()
        if folded in seen:
            raise PublishFailed(
                f"the file names {seen[folded]!r} and {path!r} differ only by case, which not every system keeps "
                "apart. Rename one of the things they are made from."
            )
        seen[folded] = path
    _check_no_file_is_a_folder(seen)


def _is_plain(path: str) -> bool:
    segments = path.split("/")
    return len(path) <= _LONGEST_PATH and all(
        _SEGMENT.fullmatch(segment) and not _RESERVED.fullmatch(segment) for segment in segments
    )


def _check_no_file_is_a_folder(seen: dict[str, str]) -> None:
    for folded, path in seen.items():
        parts = folded.split("/")
        for depth in range(1, len(parts)):
            parent = "/".join(parts[:depth])
            if parent in seen:
                raise PublishFailed(
                    f"{seen[parent]!r} is to be a file, and {path!r} needs a folder of that name. "
                    "Rename one of the things they are made from."
                )
