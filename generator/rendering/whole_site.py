"""The whole site as bytes: pages, sheets, style and fonts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import AbstractContextManager
from functools import partial
from typing import Any

from generator.presenting.page_parts import Letterhead, Paper
from generator.presenting.page_views import OpenData, Site
from generator.presenting.pages_of_devices import PagesOfDevices
from generator.presenting.panel_views import Panel
from generator.presenting.presented import Presented
from generator.presenting.still_views import Still
from generator.rendering.assets import shared_files
from generator.rendering.chart_files import chart_files
from generator.rendering.feeds import pages_for_programs
from generator.rendering.open_data import open_data, published_logs, record_files
from generator.rendering.pages import page_markup
from generator.rendering.panels import panel_script
from generator.rendering.sheets import render_sheet
from generator.rendering.still_canvas import LIGHT, NIGHT
from generator.rendering.stills import still_png

Report = Callable[[int, int, str], None]
"""Called with how many files are done, of how many, and what was made last."""
Timed = Callable[[str], AbstractContextManager[None]]
"""Called with what is about to be done, it gives what times that."""


def single_pages(site: Site) -> list[tuple[str, str, object]]:
    """Return path, template and data of the pages of which there is one."""
    return [
        ("index.html", "index.html", site.index),
        (site.methods_index.head.path, "methods_index.html", site.methods_index),
        *((page.head.path, "traced_log.html", page) for page in (site.traced_log,) if page is not None),
        (site.requirements.head.path, "requirements.html", site.requirements),
        (site.caution_rules.head.path, "caution_rules.html", site.caution_rules),
        (site.corrections.head.path, "corrections.html", site.corrections),
        (site.about.head.path, "about.html", site.about),
        (site.data_page.head.path, "data.html", site.data_page),
        (site.reading.head.path, "reading.html", site.reading),
        (site.glossary.head.path, "glossary.html", site.glossary),
        (site.instruments_index.head.path, "instruments.html", site.instruments_index),
        (site.comparisons_index.head.path, "comparisons_index.html", site.comparisons_index),
        (site.comparing.head.path, "compare.html", site.comparing),
    ]


def pages_of_a_kind(site: Site) -> list[tuple[str, Presented[Any]]]:
    """Return template and pages of each kind of which there are many."""
    return [
        ("device.html", site.devices),
        ("record.html", site.records),
        ("method.html", site.methods),
        ("instrument.html", site.instruments),
        ("comparison.html", site.comparisons),
    ]


def page_makers(site: Site) -> dict[str, Callable[[], bytes]]:
    """Return for each page's path what presents and renders it, so that one page can be had without the others."""

    def made(template: str, presenter: Callable[[], object]) -> bytes:
        return page_markup(template, presenter(), site.letterhead).encode()

    def itself(page: object) -> object:
        return page

    pages: list[tuple[str, str, Callable[[], object]]] = [
        (path, template, partial(itself, page)) for path, template, page in single_pages(site)
    ]
    for template, kind in pages_of_a_kind(site):
        pages += [(path, template, presenter) for path, presenter in kind.presenters.items()]
    return {path: partial(made, template, presenter) for path, template, presenter in pages}


def panel_makers(site: Site) -> dict[str, Callable[[], bytes]]:
    """Return for the path of each device's panel what presents and renders it."""

    def made(presenter: Callable[[], Panel]) -> bytes:
        return panel_script(presenter())

    return {path: partial(made, presenter) for path, presenter in site.comparing.panels.presenters.items()}


def page_files(
    path: str, template: str, page: object, letterhead: Letterhead, *, with_charts: bool = True
) -> dict[str, bytes]:
    """Return a page and, where they are files of their own, the numbers of its charts, by their paths."""
    charts = chart_files([(path, page)]) if with_charts else {}
    return {path: page_markup(template, page, letterhead).encode()} | charts


def paper_files(paper: Paper, letterhead: Letterhead) -> dict[str, bytes]:
    """Return a paper that encloses no records, by its path."""
    return {paper.path: render_sheet(paper, letterhead, {})}


def files_of_devices(
    of: PagesOfDevices, letterhead: Letterhead, data: OpenData, timed: Timed, *, with_sheets: bool = True
) -> dict[str, bytes]:
    """Return every file that belongs to some devices and no others, by its path.

    `data` is of the part of the catalogue that holds these devices. Into what the time goes is told by `timed`.
    """
    made: dict[str, bytes] = {}
    tests = [data.catalogue.device_tests[record.id] for record in of.records]
    with timed("presenting"):
        pages: list[tuple[str, str, object]] = [(page.head.path, "device.html", page) for page in of.pages]
        pages += [(record.head.path, "record.html", record) for record in of.records]
        panels = dict(zip(of.panels.presenters, of.panels, strict=True))
        sheets = tuple(of.sheets)
    with timed("pages"):
        for path, template, page in pages:
            made |= page_files(path, template, page, letterhead)
    with timed("panels"):
        made |= {path: panel_script(panel) for path, panel in panels.items()}
    with timed("data"):
        for test in tests:
            made |= record_files(test, data)
        made |= {f"data/{name}": content for name, content in published_logs(data).items()}
    with timed("stills"):
        made |= still_files(of.stills)
    with timed("sheets"):
        for sheet in sheets if with_sheets else ():
            made[sheet.path] = render_sheet(*sheet_job(sheet, letterhead, made))
    return made


def still_files(stills: Iterable[Still]) -> dict[str, bytes]:
    """Return stills for video, light and dark, by their paths."""
    pictures = [
        (path, still, palette)
        for still in stills
        for path, palette in ((still.light_path, LIGHT), (still.dark_path, NIGHT))
    ]
    return {path: still_png(still, palette) for path, still, palette in pictures}


def files_of_charts(site: Site, page: str) -> dict[str, bytes]:
    """Return the files with the numbers of a page's charts, by path; none for a page that has no charts of its own."""
    found = (kind.at(page) for _, kind in pages_of_a_kind(site) if page in kind.presenters)
    return chart_files((page, each) for each in found)


def files_beside_pages(site: Site) -> dict[str, bytes]:
    """Return all files of the site that no page has to be presented for, by path."""
    return with_files_of_the_whole(open_data(site.data, site.pictures), site)


def with_files_of_the_whole(data: dict[str, bytes], site: Site) -> dict[str, bytes]:
    """Return data files with what else belongs to no page: shared files, what programs fetch, pictures."""
    made = shared_files() | data | pages_for_programs(site, list(page_makers(site)))
    return made | {picture.path: picture.content for picture in site.pictures}


def sheet_job(
    paper: Paper, letterhead: Letterhead, beside: Mapping[str, bytes]
) -> tuple[Paper, Letterhead, dict[str, bytes]]:
    """Return what a paper is set from; `beside` holds the published records that it encloses."""
    return paper, letterhead, {item.name: beside[f"records/{item.name}"] for item in paper.attached}


def render_site(site: Site, report: Report) -> dict[str, bytes]:
    """Return every file of the site by its path relative to the site's root, in this process and all at once.

    Raises
    ------
    GeneratorFailed
        A page or sheet could not be made as it should be.
    """
    makers = page_makers(site)
    papers = (*site.sheets, *site.papers)
    total = len(makers) + len(papers)
    made = files_beside_pages(site)
    made |= {path: make() for path, make in panel_makers(site).items()}
    done = 0
    for path, make in makers.items():
        made[path] = make()
        made |= files_of_charts(site, path)
        done += 1
        report(done, total, path)
    made |= still_files(site.stills)
    for paper in papers:
        made[paper.path] = render_sheet(*sheet_job(paper, site.letterhead, made))
        done += 1
        report(done, total, paper.path)
    return made
