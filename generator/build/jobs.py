"""What is done for one device, or for one page beside the devices: from plain inputs to an entry of kept files.

A job is handed all that it may look at, and its key was made of the same. It runs in any process that has the shared
data and the folder of kept files.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import asdict, dataclass, field
from time import process_time
from typing import Any

from generator import __version__
from generator.build.kept_results import DeviceScores, written
from generator.build.parts import Beside, Part
from generator.build.scored_here import ScoredHere
from generator.build.site_files import IDS, rows_beside
from generator.model.catalogue_result import CatalogueResult
from generator.model.published import PublishedCatalogue
from generator.model.result import RecordResult
from generator.presenting.context import Context
from generator.presenting.index_page import index_cells
from generator.presenting.method_uses import uses_in_compared, uses_in_device, uses_in_record
from generator.presenting.page_parts import Letterhead, Paper
from generator.presenting.page_views import OpenData
from generator.presenting.pages_of_devices import AroundDevices, present_devices
from generator.publishing.kept_files import KeptFiles
from generator.publishing.part_links import part_links
from generator.scoring.catalogue import LIBRARIES, score_record, sum_up_device
from generator.scoring.comparisons import compared_device
from generator.scoring.slim_results import without_workings

DATA = "data/"
LOGS = f"{DATA}logs/"
"""Where logs are published."""

Seconds = dict[str, float]
"""Processor time by what it went into. [s]"""


@dataclass
class Clock:
    """Notes how much processor time goes into what."""

    seconds: Seconds = field(default_factory=dict)

    @contextmanager
    def on(self, what: str) -> Iterator[None]:
        """Note the time that the block takes."""
        started = process_time()
        try:
            yield
        finally:
            self.seconds[what] = self.seconds.get(what, 0.0) + process_time() - started


@dataclass(frozen=True)
class Worker:
    """What every job of a process works with."""

    shared: PublishedCatalogue
    """The catalogue without what is divided among parts."""
    kept: KeptFiles
    scored: ScoredHere
    """Results that were made for this build, with their workings."""
    anew: bool = False
    """Whether what was kept before is left alone."""


@dataclass(frozen=True)
class ScoreJob:
    """Score a device's records and sum them up."""

    key: str
    part: Part
    kind = "scores of a device"
    expected_seconds = 0.1

    @property
    def about(self) -> str:
        """What an error of this job is about."""
        return f"devices/{self.part.device}"

    def run(self, worker: Worker, clock: Clock) -> None:
        """Keep the scores under the job's key."""
        with clock.on("scoring"):
            catalogue = self.part.within(worker.shared)
            device = catalogue.devices[self.part.device]
            records = _scored(device.id, catalogue)
            result = sum_up_device(device, records, catalogue)
            compared = compared_device(device, catalogue, records, result)
            slim_records = {name: without_workings(record) for name, record in records.items()}
            slim = without_workings(result)
            alone = CatalogueResult(records=slim_records, devices={device.id: slim})
            scores = DeviceScores(
                records=slim_records,
                device=slim,
                uses_in_records={name: uses_in_record(record) for name, record in records.items()},
                uses_in_device=uses_in_device(result, records),
                compared=without_workings(compared),
                uses_in_compared=uses_in_compared(compared),
                cells=index_cells(device, Context(catalogue, alone)),
            )
        with clock.on("keeping"):
            worker.scored.put(device.id, records)
            worker.kept.put(self.key, {}, written(scores))


@dataclass(frozen=True)
class DeviceJob:
    """Make all files that belong to one device."""

    key: str
    beside: Beside
    around: AroundDevices
    letterhead: Letterhead
    with_stills: bool
    with_sheet: bool
    kind = "files of a device"

    @property
    def expected_seconds(self) -> float:
        """Roughly how long it takes, so that the longest is begun first: sheets take most. [s]"""
        return (1.0 if self.with_sheet else 0.15) * len(self.beside.part.device_tests)

    @property
    def about(self) -> str:
        """What an error of this job is about."""
        return f"devices/{self.beside.part.device}"

    def run(self, worker: Worker, clock: Clock) -> None:
        """Keep the files under the job's key."""
        from generator.rendering.data_package import published_log
        from generator.rendering.result_tables import rows_of_record
        from generator.rendering.whole_site import files_of_devices

        name = self.beside.part.device
        catalogue = self.beside.part.within(worker.shared)
        with clock.on("scoring"):
            records = worker.scored.take(name) or _scored(name, catalogue)
            device = sum_up_device(catalogue.devices[name], {**self.beside.records, **records}, catalogue)
            compared = compared_device(catalogue.devices[name], catalogue, records, device)
        result = CatalogueResult(
            records=dict(self.beside.records) | records,
            devices={name: device},
            compared={name: compared},
            comparisons=dict(self.beside.comparisons),
            libraries=LIBRARIES,
        )
        context = Context(catalogue, result)
        data = OpenData(catalogue, result, __version__, context.records_sha256, None)
        with clock.on("presenting"):
            pages = present_devices([name], context, self.around, with_stills=self.with_stills)
        made = files_of_devices(pages, self.letterhead, data, clock.on, with_sheets=self.with_sheet)
        with clock.on("data"):
            logs = {name.removeprefix(DATA): content for name, content in made.items() if name.startswith(LOGS)}
            facts = {"logs": {name: asdict(published_log(content)) for name, content in logs.items()}}
            rows = {each: rows_of_record(catalogue.device_tests[each], result) for each, result in records.items()}
        _keep(self.key, facts, made, worker, clock, rows_beside(rows))


@dataclass(frozen=True)
class ViewJob:
    """Render one page or paper that belongs to no single device."""

    key: str
    path: str
    template: str
    present: Callable[[], object]
    """Gives what is to be rendered; it can be sent to another process."""
    letterhead: Letterhead
    with_charts: bool
    """Whether the numbers of the page's charts are files of their own."""
    devices: int
    """How many devices the catalogue has."""

    @property
    def is_paper(self) -> bool:
        """Whether it sets a PDF."""
        return self.path.endswith(".pdf")

    @property
    def kind(self) -> str:
        """What it makes."""
        return "paper beside devices" if self.is_paper else "page beside devices"

    @property
    def expected_seconds(self) -> float:
        """Roughly how long it takes, so that the longest is begun first: papers of the whole grow with it. [s]"""
        return 1.0 + 0.01 * self.devices if self.is_paper else 0.01

    @property
    def about(self) -> str:
        """What an error of this job is about."""
        return self.path

    def run(self, worker: Worker, clock: Clock) -> None:
        """Keep the page, with the numbers of its charts, or the paper under the job's key."""
        with clock.on("presenting"):
            view = self.present()
        if isinstance(view, Paper):
            from generator.rendering.whole_site import paper_files

            with clock.on("papers beside devices"):
                made = paper_files(view, self.letterhead)
        else:
            from generator.rendering.whole_site import page_files

            with clock.on("pages beside devices"):
                made = page_files(self.path, self.template, view, self.letterhead, with_charts=self.with_charts)
        _keep(self.key, {}, made, worker, clock)


Job = ScoreJob | DeviceJob | ViewJob


def _keep(
    key: str,
    facts: Mapping[str, Any],
    files: Mapping[str, bytes],
    worker: Worker,
    clock: Clock,
    beside: Mapping[str, bytes] | None = None,
) -> None:
    """Keep files of the site with what is known of their links, and with others that stand beside them."""
    with clock.on("links"):
        links = part_links(files)
        ids = json.dumps(links.ids).encode()
    with clock.on("keeping"):
        worker.kept.put(key, {**facts, "links": links.plain()}, {**files, IDS: ids, **(beside or {})})


def _scored(device: str, catalogue: PublishedCatalogue) -> dict[str, RecordResult]:
    """Return the results of a device's records, in the order of the catalogue, which is that of their ids."""
    tests = sorted(catalogue.tests_of(device), key=lambda test: test.id)
    return {test.id: score_record(test, catalogue) for test in tests}
