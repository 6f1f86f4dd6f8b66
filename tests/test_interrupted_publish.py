"""A real `inward publish` is killed at random moments: the old site or the new one is seen, the next publish tidies."""

import hashlib
import json
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

import pytest

from generator.publishing.failpoint import EXIT_CODE
from tests.conftest import ROOT

KILLS = 24
BATCHES = 6
EACH = KILLS // BATCHES
BY_COMMAND = (0,)
"""Batches whose kills end the command itself; those of the others end a child of a process that is warm."""
LAST_STAGE = "Checking every link and putting the site in place"
PLACES = ("during-write", "before-swap", "during-swap", "after-swap")


def tree_hash(folder: Path) -> str:
    digest = hashlib.sha256()
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        content = path.read_bytes()
        digest.update(f"{path.relative_to(folder)}\0{len(content)}\0".encode() + content)
    return digest.hexdigest()


class Running(Protocol):
    """A publish that is under way."""

    def wait_for_last_stage(self) -> None:
        """Wait until the site is about to be written."""

    def kill(self) -> int:
        """End it by SIGKILL; return how it ended."""

    def wait(self) -> int:
        """Let it end; return how it ended."""


class Command:
    """The command, in a process that starts from nothing."""

    def __init__(self, arguments: list[str]) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "generator", *arguments],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )

    def wait_for_last_stage(self) -> None:
        """Wait until the site is about to be written."""
        assert self._process.stderr is not None
        assert any(line.startswith(LAST_STAGE) for line in self._process.stderr)

    def kill(self) -> int:
        """End it by SIGKILL; return how it ended."""
        self._process.kill()
        return self.wait()

    def wait(self) -> int:
        """Let it end; return how it ended."""
        self._process.communicate()
        return self._process.returncode


class Warm:
    """Publishes in a process that has all it needs, or in a child of it (see tests/publishing_process.py)."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.publishing_process"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=ROOT,
        )

    def _say(self, line: str) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(f"{line}\n")
        self.process.stdin.flush()

    def _ended(self) -> int:
        assert self.process.stdout is not None
        return next(int(line.split()[1]) for line in self.process.stdout if line.startswith("ended "))

    def publish(self, arguments: list[str]) -> int:
        """Publish without an interruption; return the exit code."""
        self._say(f"publish {json.dumps(arguments)}")
        return self._ended()

    def begin(self, arguments: list[str], place: str = "") -> None:
        """Start a publish in a child, which dies at a failpoint where one is named."""
        self._say(f"begin {json.dumps([arguments, place])}")

    def wait_for_last_stage(self) -> None:
        """Wait until the child's site is about to be written."""
        assert self.process.stdout is not None
        assert any(line.startswith(LAST_STAGE) for line in self.process.stdout)

    def kill(self) -> int:
        """End the child by SIGKILL; return how it ended."""
        self._say("kill")
        return self._ended()

    def wait(self) -> int:
        """Let the child end; return how it ended."""
        self._say("wait")
        return self._ended()


@pytest.fixture(scope="module")
def warm(own_cache_folder: Path) -> Iterator[Warm]:
    """Start the process that publishes, once for all tests."""
    started = Warm()
    yield started
    started.process.communicate()


@dataclass
class Catalogue:
    """A small catalogue that can be published in two wordings, and the trees that these give."""

    records: Path
    output: Path
    warm: Warm
    hashes: tuple[str, str] = ("", "")
    anew: bool = False
    """Whether publishes that may be killed make all anew, and take nothing that was kept of earlier ones."""

    @property
    def arguments(self) -> list[str]:
        """The words after `inward`."""
        return ["publish", "--records", str(self.records), "--output", str(self.output)]

    def word(self, which: int) -> None:
        """Give the records the first or the second wording."""
        publication = self.records / "publication.yaml"
        lines = publication.read_text(encoding="utf-8").splitlines(keepends=True)
        lines = [f"subtitle: Wording {which}\n" if line.startswith("subtitle:") else line for line in lines]
        publication.write_text("".join(lines), encoding="utf-8")

    def publish(self) -> None:
        """Publish without an interruption; nothing may be left beside the site."""
        assert self.warm.publish(self.arguments) == 0
        assert sorted(path.name for path in self.output.parent.iterdir()) == [self.output.name]

    def wait_for_writing(self, most: float) -> None:
        """Wait until the fresh folder is there, but no longer than so many seconds."""
        fresh = self.output.parent / f".{self.output.name}.fresh"
        deadline = time.monotonic() + most
        while not fresh.exists() and time.monotonic() < deadline:
            pass

    def start(self, by_command: bool) -> Running:
        """Start a publish that may be killed."""
        words = [*self.arguments, "--anew"] if self.anew else self.arguments
        if by_command:
            return Command(words)
        self.warm.begin(words)
        return self.warm


@pytest.fixture
def catalogue(small_records: Path, tmp_path: Path, warm: Warm) -> Catalogue:
    """Publish both wordings, the second last."""
    (tmp_path / "published").mkdir()
    made = Catalogue(small_records, tmp_path / "published" / "output", warm)
    hashes = []
    for which in (0, 1):
        made.word(which)
        made.publish()
        hashes.append(tree_hash(made.output))
    made.hashes = (hashes[0], hashes[1])
    assert hashes[0] != hashes[1]
    return made


def durations_of(running: Running, catalogue: Catalogue) -> tuple[float, float, float]:
    """Let a publish run through; return how long it took in all, in its last stage, and to write and swap. [s]"""
    started = time.monotonic()
    running.wait_for_last_stage()
    last_stage = time.monotonic()
    catalogue.wait_for_writing(60)
    writing = time.monotonic()
    assert running.wait() == 0
    ended = time.monotonic()
    return ended - started, ended - last_stage, ended - writing


@pytest.mark.parametrize("batch", range(BATCHES))
def test_kill_9_leaves_the_old_site_or_the_new_one(catalogue: Catalogue, batch: int) -> None:
    # Half of the kills fall anywhere in the run, half where the site is written and swapped.
    moments = random.Random(batch)
    by_command = batch in BY_COMMAND
    catalogue.anew = batch % 2 == 0
    # The other wording than the one that stands, else there would be nothing to do.
    catalogue.word(0)
    whole, last_stage, writing = durations_of(catalogue.start(by_command), catalogue)
    killed = 0
    for number in range(EACH):
        which = (number + 1) % 2
        catalogue.word(which)
        running = catalogue.start(by_command)
        if number % 2 == batch % 2:
            running.wait_for_last_stage()
            catalogue.wait_for_writing(last_stage)
            time.sleep(moments.uniform(0, writing))
        else:
            # One in each part of the run, so that none is left out, and the first comes however much runs differ.
            time.sleep(whole * (number // 2 + moments.uniform(0, 1)) / (EACH // 2))
        code = running.kill()
        assert code in (-signal.SIGKILL, 0)
        killed += code != 0
        assert tree_hash(catalogue.output) in catalogue.hashes
        catalogue.publish()
        assert tree_hash(catalogue.output) == catalogue.hashes[which]
    assert killed >= 1


@pytest.mark.parametrize("place", PLACES)
def test_a_failpoint_leaves_the_old_site_or_the_new_one(catalogue: Catalogue, place: str) -> None:
    catalogue.word(0)
    catalogue.warm.begin(catalogue.arguments, place)
    assert catalogue.warm.wait() == EXIT_CODE
    old, new = catalogue.hashes[1], catalogue.hashes[0]
    assert tree_hash(catalogue.output) == (old if place in ("during-write", "before-swap") else new)
    catalogue.publish()
    assert tree_hash(catalogue.output) == new
