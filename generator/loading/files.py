"""The files of a records folder: which are read, and which should not be there."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from generator.errors import Problem
from generator.loading.explain import nearest
from generator.loading.guarded_reading import NotRead, kind_of, names_in, opened_folder, read_file
from generator.loading.yaml_refusals import LARGEST_FILE
from generator.loading.yaml_source import WHOLE_FILE

PUBLICATION = "publication.yaml"
LOGS = "logs"
PICTURES = "pictures"
RECORD_FOLDERS = (
    "devices",
    "device_tests",
    "instruments",
    "testers",
    "wearers",
    "criteria",
    "protocols",
    "comparisons",
)
ENDINGS: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(RECORD_FOLDERS, (".yaml",)),
    LOGS: (".csv",),
    PICTURES: (".png", ".jpg", ".jpeg"),
}
"""Endings of the files in each folder."""
LARGEST_LOG = 8 * 1024 * 1024
"""Bytes: about two days of readings once a second."""
LARGEST_PICTURE = 8 * 1024 * 1024
"""Bytes of a picture as it comes from a camera."""

_ALLOWED_AT_TOP = ("README.md", PUBLICATION, *ENDINGS)
_RECORD_ENDINGS = (".yaml", ".yml", ".csv")
_LONGEST_STEM = 64
_RECORD_STEM = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_OTHER_STEM = re.compile(r"[a-z0-9]+([-_][a-z0-9]+)*")
# Names that one widely used system gives to devices, whatever the ending; pages are named after the records.
_RESERVED_STEM = re.compile(r"con|prn|aux|nul|com[0-9]|lpt[0-9]")


@dataclass
class FilesFound:
    """Contents of the files by folder and file name; the publication stands in the folder ``""``."""

    folder: Path
    contents: dict[str, dict[str, bytes]] = field(default_factory=dict)
    unread: dict[str, list[str]] = field(default_factory=dict)
    """Names by folder of the files that are there but were not read; `problems` say why."""
    picture_names: tuple[str, ...] = ()
    """Pictures are read one at a time, since together they may take more room than there is."""
    problems: list[Problem] = field(default_factory=list)
    _shown_folders: dict[tuple[str, ...], str] = field(default_factory=dict, repr=False, compare=False)

    def shown(self, *parts: str) -> str:
        """Return the name of a file as the reader of a problem knows it."""
        if not parts:
            return str(self.folder)
        *within, name = parts
        beside = self._shown_folders.get(tuple(within))
        if beside is None:
            beside = self._shown_folders[tuple(within)] = str(self.folder.joinpath(*within, "_"))[:-1]
        return f"{beside}{name}"

    def read_picture(self, name: str) -> bytes | None:
        """Return a picture's bytes; None, with a problem noted, where it cannot be read."""
        try:
            with opened_folder(self.folder) as top, opened_folder(PICTURES, top) as folder:
                return read_file(name, folder, LARGEST_PICTURE)
        except NotRead as reason:
            self.note(reason, PICTURES, name)
            return None

    def note(self, reason: NotRead, *parts: str) -> None:
        """Note why something was not read."""
        self.problems.append(Problem(self.shown(*parts), 1, 1, WHOLE_FILE, *reason.words))


def find_files(folder: Path) -> FilesFound:
    """Read every record and log of a records folder, and note what should not be in it."""
    found = FilesFound(folder, contents={"": {}, **{name: {} for name in ENDINGS}})
    try:
        with opened_folder(folder) as top:
            _read_all(found, top)
    except NotRead as reason:
        found.note(reason)
    return found


def _read_all(found: FilesFound, top: int) -> None:
    names = names_in(top)
    for name in names:
        if not name.startswith(".") and name not in _ALLOWED_AT_TOP and not _is_of_an_editor(name):
            found.problems.append(_unexpected(found, (name,), _is_folder(name, top), _ALLOWED_AT_TOP))
    if PUBLICATION in names:
        found.contents[""] = dict(_contents(found, "", (PUBLICATION,), top))
    for kind in ENDINGS:
        if kind not in names:
            continue
        try:
            with opened_folder(kind, top) as inside:
                expected = tuple(_expected_names(found, kind, inside))
                if kind == PICTURES:
                    found.picture_names = expected
                else:
                    found.contents[kind] = dict(_contents(found, kind, expected, inside))
        except NotRead as reason:
            found.note(reason, kind)


def _expected_names(found: FilesFound, kind: str, inside: int) -> Iterator[str]:
    for name in names_in(inside):
        stem, ending = Path(name).stem, Path(name).suffix
        if _is_of_an_editor(name):
            continue
        if name.startswith(".") and ending.lower() not in (*_RECORD_ENDINGS, *ENDINGS[kind]):
            continue
        if ending not in ENDINGS[kind] or name.startswith(".") or _is_folder(name, inside):
            known = tuple(f"{stem}{each}" for each in ENDINGS[kind])
            found.problems.append(_unexpected(found, (kind, name), _is_folder(name, inside), known))
            continue
        form = _RECORD_STEM if kind in RECORD_FOLDERS else _OTHER_STEM
        if not _can_be_stored(stem, form):
            found.problems.append(_wrong_name(found, kind, name))
        yield name


def _contents(found: FilesFound, kind: str, names: tuple[str, ...], inside: int) -> Iterator[tuple[str, bytes]]:
    for name in names:
        try:
            yield name, read_file(name, inside, LARGEST_LOG if kind == LOGS else LARGEST_FILE)
        except NotRead as reason:
            found.note(reason, kind, name)
            found.unread.setdefault(kind, []).append(name)


def can_name_a_record(stem: str) -> bool:
    """Say whether a record's file can have this name, without its ending."""
    return _can_be_stored(stem, _RECORD_STEM)


def can_name_a_log(stem: str) -> bool:
    """Say whether a log's file can have this name, without its ending."""
    return _can_be_stored(stem, _OTHER_STEM)


def _can_be_stored(stem: str, form: re.Pattern[str]) -> bool:
    return bool(form.fullmatch(stem)) and not _RESERVED_STEM.fullmatch(stem) and len(stem) <= _LONGEST_STEM


def _is_of_an_editor(name: str) -> bool:
    """Say whether an editor keeps it beside an open file, or as its earlier state: never meant as a record."""
    return name.startswith(".#") or name.endswith("~") or (len(name) > 1 and name[0] == name[-1] == "#")


def _is_folder(name: str, inside: int) -> bool:
    try:
        return kind_of(os.stat(name, dir_fd=inside, follow_symlinks=False).st_mode) == "a folder"
    except OSError:
        return False


def _unexpected(found: FilesFound, parts: tuple[str, ...], is_folder: bool, known: tuple[str, ...]) -> Problem:
    name = parts[-1]
    close = nearest(name, known)
    remedy = f"Did you mean `{close}`? Rename it"
    if close is None or close == name:
        remedy = "Remove it, or move it out of the records"
    kind = "folder" if is_folder else "file"
    expected = "only the files and folders that the record guide names"
    return Problem(found.shown(*parts), 1, 1, WHOLE_FILE, "unexpected-file", f"the {kind} `{name}`", expected, remedy)


def _wrong_name(found: FilesFound, kind: str, name: str) -> Problem:
    between = "single hyphens" if kind in RECORD_FOLDERS else "single hyphens or underscores"
    expected = (
        f"at most {_LONGEST_STEM} lower-case letters a to z, digits and {between}, and none of the names con, prn, "
        "aux, nul, com0 to com9, lpt0 to lpt9, which not every system can store"
    )
    remedy = "Rename the file, and correct its id or what refers to it"
    return Problem(found.shown(kind, name), 1, 1, WHOLE_FILE, "file-name", f"the name `{name}`", expected, remedy)
