"""First uses of the glossary's words on rendered pages: in sentences alone, once on a page, never on paper."""

from __future__ import annotations

from typing import Any

import pytest
from lxml import html

from generator.presenting.page_views import Site
from generator.rendering.pages import page_markup
from tests.presenting.small_sites import a_whole_catalogue, shown
from tests.scoring.builders import a_device, a_run, a_session, a_test, readings


@pytest.fixture(scope="module")
def site() -> Site:
    test = a_test([a_session(readings(0, 4, 9), blower="high")], [a_run([17.0, 17.1])])
    device = a_device("loose_powered_hood", name="\u05d3\u05d5\u05e0\u05df hood")
    return shown(a_whole_catalogue(test, device=device))


def words_on(site: Site, template: str, page: object, paper: bool = False) -> list[Any]:
    markup = html.fromstring(page_markup(template, page, site.letterhead, paper))
    return list(markup.xpath('//*[self::main or self::section]//a[contains(@href, "glossary.html#")]'))


def test_each_word_is_linked_once_in_a_paragraph_and_in_no_heading_link_or_table(site: Site) -> None:
    for template, page in (("device.html", site.devices[0]), ("record.html", site.records[0])):
        links = words_on(site, template, page)
        places = [link.get("href") for link in links]
        assert "../glossary.html#fit-factor" in places
        assert len(places) == len(set(places))
        for link in links:
            parents = [parent.tag for parent in link.iterancestors()]
            assert "p" in parents
            assert not {"h1", "h2", "h3", "h4", "a", "table", "summary", "dt"} & set(parents)


def test_every_page_begins_anew(site: Site) -> None:
    once = page_markup("device.html", site.devices[0], site.letterhead)
    assert page_markup("device.html", site.devices[0], site.letterhead) == once


def test_paper_has_none(site: Site) -> None:
    assert words_on(site, "sheet.html", site.sheets[0], paper=True) == []


def test_a_page_outside_of_rendering_knows_no_words() -> None:
    from generator.rendering.pages import _used_on_page

    with pytest.raises(LookupError, match="used_on_page"):
        _used_on_page.get()
