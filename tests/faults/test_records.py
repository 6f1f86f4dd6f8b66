"""Records that cannot be read, or change while they are read: problems with file and reason; the old site stands."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.command_line import run
from tests.faults.places import WITHOUT_PRIVILEGES, Place, tree_hash

RECORD = "device_tests/patchwork-cover-2025-03.yaml"
SUMMARY = (
    "inward: 1 problem in the records; nothing was written. "
    "records/README.md explains each one by the name in brackets."
)


@pytest.mark.parametrize(
    ("locked", "what"),
    [(RECORD, "file"), ("publication.yaml", "file"), ("devices", "folder")],
    ids=["a record", "the publication", "a folder"],
)
def test_what_may_not_be_read_is_a_problem(place: Place, locked: str, what: str) -> None:
    (place.records / locked).chmod(0o000)
    before = tree_hash(place.output.parent)
    ended = place.run(before=WITHOUT_PRIVILEGES)
    (place.records / locked).chmod(0o755)
    assert (ended.code, ended.out) == (1, "")
    assert (
        f"{place.records / locked}:1:1: (file) [unreadable-file]: found that it cannot be read (Permission denied), "
        f"expected a {what} that can be read. Look at the permissions of the {what}."
    ) in ended.err.splitlines()
    assert tree_hash(place.output.parent) == before


def test_a_records_folder_that_may_not_be_read_is_refused(place: Place) -> None:
    place.records.chmod(0o000)
    before = tree_hash(place.output.parent)
    ended = place.run(before=WITHOUT_PRIVILEGES)
    place.records.chmod(0o755)
    assert (ended.code, ended.last, ended.out) == (
        2,
        f"Error: Invalid value for '--records': Directory '{place.records}' is not readable.",
        "",
    )
    assert tree_hash(place.output.parent) == before


def remove(path: Path) -> None:
    path.unlink()


def lengthen(path: Path) -> None:
    with path.open("a") as stream:
        stream.write("# one more line\n")


def replace(path: Path) -> None:
    other = path.with_name("other")
    other.write_bytes(path.read_bytes())
    other.rename(path)


@pytest.mark.parametrize(
    ("change", "found"),
    [
        (remove, "a file that went away while it was read"),
        (lengthen, "a file that changed while it was read"),
        (replace, "a file that changed while it was read"),
    ],
)
def test_a_record_that_changes_while_it_is_read_is_a_problem(
    place: Place,
    change: Callable[[Path], None],
    found: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    before = tree_hash(place.output.parent)
    record = place.records / RECORD
    watched = record.stat().st_ino
    real = os.read
    waiting = [change]

    def read(descriptor: int, most: int) -> bytes:
        content = real(descriptor, most)
        if waiting and os.fstat(descriptor).st_ino == watched:
            waiting.pop()(record)
        return content

    monkeypatch.setattr(os, "read", read)
    assert run(place.publishing) == 1
    monkeypatch.undo()
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.splitlines()[1:] == [
        f"{record}:1:1: (file) [changed-while-read]: found {found}, expected a file that stays as it is. "
        "Check again when nothing writes to it.",
        SUMMARY,
    ]
    assert tree_hash(place.output.parent) == before


def test_a_record_that_was_removed_since_the_folder_was_listed_is_a_problem(
    place: Place, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = tree_hash(place.output.parent)
    record = place.records / RECORD
    real = os.listdir

    def listed(folder: int) -> list[str]:
        names = real(folder)
        if record.name in names:
            record.unlink()
        return names

    monkeypatch.setattr(os, "listdir", listed)
    assert run(place.publishing) == 1
    monkeypatch.undo()
    assert f"{record}:1:1: (file) [changed-while-read]: found a file that went away" in capsys.readouterr().err
    assert tree_hash(place.output.parent) == before
