"""The README holds what it says: its blocks run, its links and pictures exist.

A block marked `sh` is run as it stands and must end well. A block marked `console` holds commands after `$ ` and, below
each, exactly what it prints on stdout. All blocks run one after the other in one copy of the project.
"""

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from generator.contributing.preview import Preview
from tests.conftest import copy_some

ROOT = Path(__file__).resolve().parent.parent
README = ROOT / "README.md"
NOT_COPIED = shutil.ignore_patterns(
    ".git", ".venv", "output", "build", "*.egg-info", "__pycache__", ".*_cache", ".hypothesis"
)


def blocks() -> list[tuple[str, str]]:
    """Return mark and content of every block that is to be run, in the order of the page."""
    tokens = MarkdownIt().parse(README.read_text(encoding="utf-8"))
    fences = [(token.info.strip(), token.content) for token in tokens if token.type == "fence"]
    return [(mark, content) for mark, content in fences if mark in ("sh", "console")]


def commands_and_output(block: str) -> list[tuple[str, str]]:
    """Split a console block into commands and what each prints."""
    parts = re.split(r"(?m)^\$ (.*)$\n?", block)
    assert parts[0] == "", "a console block starts with a command"
    return list(zip(parts[1::2], parts[2::2], strict=True))


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the project with few devices that uses this environment; its stamps say that nothing is to install."""
    folder = tmp_path_factory.mktemp("readme") / "inward"
    shutil.copytree(ROOT, folder, ignore=NOT_COPIED)
    shutil.rmtree(folder / "records")
    copy_some(ROOT / "records", folder / "records", ("tansy-fold", "patchwork-cover"))
    (folder / ".venv").mkdir()
    for part in ("bin", "lib", "pyvenv.cfg"):
        (folder / ".venv" / part).symlink_to(ROOT / ".venv" / part)
    for stamp in ("ready-for-site", "ready-for-tests"):
        (folder / ".venv" / stamp).touch()
    # What a change does is told against what was committed.
    tester = ("-c", "user.name=A tester", "-c", "user.email=tester@reviews.example", "-c", "commit.gpgsign=false")
    for words in (("init", "--quiet"), ("add", "."), (*tester, "commit", "--quiet", "--message", "All")):
        subprocess.run(["git", *words], cwd=folder, check=True)
    return folder


def run(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    environment = os.environ | {
        "PATH": f"{ROOT / '.venv' / 'bin'}{os.pathsep}{os.environ['PATH']}",
        "PYTHONPATH": str(folder),
    }
    return subprocess.run(
        ["sh", "-euc", command],
        cwd=folder,
        env=environment,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )


NEW_RECORD = "tansy-fold-2025-12"
"""The record that the readme adds."""


def test_every_block_of_the_readme_does_what_it_says(copy: Path) -> None:
    marks = [mark for mark, _ in blocks()]
    assert marks.count("sh") >= 2
    assert marks.count("console") >= 1
    for mark, content in blocks():
        if mark == "sh":
            # `make test` is the run that this test is part of: run for real, it would never end.
            done = run(re.sub(r"\bmake test\b", "make --dry-run test", content), copy)
            assert done.returncode == 0, f"{content}\n{done.stdout}\n{done.stderr}"
        else:
            for command, output in commands_and_output(content):
                assert run(command, copy).stdout == output, command
    shown = Preview(copy / "records")
    shown.refresh()
    page = shown.answer(f"records/{NEW_RECORD}.html")
    assert page.status == 200
    assert b"preview-notice" not in page.content
    assert "the mask itself, new" in page.content.decode()


def test_every_link_and_picture_of_the_readme_exists() -> None:
    targets = re.findall(r"\]\(([^)#\s]+)", README.read_text(encoding="utf-8"))
    assert targets
    inside = [target for target in targets if not target.startswith(("https://", "mailto:"))]
    assert [target for target in inside if not (ROOT / target).exists()] == []
