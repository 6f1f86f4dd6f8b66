"""Kept files are given back as they were, or not at all: whatever was done to the folder that holds them."""

import json
import os
import pickle
import random
import shutil
import time
import zlib
from pathlib import Path

import pytest

from generator.errors import PublishFailed
from generator.publishing.kept_files import DAYS_KEPT, KeptFiles, KeptFileSpoiled

KEY, OTHER_KEY = "ab" * 32, "cd" * 32
TOOL, OTHER_TOOL = "0123456789abcdef" * 4, "fedcba9876543210" * 4
FACTS = {"logs": {"logs/a.csv": {"size": 3}}, "names": ["ä", "\u2028"]}
FILES = {"devices/a.html": b"<p>text</p>" * 50, "devices/a.pdf": bytes(range(256)) * 3, "empty.csv": b""}


def kept_in(folder: Path, tool: str = TOOL) -> KeptFiles:
    return KeptFiles(folder / "kept", tool)


def entry_of(folder: Path) -> Path:
    (entry,) = (path for path in (folder / "kept").rglob("*") if path.is_file())
    return entry


def what_is_given(folder: Path) -> dict[str, bytes] | None:
    """Return all files of the entry; None where it is not believed, as a whole or in one of its files."""
    entry = kept_in(folder).get(KEY)
    if entry is None:
        return None
    try:
        return {name: entry.read(name) for name in entry.files}
    except KeptFileSpoiled:
        return None


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder in which the files are kept."""
    kept_in(tmp_path).put(KEY, FACTS, FILES)
    return tmp_path


def test_what_is_kept_is_given_back(folder: Path) -> None:
    entry = kept_in(folder).get(KEY)
    assert entry is not None
    assert entry.facts == FACTS
    assert what_is_given(folder) == FILES
    assert kept_in(folder).get(OTHER_KEY) is None
    kept_in(folder).put(KEY, {}, {"one.txt": b"1"})
    assert what_is_given(folder) == {"one.txt": b"1"}
    kept_in(folder).forget(KEY)
    assert what_is_given(folder) is None


def test_no_damage_gives_other_bytes(folder: Path) -> None:
    place = entry_of(folder)
    whole = place.read_bytes()
    draw = random.Random(9)
    unnoticed = 0
    for number in range(1500):
        damaged = bytearray(whole)
        kind = number % 5
        at = draw.randrange(len(whole))
        if kind == 0:
            damaged[at] ^= 1 << draw.randrange(8)
        elif kind == 1:
            del damaged[at:]
        elif kind == 2:
            damaged[at:at] = draw.randbytes(draw.randrange(1, 9))
        elif kind == 3:
            del damaged[at : at + draw.randrange(1, 9)]
        else:
            end = min(at + draw.randrange(1, 600), len(whole))
            damaged[at:end] = draw.randbytes(end - at)
        place.write_bytes(damaged)
        given = what_is_given(folder)
        assert given is None or given == FILES
        unnoticed += given is not None
    # Only where chance put back what was there.
    assert unnoticed < 15
    place.write_bytes(whole)
    assert what_is_given(folder) == FILES


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\n\n",
        b"{}\n{}\n",
        b"null\nnull\n",
        b'{"kept": 1, "sha256": 5}\n[]\n',
        b"[" * 100_000,
        pickle.dumps({"files": FILES}),
        b"\x80\x04\x95" + b"\n" * 10,
        "ключ\n".encode("utf-16"),
    ],
)
def test_what_is_no_entry_is_none(folder: Path, content: bytes) -> None:
    entry_of(folder).write_bytes(content)
    assert what_is_given(folder) is None


def test_a_pickle_in_the_place_of_an_entry_is_not_run(folder: Path) -> None:
    class Writes:
        def __reduce__(self) -> tuple[object, tuple[str, int]]:
            return os.mkdir, (str(folder / "ran"), 0o700)

    entry_of(folder).write_bytes(pickle.dumps(Writes()))
    assert what_is_given(folder) is None
    assert not (folder / "ran").exists()


def test_entries_of_other_keys_tools_and_formats_are_not_taken(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = entry_of(folder)
    other = place.parent.parent / OTHER_KEY[:2] / OTHER_KEY
    other.parent.mkdir()
    shutil.copyfile(place, other)
    assert kept_in(folder).get(OTHER_KEY) is None
    shutil.copytree(folder / "kept" / TOOL[:16], folder / "kept" / OTHER_TOOL[:16])
    assert kept_in(folder, OTHER_TOOL).get(KEY) is None
    assert kept_in(folder).get(KEY) is not None
    monkeypatch.setattr("generator.publishing.kept_files.FORMAT", 2)
    assert kept_in(folder).get(KEY) is None


def test_a_stream_that_unpacks_to_more_than_was_kept_is_stopped(folder: Path) -> None:
    place = entry_of(folder)
    head_end = place.read_bytes().index(b"\n", place.read_bytes().index(b"\n") + 1) + 1
    head, body = place.read_bytes()[:head_end], bytearray(place.read_bytes()[head_end:])
    stored = json.loads(head.split(b"\n")[1])["files"][0][3]
    bomb = zlib.compress(bytes(50_000_000), 9)[:stored].ljust(stored, b"\0")
    place.write_bytes(head + bomb + body[stored:])
    entry = kept_in(folder).get(KEY)
    assert entry is not None
    with pytest.raises(KeptFileSpoiled, match="were damaged"):
        entry.read("devices/a.html")


def test_an_entry_that_is_gone_when_it_is_read_is_told(folder: Path) -> None:
    entry = kept_in(folder).get(KEY)
    assert entry is not None
    entry_of(folder).unlink()
    with pytest.raises(KeptFileSpoiled, match=KEY):
        entry.read("devices/a.pdf")


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "kept").write_text("a file")
    with pytest.raises(PublishFailed, match=r"refused to keep what was made in .*kept: .*XDG_CACHE_HOME"):
        kept_in(tmp_path).put(KEY, {}, FILES)
    assert (tmp_path / "kept").read_text() == "a file"


def test_what_was_not_used_for_long_is_removed(folder: Path) -> None:
    kept = kept_in(folder)
    kept.put(OTHER_KEY, {}, FILES)
    kept_in(folder, OTHER_TOOL).put(KEY, {}, FILES)
    long_ago = time.time() - (DAYS_KEPT + 1) * 86_400
    for path in (folder / "kept").rglob("*"):
        os.utime(path, (long_ago, long_ago))
    for tool in (folder / "kept").iterdir():
        os.utime(tool, (long_ago, long_ago))
    kept.tidy([KEY])
    assert kept.get(KEY) is not None
    assert kept.get(OTHER_KEY) is None
    assert kept_in(folder, OTHER_TOOL).get(KEY) is None
