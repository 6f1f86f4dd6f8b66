"""What tests of verifying share: a copy of a module's site that may be tampered with."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.rendering import whole_site
from tests.publishing_process import set_once


@pytest.fixture(scope="package", autouse=True)
def each_paper_set_once() -> Iterator[None]:
    """Set each paper once for all tests of verifying: that it comes out the same is tested elsewhere."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(whole_site, "render_sheet", set_once)
        yield


@pytest.fixture
def copy(site: Path, tmp_path: Path) -> Path:
    """A copy of the site that the test's module publishes once."""
    shutil.copytree(site, tmp_path / "output")
    return tmp_path / "output"
