"""The key of the tools changes with each of them, with nothing else, and is found out without importing any."""

import ctypes
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from generator.publishing import tool_key as module
from generator.publishing.tool_key import tool_key
from tests.conftest import ROOT

HEAVY = ("numpy", "scipy", "matplotlib", "weasyprint", "pydantic", "jinja2", "yaml", "PIL")


@pytest.fixture
def own_code(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of code and templates that the key is made of."""
    for package in ("generator", "site_templates"):
        shutil.copytree(ROOT / package, tmp_path / package, ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr(module, "files", lambda package: tmp_path / package)
    return tmp_path


@pytest.mark.parametrize(
    "name",
    [
        "generator/scoring/fit_factors.py",
        "generator/reference/criteria.yaml",
        "generator/reference/methods/fit_and_flow.yaml",
        "site_templates/device.html",
        "site_templates/sheet.css",
        "site_templates/scripts/compare.js",
        "site_templates/fonts/SourceSans3-Regular.ttf",
    ],
)
def test_each_file_of_the_code_counts(own_code: Path, name: str) -> None:
    before = tool_key()
    assert tool_key() == before
    file = own_code / name
    content = file.read_bytes()
    file.write_bytes(content + b"\n")
    assert tool_key() != before
    file.write_bytes(content)
    assert tool_key() == before
    file.rename(file.with_stem("other"))
    assert tool_key() != before


def test_what_python_keeps_beside_the_code_does_not_count(own_code: Path) -> None:
    before = tool_key()
    (own_code / "generator" / "__pycache__").mkdir()
    (own_code / "generator" / "__pycache__" / "build.cpython-311.pyc").write_bytes(b"x")
    assert tool_key() == before


def test_each_library_counts_by_its_version(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = tool_key()
    (tmp_path / "one-1.0.dist-info").mkdir()
    monkeypatch.syspath_prepend(tmp_path)
    with_one = tool_key()
    assert with_one != before
    (tmp_path / "one-1.0.dist-info").rename(tmp_path / "one-1.1.dist-info")
    assert tool_key() not in (before, with_one)


@pytest.mark.parametrize("name", ["libpango-1.0.so.0", "libharfbuzz-subset.so.0"])
def test_a_system_library_that_is_missing_counts(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    before, real = tool_key(), ctypes.CDLL

    def without(asked: str) -> object:
        if asked == name:
            raise OSError(name)
        return real(asked)

    monkeypatch.setattr(ctypes, "CDLL", without)
    assert tool_key() != before


def test_typefaces_of_the_system_count(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_TYPEFACES", (str(tmp_path),))
    before = tool_key()
    (tmp_path / "face.ttf").write_bytes(b"one")
    with_face = tool_key()
    (tmp_path / "face.ttf").write_bytes(b"another")
    assert len({before, with_face, tool_key()}) == 3
    monkeypatch.setenv("FONTCONFIG_FILE", str(tmp_path / "fonts.conf"))
    assert tool_key() not in (before, with_face)


def test_the_key_is_the_same_once_libraries_were_loaded() -> None:
    script = (
        "from generator.publishing.tool_key import tool_key; before = tool_key(); "
        "import generator.rendering.whole_site, generator.build, matplotlib.font_manager, PIL.ImageFont, weasyprint; "
        "from PIL import features; features.check('raqm'); print(before == tool_key())"
    )
    told = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True)
    assert told.stdout == "True\n"


def test_the_key_is_the_same_in_every_process_and_needs_no_library() -> None:
    script = (
        "import sys; from generator.publishing.tool_key import tool_key; print(tool_key()); "
        f"print([name for name in {HEAVY} if name in sys.modules])"
    )
    told = [
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=ROOT,
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.splitlines()
        for seed in ("1", "2")
    ]
    assert told[0] == told[1]
    assert told[0][1] == "[]"
