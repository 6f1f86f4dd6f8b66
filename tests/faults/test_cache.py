"""A cache folder that is not as it should be is named, or does no harm; it never changes what is published."""

from pathlib import Path

import pytest

from tests.faults.places import WITHOUT_PRIVILEGES, Place, tree_hash


@pytest.mark.parametrize("broken", ["inward", "inward/matplotlib", "inward/passing"])
def test_a_file_where_a_folder_should_be_is_named(place: Place, open_folder: Path, broken: str) -> None:
    file = open_folder / "cache" / broken
    file.parent.mkdir(parents=True)
    file.write_text("x")
    before = tree_hash(place.output.parent)
    ended = place.run(XDG_CACHE_HOME=str(open_folder / "cache"))
    reason = "Not a directory" if broken == "inward" else "File exists"
    named = file if broken != "inward" else file / "matplotlib"
    assert (ended.code, ended.last, ended.out) == (
        3,
        f"inward: [publish-failed] the cache folder {named} cannot be written: {reason}. Nothing was published. "
        "Remove what stands there, or set XDG_CACHE_HOME to a folder that you may write into.",
        "",
    )
    assert tree_hash(place.output.parent) == before


@pytest.mark.parametrize("locked", ["inward", "inward/matplotlib"])
def test_a_folder_that_may_not_be_written_is_named(place: Place, open_folder: Path, locked: str) -> None:
    folder = open_folder / "cache" / locked
    folder.mkdir(parents=True)
    folder.chmod(0o555)
    before = tree_hash(place.output.parent)
    ended = place.run(before=WITHOUT_PRIVILEGES, XDG_CACHE_HOME=str(open_folder / "cache"))
    assert (ended.code, ended.last, ended.out) == (
        3,
        f"inward: [publish-failed] the cache folder {open_folder}/cache/inward/matplotlib cannot be written: "
        "Permission denied. Nothing was published. Remove what stands there, or set XDG_CACHE_HOME to a folder that "
        "you may write into.",
        "",
    )
    assert tree_hash(place.output.parent) == before


def test_broken_files_in_it_change_nothing(place: Place, open_folder: Path) -> None:
    cache = open_folder / "cache"
    assert place.run(XDG_CACHE_HOME=str(cache)).code == 0
    usual = tree_hash(place.output)
    for content in (b"", b"\x00\xff broken", b'{"_version": 1}'):
        files = [path for path in cache.rglob("*") if path.is_file()]
        assert [path for path in files if path.name.startswith("fontlist")] != []
        for path in files:
            path.write_bytes(content)
        ended = place.run(XDG_CACHE_HOME=str(cache))
        assert (ended.code, content) == (0, content)
        assert "Traceback" not in ended.err
        assert tree_hash(place.output) == usual
