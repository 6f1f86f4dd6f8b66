"""A real `inward publish` is killed at random moments: the old site or the new one is seen, the next publish tidies."""

import hashlib
import os
import random
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

import pytest

from generator.command_line import run
from generator.publishing.failpoint import EXIT_CODE, VARIABLE

KILLS = 50
BATCHES = 10
LAST_STAGE = "Checking every link and putting the site in place"
PLACES = ("during-write", "before-swap", "during-swap", "after-swap")


def tree_hash(folder: Path) -> str:
    digest = hashlib.sha256()
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        content = path.read_bytes()
        digest.update(f"{path.relative_to(folder)}\0{len(content)}\0".encode() + content)
    return digest.hexdigest()


@dataclass
class Catalogue:
    """A small catalogue that can be published in two wordings, and the trees that these give."""

    records: Path
    output: Path
    hashes: tuple[str, str] = ("", "")

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
        assert run(self.arguments) == 0
        assert sorted(path.name for path in self.output.parent.iterdir()) == [self.output.name]

    def start(self, place: str = "") -> subprocess.Popen[str]:
        """Start a publish of its own process."""
        return subprocess.Popen(
            [sys.executable, "-m", "generator", *self.arguments],
            env=os.environ | {VARIABLE: place},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )


@pytest.fixture
def catalogue(small_records: Path, tmp_path: Path) -> Catalogue:
    """Publish both wordings, the second last."""
    (tmp_path / "published").mkdir()
    made = Catalogue(small_records, tmp_path / "published" / "output")
    hashes = []
    for which in (0, 1):
        made.word(which)
        made.publish()
        hashes.append(tree_hash(made.output))
    made.hashes = (hashes[0], hashes[1])
    assert hashes[0] != hashes[1]
    return made


def duration_of(process: subprocess.Popen[str]) -> tuple[float, float]:
    """Let a publish run through; return the seconds it took in all, and in its last stage. [s]"""
    started = time.monotonic()
    wait_for_last_stage(process)
    last_stage = time.monotonic()
    assert process.wait() == 0
    ended = time.monotonic()
    return ended - started, ended - last_stage


def wait_for_last_stage(process: subprocess.Popen[str]) -> None:
    assert process.stderr is not None
    for line in process.stderr:
        if line.startswith(LAST_STAGE):
            return
    raise AssertionError("the publish ended before its last stage")


@pytest.mark.parametrize("batch", range(BATCHES))
def test_kill_9_leaves_the_old_site_or_the_new_one(catalogue: Catalogue, batch: int) -> None:
    # Half of the kills fall anywhere in the run, half into the last stage, where the site is written and swapped.
    moments = random.Random(batch)
    with catalogue.start() as process:
        whole, last_stage = duration_of(process)
    for number in range(KILLS // BATCHES):
        which = number % 2
        catalogue.word(which)
        with catalogue.start() as process:
            if number % 2 == batch % 2:
                wait_for_last_stage(process)
                time.sleep(moments.uniform(0, last_stage))
            else:
                time.sleep(moments.uniform(0, whole))
            process.send_signal(signal.SIGKILL)
        assert process.returncode in (-signal.SIGKILL, 0)
        assert tree_hash(catalogue.output) in catalogue.hashes
        catalogue.publish()
        assert tree_hash(catalogue.output) == catalogue.hashes[which]


@pytest.mark.parametrize("place", PLACES)
def test_a_failpoint_leaves_the_old_site_or_the_new_one(catalogue: Catalogue, place: str) -> None:
    catalogue.word(0)
    with catalogue.start(place) as process:
        assert process.stderr is not None
        process.stderr.read()
    assert process.returncode == EXIT_CODE
    old, new = catalogue.hashes[1], catalogue.hashes[0]
    assert tree_hash(catalogue.output) == (old if place in ("during-write", "before-swap") else new)
    catalogue.publish()
    assert tree_hash(catalogue.output) == new
