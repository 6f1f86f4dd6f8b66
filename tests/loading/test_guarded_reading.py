"""What is checked is what was opened: files that change, go away, or are not to be read."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.loading import load_catalogue
from generator.loading.guarded_reading import NotRead, kind_of, opened_folder, read_file
from tests.loading.example_records import REFERENCE, good_copy

FILE = "quill.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / FILE).write_bytes(b"0123456789")
    return tmp_path


def read(folder: Path, most: int = 100) -> bytes:
    with opened_folder(folder) as opened:
        return read_file(FILE, opened, most)


@pytest.mark.parametrize(("most", "length"), [(100, 10), (10, 10), (9, 10), (4, 5), (0, 1)])
def test_one_byte_more_than_the_limit_is_read_and_no_more(folder: Path, most: int, length: int) -> None:
    # source: by hand, the file has ten bytes
    assert len(read(folder, most)) == length


def exchanged(folder: Path) -> None:
    (folder / "other").write_bytes(b"0123456789")
    (folder / "other").replace(folder / FILE)


def linked(folder: Path) -> None:
    (folder / FILE).rename(folder / "other")
    (folder / FILE).symlink_to(folder / "other")


@pytest.mark.parametrize(
    "meanwhile",
    [
        lambda folder: (folder / FILE).write_bytes(b"012345678"),
        lambda folder: (folder / FILE).write_bytes(b"0123456789a"),
        lambda folder: os.utime(folder / FILE, ns=(1, 1)),
        lambda folder: (folder / FILE).unlink(),
        exchanged,
        linked,
    ],
    ids=["shorter", "longer", "written anew", "gone", "exchanged", "made a link"],
)
@pytest.mark.parametrize("when", ["open", "read"])
def test_a_file_that_changes_while_it_is_read_is_a_problem(
    folder: Path, meanwhile: Callable[[Path], None], when: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = getattr(os, "fstat" if when == "open" else "read")
    done: list[bool] = []

    def changing(*arguments: object) -> object:
        result = real(*arguments)
        if not done:
            done.append(True)
            meanwhile(folder)
        return result

    monkeypatch.setattr(os, "fstat" if when == "open" else "read", changing)
    with pytest.raises(NotRead, match=r"^changed-while-read$"):
        read(folder)


def test_a_file_that_becomes_a_link_before_it_is_opened_is_not_followed(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "secret").write_text("secret")
    real = os.open

    def late(path: str, *arguments: object, **options: object) -> int:
        if path == FILE:
            (folder / FILE).unlink()
            (folder / FILE).symlink_to(folder / "secret")
        return real(path, *arguments, **options)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "open", late)
    with pytest.raises(NotRead, match=r"^unreadable-file$"):
        read(folder)


def test_a_file_that_becomes_a_pipe_before_it_is_opened_is_not_waited_for(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.open

    def late(path: str, *arguments: object, **options: object) -> int:
        if path == FILE:
            (folder / FILE).unlink()
            os.mkfifo(folder / FILE)
        return real(path, *arguments, **options)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "open", late)
    with pytest.raises(NotRead, match=r"^outside-records$"):
        read(folder)


def test_a_folder_that_becomes_a_link_after_it_was_opened_leads_nowhere(folder: Path, tmp_path: Path) -> None:
    inside = folder / "testers"
    inside.mkdir()
    (inside / FILE).write_bytes(b"inside")
    with opened_folder(folder) as top, opened_folder("testers", top) as opened:
        inside.rename(folder / "moved")
        (tmp_path / "elsewhere").mkdir()
        (tmp_path / "elsewhere" / FILE).write_bytes(b"elsewhere")
        inside.symlink_to(tmp_path / "elsewhere")
        assert read_file(FILE, opened, 100) == b"inside"


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        # source: the file types of POSIX <sys/stat.h>
        (stat.S_IFREG, "a file"),
        (stat.S_IFDIR, "a folder"),
        (stat.S_IFLNK, "a link"),
        (stat.S_IFIFO, "a pipe"),
        (stat.S_IFSOCK, "a socket"),
        (stat.S_IFCHR, "a device"),
        (stat.S_IFBLK, "a device"),
    ],
)
def test_every_kind_of_thing_has_its_word(kind: int, words: str) -> None:
    assert kind_of(kind | 0o644) == words


@pytest.mark.parametrize("refused", ["records", "testers"])
@pytest.mark.parametrize("by", ["open", "listdir"])
def test_a_folder_that_cannot_be_read_is_a_problem(
    refused: str, by: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    records = good_copy(tmp_path)
    place = records if refused == "records" else records / refused
    this = (place.stat().st_dev, place.stat().st_ino)
    real = getattr(os, by)

    def refuse(path: object, *arguments: object, **options: object) -> object:
        name = path if isinstance(path, int) else place if Path(str(path)).name == refused else None
        if name is not None and (os.stat(name).st_dev, os.stat(name).st_ino) == this:  # noqa: PTH116 - a descriptor
            raise PermissionError(13, "Permission denied")
        return real(path, *arguments, **options)

    monkeypatch.setattr(os, by, refuse)
    problems = load_catalogue(records, REFERENCE).problems
    found = [str(problem) for problem in problems if problem.slug == "unreadable-file"]
    assert found == [
        f"{place}:1:1: (file) [unreadable-file]: found that it cannot be read (Permission denied), expected a folder "
        "that can be read. Look at the permissions of the folder."
    ]
