"""The first page of many invented devices, made as reader's data: scoring as many would measure something else."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from generator.model.device import DeviceKind
from generator.presenting.index_views import Choice, IndexGroup, IndexPage, IndexRow
from generator.presenting.page_parts import Letterhead
from generator.presenting.views import IndexCell, Link
from generator.rendering.assets import shared_files
from generator.rendering.pages import page_markup
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import a_device, a_run, a_session, a_test, readings

MAKERS = ("Quernhollow Works", "Tarnwhistle Makers", "Éclat d'Étang", "Hobblestone")
SUPPLIES = ("meets", "does-not-meet", "undecided")


def a_large_first_page(devices: int) -> tuple[IndexPage, Letterhead]:
    """Return a first page with so many rows, of every kind in turn, and its letterhead."""
    sessions = [a_session(readings(3, 4 + number, 9), id=f"s{number}", donning=number + 1) for number in range(4)]
    catalogue = a_whole_catalogue(
        a_test([session | {"blower": "high"} for session in sessions], [a_run([169.0, 171.0, 170.5])]),
        device=a_device("loose_powered_hood"),
    )
    site = shown(catalogue)
    (pattern,) = site.index.groups[0].rows
    kinds = list(DeviceKind)
    groups = tuple(
        IndexGroup(
            kind.heading,
            kind.slug,
            kind.powered,
            tuple(_row(pattern, number) for number in range(place, devices, len(kinds))),
        )
        for place, kind in enumerate(kinds)
    )
    filters = replace(
        site.index.filters,
        kinds=tuple(Choice(group.anchor, group.heading) for group in groups),
        supply=tuple(Choice(name, name) for name in SUPPLIES),
    )
    return replace(site.index, groups=groups, filters=filters), site.letterhead


def _row(pattern: IndexRow, number: int) -> IndexRow:
    identity = f"invented-{number}"
    # 379 has no divisor in common with 1000: the places run through all rows, in another order than the rows.
    data = dict(pattern.data) | {
        "device": identity,
        "supply": SUPPLIES[number % len(SUPPLIES)],
        "wearers": str(number % 12),
        "by-name": str(number),
        "by-fit": str(number * 379 % 1000),
    }
    return replace(
        pattern,
        id=identity,
        link=Link(f"Invented Device {number}", f"devices/{identity}.html"),
        maker=MAKERS[number % len(MAKERS)],
        cells=tuple(_cell(cell, identity) for cell in pattern.cells),
        data=tuple(data.items()),
    )


def _cell(cell: IndexCell, identity: str) -> IndexCell:
    return cell if cell.chart is None else replace(cell, chart=replace(cell.chart, id=f"fit-{identity}"))


def write_large_first_page(devices: int, folder: Path) -> Path:
    """Write the page, with the style sheet and scripts that it loads, and return where it is."""
    page, letterhead = a_large_first_page(devices)
    files = shared_files() | {"index.html": page_markup("index.html", page, letterhead).encode()}
    for path, content in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(content)
    return folder / "index.html"
