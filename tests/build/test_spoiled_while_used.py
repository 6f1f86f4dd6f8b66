"""Kept files that are found damaged while a build uses them are made again; a folder that keeps nothing is told."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from generator.build import Wishes, build
from generator.build.timings import Timings
from generator.errors import PublishFailed
from generator.publishing.kept_files import Kept, KeptFiles
from tests.conftest import copy_some

PLAIN = Wishes(papers=False)


def silent(done: int, total: int, what: str) -> None:
    """Take progress reports and show nothing."""


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder that no other test uses."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache"


@pytest.mark.parametrize(
    ("device", "name"),
    [
        ("patchwork-cover", "scores.txt"),
        # Of the whole, the log that is followed through is looked for in topics of records, and nothing else.
        ("wallstone-half", "wallstone-half-2025-09/fit.json"),
        ("patchwork-cover", "devices/patchwork-cover.html"),
        ("patchwork-cover", "about.html"),
    ],
)
def test_an_entry_that_is_damaged_after_it_was_found_is_made_again(
    device: str, name: str, demo_records: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    records = copy_some(demo_records, tmp_path / "records", (device,))
    build(records, tmp_path / "clean", silent, PLAIN)
    real = Kept.read
    damaged: list[str] = []

    def read(kept: Kept, asked: str) -> bytes:
        if asked == name and not damaged:
            damaged.append(kept.key)
            content = bytearray(kept.place.read_bytes())
            content[kept.files[asked].start + 5] ^= 1
            kept.place.write_bytes(content)
        return real(kept, asked)

    monkeypatch.setattr(Kept, "read", read)
    timings = Timings()
    build(records, tmp_path / "output", silent, PLAIN, timings)
    assert len(damaged) == 1
    assert timings.made.total() == 1
    assert contents(tmp_path / "output") == contents(tmp_path / "clean")


def test_however_much_is_damaged_within_the_site_is_the_same(
    small_records: Path, own_cache: Path, tmp_path: Path
) -> None:
    build(small_records, tmp_path / "clean", silent, PLAIN)
    entries = [path for path in (own_cache / "inward" / "kept").rglob("*") if path.is_file()]
    for place in entries[::3]:
        # The last byte belongs to a file, so that the entry is believed until it is read.
        content = bytearray(place.read_bytes())
        content[-1] ^= 1
        place.write_bytes(content)
    timings = Timings()
    build(small_records, tmp_path / "output", silent, PLAIN, timings)
    assert timings.made.total() >= len(entries) // 3
    assert contents(tmp_path / "output") == contents(tmp_path / "clean")


def test_facts_that_are_not_those_that_were_kept_are_made_again(
    small_records: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    build(small_records, tmp_path / "clean", silent, PLAIN)
    real = KeptFiles.get
    changed: list[str] = []

    def get(kept: KeptFiles, key: str) -> Kept | None:
        entry = real(kept, key)
        if entry is not None and "about.html" in entry.files and not changed:
            changed.append(key)
            return Kept(entry.key, entry.place, {"links": {"outgoing": [[]], "faults": []}}, entry.files)
        return entry

    monkeypatch.setattr(KeptFiles, "get", get)
    timings = Timings()
    build(small_records, tmp_path / "output", silent, PLAIN, timings)
    assert (len(changed), timings.made.total()) == (1, 1)
    assert contents(tmp_path / "output") == contents(tmp_path / "clean")


def test_a_folder_that_never_holds_what_was_written_is_told(
    small_records: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = KeptFiles.put

    def put(kept: KeptFiles, key: str, facts: Mapping[str, Any], files: Mapping[str, bytes]) -> None:
        real(kept, key, facts, files)
        kept._place(key).write_bytes(b"something else")

    monkeypatch.setattr(KeptFiles, "put", put)
    with pytest.raises(PublishFailed, match=r"was not there as it was written, 3 times\. .*XDG_CACHE_HOME"):
        build(small_records, tmp_path / "output", silent, PLAIN)
    assert not (tmp_path / "output").exists()
