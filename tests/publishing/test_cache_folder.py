"""The cache folder is where the system's convention says, and libraries are sent there."""

import os
import tempfile
from pathlib import Path

import pytest

from generator.errors import PublishFailed
from generator.publishing.cache_folder import cache_folder, libraries_write_here


def test_it_lies_below_the_users_cache_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_folder() == tmp_path / "inward"
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.setenv("HOME", str(tmp_path))
    # source: XDG Base Directory Specification: $HOME/.cache where XDG_CACHE_HOME is not set
    assert cache_folder() == tmp_path / ".cache" / "inward"


def test_libraries_are_sent_there_and_only_meanwhile(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("MPLCONFIGDIR", "elsewhere")
    monkeypatch.delenv("TMPDIR", raising=False)
    before = tempfile.gettempdir()
    with libraries_write_here():
        assert os.environ["MPLCONFIGDIR"] == str(tmp_path / "inward" / "matplotlib")
        assert os.environ["TMPDIR"] == tempfile.gettempdir() == str(tmp_path / "inward" / "passing")
        assert (tmp_path / "inward" / "matplotlib").is_dir()
        assert (tmp_path / "inward" / "passing").is_dir()
    assert os.environ["MPLCONFIGDIR"] == "elsewhere"
    assert "TMPDIR" not in os.environ
    assert tempfile.gettempdir() == before


def test_a_cache_folder_that_cannot_be_made_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "file"))
    with (
        pytest.raises(PublishFailed, match=r"cannot be written: Not a directory\. .* or set XDG_CACHE_HOME"),
        libraries_write_here(),
    ):
        pass
