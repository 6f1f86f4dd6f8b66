"""What `inward check` finds in the files that are named: a records folder read once, and what is told of it."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from generator.contributing.checking.findings import record_findings, scoring_findings
from generator.contributing.checking.remarks import Level, Remark, remark
from generator.errors import WrongUsage
from generator.loading.files import PUBLICATION
from generator.loading.folder import load_catalogue


@dataclass(frozen=True)
class Checked:
    """Problems and findings of the files that were named, in the order of file, line and column."""

    remarks: tuple[Remark, ...]
    files: int
    """How many files were named and read."""
    elsewhere: int
    """How many problems other files of the same folders have."""
    findings_looked_for: bool
    """Whether findings were looked for at all."""
    scored: bool
    """Whether scoring looked for findings too: only where a whole folder has no problems."""
    contents: Mapping[str, bytes]
    """The bytes of the files that were named, as they were checked."""
    root: Path
    """What files are named from where a report names them for good: the repository, else beside the records."""

    @property
    def problems(self) -> int:
        """How many problems there are."""
        return sum(each.level is Level.PROBLEM for each in self.remarks)

    @property
    def findings(self) -> int:
        """How many findings there are."""
        return len(self.remarks) - self.problems


def check_paths(paths: Sequence[Path], *, findings: bool) -> Checked:
    """Check the records folders that the paths belong to, and tell of the files that the paths name.

    Parameters
    ----------
    paths : Sequence[Path]
        Records folders, or files or folders in one.
    findings : bool
        Whether to look for findings too.

    Raises
    ------
    WrongUsage
        There is nothing at a path, or it belongs to no records folder.
    """
    remarks: list[Remark] = []
    contents: dict[str, bytes] = {}
    files: set[str] = set()
    elsewhere = 0
    scored = findings
    by_folder = _by_folder(paths)
    for folder, named in by_folder.items():

        @cache
        def is_named(file: str, places: Iterable[Path] = tuple(map(_absolute, named))) -> bool:
            here = _absolute(Path(file))
            return any(here.is_relative_to(place) for place in places)

        loaded = load_catalogue(Path(os.path.relpath(folder)), keep=True)
        assert loaded.kept is not None, "it was asked for"
        told = [problem for problem in loaded.problems if is_named(problem.file)]
        remarks += (remark(problem, Level.PROBLEM) for problem in told)
        elsewhere += len(loaded.problems) - len(told)
        read = {*loaded.file_names, *(problem.file for problem in loaded.problems)}
        files |= {file for file in read if is_named(file)}
        contents |= {file: content for file, content in loaded.kept.contents.items() if is_named(file)}
        if findings:
            remarks += record_findings(loaded.kept.records, is_named)
            if loaded.catalogue is None:
                scored = False
            else:
                remarks += scoring_findings(loaded.kept.records, loaded.catalogue, is_named)
    ordered = tuple(sorted(remarks, key=lambda each: each.order))
    root = Path(os.path.commonpath([_root_of(folder) for folder in by_folder]))
    return Checked(ordered, len(files), elsewhere, findings, scored, contents, root)


def _by_folder(paths: Sequence[Path]) -> dict[Path, list[Path]]:
    """Return the paths by the records folder that each belongs to."""
    folders: dict[Path, list[Path]] = {}
    for path in paths:
        if not os.path.exists(path):  # noqa: PTH110 - Path.exists raises where a folder above cannot be searched
            raise WrongUsage(f"found nothing at `{path}`, expected a file or folder of records. Correct the path")
        folders.setdefault(_records_folder(path), []).append(path)
    return folders


def _records_folder(path: Path) -> Path:
    here = _absolute(path)
    for candidate in (here, *here.parents[:2]):
        if _is_folder(candidate) and _holds_records(candidate):
            return candidate
    if _is_folder(here):
        # An empty folder: loading says what is missing.
        return here
    raise WrongUsage(
        f"found `{path}` outside any records folder, expected a file beside or below {PUBLICATION}. Correct the path"
    )


def _root_of(folder: Path) -> Path:
    """Return the repository that a records folder lies in, or the folder that it lies in."""
    repository = next((each for each in (folder, *folder.parents) if os.path.lexists(each / ".git")), None)
    return folder.parent if repository is None else repository


def _holds_records(folder: Path) -> bool:
    inside = (folder / PUBLICATION, folder / "device_tests", folder / "devices")
    return any(os.path.lexists(path) for path in inside)


def _is_folder(path: Path) -> bool:
    return os.path.isdir(path)  # noqa: PTH112 - Path.is_dir raises where a folder above cannot be searched


def _absolute(path: Path) -> Path:
    # Not resolve(): a link in the records is a problem of the link, wherever it leads.
    return Path(os.path.normpath(path.absolute()))
