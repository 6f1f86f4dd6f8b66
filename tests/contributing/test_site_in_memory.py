"""A site in memory holds what is published, byte for byte, and presents no page that is not asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.contributing.site_in_memory import SiteInMemory
from generator.model.catalogue import Catalogue
from generator.model.catalogue_result import CatalogueResult
from generator.model.device import Device
from generator.model.published import published
from generator.presenting import pages_of_devices, whole_site
from generator.presenting.context import Context
from generator.presenting.device_page import present_device_page
from generator.presenting.page_views import DevicePage
from generator.publishing.output_folder import MARK
from generator.rendering.whole_site import render_site
from generator.scoring.catalogue import score_catalogue
from tests.presenting.small_sites import a_whole_catalogue, given
from tests.scoring.builders import a_test


def test_every_file_is_the_one_that_is_published() -> None:
    catalogue = published(a_whole_catalogue(a_test([given(200)])))
    result = score_catalogue(catalogue)
    files = render_site(whole_site.present(catalogue, result), lambda done, total, what: None)
    site = SiteInMemory(catalogue, result)
    assert {path: site.file(path) for path in site.paths()} == files
    assert site.file("devices/nothing.html") is None


def test_the_demo_has_the_files_that_are_published(demo: Catalogue, scored: CatalogueResult, demo_site: Path) -> None:
    folder = {path.relative_to(demo_site).as_posix() for path in demo_site.rglob("*") if path.is_file()}
    assert SiteInMemory(published(demo), scored).paths() == folder - {MARK}


def test_only_the_page_that_is_asked_for_is_presented(
    demo: Catalogue, scored: CatalogueResult, monkeypatch: pytest.MonkeyPatch
) -> None:
    presented: list[str] = []

    def noted(device: Device, context: Context) -> DevicePage:
        presented.append(device.id)
        return present_device_page(device, context)

    monkeypatch.setattr(pages_of_devices, "present_device_page", noted)
    site = SiteInMemory(published(demo), scored)
    assert presented == []
    assert site.file("devices/patchwork-cover.html") is not None
    assert site.file("devices/patchwork-cover.html") is not None
    assert presented == ["patchwork-cover"]


def test_pages_stand_where_their_heads_say(demo: Catalogue, scored: CatalogueResult) -> None:
    site = whole_site.present(published(demo), scored)
    for pages in (site.devices, site.records, site.methods, site.instruments, site.comparisons):
        assert [page.head.path for page in pages] == list(pages.presenters)
    for papers in (site.sheets, site.papers):
        assert [paper.path for paper in papers] == list(papers.presenters)
    assert site.devices[0:2] == (site.devices[0], site.devices[1])
