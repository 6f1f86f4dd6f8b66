"""`inward check`: say what is wrong with records, one line for each problem."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from pathlib import Path

import click

from generator.command_line.counting import counted
from generator.errors import Problem, WrongUsage
from generator.loading import Loaded, load_catalogue
from generator.loading.files import PUBLICATION


@click.command(short_help="Say what is wrong with records, or that nothing is.")
@click.argument("paths", metavar="[PATH ...]", nargs=-1, type=click.Path(path_type=Path))
def check(paths: tuple[Path, ...]) -> None:
    """Check records, and print one line for each problem.

    PATH is a records folder, or a file or folder in one (default: records/). The whole records folder is read either
    way, since records refer to one another; only the problems of what PATH names are printed.

    Exit codes: 0 no problems, 1 problems, 2 there is no such PATH.
    """
    asked = paths or (Path("records"),)
    problems: list[Problem] = []
    files: set[str] = set()
    elsewhere = 0
    for folder, named in _by_folder(asked).items():
        loaded = load_catalogue(Path(os.path.relpath(folder)))
        shown = [problem for problem in loaded.problems if _is_named(problem.file, named)]
        problems += shown
        elsewhere += len(loaded.problems) - len(shown)
        files |= _files(loaded, named)
    for problem in sorted(problems):
        click.echo(str(problem))
    others = f" ({counted(elsewhere, 'problem')} elsewhere in the records)" if elsewhere else ""
    if not problems:
        click.echo(f"No problems in {counted(len(files), 'file')}{others}.")
        return
    faulty = len({problem.file for problem in problems})
    click.echo(f"{counted(len(problems), 'problem')} in {faulty} of {counted(len(files), 'file')}{others}.", err=True)
    click.get_current_context().exit(1)


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


def _holds_records(folder: Path) -> bool:
    inside = (folder / PUBLICATION, folder / "device_tests", folder / "devices")
    return any(os.path.lexists(path) for path in inside)


def _is_folder(path: Path) -> bool:
    return os.path.isdir(path)  # noqa: PTH112 - Path.is_dir raises where a folder above cannot be searched


def _is_named(file: str, named: Iterable[Path]) -> bool:
    place = _absolute(Path(file))
    return any(place.is_relative_to(_absolute(path)) for path in named)


def _absolute(path: Path) -> Path:
    # Not resolve(): a link in the records is a problem of the link, wherever it leads.
    return Path(os.path.normpath(path.absolute()))


def _files(loaded: Loaded, named: Iterable[Path]) -> set[str]:
    read = {*loaded.file_names, *(problem.file for problem in loaded.problems)}
    return {file for file in read if _is_named(file, named)}
