"""The whole story: records are loaded, scored, worded, drawn and put in place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from generator.errors import RecordsHaveProblems
from generator.loading import load_catalogue
from generator.model.published import published
from generator.presenting.whole_site import present
from generator.publishing import publish
from generator.publishing.cache_folder import libraries_write_here
from generator.publishing.output_folder import OutputFolder
from generator.scoring.catalogue import score_catalogue

Report = Callable[[int, int, str], None]
"""Told how far the work is: steps done, steps in all (0 where that is not known), what is being done."""


@dataclass(frozen=True)
class BuildSummary:
    """What was published."""

    output: Path
    record_files: int
    devices: int
    device_tests: int
    pages: int
    sheets: int
    stills: int = 0


def build(records: Path, output: Path, report: Report, workers: int = 1, *, with_stills: bool = False) -> BuildSummary:
    """Publish the catalogue of a folder of records.

    Parameters
    ----------
    records : Path
        The records folder.
    output : Path
        The folder to publish; what stands there is replaced as a whole, or left as it is.
    report : Report
        Is told of the progress.
    workers : int
        Processes that set PDFs; what comes out does not depend on it.
    with_stills : bool
        Whether stills for video are drawn too.

    Raises
    ------
    RecordsHaveProblems
        The records cannot be published as they stand.
    WrongUsage, GeneratorFailed
        See `generator.errors`.
    """
    folder = OutputFolder(output)
    folder.prepare()

    report(0, 0, "Reading the records")
    loaded = load_catalogue(records)
    if loaded.catalogue is None:
        raise RecordsHaveProblems(loaded.problems)
    catalogue = published(loaded.catalogue)

    report(0, 0, "Scoring")
    result = score_catalogue(catalogue)
    site = present(catalogue, result, with_stills)

    with libraries_write_here():
        from generator.rendering.whole_site import render_site  # not before: matplotlib asks only while it is imported

        files = render_site(site, report, workers)

    report(0, 0, "Checking every link and putting the site in place")
    publish(files, output)
    return BuildSummary(
        output=folder.output,
        record_files=loaded.files,
        devices=len(catalogue.devices),
        device_tests=len(catalogue.device_tests),
        pages=sum(path.endswith(".html") for path in files),
        sheets=sum(path.endswith(".pdf") for path in files),
        stills=2 * len(site.stills),
    )
