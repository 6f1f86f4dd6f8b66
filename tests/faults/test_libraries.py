"""Missing system libraries and fonts: what needs none works, the rest says what to install, and nothing crashes."""

import hashlib
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import ROOT
from tests.faults.places import Place, tree_hash

NO_FONTS = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig></fontconfig>
"""
OTHER_SCRIPTS = "Маска 口罩 マスク 마스크 קסדה كمامة मास्क หน้ากาก 😷 é̂ ẍ́ ⁂"

PAGES = """
import hashlib, sys
from pathlib import Path
from generator.loading import load_catalogue
from generator.model.published import published
from generator.presenting.whole_site import present
from generator.rendering import whole_site
from generator.scoring.catalogue import score_catalogue
whole_site.render_sheet = lambda *parts: b""
catalogue = published(load_catalogue(Path(sys.argv[1])).catalogue)
files = whole_site.render_site(present(catalogue, score_catalogue(catalogue)), lambda *parts: None)
for path, content in sorted(files.items()):
    if path.endswith(".html"):
        print(path, hashlib.sha256(content).hexdigest())
"""


def library(name: str) -> str:
    """Return the file of a shared library."""
    known = subprocess.run(["ldconfig", "-p"], capture_output=True, text=True, check=True).stdout
    found = re.search(rf"^\s*{re.escape(name)} .*=> (\S+)$", known, re.MULTILINE)
    assert found is not None, name
    return os.path.realpath(found[1])


def without(name: str) -> tuple[str, ...]:
    """Return the words that run a command as if a library could not be loaded: an empty file lies over it."""
    script = 'mount --bind /dev/null "$1" && shift && exec "$@"'
    return ("unshare", "--mount", "sh", "-c", script, "sh", library(name))


@pytest.mark.parametrize("name", ["libpango-1.0.so.0", "libpangoft2-1.0.so.0", "libgobject-2.0.so.0"])
def test_without_pango_the_pdf_step_says_what_to_install(place: Place, name: str) -> None:
    before = tree_hash(place.output.parent)
    ended = place.run(before=without(name))
    assert (ended.code, ended.out) == (3, "")
    reason = ended.last.partition("(")[2].partition("). On Debian")[0]
    assert ended.last == (
        f"inward: [library-missing] The libraries that set PDFs are missing ({reason}). On Debian: apt-get install "
        "--no-install-recommends libpangoft2-1.0-0 libharfbuzz-subset0. Elsewhere: install Pango 1.44 or newer"
    )
    assert reason.startswith("cannot load library 'lib"), reason
    assert name.partition(".so")[0] in reason
    assert tree_hash(place.output.parent) == before


def test_without_harfbuzz_subset_the_pdf_step_says_what_to_install(place: Place) -> None:
    before = tree_hash(place.output.parent)
    ended = place.run(before=without("libharfbuzz-subset.so.0"))
    assert (ended.code, ended.last, ended.out) == (
        3,
        "inward: [library-missing] The libraries that set PDFs are missing (HarfBuzz-Subset 4.1 or newer). On Debian: "
        "apt-get install --no-install-recommends libpangoft2-1.0-0 libharfbuzz-subset0. Elsewhere: install Pango 1.44 "
        "or newer",
        "",
    )
    assert tree_hash(place.output.parent) == before


@pytest.mark.parametrize("words", [("check",), ("score", "patchwork-cover-2025-03")], ids=["check", "score"])
def test_without_pango_check_and_score_work(place: Place, words: tuple[str, ...]) -> None:
    asked = (*words, str(place.records)) if words == ("check",) else (*words, "--records", str(place.records))
    usual = place.run(*asked)
    assert usual.code == 0
    assert place.run(*asked, before=without("libpango-1.0.so.0")) == usual


def test_without_pango_pages_are_the_same(place: Place, published_once: Place) -> None:
    child = subprocess.run(
        [*without("libpango-1.0.so.0"), sys.executable, "-c", PAGES, str(published_once.records)],
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    pages = {
        str(path.relative_to(published_once.output)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in published_once.output.rglob("*.html")
    }
    assert dict(line.split() for line in child.stdout.splitlines()) == pages


@pytest.mark.parametrize("configuration", ["empty", "missing"])
def test_without_system_fonts_the_sheet_is_the_same(place: Place, open_folder: Path, configuration: str) -> None:
    # source: measured on the system that these tests were written on: without any typeface, Pango ends the process
    fonts = open_folder / "fonts.conf"
    if configuration == "empty":
        fonts.write_text(NO_FONTS)
    assert place.run().code == 0
    usual = tree_hash(place.output)
    ended = place.run(FONTCONFIG_FILE=str(fonts))
    assert ended.code == 0
    assert "UserWarning" not in ended.err
    assert tree_hash(place.output) == usual


def test_without_system_fonts_names_in_other_scripts_do_no_harm(place: Place, open_folder: Path) -> None:
    fonts = open_folder / "fonts.conf"
    fonts.write_text(NO_FONTS)
    device = place.records / "devices" / "patchwork-cover.yaml"
    device.write_text(device.read_text().replace("name: Patchwork Cover", f"name: {OTHER_SCRIPTS}"), encoding="utf-8")
    for environment in ({}, {"FONTCONFIG_FILE": str(fonts)}):
        ended = place.run(**environment)
        assert (ended.code, ended.out.partition(" as ")[0]) == (0, "Published 1 device and 1 test record")
        assert OTHER_SCRIPTS in (place.output / "devices" / "patchwork-cover.html").read_text(encoding="utf-8")
