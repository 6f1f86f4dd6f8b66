"""Files made by earlier builds, kept by a key of everything that they were made from.

One entry is one file: a line with the hash of the next, a line of JSON that says what the entry holds, and the contents
one after another, texts compressed. An entry that is damaged, cut short, of another version or under another's name is
as good as none. Nothing in it is ever run: it is JSON and bytes, each with its SHA-256.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import time
import zlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.errors import PublishFailed
from generator.publishing.cache_folder import write_at_once

FORMAT = 1
DAYS_KEPT = 30
"""An entry that no build has used for so long is removed. [days]"""
_PACKED = (".html", ".csv", ".json", ".js", ".xml", ".css", ".txt", ".svg")
_LONGEST_LINE = 64 << 20
"""A line that is longer was not written here. [bytes]"""
_NAME = 16


class KeptFileSpoiled(Exception):
    """What an entry holds is not what it says that it holds; `key` is the entry's."""

    def __init__(self, key: str) -> None:
        super().__init__(f"the kept files of {key} were damaged while they were used")
        self.key = key

    def __reduce__(self) -> tuple[type[KeptFileSpoiled], tuple[str]]:
        """Have it sent to another process with its key."""
        return KeptFileSpoiled, (self.key,)


@dataclass(frozen=True)
class KeptFile:
    """A file in an entry: its length and hash, and where its bytes lie."""

    size: int
    sha256: str
    start: int
    stored: int
    packed: bool


@dataclass(frozen=True)
class Kept:
    """An entry: its files by name, and facts about them."""

    key: str
    place: Path
    facts: Mapping[str, Any]
    files: Mapping[str, KeptFile]

    def read(self, name: str) -> bytes:
        """Return a file's content.

        Raises
        ------
        KeptFileSpoiled
            It cannot be read, or is not what was kept.
        """
        file = self.files[name]
        try:
            with self.place.open("rb") as entry:
                entry.seek(file.start)
                stored = entry.read(file.stored)
            # Never more than it was: a damaged stream could unpack to any size.
            content = zlib.decompressobj().decompress(stored, file.size + 1) if file.packed else stored
        except (OSError, zlib.error) as error:
            raise KeptFileSpoiled(self.key) from error
        if len(content) != file.size or hashlib.sha256(content).hexdigest() != file.sha256:
            raise KeptFileSpoiled(self.key)
        return content


class KeptFiles:
    """The entries of one state of the tools."""

    def __init__(self, folder: Path, tool: str) -> None:
        """Name the folder that all entries lie below, and the key of the tools, which other tools' entries lack."""
        self._all = folder
        self._own = folder / tool[:_NAME]
        self._tool = tool

    def get(self, key: str) -> Kept | None:
        """Return an entry, or None where there is none that is whole."""
        place = self._place(key)
        try:
            with place.open("rb") as entry:
                first, head = entry.readline(_LONGEST_LINE), entry.readline(_LONGEST_LINE)
                length = os.fstat(entry.fileno()).st_size
            if json.loads(first) != self._seal(key, head):
                return None
            told = json.loads(head)
            start, files = len(first) + len(head), {}
            for name, size, sha256, stored, packed in told["files"]:
                files[str(name)] = KeptFile(int(size), str(sha256), start, int(stored), bool(packed))
                start += int(stored)
            return Kept(key, place, dict(told["facts"]), files) if start == length else None
        except (OSError, ValueError, TypeError, KeyError, RecursionError):
            return None

    def whole(self, key: str) -> Kept | None:
        """Return an entry of which each file was read and found as it was kept, or None."""
        entry = self.get(key)
        if entry is None:
            return None
        try:
            for name in entry.files:
                entry.read(name)
        except KeptFileSpoiled:
            return None
        return entry

    def put(self, key: str, facts: Mapping[str, Any], files: Mapping[str, bytes]) -> None:
        """Keep files under a key, in place of what stood there.

        Raises
        ------
        PublishFailed
            The system refused.
        """
        packed = {name: _packed(name, content) for name, content in files.items()}
        listed = [
            [name, len(content), hashlib.sha256(content).hexdigest(), len(packed[name]), packed[name] is not content]
            for name, content in files.items()
        ]
        head = json.dumps({"facts": facts, "files": listed}, ensure_ascii=True).encode() + b"\n"
        seal = json.dumps(self._seal(key, head)).encode() + b"\n"
        try:
            write_at_once(self._place(key), (seal, head, *packed.values()))
        except OSError as error:
            raise PublishFailed(
                f"the system refused to keep what was made in {self._all}: {error.strerror or error}. The old site, if "
                "there was one, still stands. Check the room left on the disk and who may write there, or name another "
                "folder by the environment variable XDG_CACHE_HOME."
            ) from error

    def forget(self, key: str) -> None:
        """Remove an entry."""
        self._place(key).unlink(missing_ok=True)

    def tidy(self, used: Iterable[str]) -> None:
        """Mark entries as used now, and remove what was not used for `DAYS_KEPT` days, of other tools too."""
        now = time.time()
        oldest = now - DAYS_KEPT * 86_400
        try:
            for key in used:
                os.utime(self._place(key), (now, now))
            if self._own.is_dir():
                os.utime(self._own, (now, now))
            for tool in self._all.iterdir():
                if tool.stat().st_mtime < oldest:
                    shutil.rmtree(tool, ignore_errors=True)
            for entry in self._own.glob("??/*"):
                if entry.stat().st_mtime < oldest:
                    entry.unlink(missing_ok=True)
        except OSError:
            # Another build may tidy at the same time; what is left is tidied by the next.
            return

    def _place(self, key: str) -> Path:
        return self._own / key[:2] / key

    def _seal(self, key: str, head: bytes) -> dict[str, object]:
        digest = hashlib.sha256(f"{FORMAT}\n{self._tool}\n{key}\n".encode() + head).hexdigest()
        return {"kept": FORMAT, "sha256": digest}


def _packed(name: str, content: bytes) -> bytes:
    return zlib.compress(content, 1) if name.endswith(_PACKED) else content
