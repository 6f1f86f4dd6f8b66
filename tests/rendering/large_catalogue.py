"""Sets the catalogue PDF of many invented devices in a process of its own, and prints what that took, as JSON.

    python -m tests.rendering.large_catalogue 1000

The rows are made as reader's data: scoring thousands of records would measure something else.
"""

from __future__ import annotations

import io
import json
import re
import sys
import time
from dataclasses import replace
from pathlib import Path

import pypdf

from generator.model.device import DeviceKind
from generator.presenting.catalogue_paper import catalogue_paper
from generator.presenting.comparison_views import CatalogueGroup, CataloguePaper, CatalogueRow
from generator.presenting.page_parts import Letterhead
from generator.presenting.views import Link
from generator.rendering.sheets import render_sheet
from tests.presenting.small_sites import a_whole_catalogue, context_of, shown
from tests.scoring.builders import a_session, a_test, readings

ADDRESS = "devices/invented"
MAKERS = ("Quernhollow Works", "Tarnwhistle Makers", "sewing circle of the Pellinquay Tool Library", "Hobblestone")
CAUTIONS = (
    "four cautions: This device delivered less air than custom asks of its kind.",
    "two cautions: At least one wearer did not reach the fit-test pass level with…",
    "one caution: Not every attempt was completed.",
    "no cautions",
)


def most_memory() -> float:
    """Return the most memory that this process has held. [MiB]

    Not by getrusage: its figure begins with what the parent held when it started this process.
    """
    held = re.search(r"^VmHWM:\s+(\d+) kB$", Path("/proc/self/status").read_text(encoding="ascii"), re.MULTILINE)
    assert held is not None
    return int(held[1]) / 1024


def a_large_paper(devices: int) -> tuple[CataloguePaper, Letterhead]:
    """Return a catalogue on paper with so many rows, of every kind in turn, and its letterhead."""
    catalogue = a_whole_catalogue(a_test([a_session(readings(3, 4, 9))]))
    site = shown(catalogue)
    paper = catalogue_paper(site.index, context_of(catalogue))
    kinds = list(DeviceKind)
    columns = paper.groups[0].columns
    groups = []
    for place, kind in enumerate(kinds):
        numbers = range(place, devices, len(kinds))
        rows = tuple(_row(number, kind.powered) for number in numbers)
        levels = (
            "Fit-test pass level, full facepieces: at least 500. Source: 29 CFR 1910.134 (United States), amended by "
            "84 FR 50739 of 26 September 2019, (f)(7); Appendix A Part I.C (seen in a secondary source).",
        )
        groups.append(CatalogueGroup(kind.heading, kind.value.replace("_", "-"), levels, columns, rows))
    contents = tuple(Link(group.heading, f"#{group.anchor}") for group in groups)
    return replace(paper, groups=tuple(groups), contents=(*contents, *paper.contents[-3:])), site.letterhead


def _row(number: int, powered: bool) -> CatalogueRow:
    name = f"Invented Device {number}"
    href = f"{ADDRESS}-{number}.html"
    state = "; with the blower at high; one other state" if powered else ""
    flow = "16.95 L/min: does not meet the requirement" if powered else "no blower"
    return CatalogueRow(
        link=Link(name, href),
        about=MAKERS[number % len(MAKERS)],
        address=href,
        worn="four wearers, seven donnings",
        fit=f"{number + 1} to {number + 120}{state}",
        flow=flow,
        cautions=CAUTIONS[number % len(CAUTIONS)],
    )


def main() -> None:
    """Set it, and print pages, time and the most memory that the process ever held."""
    paper, letterhead = a_large_paper(int(sys.argv[1]))
    started, worked = time.perf_counter(), time.process_time()
    pdf = render_sheet(paper, letterhead, {})
    seconds, processor_seconds = time.perf_counter() - started, time.process_time() - worked
    pages = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]
    sys.stdout.write(
        json.dumps(
            {
                "pages": len(pages),
                "seconds": seconds,
                "processor_seconds": processor_seconds,
                "megabytes": most_memory(),
                "rows": sum(" ".join(text.split()).count("Invented Device ") for text in pages),
                "end": " ".join(pages[-1].split())[-250:],
            }
        )
    )


if __name__ == "__main__":
    main()
