"""Bytes of a log to lines of text: which encoding, by its byte order mark or by what the bytes can be."""

from __future__ import annotations

import codecs
import os
import re
import stat
from dataclasses import dataclass
from pathlib import Path

from generator.contributing.taking_in.told import Choice, Unclear
from generator.errors import WrongUsage

LARGEST_RAW = 128 * 1024 * 1024
"""Bytes of a log as it comes from a logger: several million lines, of which a session takes a part."""
_BEYOND_LATIN_1 = re.compile(rb"[\x80-\x9f]")
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig", "utf-8 with a byte order mark"),
    (codecs.BOM_UTF16_LE, "utf-16", "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "utf-16"),
)


@dataclass(frozen=True)
class RawText:
    """A log as text."""

    lines: list[str]
    encoding: str
    """As it is told."""


def read_raw(path: Path) -> bytes:
    """Return a file's bytes.

    Raises
    ------
    WrongUsage
        There is no such file, it is something else, cannot be read, or is too large.
    """
    try:
        descriptor = os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_NOCTTY | os.O_CLOEXEC)
    except OSError as error:
        raise WrongUsage(
            f"found that `{path}` cannot be read ({error.strerror}), expected a log. Name a file"
        ) from error
    status = os.fstat(descriptor)
    if not stat.S_ISREG(status.st_mode):
        os.close(descriptor)
        raise WrongUsage(f"found that `{path}` is no file, expected a log. Name a file of delimited text")
    with os.fdopen(descriptor, "rb") as file:
        if status.st_size > LARGEST_RAW:
            raise WrongUsage(
                f"found {status.st_size} bytes in `{path}`, expected at most {LARGEST_RAW}. "
                "Split it, and keep the part of the session"
            )
        return file.read(LARGEST_RAW)


def raw_text(content: bytes, told: str | None) -> RawText:
    """Decode a log.

    Raises
    ------
    Unclear
        The bytes are no text of the encodings known, or none in the one that was told.
    """
    mark = next(((codec, words) for start, codec, words in _MARKS if content.startswith(start)), None)
    if told is not None:
        codec, words = (mark[0], told) if mark is not None and told.startswith("utf") else (told, told)
        return _decoded(content, codec, words)
    if mark is not None:
        return _decoded(content, *mark)
    if b"\0" in content[:4096]:
        raise _unclear("bytes of zero, which no text in one byte for a letter holds")
    try:
        return RawText(_lines(content.decode()), "utf-8")
    except UnicodeDecodeError:
        # The two differ only in these bytes, which Latin-1 has for nothing that is printed.
        codec = "cp1252" if _BEYOND_LATIN_1.search(content) else "latin-1"
        return _decoded(content, codec, codec)


def _decoded(content: bytes, codec: str, words: str) -> RawText:
    try:
        return RawText(_lines(content.decode(codec)), words)
    except UnicodeError as error:
        raise _unclear(f"bytes that are not {words}") from error


def _unclear(found: str) -> Unclear:
    choices = (
        Choice("utf-8"),
        Choice("utf-16"),
        Choice("cp1252", "Windows, western European"),
        Choice("latin-1", "ISO 8859-1"),
    )
    return Unclear("--encoding", found, "Which encoding was it written in?", choices)


def _lines(text: str) -> list[str]:
    # Not splitlines(), which ends lines at characters that other programs write within them.
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    return text.removesuffix("\n").split("\n")
