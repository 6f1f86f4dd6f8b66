"""The files of a records folder: which are read, and which should not be there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from generator.errors import Problem
from generator.loading.explain import nearest
from generator.loading.yaml_refusals import LARGEST_FILE
from generator.loading.yaml_source import WHOLE_FILE

PUBLICATION = "publication.yaml"
LOGS = "logs"
RECORD_FOLDERS = ("devices", "device_tests", "instruments", "testers", "wearers", "criteria", "protocols")
ENDINGS: Mapping[str, str] = {**dict.fromkeys(RECORD_FOLDERS, ".yaml"), LOGS: ".csv"}
"""Ending of the files in each folder."""
LARGEST_LOG = 8 * 1024 * 1024
"""Bytes: about two days of readings once a second."""

_ALLOWED_AT_TOP = ("README.md", PUBLICATION, *ENDINGS)
_RECORD_ENDINGS = (".yaml", ".yml", ".csv")


@dataclass
class FilesFound:
    """Contents of the files by folder and name without ending; the publication stands in the folder ``""``."""

    folder: Path
    contents: dict[str, dict[str, bytes]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def shown(self, *parts: str) -> str:
        """Return the name of a file as the reader of a problem knows it."""
        return str(self.folder.joinpath(*parts))


def find_files(folder: Path) -> FilesFound:
    """Read every file of a records folder, and note what should not be in it."""
    found = FilesFound(folder)
    for path in sorted(folder.iterdir()):
        if path.name.startswith("."):
            continue
        if path.name not in _ALLOWED_AT_TOP:
            found.problems.append(_unexpected(path, path.name, _ALLOWED_AT_TOP))
    found.contents[""] = dict(_contents(found, [folder / PUBLICATION], ".yaml"))
    for name, ending in ENDINGS.items():
        inside = folder / name
        if inside.is_symlink() or (inside.exists() and not inside.is_dir()):
            found.problems.append(_not_inside(inside, "a link or a file", "a folder"))
        paths = sorted(inside.iterdir()) if inside.is_dir() and not inside.is_symlink() else []
        found.contents[name] = dict(_contents(found, paths, ending))
    return found


def _contents(found: FilesFound, paths: list[Path], ending: str) -> Iterator[tuple[str, bytes]]:
    for path in paths:
        if path.name.startswith(".") and path.suffix.lower() not in _RECORD_ENDINGS:
            continue
        if path.is_symlink():
            found.problems.append(_not_inside(path, "a link", "a file"))
        elif not path.exists():
            continue
        elif path.suffix != ending or path.name.startswith(".") or not path.is_file():
            found.problems.append(_unexpected(path, path.name, (f"{path.stem}{ending}",)))
        else:
            try:
                with path.open("rb") as stream:
                    # One byte past the limit is enough to see that a file is too large.
                    yield path.stem, stream.read(LARGEST_LOG + 1 if ending == ".csv" else LARGEST_FILE + 1)
            except OSError as error:
                found.problems.append(_unreadable(path, error))


def _unexpected(path: Path, name: str, known: tuple[str, ...]) -> Problem:
    close = nearest(name, known)
    remedy = f"Did you mean `{close}`? Rename it"
    if close is None or close == name:
        remedy = "Remove it, or move it out of the records"
    kind = "folder" if path.is_dir() else "file"
    expected = "only the files and folders that the record guide names"
    return Problem(str(path), 1, 1, WHOLE_FILE, "unexpected-file", f"the {kind} `{name}`", expected, remedy)


def _not_inside(path: Path, found: str, expected: str) -> Problem:
    remedy = "Put what it stands for into the records folder itself"
    return Problem(str(path), 1, 1, WHOLE_FILE, "outside-records", found, f"{expected} in the records folder", remedy)


def _unreadable(path: Path, error: OSError) -> Problem:
    found, expected = f"that it cannot be read ({error.strerror})", "a file that can be read"
    remedy = "Look at the permissions of the file"
    return Problem(str(path), 1, 1, WHOLE_FILE, "unreadable-file", found, expected, remedy)
