"""What tests of verifying share: a copy of a module's site that may be tampered with."""

import shutil
from pathlib import Path

import pytest


@pytest.fixture
def copy(site: Path, tmp_path: Path) -> Path:
    """A copy of the site that the test's module publishes once."""
    shutil.copytree(site, tmp_path / "output")
    return tmp_path / "output"
