"""A published catalogue in a folder that every user may enter."""

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.command_line import run
from tests.conftest import copy_small
from tests.faults.places import Place


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that other users may enter, unlike those that pytest gives."""
    folder = Path(tempfile.mkdtemp(prefix="inward-faults-"))
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


@pytest.fixture(scope="session")
def published_once(tmp_path_factory: pytest.TempPathFactory, demo_records: Path, own_cache_folder: Path) -> Place:
    """One device with its one test, published once in this process; only to be copied."""
    folder = tmp_path_factory.mktemp("published-once")
    made = Place(folder / "records", folder / "published" / "output")
    copy_small(demo_records, made.records)
    made.output.parent.mkdir()
    assert run(made.publishing) == 0
    return made


@pytest.fixture
def place(open_folder: Path, published_once: Place) -> Place:
    """A small catalogue, published; its records were changed since."""
    made = Place(open_folder / "records", open_folder / "published" / "output")
    shutil.copytree(published_once.records, made.records)
    shutil.copytree(published_once.output, made.output)
    made.change()
    return made
