"""The whole site as bytes: pages, sheets, style and fonts."""

from __future__ import annotations

from collections.abc import Callable

from generator.presenting.page_views import Site
from generator.rendering.assets import shared_files
from generator.rendering.chart_files import chart_files
from generator.rendering.feeds import pages_for_programs
from generator.rendering.open_data import open_data
from generator.rendering.pages import page_markup
from generator.rendering.panels import panel_path, panel_script
from generator.rendering.still_canvas import LIGHT, NIGHT
from generator.rendering.stills import still_png
from generator.rendering.workers import rendered_sheets

Report = Callable[[int, int, str], None]
"""Called with how many files are done, of how many, and what was made last."""


def _pages(site: Site) -> list[tuple[str, str, object]]:
    """Return path, template and data of every page."""
    return [
        ("index.html", "index.html", site.index),
        *((page.head.path, "device.html", page) for page in site.devices),
        *((page.head.path, "record.html", page) for page in site.records),
        (site.methods_index.head.path, "methods_index.html", site.methods_index),
        *((page.head.path, "method.html", page) for page in site.methods),
        *((page.head.path, "traced_log.html", page) for page in (site.traced_log,) if page is not None),
        (site.requirements.head.path, "requirements.html", site.requirements),
        (site.caution_rules.head.path, "caution_rules.html", site.caution_rules),
        (site.about.head.path, "about.html", site.about),
        (site.data_page.head.path, "data.html", site.data_page),
        (site.reading.head.path, "reading.html", site.reading),
        (site.glossary.head.path, "glossary.html", site.glossary),
        (site.instruments_index.head.path, "instruments.html", site.instruments_index),
        *((page.head.path, "instrument.html", page) for page in site.instruments),
        (site.comparisons_index.head.path, "comparisons_index.html", site.comparisons_index),
        *((page.head.path, "comparison.html", page) for page in site.comparisons),
        (site.comparing.head.path, "compare.html", site.comparing),
    ]


def render_site(site: Site, report: Report, workers: int = 1) -> dict[str, bytes]:
    """Return every file of the site by its path relative to the site's root, sheets set by so many processes.

    Raises
    ------
    GeneratorFailed
        A page or sheet could not be made as it should be.
    """
    pages = _pages(site)
    papers = (*site.sheets, *site.papers)
    pictures = [
        (path, still, palette)
        for still in site.stills
        for path, palette in ((still.light_path, LIGHT), (still.dark_path, NIGHT))
    ]
    total = len(pages) + len(pictures) + len(papers)
    made = shared_files()
    made |= open_data(site.data, site.pictures)
    made |= chart_files((path, page) for path, _, page in pages)
    made |= {picture.path: picture.content for picture in site.pictures}
    made |= {panel_path(panel.id): panel_script(panel) for panel in site.comparing.panels}
    done = 0
    for path, template, page in pages:
        made[path] = page_markup(template, page, site.letterhead).encode()
        done += 1
        report(done, total, path)
    made |= pages_for_programs(site, [path for path, _, _ in pages])
    for path, still, palette in pictures:
        made[path] = still_png(still, palette)
        done += 1
        report(done, total, path)
    jobs = [
        (paper, site.letterhead, {item.name: made[f"records/{item.name}"] for item in paper.attached})
        for paper in papers
    ]
    for paper, pdf in zip(papers, rendered_sheets(jobs, workers), strict=True):
        made[paper.path] = pdf
        done += 1
        report(done, total, paper.path)
    return made
