"""The same records give the same bytes, PDFs included, whoever publishes them, where and when: `diff -r` is silent."""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from tests.conftest import ROOT, copy_small, copy_some

SOME_DEVICES = ("gorseback-half", "sandmartin-fold", "tansy-fold")
STRANGE_NAME = "eine sehr lange Mappe, mit Leerzeichen & Umläuten – " + "ж" * 60
ANOTHER_USER = (
    "setpriv",
    "--reuid=65534",
    "--regid=65534",
    "--clear-groups",
    "--inh-caps=-all,+dac_read_search",
    "--ambient-caps=-all,+dac_read_search",
    "--bounding-set=-all,+dac_read_search",
)
"""Nobody, who may read wherever the interpreter lies, and write nowhere but where everyone may."""
ANOTHER_MASK = ("sh", "-c", 'umask 077; exec "$@"', "sh")
ANOTHER_DAY = """
import datetime, sys, time
shift = 3_000 * 86_400 + 12_345
class Later(datetime.datetime):
    @classmethod
    def now(cls, tz=None):
        return super().now(tz) + datetime.timedelta(seconds=shift)
class Tomorrow(datetime.date):
    @classmethod
    def today(cls):
        return super().today() + datetime.timedelta(seconds=shift)
real = time.time
time.time = lambda: real() + shift
datetime.datetime, datetime.date = Later, Tomorrow
assert datetime.date.today().year != datetime.datetime.fromtimestamp(real()).year
from generator.command_line import main
main(sys.argv[1:])
"""


@dataclass(frozen=True)
class Circumstances:
    """What is not as usual."""

    environment: Mapping[str, str] = field(default_factory=dict)
    before: tuple[str, ...] = ()
    folder: str = "folder"
    code: tuple[str, ...] = ("-m", "generator")
    workers: int = 1


UNUSUAL = {
    "a zone far east, the plain locale, another hash seed": Circumstances(
        {
            "TZ": "Pacific/Kiritimati",
            "LC_ALL": "C",
            "LANG": "C",
            "PYTHONUTF8": "0",
            "PYTHONCOERCECLOCALE": "0",
            "PYTHONHASHSEED": "1",
        },
    ),
    "a zone far west, a locale of UTF-8, yet another hash seed, another user, two workers": Circumstances(
        {
            "TZ": "America/Adak",
            "LC_ALL": "C.UTF-8",
            "LANG": "C.UTF-8",
            "PYTHONHASHSEED": "4294967295",
            "HOME": "/nonexistent",
            "USER": "nobody",
            "LOGNAME": "nobody",
        },
        ANOTHER_USER,
        workers=2,
    ),
    "a locale that is not installed, a narrow terminal, another mask, a strange folder, another day": Circumstances(
        {"LC_ALL": "tr_TR.UTF-8", "LANG": "tr_TR.UTF-8", "COLUMNS": "40", "TERM": "dumb", "NO_COLOR": "1"},
        ANOTHER_MASK,
        STRANGE_NAME,
        ("-c", ANOTHER_DAY),
    ),
}
"""What stands together changes different parts of a run, of which none can undo what another does to the bytes."""
ALL_AT_ONCE = Circumstances(
    {"TZ": "Pacific/Kiritimati", "LC_ALL": "C", "PYTHONHASHSEED": "7", "HOME": "/nonexistent", "USER": "nobody"},
    (*ANOTHER_MASK, *ANOTHER_USER),
    STRANGE_NAME,
    ("-c", ANOTHER_DAY),
)
"""By one worker, where what it is held against has two: a class put in the place of `datetime.date` cannot be sent."""


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that other users may enter, unlike those that pytest gives."""
    folder = Path(tempfile.mkdtemp(prefix="inward-anywhere-"))
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def published(records: Path, place: Path, circumstances: Circumstances) -> Path:
    """Publish records in a folder of their own under circumstances of their own; return the site."""
    folder = place / circumstances.folder
    for name in ("", "published", "cache"):
        (folder / name).mkdir(parents=True, exist_ok=True)
        (folder / name).chmod(0o777)
    shutil.copytree(records, folder / "records")
    output = folder / "published" / "output"
    child = subprocess.run(
        [
            *circumstances.before,
            sys.executable,
            *circumstances.code,
            "publish",
            "--records",
            str(folder / "records"),
            "--output",
            str(output),
            "--workers",
            str(circumstances.workers),
        ],
        env=os.environ
        | {"PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(folder / "cache")}
        | dict(circumstances.environment),
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )
    assert child.returncode == 0, child.stderr
    return output


def differences(one: Path, other: Path) -> str:
    return subprocess.run(["diff", "-r", str(one), str(other)], capture_output=True, text=True, check=False).stdout


def modes(site: Path) -> dict[str, str]:
    return {str(path.relative_to(site)): oct(path.stat().st_mode) for path in (site, *site.rglob("*"))}


@pytest.fixture(scope="module")
def usual(tmp_path_factory: pytest.TempPathFactory, demo_records: Path) -> tuple[Path, Path]:
    """The small records, and their site as it usually comes out."""
    folder = tmp_path_factory.mktemp("usual")
    records = copy_small(demo_records, folder / "small")
    return records, published(records, folder, Circumstances())


@pytest.mark.parametrize("circumstances", UNUSUAL.values(), ids=list(UNUSUAL))
def test_the_small_catalogue(usual: tuple[Path, Path], open_folder: Path, circumstances: Circumstances) -> None:
    records, site = usual
    other = published(records, open_folder, circumstances)
    assert differences(site, other) == ""
    assert modes(site) == modes(other)


def test_some_devices_of_the_demo_under_all_circumstances_at_once(
    demo_records: Path, tmp_path: Path, open_folder: Path
) -> None:
    records = copy_some(demo_records, tmp_path / "some", SOME_DEVICES)
    usual = published(records, tmp_path, Circumstances(workers=2))
    other = published(records, open_folder, ALL_AT_ONCE)
    assert differences(usual, other) == ""
    assert modes(usual) == modes(other)
    assert len(list(other.rglob("*.pdf"))) >= 4


def test_a_difference_is_seen(usual: tuple[Path, Path], tmp_path: Path) -> None:
    other = shutil.copytree(usual[1], tmp_path / "site")
    page = other / "index.html"
    page.write_bytes(page.read_bytes().replace(b"</h1>", b" </h1>"))
    assert f"diff -r {usual[1]}/index.html {page}" in differences(usual[1], other)
