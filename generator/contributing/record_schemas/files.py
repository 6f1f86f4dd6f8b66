"""The schemas as files below the records folder, where an editor finds them without a tool of ours."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from generator.contributing.record_schemas.schemas import record_schema
from generator.errors import GeneratorFailed, WrongUsage
from generator.loading.guarded_reading import NotRead, names_in, opened_folder, read_file
from generator.loading.record_kinds import RECORD_KINDS
from generator.model.json_schemas import DIALECT

FOLDER = ".schemas"
"""Below the records folder. The loader passes over names that begin with a dot."""
_LARGEST = 1024 * 1024
"""Bytes: several times the largest schema."""
_OURS = f'{{\n  "$schema": "{DIALECT}",\n  "$id": "urn:inward:record:'
"""How a file begins that may be written anew."""
_NEW_FILE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC


def file_name(kind: str) -> str:
    """Return the name of a kind's schema in its folder."""
    return f"{kind}.schema.json"


def schema_text(kind: str) -> str:
    """Return a kind's schema as it stands in its file."""
    return json.dumps(record_schema(kind), ensure_ascii=False, indent=2) + "\n"


def schema_line(kind: str) -> str:
    """Return the comment at the top of a record of that kind by which an editor finds its schema."""
    up = "../" * RECORD_KINDS[kind].place.count("/")
    return f"# yaml-language-server: $schema={up}{FOLDER}/{file_name(kind)}"


def out_of_date(records: Path) -> tuple[str, ...]:
    """Return the kinds whose schema in a records folder is not there, or not what it would be now.

    Raises
    ------
    WrongUsage
        The folder is not there, or what stands in place of its schemas is not theirs.
    """
    with _opened(records) as top:
        if FOLDER not in names_in(top):
            return tuple(RECORD_KINDS)
        with opened_folder(FOLDER, top) as folder:
            return tuple(kind for kind, old, new in _each(folder) if old != new)


def write_schemas(records: Path) -> tuple[str, ...]:
    """Write the schemas that are out of date into a records folder, each as a whole, and return their kinds.

    Raises
    ------
    WrongUsage
        The folder is not there, or something else stands where a schema belongs.
    GeneratorFailed
        The system refused to write; each schema is the old one or the new one.
    """
    with _opened(records) as top:
        try:
            if FOLDER not in names_in(top):
                os.mkdir(FOLDER, dir_fd=top)
            with opened_folder(FOLDER, top) as folder:
                changed = [(kind, new) for kind, old, new in _each(folder) if old != new]
                for kind, new in changed:
                    _write(file_name(kind), new, folder)
        except OSError as error:
            raise GeneratorFailed(
                f"the system refused to write {records / FOLDER}: {error.strerror or error}. "
                "Check the room left on the disk and who may write there."
            ) from error
    return tuple(kind for kind, _ in changed)


@contextmanager
def _opened(records: Path) -> Iterator[int]:
    try:
        with opened_folder(records) as top:
            yield top
    except NotRead as reason:
        _, found, expected, remedy = reason.words
        raise WrongUsage(f"found {found} at or in `{records / FOLDER}`, expected {expected}. {remedy}") from reason


def _each(folder: int) -> Iterator[tuple[str, bytes | None, bytes]]:
    """Go through the kinds with what stands in the folder, None for nothing, and what would be written."""
    there = names_in(folder)
    for kind in RECORD_KINDS:
        name = file_name(kind)
        old = read_file(name, folder, _LARGEST) if name in there else None
        if old is not None and not old.startswith(_OURS.encode()):
            raise NotRead("", "something else than a schema of records", f"nothing else as `{name}`", "Move it away")
        yield kind, old, schema_text(kind).encode()


def _write(name: str, content: bytes, folder: int) -> None:
    fresh = f".{name}.{os.getpid()}"
    try:
        with os.fdopen(os.open(fresh, _NEW_FILE, 0o666, dir_fd=folder), "wb") as file:
            file.write(content)
        os.replace(fresh, name, src_dir_fd=folder, dst_dir_fd=folder)
    except OSError:
        if fresh in os.listdir(folder):
            os.unlink(fresh, dir_fd=folder)
        raise
