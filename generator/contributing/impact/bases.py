"""What a change is held against: the records of a git revision, a folder of records, or a published site."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from generator.contributing.impact.git_objects import Revision, find_revision
from generator.contributing.impact.revision_records import ProgramChanges, program_changes, records_at
from generator.contributing.verification import published_pictures
from generator.errors import Problem, RecordsHaveProblems, WrongUsage
from generator.loading import load_catalogue
from generator.loading.files import PUBLICATION, RECORD_FOLDERS
from generator.loading.published_results import PublishedResults, load_published_results
from generator.loading.published_site import load_published_site
from generator.model.published import CATALOGUE_DATA, PublishedCatalogue, published


class SideHasProblems(RecordsHaveProblems):
    """The records of one of the two sides cannot be scored."""

    def __init__(self, side: str, problems: tuple[Problem, ...]) -> None:
        """Keep which side it is, in words."""
        super().__init__(problems)
        self.side = side


@dataclass(frozen=True)
class Base:
    """What a change is held against."""

    words: str
    """What it is, as in `the records of main (1a2b3c4d5e)`."""
    catalogue: PublishedCatalogue
    published: PublishedResults | None = None
    """The results as they were published; None where they are those of today's program."""
    made_with: Mapping[str, str] = field(default_factory=dict)
    """Name and version of what made a published site."""
    program: ProgramChanges | None = None
    """How the program of a revision differs from today's; None where that is not known or is no matter."""


def base_of(name: str, records: Path) -> Base:
    """Return what a name stands for: a folder that is there, else a revision in the repository of the records.

    Raises
    ------
    WrongUsage
        It stands for nothing that can be compared with.
    SideHasProblems
        Its records cannot be scored by today's program.
    PublishedSiteUnreadable
        It is a published site whose data do not read.
    """
    folder = Path(name)
    if folder.is_dir():
        return _of_folder(folder)
    revision = find_revision(name, records)
    with records_at(revision) as unpacked:
        words = f"the records of {revision.words}"
        return Base(words, _of_revision(revision, unpacked, words), program=program_changes(revision))


def records_now(records: Path) -> PublishedCatalogue:
    """Return the catalogue of the records as they stand.

    Raises
    ------
    SideHasProblems
        They cannot be scored.
    """
    return _loaded(records, f"the records in {records}")


def _of_folder(folder: Path) -> Base:
    if (folder / CATALOGUE_DATA).is_file():
        catalogue, made_with = load_published_site(folder)
        catalogue = replace(catalogue, pictures=published_pictures(catalogue, folder))
        return Base(f"the site published in {folder}", catalogue, load_published_results(folder), made_with)
    if any((folder / part).exists() for part in (PUBLICATION, *RECORD_FOLDERS)):
        words = f"the records in {folder}"
        return Base(words, _loaded(folder, words))
    raise WrongUsage(
        f"found neither `{PUBLICATION}` nor `{CATALOGUE_DATA}` in the folder `{folder}`, expected a folder of records "
        f"or a published site. Correct BASE; a revision of the same name can be written as `refs/heads/{folder}`"
    )


def _of_revision(revision: Revision, unpacked: Path, words: str) -> PublishedCatalogue:
    try:
        return _loaded(unpacked, words)
    except SideHasProblems as error:
        # Files are named as git names them, not by the folder that they were put into to be read.
        named = tuple(
            replace(problem, file=f"{revision.name}:{revision.within}{Path(problem.file).relative_to(unpacked)}")
            for problem in error.problems
        )
        raise SideHasProblems(words, named) from error


def _loaded(folder: Path, side: str) -> PublishedCatalogue:
    loaded = load_catalogue(folder)
    if loaded.catalogue is None:
        raise SideHasProblems(side, loaded.problems)
    return published(loaded.catalogue)
