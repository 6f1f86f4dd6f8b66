"""That nothing has changed is said only where that is so: of the records, the tools and each published file."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.publishing import last_publish as module
from generator.publishing.last_publish import last_publish, made_from, note_publish, standing, state_of, unchanged
from generator.publishing.output_folder import MARK, OutputFolder

TOOL = "tool"
COUNTS = {"devices": 1, "device_tests": 2}
FILES = {"index.html": b"index", "devices/a.html": b"a", "devices/b.html": b"b"}
HASHES = {path: f"hash of {path}" for path in FILES}


@pytest.fixture
def records(tmp_path: Path) -> Path:
    """A records folder; what is in it is of no matter here."""
    folder = tmp_path / "records"
    (folder / "devices").mkdir(parents=True)
    (folder / "devices" / "a.yaml").write_text("id: a\n")
    (folder / "publication.yaml").write_text("title: A\n")
    return folder


@pytest.fixture
def output(tmp_path: Path, records: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder that was published, and of which this is on record."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(module, "tool_key", lambda: TOOL)
    folder = tmp_path / "output"
    OutputFolder(folder).replace_with(FILES)
    state = made_from(records, TOOL, with_stills=False)
    assert state is not None
    note_publish(folder, state, COUNTS, HASHES)
    return folder


def nothing_to_do(records: Path, output: Path) -> bool:
    return standing(records, output, with_stills=False) == COUNTS


def test_what_stands_is_known(records: Path, output: Path) -> None:
    assert nothing_to_do(records, output)
    assert standing(records, output, with_stills=True) is None
    assert unchanged(output, HASHES) == FILES.keys()
    assert unchanged(output, HASHES | {"index.html": "another"}) == FILES.keys() - {"index.html"}


def same_length_later(file: Path) -> None:
    file.write_bytes(bytes(reversed(file.read_bytes())))


def same_time_other_length(file: Path) -> None:
    status = file.stat()
    file.write_bytes(file.read_bytes() + b" ")
    os.utime(file, ns=(status.st_atime_ns, status.st_mtime_ns))


def another_file(file: Path) -> None:
    status = file.stat()
    file.rename(file.with_suffix(".old"))
    file.write_bytes(file.with_suffix(".old").read_bytes())
    os.utime(file, ns=(status.st_atime_ns, status.st_mtime_ns))
    file.with_suffix(".old").unlink()


@pytest.mark.parametrize(
    "change",
    [same_length_later, same_time_other_length, another_file, Path.unlink, lambda file: file.chmod(0o600)],
    ids=["content", "length", "replaced", "removed", "mode"],
)
def test_a_touched_file_of_the_output_is_written_again(
    records: Path, output: Path, change: Callable[[Path], object]
) -> None:
    change(output / "devices" / "a.html")
    assert not nothing_to_do(records, output)
    assert unchanged(output, HASHES) == FILES.keys() - {"devices/a.html"}


def test_a_file_beside_those_published_is_noticed(records: Path, output: Path) -> None:
    (output / "devices" / "c.html").write_bytes(b"c")
    assert not nothing_to_do(records, output)


@pytest.mark.parametrize(
    "change",
    [
        lambda records: (records / "publication.yaml").write_text("title: B\n"),
        lambda records: (records / "devices" / "b.yaml").write_text(""),
        lambda records: (records / "devices" / "a.yaml").rename(records / "devices" / "b.yaml"),
        lambda records: (records / "devices" / "a.yaml").unlink(),
        lambda records: (records / "devices" / "b.yaml").symlink_to(records / "devices" / "a.yaml"),
        lambda records: os.mkfifo(records / "devices" / "pipe"),
    ],
    ids=["content", "new", "name", "gone", "link", "pipe"],
)
def test_any_change_of_the_records_is_noticed(records: Path, output: Path, change: Callable[[Path], object]) -> None:
    change(records)
    assert not nothing_to_do(records, output)


def test_another_tool_is_noticed(records: Path, output: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "tool_key", lambda: "another")
    assert not nothing_to_do(records, output)


def test_a_time_alone_changes_nothing_of_the_records(records: Path, output: Path) -> None:
    os.utime(records / "publication.yaml", (1, 1))
    assert nothing_to_do(records, output)
    (records / ".hidden").write_text("an editor's")
    assert nothing_to_do(records, output)


def test_a_link_in_the_records_is_never_followed(records: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (records / "devices" / "elsewhere").symlink_to(tmp_path / "elsewhere")
    assert state_of(records) is None


def test_a_note_that_was_damaged_is_not_believed(records: Path, output: Path, tmp_path: Path) -> None:
    (note,) = (tmp_path / "cache" / "inward" / "last").iterdir()
    whole = note.read_bytes()
    for damaged in (b"", whole[:-1], whole.replace(b"hash of", b"hash on"), b"[]\n[]", whole[70:]):
        note.write_bytes(damaged)
        assert last_publish(output) is None
        assert not nothing_to_do(records, output)
        assert unchanged(output, HASHES) == frozenset()
    note.write_bytes(whole)
    assert nothing_to_do(records, output)


def test_an_output_that_is_not_what_was_published_is_not_put_on_record(records: Path, output: Path) -> None:
    (output / "index.html").unlink()
    note_publish(output, "anything", COUNTS, HASHES)
    last = last_publish(output)
    assert last is not None
    assert last.made_from != "anything"


def test_files_taken_over_are_the_very_same_files(output: Path) -> None:
    before = {path: (output / path).stat().st_ino for path in FILES}
    new = FILES | {"devices/b.html": b"other", "devices/c.html": b"c"}
    OutputFolder(output).replace_with(new, unchanged(output, HASHES | {"devices/b.html": "other"}))
    after = {path: (output / path).stat() for path in new}
    assert {path for path in FILES if after[path].st_ino == before[path]} == {"index.html", "devices/a.html"}
    assert {status.st_nlink for status in after.values()} == {1}
    assert {path: (output / path).read_bytes() for path in new} == new
    assert (output / MARK).is_file()


def test_where_the_system_cannot_give_a_second_name_files_are_written(
    output: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(new: Path, old: Path) -> None:
        raise PermissionError(1, "Operation not permitted", str(old))

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    OutputFolder(output).replace_with(FILES, unchanged(output, HASHES))
    assert {path: (output / path).read_bytes() for path in FILES} == FILES
