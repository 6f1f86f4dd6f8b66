"""Has jobs done whose outcome is not kept yet, and says how far that is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

from generator.build.jobs import Job
from generator.build.timings import Timings
from generator.build.workers import Workers
from generator.publishing.kept_files import Kept, KeptFiles, KeptFileSpoiled

Report = Callable[[int, int, str], None]
"""Told how far the work is: steps done, steps in all (0 where that is not known), what is being done."""
AJob = TypeVar("AJob", bound=Job)


class Making:
    """The jobs of one build."""

    def __init__(
        self, kept: KeptFiles, crew: Workers, timings: Timings, report: Report, *, anew: bool, careful: bool
    ) -> None:
        """Take where outcomes are kept, who does jobs, and who is told.

        With `anew` nothing is taken that was kept before; with `careful`, what is taken is read as a whole first.
        """
        self.used: set[str] = set()
        self._kept = kept
        self._crew = crew
        self._timings = timings
        self._report = report
        self._found = (lambda key: None) if anew else kept.whole if careful else kept.get

    def outcomes(self, jobs: Iterable[AJob], what: str, later_seconds: float = 0.0) -> Iterator[tuple[AJob, Kept]]:
        """Give each job with its outcome, those that had been kept first. Jobs that take longest are begun first.

        For each that is missing, work of `later_seconds` [s] follows: the workers get ready for it meanwhile.

        Raises
        ------
        KeptFileSpoiled
            What a job kept is not there any more.
        """
        missing: list[AJob] = []
        there: list[tuple[AJob, Kept]] = []
        for job in jobs:
            entry = self._found(job.key)
            if entry is None:
                missing.append(job)
            else:
                there.append((job, entry))
                self._timings.taken[job.kind] += 1
        total, done = len(missing) + len(there), len(there)
        self._report(done, total, what)
        self.used.update(job.key for job, _ in there)
        yield from there
        self._crew.begin_for(later_seconds * len(missing))
        missing.sort(key=lambda job: -job.expected_seconds)
        for job, outcome in self._crew.done(missing):
            done += 1
            self._timings.add(job.kind, outcome.seconds, outcome.memory_mib)
            entry = self._kept.get(job.key)
            if entry is None:
                raise KeptFileSpoiled(job.key)
            self.used.add(job.key)
            self._report(done, total, job.about)
            yield job, entry
