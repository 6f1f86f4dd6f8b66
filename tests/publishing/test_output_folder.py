"""The swap: whatever happens, the output folder holds the old site or the new one, and nothing is left beside it."""

import fcntl
import json
import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from generator.errors import BrokenLink, PublishFailed, WrongUsage
from generator.publishing import output_folder, publish
from generator.publishing.exchange import exchange
from generator.publishing.failpoint import EXIT_CODE, VARIABLE
from generator.publishing.output_folder import MARK, OutputFolder

OLD = {"index.html": b"<p>old</p>", "only-old/page.html": b"<p>gone later</p>"}
NEW = {"index.html": b"<p>new</p>", "only-new/page.html": b"<p>fresh</p>", "b.txt": b"b"}
Contents = dict[str, bytes]

CHILD = """
import json, sys
from pathlib import Path
from generator.publishing import output_folder
if sys.argv[3] == "renames":
    output_folder.exchange = lambda one, other: False
files = {path: text.encode() for path, text in json.loads(sys.argv[2]).items()}
output_folder.OutputFolder(Path(sys.argv[1])).replace_with(files)
"""


def contents(folder: Path) -> Contents:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and path.name != MARK
    }


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def no_exchange(one: Path, other: Path) -> bool:
    """Stand in for a system that cannot exchange two folders."""
    return False


@pytest.fixture(params=["exchange", "renames"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Run the test on both ways of swapping."""
    if request.param == "renames":
        monkeypatch.setattr(output_folder, "exchange", no_exchange)
    return str(request.param)


@pytest.fixture
def output(tmp_path: Path) -> Path:
    """A folder to publish into, in a folder that holds nothing else."""
    return tmp_path / "output"


def test_a_new_folder_is_published(output: Path, way: str) -> None:
    publish(NEW, output)
    assert contents(output) == NEW
    assert names_in(output.parent) == ["output"]


def test_the_old_site_is_replaced_as_a_whole(output: Path, way: str) -> None:
    publish(OLD, output)
    publish(NEW, output)
    assert contents(output) == NEW
    assert names_in(output.parent) == ["output"]


def test_an_empty_folder_may_be_published_into(output: Path, way: str) -> None:
    output.mkdir()
    publish(NEW, output)
    assert contents(output) == NEW


def test_this_system_exchanges_two_folders(tmp_path: Path) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    one.mkdir()
    other.mkdir()
    (one / "a").touch()
    assert exchange(one, other)
    assert names_in(other) == ["a"]
    assert names_in(one) == []


def test_exchange_says_when_the_system_refuses(tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    with pytest.raises(FileNotFoundError, match="No such file"):
        exchange(tmp_path / "one", tmp_path / "missing")


def test_a_folder_with_other_files_is_never_replaced(output: Path) -> None:
    output.mkdir()
    (output / "thesis.txt").write_text("ten years of work")
    with pytest.raises(WrongUsage, match=r"holds files that `inward publish` did not write"):
        publish(NEW, output)
    assert contents(output) == {"thesis.txt": b"ten years of work"}
    assert names_in(output.parent) == ["output"]


def test_a_file_is_never_replaced(output: Path) -> None:
    output.write_text("x")
    with pytest.raises(WrongUsage, match="is a file, and a folder is to be published"):
        publish(NEW, output)


def test_a_symbolic_link_is_refused(output: Path) -> None:
    (output.parent / "elsewhere").mkdir()
    output.symlink_to("elsewhere")
    with pytest.raises(WrongUsage, match="is a symbolic link"):
        publish(NEW, output)


def test_a_missing_parent_is_refused(tmp_path: Path) -> None:
    with pytest.raises(WrongUsage, match=r"does not exist, so output cannot be put into it"):
        publish(NEW, tmp_path / "missing" / "output")


def test_a_second_publish_at_the_same_time_is_refused(output: Path) -> None:
    publish(OLD, output)
    descriptor = os.open(output.parent, os.O_RDONLY)
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX)
        with pytest.raises(PublishFailed, match="another `inward publish` is writing into"):
            publish(NEW, output)
    finally:
        os.close(descriptor)
    assert contents(output) == OLD
    publish(NEW, output)
    assert contents(output) == NEW


def test_a_broken_link_leaves_the_old_site(output: Path) -> None:
    publish(OLD, output)
    with pytest.raises(BrokenLink, match=r"there is no file gone\.html"):
        publish({"index.html": b'<a href="gone.html">'}, output)
    assert contents(output) == OLD


def fail_on(monkeypatch: pytest.MonkeyPatch, method: str, when: Callable[[Path], bool]) -> None:
    """Let a method of Path fail as on a full disk where `when` says so."""
    real = getattr(Path, method)

    def failing(self: Path, *arguments: object) -> object:
        if when(self):
            raise OSError(28, "No space left on device", str(self))
        return real(self, *arguments)

    monkeypatch.setattr(Path, method, failing)


def test_a_full_disk_leaves_the_old_site_and_no_strays(output: Path, way: str, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(OLD, output)
    fail_on(monkeypatch, "write_bytes", lambda path: path.name == "page.html")
    with pytest.raises(PublishFailed, match=r"refused to write .*output: No space left on device .*page\.html"):
        publish(NEW, output)
    assert contents(output) == OLD
    assert names_in(output.parent) == ["output"]


def test_a_refused_second_rename_brings_the_old_site_back(output: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(OLD, output)
    monkeypatch.setattr(output_folder, "exchange", no_exchange)
    fail_on(monkeypatch, "rename", lambda path: path.name == ".output.fresh")
    with pytest.raises(PublishFailed, match="refused to write"):
        publish(NEW, output)
    assert contents(output) == OLD


def test_an_old_site_that_cannot_be_removed_is_named(output: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(OLD, output)

    def refuse(folder: Path) -> None:
        raise PermissionError(13, "Permission denied", str(folder))

    monkeypatch.setattr("generator.publishing.output_folder.shutil.rmtree", refuse)
    with pytest.raises(PublishFailed, match=r"the new site is in place, but the old one, .*\.output\.fresh, could not"):
        publish(NEW, output)
    assert contents(output) == NEW


def run_child(output: Path, files: Mapping[str, bytes], way: str, place: str) -> int:
    texts = json.dumps({path: content.decode() for path, content in files.items()})
    child = subprocess.run(
        [sys.executable, "-c", CHILD, str(output), texts, way], env=os.environ | {VARIABLE: place}, check=False
    )
    return child.returncode


@pytest.mark.parametrize("swap", ["exchange", "renames"])
@pytest.mark.parametrize("place", ["during-write", "before-swap", "during-swap", "after-swap"])
def test_a_publish_that_dies_leaves_old_or_new_and_the_next_one_tidies(output: Path, swap: str, place: str) -> None:
    publish(OLD, output)
    assert run_child(output, NEW, swap, place) == EXIT_CODE
    if (swap, place) == ("renames", "during-swap"):
        # The one moment that two renames cannot cover: the old site lies whole beside, and is brought back first.
        assert not output.exists()
    else:
        assert contents(output) == (OLD if place in ("during-write", "before-swap") else NEW)

    OutputFolder(output).prepare()
    assert contents(output) in (OLD, NEW)
    assert names_in(output.parent) == ["output"]
    assert run_child(output, NEW, swap, "") == 0
    assert contents(output) == NEW
    assert names_in(output.parent) == ["output"]


def test_prepare_refuses_what_publish_would_refuse(output: Path) -> None:
    output.write_text("x")
    with pytest.raises(WrongUsage, match="is a file"):
        OutputFolder(output).prepare()


def test_prepare_removes_the_old_site_of_two_renames_that_were_done(output: Path) -> None:
    publish(NEW, output)
    previous = output.parent / ".output.previous"
    previous.mkdir()
    (previous / "index.html").write_bytes(b"old")
    OutputFolder(output).prepare()
    assert contents(output) == NEW
    assert names_in(output.parent) == ["output"]


def test_the_mark_says_what_the_folder_is(output: Path) -> None:
    publish(NEW, output)
    assert b"inward publish" in (output / MARK).read_bytes()
