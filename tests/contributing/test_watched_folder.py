"""Changes of a folder are told however they are made, also while the folder is gone."""

from __future__ import annotations

import os
import queue
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import watchfiles

from generator.contributing import watched_folder
from generator.contributing.watched_folder import changes, shape

LONGEST_WAIT_S = 10


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "records"
    (made / "devices").mkdir(parents=True)
    (made / "devices" / "hood.yaml").write_text("id: hood\n")
    return made


@pytest.fixture
def told(folder: Path) -> Iterator[queue.Queue[tuple[str, ...]]]:
    """What is told of the folder, by a watch in another thread, which ends with the test."""
    found: queue.Queue[tuple[str, ...]] = queue.Queue()
    ended = threading.Event()

    def follow() -> None:
        for names in changes(folder):
            if ended.is_set():
                return
            found.put(names)

    thread = threading.Thread(target=follow, daemon=True)
    thread.start()
    # A watch takes a moment to begin; what it is told first shows that it has.
    while True:
        (folder / "begun").write_text("x")
        try:
            if found.get(timeout=0.3) == ("begun",):
                break
        except queue.Empty:
            continue
    yield found
    ended.set()
    folder.mkdir(exist_ok=True)
    (folder / "ended").write_text("x")
    thread.join(LONGEST_WAIT_S)


def written_in_place(path: Path) -> None:
    path.write_text("id: other\n")


def renamed_over(path: Path) -> None:
    new = path.with_name(f".{path.name}.new")
    new.write_text("id: other\n")
    new.rename(path)


def moved_away_and_written(path: Path) -> None:
    (path.parent / "4913").write_text("")
    (path.parent / "4913").unlink()
    path.rename(f"{path}~")
    path.write_text("id: other\n")
    Path(f"{path}~").unlink()


def emptied_and_written(path: Path) -> None:
    with path.open("w") as file:
        file.flush()
        os.fsync(file.fileno())
        file.write("id: other\n")


@pytest.mark.parametrize("save", [written_in_place, renamed_over, moved_away_and_written, emptied_and_written])
def test_a_save_is_told_once_however_an_editor_saves(
    folder: Path, told: queue.Queue[tuple[str, ...]], save: Callable[[Path], None]
) -> None:
    save(folder / "devices" / "hood.yaml")
    assert "devices/hood.yaml" in told.get(timeout=LONGEST_WAIT_S)
    with pytest.raises(queue.Empty, match=r"^$"):
        told.get(timeout=0.5)


def test_a_folder_that_comes_and_goes_is_told(folder: Path, told: queue.Queue[tuple[str, ...]]) -> None:
    folder.rename(folder.with_name("away"))
    assert told.get(timeout=LONGEST_WAIT_S) in ((".",), ())
    assert shape(folder) == ()
    folder.with_name("away").rename(folder)
    assert told.get(timeout=LONGEST_WAIT_S) == ()
    # It is watched again, and so is what is new within it.
    while True:
        (folder / "devices" / "hood.yaml").write_text("id: third\n")
        try:
            if told.get(timeout=0.5) == ("devices/hood.yaml",):
                break
        except queue.Empty:
            continue


def test_what_changed_before_the_watch_began_is_not_missed(folder: Path) -> None:
    # Nothing is named, so that all is looked at once more.
    assert next(changes(folder)) == ()


def test_files_are_looked_at_where_the_system_watches_no_more_folders(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[bool | None] = []

    def watch(*paths: Path, force_polling: bool | None, **options: Any) -> Iterator[Any]:
        asked.append(force_polling)
        if not force_polling:
            raise OSError(28, "OS file watch limit reached")
        return watchfiles.watch(*paths, force_polling=True, poll_delay_ms=30, **options)

    monkeypatch.setattr(watched_folder, "watch", watch)
    found = changes(folder)
    timer = threading.Timer(0.5, (folder / "devices" / "other.yaml").write_text, ["id: other"])
    timer.start()
    assert any("devices/other.yaml" in names for names in found)
    assert asked == [None, True]
    timer.join()


def test_a_new_folder_is_watched(folder: Path, told: queue.Queue[tuple[str, ...]]) -> None:
    (folder / "testers").mkdir()
    assert told.get(timeout=LONGEST_WAIT_S) in (("testers",), ())
    names: tuple[str, ...] = ()
    while "testers/one.yaml" not in names:
        (folder / "testers" / "one.yaml").write_text("id: one\n")
        try:
            names = told.get(timeout=0.5)
        except queue.Empty:
            continue
    assert shape(folder.with_name("nothing")) == ()
