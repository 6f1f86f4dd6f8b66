"""Every number in a working leads to the place where it stands, in the demo as published."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from lxml import html

from generator.loading import load_catalogue
from generator.model.result import Figure, Working
from generator.presenting.context import Context
from tests.presenting.small_sites import a_whole_catalogue, context_of

SHOWN_NOWHERE = {
    # A constant of the method; the method's page names it.
    "fixed here",
}
DERIVED = re.compile(r"^mean of ")
"""A mean shows at once what it was formed from, and each of these leads on."""


def places(working: Working) -> Iterator[tuple[str, bool]]:
    """Return each place a working names, and whether the number there has a working of its own."""
    for item in working.inputs:
        yield item.where, item.working is not None
        if item.working is not None:
            yield from places(item.working)


def places_of(figure: Figure) -> Iterator[tuple[str, bool]]:
    for working in (figure.working, figure.interval.working if figure.interval is not None else None):
        if working is not None:
            yield from places(working)


@pytest.fixture(scope="module")
def demo(demo_records: Path) -> Context:
    catalogue = load_catalogue(demo_records).catalogue
    assert catalogue is not None
    return context_of(catalogue)


@pytest.fixture(scope="module")
def ids(demo_site: Path) -> dict[str, set[str]]:
    """The ids of every page, by the page's path."""
    return {
        str(path.relative_to(demo_site)): set(html.fromstring(path.read_bytes()).xpath("//@id"))
        for path in demo_site.rglob("*.html")
    }


def test_every_number_of_the_demo_leads_to_where_it_stands(demo: Context, ids: dict[str, set[str]]) -> None:
    followed = 0
    for record, result in demo.result.records.items():
        figures = [figure for topic in result.topics.values() for figure in topic.figures]
        for where, derived in {place for figure in figures for place in places_of(figure)}:
            href = demo.where_href(record, where)
            if href is None:
                assert where in SHOWN_NOWHERE or (derived and DERIVED.match(where)), where
                continue
            page, _, fragment = href.partition("#")
            assert fragment in ids[page], where
            followed += 1
    assert followed > 500


@pytest.mark.parametrize(
    ("where", "href"),
    [
        ("fit[am].exercises[talking].in_mask", "records/r.html#fit.am"),
        (
            "fit[am].exercises[talking].ambient_before and fit[am].exercises[talking].ambient_after",
            "records/r.html#fit.am",
        ),
        ("fit[am].exercises[talking]: fit.am.talking", "records/r.html#working.fit.am.talking"),
        ("fit[am]: fit.am.overall", "records/r.html#working.fit.am.overall"),
        ("fit[am].log: 60 in-mask, talking samples from 345 s to 404 s", "records/r.html#fit.am"),
        ("flow[low-fresh].readings.values[2]", "records/r.html#flow.low-fresh"),
        ("flow[low-fresh]: flow.low-fresh.sd", "records/r.html#working.flow.low-fresh.sd"),
        ("instruments/meter: calibration of 2025-01-01.k", "records/r.html#instruments"),
        ("environment.pressure", "records/r.html#record"),
        ("pressure_drops[new-filter].points", "records/r.html#filter-drops.new-filter"),
        (
            "pressure_drops[new-filter]: filter.new-filter.resistance",
            "records/r.html#working.filter.new-filter.resistance",
        ),
        ("filter_test.penetrations[salt].penetration", "records/r.html#filter-penetrations.salt"),
        ("filter_test.loading[dust].log", "records/r.html#filter-loading.dust"),
        ("filter_test.media_area", "records/r.html#filter-medium"),
        ("devices/hood: media_area of its filter", "devices/hood.html#device"),
        ("reference/criteria: supply-flow-loose-fitting", "requirements.html#supply-flow-loose-fitting"),
        ("mean of fit[am].ambient_before and fit[am].ambient_after", None),
        ("hood.volume", "records/r.html#breathing.hood"),
        ("reference/work_levels.yaml: light", "requirements.html#work-level-light"),
        ("fixed here", None),
    ],
)
def test_each_form_of_place(where: str, href: str | None) -> None:
    assert context_of(a_whole_catalogue()).where_href("r", where) == href
