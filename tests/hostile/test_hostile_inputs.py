"""Whatever a stranger sends, `inward check` names it with its place, in bounded time and memory; it never fails itself.

Every input is checked by the command, in a process of its own with limits (see `checking_process`).
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

import pytest

from tests.hostile.file_inputs import HOSTILE_FILES
from tests.hostile.picture_inputs import HOSTILE_PICTURES
from tests.hostile.yaml_inputs import HOSTILE_TEXTS

ROOT = Path(__file__).resolve().parent.parent.parent
MOST_SECONDS = 2.0
MOST_MEGABYTES = 300
LONGEST_LINE = 2_500
WIDEST_EXCERPT = 80
_COUNT = re.compile(r"\d+ problems? in \d+ of \d+ files?\.")
NOT_LOOKED_FOR = "Findings were not looked for; name files, or add `--findings`."
_MESSAGE = re.compile(r"^(?P<place>.+?:\d+:\d+): .*? \[(?P<slug>[a-z0-9-]+)\]: found .+, expected .+\. .+\.$")


class Hostile(Protocol):
    """One hostile input."""

    @property
    def name(self) -> str: ...

    def put_into(self, folder: Path) -> tuple[str, ...]: ...


HOSTILE: tuple[Hostile, ...] = (*HOSTILE_TEXTS, *HOSTILE_FILES, *HOSTILE_PICTURES)


@dataclass(frozen=True)
class Outcome:
    """What a check said and took."""

    code: int
    output: str
    seconds: float
    megabytes: float


class Checker:
    """Sends folders to the process that checks them."""

    def __init__(self) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.hostile.checking_process"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=ROOT,
        )

    def check(self, folder: Path) -> Outcome:
        """Check one folder in a process of its own."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(f"{folder}\n")
        self._process.stdin.flush()
        return Outcome(**json.loads(self._process.stdout.readline()))

    def close(self) -> None:
        """End the process."""
        self._process.communicate()


@pytest.fixture(scope="module")
def checker() -> Iterator[Checker]:
    started = Checker()
    yield started
    started.close()


def told(output: str, folder: Path) -> list[str]:
    """Return `file:line:column slug` of every problem that was printed; excerpts and counts are looked at alone."""
    found = []
    for line in output.splitlines():
        assert len(line) <= LONGEST_LINE, line[:500]
        assert line.isprintable(), line[:500]
        if line == NOT_LOOKED_FOR or _COUNT.fullmatch(line):
            continue
        if line.startswith(" "):
            assert len(line) <= WIDEST_EXCERPT, line
            continue
        match = _MESSAGE.match(line)
        assert match is not None, line[:500]
        place = match["place"]
        found.append(f"{place[place.index(f'/{folder.name}/') + len(folder.name) + 2 :]} {match['slug']}")
    return found


def test_there_are_enough_and_each_has_its_own_name() -> None:
    names = [each.name for each in HOSTILE]
    assert len(names) >= 80
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("hostile", HOSTILE, ids=lambda each: each.name)
def test_it_is_named_with_its_place(hostile: Hostile, small_records: Path, checker: Checker) -> None:
    expected = hostile.put_into(small_records)
    outcome = checker.check(small_records)
    assert "Traceback" not in outcome.output, outcome.output[-3_000:]
    if expected:
        assert sorted(told(outcome.output, small_records)) == sorted(expected)
        assert outcome.code == 1
    else:
        first, second = outcome.output.splitlines()
        assert {re.sub(r"\d+", "", first), second} == {"No problems in  files.", NOT_LOOKED_FOR}
        assert outcome.code == 0
    assert outcome.seconds < MOST_SECONDS
    assert outcome.megabytes < MOST_MEGABYTES
    shutil.rmtree(small_records)


@pytest.mark.parametrize("name", ["a bomb of aliases", "text turned round", "a pipe in place of a record"])
def test_the_command_itself_says_the_same(name: str, small_records: Path) -> None:
    (hostile,) = (each for each in HOSTILE if each.name == name)
    expected = hostile.put_into(small_records)
    command = [sys.executable, "-m", "generator", "check", str(small_records)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, cwd=ROOT, check=False)
    assert sorted(told(done.stdout, small_records)) == sorted(expected)
    assert done.returncode == 1
