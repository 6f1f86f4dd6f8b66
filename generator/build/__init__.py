"""The whole story: records are loaded, scored, worded, drawn and put in place, device by device.

What was made before, of the same by the same tools, is taken as it was kept.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path

from generator.build.canonical import digest_of
from generator.build.jobs import DeviceJob, Job, ScoreJob, Worker
from generator.build.kept_results import KeptScores, read_scores
from generator.build.making import Making, Report
from generator.build.parts import Parts
from generator.build.scored_here import scored_here
from generator.build.scores import CatalogueScores, catalogue_scores
from generator.build.site_files import SiteFiles
from generator.build.timings import Timings
from generator.build.workers import Workers
from generator.errors import PublishFailed, RecordsHaveProblems
from generator.garbage import made_to_stay
from generator.loading import load_catalogue
from generator.model.published import PublishedCatalogue, published
from generator.presenting.context import Context
from generator.presenting.page_parts import Letterhead
from generator.presenting.pages_of_devices import AroundDevices, around_devices
from generator.presenting.whole_site import present
from generator.publishing import publish
from generator.publishing.cache_folder import cache_folder, libraries_write_here
from generator.publishing.kept_files import KeptFiles, KeptFileSpoiled
from generator.publishing.last_publish import made_from, note_publish, unchanged
from generator.publishing.output_folder import OutputFolder
from generator.publishing.tool_key import tool_key

_ATTEMPTS = 3
"""So often kept files may turn out to be damaged; from the second time on they are read before they are believed."""

_AFTER_SCORING = 5.0
"""Roughly how long it takes to set what tells of a device with new scores: sheets and comparisons. [s]"""


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

    @property
    def counts(self) -> dict[str, int]:
        """Return all numbers, by their names."""
        return {name: value for name, value in asdict(self).items() if isinstance(value, int)}


@dataclass(frozen=True)
class Wishes:
    """How a site is to be made. What comes out does not depend on workers, nor on what was kept before."""

    workers: int = 1
    """Processes that make pages and PDFs."""
    stills: bool = False
    """Whether stills for video are drawn too."""
    papers: bool = True
    """Whether PDFs are set; without, empty files stand in their places, which is for measuring only."""
    anew: bool = False
    """Whether what was kept before is left alone, and all is made again."""


def build(
    records: Path, output: Path, report: Report, wishes: Wishes | None = None, timings: Timings | None = None
) -> BuildSummary:
    """Publish the catalogue of a folder of records.

    Parameters
    ----------
    records : Path
        The records folder.
    output : Path
        The folder to publish; what stands there is replaced as a whole, or left as it is.
    report : Report
        Is told of the progress.
    wishes : Wishes, optional
        How it is to be made; one process and no stills where it is left out.
    timings : Timings, optional
        Is filled in with what took the time.

    Raises
    ------
    RecordsHaveProblems
        The records cannot be published as they stand.
    WrongUsage, GeneratorFailed
        See `generator.errors`.
    """
    wishes, timings = wishes or Wishes(), timings or Timings()
    folder = OutputFolder(output)
    folder.prepare()

    tool = tool_key()
    state = made_from(records, tool, with_stills=wishes.stills)
    with timings.stage("reading"):
        report(0, 0, "Reading the records")
        with made_to_stay():
            loaded = load_catalogue(records)
            if loaded.catalogue is None:
                raise RecordsHaveProblems(loaded.problems)
            catalogue = published(loaded.catalogue)

    kept = KeptFiles(cache_folder() / "kept", tool)
    for attempt in range(_ATTEMPTS):
        try:
            with libraries_write_here():
                files, used = site_files(catalogue, kept, tool, report, wishes, timings, careful=attempt > 0)
            with timings.stage("putting in place"):
                report(0, 0, "Checking every link and putting the site in place")
                publish(files, output, unchanged(folder.output, files.hashes), files.link_faults)
            break
        except KeptFileSpoiled as error:
            kept.forget(error.key)
            if attempt == _ATTEMPTS - 1:
                raise PublishFailed(
                    f"what was written into {cache_folder()} was not there as it was written, {_ATTEMPTS} times. The "
                    "old site, if there was one, still stands. Look after the disk, or name another folder by the "
                    "environment variable XDG_CACHE_HOME."
                ) from error
    summary = BuildSummary(
        output=folder.output,
        record_files=loaded.files,
        devices=len(catalogue.devices),
        device_tests=len(catalogue.device_tests),
        pages=sum(path.endswith(".html") for path in files),
        sheets=sum(path.endswith(".pdf") for path in files),
        stills=sum(path.startswith("stills/") for path in files),
    )
    kept.tidy(used)
    if wishes.papers and state is not None and state == made_from(records, tool, with_stills=wishes.stills):
        note_publish(folder.output, state, summary.counts, files.hashes)
    return summary


def site_files(
    catalogue: PublishedCatalogue,
    kept: KeptFiles,
    tool: str,
    report: Report,
    wishes: Wishes,
    timings: Timings,
    *,
    careful: bool = False,
) -> tuple[SiteFiles, set[str]]:
    """Return every file of the site of a catalogue, and the keys of what they are kept under.

    What `kept` has of a job is taken, where `careful` only after all of it was read; the rest is made and kept. `tool`
    is the key of the tools.
    """
    from generator.build.rest import files_without_a_job, view_jobs  # not before: matplotlib asks only while imported

    parts = Parts(catalogue, tool)
    with scored_here() as scored, Workers(Worker(parts.shared, kept, scored, wishes.anew), wishes.workers) as crew:
        making = Making(kept, crew, timings, report, anew=wishes.anew, careful=careful)
        with timings.stage("scoring"):
            scores = catalogue_scores(catalogue, _scores(parts, making, wishes))
        with timings.stage("presenting the whole"):
            around = around_devices(Context(catalogue, scores.result))
            site = present(catalogue, scores.result, uses=scores.uses, around=around, cells=scores.cells)
        files = SiteFiles()
        with timings.stage("pages and PDFs"):
            views = list(view_jobs(site, tool))
            papers = [job for job in views if job.is_paper and wishes.papers]
            # Apart from the pages of the whole, which take next to nothing: so it can be told how much time is left.
            long: list[Job] = [*_device_jobs(parts, scores, around, site.letterhead, wishes), *papers]
            for _, entry in making.outcomes(long, "Making devices’ pages and PDFs"):
                files.add(entry)
            for _, entry in making.outcomes([job for job in views if not job.is_paper], "Making the other pages"):
                files.add(entry)
        with timings.stage("tables of the whole"):
            files.add_made(files_without_a_job(site, files.logs, files.rows_of))
        if not wishes.papers:
            files.add_made(dict.fromkeys((*site.sheets.presenters, *site.papers.presenters), b""))
    return files, making.used


def _scores(parts: Parts, making: Making, wishes: Wishes) -> dict[str, KeptScores]:
    jobs = []
    for name in parts.catalogue.devices:
        part = parts.of(name)
        jobs.append(ScoreJob(parts.key(part, "scores"), part))
    outcomes = making.outcomes(jobs, "Scoring", _AFTER_SCORING if wishes.papers else 0.0)
    with made_to_stay():
        return {job.part.device: read_scores(entry) for job, entry in outcomes}


def _device_jobs(
    parts: Parts, scores: CatalogueScores, around: AroundDevices, letterhead: Letterhead, wishes: Wishes
) -> list[DeviceJob]:
    jobs, result = [], scores.result
    of_all = digest_of("files", letterhead, wishes.stills, wishes.papers)
    for name, device in parts.catalogue.devices.items():
        beside, of_kind = parts.beside(name, result.records, result.comparisons), around.of_kind(device.kind)
        results = [scores.sha256_of_records[record] for record in beside.records]
        key = parts.key(beside.part, of_all, results, beside.comparisons, of_kind)
        jobs.append(DeviceJob(key, beside, of_kind, letterhead, wishes.stills, wishes.papers))
    return jobs
