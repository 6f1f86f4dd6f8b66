"""What belongs to the catalogue as a whole: its pages and papers as jobs, and the files that need no job."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import partial

from generator.build.canonical import digest_of
from generator.build.jobs import ViewJob
from generator.presenting.method_pages import present_method
from generator.presenting.page_views import Site
from generator.presenting.presented import Presented
from generator.rendering.data_package import PublishedLog
from generator.rendering.open_data import catalogue_files
from generator.rendering.whole_site import pages_of_a_kind, single_pages, with_files_of_the_whole

_ELSEWHERE = ("device.html", "record.html", "method.html")
"""Templates whose pages are made from other things than what is presented of the whole."""


def view_jobs(site: Site, tool: str) -> Iterator[ViewJob]:
    """Yield what makes the pages and papers that belong to no single device."""

    def job(path: str, template: str, *made_of: object, present: Callable[[], object], with_charts: bool) -> ViewJob:
        key = digest_of("view", tool, path, template, made_of, site.letterhead, with_charts)
        return ViewJob(key, path, template, present, site.letterhead, with_charts, len(site.data.catalogue.devices))

    for path, present in site.papers.presenters.items():
        paper = present()
        yield job(path, paper.template, paper, present=partial(_itself, paper), with_charts=False)
    for method in site.data.catalogue.methods.values():
        # Presented by its job: to work out its checks takes longer than to say what they are made of.
        uses = site.uses.get(method.id)
        present_it = partial(present_method, method, uses)
        yield job(f"methods/{method.id}.html", "method.html", method, uses, present=present_it, with_charts=True)
    for template, pages in pages_of_a_kind(site):
        if template not in _ELSEWHERE:
            for path, present in pages.presenters.items():
                view = present()
                yield job(path, template, view, present=partial(_itself, view), with_charts=True)
    # Panels are files of devices; the page that loads them is made without.
    without_panels = replace(site, comparing=replace(site.comparing, panels=Presented({})))
    for path, template, view in single_pages(without_panels):
        yield job(path, template, view, present=partial(_itself, view), with_charts=False)


def _itself(view: object) -> object:
    return view


def files_without_a_job(
    site: Site, logs: Mapping[str, PublishedLog], rows_of: Callable[[str, str], bytes]
) -> dict[str, bytes]:
    """Return what is written without being kept: shared files, tables of all records, feeds, pictures."""
    return with_files_of_the_whole(catalogue_files(site.data, site.pictures, logs, rows_of), site)
