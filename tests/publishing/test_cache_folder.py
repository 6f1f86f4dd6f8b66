"""The cache folder is where the system's convention says, and libraries are sent there."""

import os
from pathlib import Path

import pytest

from generator.errors import PublishFailed
from generator.publishing.cache_folder import cache_folder, keep_library_caches_here


def test_it_lies_below_the_users_cache_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_folder() == tmp_path / "inward"
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setenv("HOME", str(tmp_path))
    # source: XDG Base Directory Specification: $HOME/.cache where XDG_CACHE_HOME is not set
    assert cache_folder() == tmp_path / ".cache" / "inward"


def test_matplotlib_is_sent_there(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("MPLCONFIGDIR", "elsewhere")
    keep_library_caches_here()
    assert os.environ["MPLCONFIGDIR"] == str(tmp_path / "inward" / "matplotlib")
    assert (tmp_path / "inward" / "matplotlib").is_dir()


def test_a_cache_folder_that_cannot_be_made_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    with pytest.raises(PublishFailed, match=r"cannot be made: Not a directory\. Set XDG_CACHE_HOME"):
        keep_library_caches_here()
