"""What all tests share: no network, no unnoticed complaint of a library, and the demo published once per run."""

import fcntl
import logging
import os
import shutil
import signal
import socket
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from generator.model.catalogue import Catalogue
    from generator.model.catalogue_result import CatalogueResult

ROOT = Path(__file__).resolve().parent.parent
LOOPBACK = ("127.", "::1", "localhost")
SMALL_DEVICE = "patchwork-cover"
COMPLAINING_LIBRARIES = ("weasyprint", "fontTools", "matplotlib")
LONGEST_FIRST = (
    "tests/test_same_anywhere.py",
    "tests/rendering/test_hostile_records.py",
    "tests/test_interrupted_publish.py",
    "tests/faults/",
    "tests/build/",
    "tests/outside/",
    "tests/contributing/",
    "tests/test_",
)
"""Starts of the paths of test modules that take longest: begun last, one would keep a single worker busy at the end."""


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the modules that take longest; the rest stays as it was."""
    places = {start: place for place, start in enumerate(LONGEST_FIRST)}
    items.sort(
        key=lambda item: next((places[start] for start in LONGEST_FIRST if item.nodeid.startswith(start)), len(places))
    )


class NetworkRefused(Exception):
    """A test tried to reach another machine."""


def _heed_signals() -> None:
    """Heed the signals that a run in the background starts with ignored, and would hand on to its children."""
    signal.signal(signal.SIGINT, signal.default_int_handler)
    for number in (signal.SIGTERM, signal.SIGHUP):
        if signal.getsignal(number) is signal.SIG_IGN:
            signal.signal(number, signal.SIG_DFL)


_heed_signals()


@pytest.fixture(scope="session", autouse=True)
def no_network() -> Iterator[None]:
    """Let no test of this process reach another machine."""
    real = socket.socket.connect

    def connect(self: socket.socket, address: object) -> None:
        if self.family != socket.AF_UNIX and not str(address[0] if isinstance(address, tuple) else address).startswith(
            LOOPBACK
        ):
            raise NetworkRefused(f"a connection to {address}")
        real(self, address)  # type: ignore[arg-type]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "connect", connect)
        yield


class Complaints(logging.Handler):
    """Keeps what libraries log as warnings and errors, since they go on after them."""

    def __init__(self) -> None:
        """Start without any."""
        super().__init__(logging.WARNING)
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        """Keep one."""
        self.heard.append(f"{record.name}: {record.getMessage()}")


@pytest.fixture(autouse=True)
def complaints() -> Iterator[Complaints]:
    """Fail the test where the PDF, font or chart library complained; a test that expects it clears `heard`."""
    handler = Complaints()
    loggers = [logging.getLogger(name) for name in COMPLAINING_LIBRARIES]
    for logger in loggers:
        logger.addHandler(handler)
    yield handler
    for logger in loggers:
        logger.removeHandler(handler)
    assert handler.heard == []


@pytest.fixture(scope="session")
def shared_folder(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Path:
    """A folder that all workers of one run share."""
    base = tmp_path_factory.getbasetemp()
    return base if worker_id == "master" else base.parent


@pytest.fixture(scope="session", autouse=True)
def own_cache_folder(shared_folder: Path) -> Iterator[Path]:
    """Keep the caches of the run away from the user's."""
    folder = shared_folder / "cache"
    folder.mkdir(exist_ok=True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(folder))
        patch.delenv("MPLCONFIGDIR", raising=False)
        yield folder


@pytest.fixture(scope="session")
def demo_records() -> Path:
    """The records that come with the project; never to be changed by a test."""
    return ROOT / "records"


@pytest.fixture(scope="session")
def demo(demo_records: Path) -> "Catalogue":
    """The demo's records, loaded; they have no problem."""
    from generator.loading import load_catalogue

    loaded = load_catalogue(demo_records)
    assert [str(problem) for problem in loaded.problems] == []
    assert loaded.catalogue is not None
    return loaded.catalogue


@pytest.fixture(scope="session")
def scored(demo: "Catalogue") -> "CatalogueResult":
    """The demo's records, scored."""
    from generator.model.published import published
    from generator.scoring.catalogue import score_catalogue

    return score_catalogue(published(demo))


def copy_small(demo_records: Path, folder: Path) -> Path:
    """Copy the records of the demo that its one small device needs."""
    shutil.copytree(demo_records, folder, ignore=shutil.ignore_patterns("README.md", "logs", "pictures", "comparisons"))
    for path in [*folder.glob("devices/*.yaml"), *folder.glob("device_tests/*.yaml")]:
        if not path.name.startswith(SMALL_DEVICE):
            path.unlink()
    return folder


def copy_some(demo_records: Path, folder: Path, devices: tuple[str, ...]) -> Path:
    """Copy the records of some devices of the demo, with their logs and pictures: the whole demo takes minutes."""
    shutil.copytree(demo_records, folder, ignore=shutil.ignore_patterns("README.md", "comparisons"))
    for path in [*folder.glob("devices/*.yaml"), *folder.glob("device_tests/*.yaml")]:
        if not path.name.startswith(devices):
            path.unlink()
    told = "".join(path.read_text(encoding="utf-8") for path in folder.glob("device*/*.yaml"))
    for path in [*folder.glob("logs/*"), *folder.glob("pictures/*")]:
        if path.name not in told:
            path.unlink()
    return folder


@pytest.fixture
def small_records(demo_records: Path, tmp_path: Path) -> Path:
    """A records folder with one device and its one test, to be changed at will."""
    return copy_small(demo_records, tmp_path / "records")


@pytest.fixture(scope="session")
def demo_site(shared_folder: Path, own_cache_folder: Path, demo_records: Path) -> Path:
    """The demo, published once per run; never to be changed by a test."""
    from generator.build import Wishes, build

    folder = shared_folder / "demo"
    folder.mkdir(exist_ok=True)
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX)
        if not (folder / "site").exists():
            # Two levels, since publishing locks the folder that it writes into.
            (folder / "work").mkdir(exist_ok=True)
            # By two: the other workers of the run wait for it.
            build(demo_records, folder / "work" / "output", lambda done, total, what: None, Wishes(workers=2))
            (folder / "work" / "output").rename(folder / "site")
    finally:
        os.close(descriptor)
    return folder / "site"
