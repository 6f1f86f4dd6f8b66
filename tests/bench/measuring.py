"""What all benchmarks share: rows of the table, runs that take turns, commands run in fresh processes."""

from __future__ import annotations

import json
import os
import platform
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent.parent


@dataclass(frozen=True)
class Row:
    """One line of the table: what was done, of what, and how long it and its floor took."""

    job: str
    of: str
    seconds: float
    floor_seconds: float | None = None
    most_memory_mib: float | None = None

    @property
    def ratio(self) -> float | None:
        """How many times its floor it took."""
        return self.seconds / self.floor_seconds if self.floor_seconds else None

    def as_json(self) -> dict[str, Any]:
        """Return it for the file."""
        return asdict(self) | {"ratio": self.ratio}

    def __str__(self) -> str:
        floor = f"{self.floor_seconds:9.2f}" if self.floor_seconds is not None else " " * 9
        ratio = f"{self.ratio:7.2f}" if self.ratio is not None else " " * 7
        memory = f"{self.most_memory_mib:8.0f}" if self.most_memory_mib is not None else " " * 8
        return f"{self.job:<28} {self.of:<46} {self.seconds:9.2f} {floor} {ratio} {memory}"


HEADING = f"{'job':<28} {'of (floor)':<46} {'seconds':>9} {'floor':>9} {'ratio':>7} {'MiB':>8}"


ROUNDS = 15
"""Turns of what takes a second or two at most: a busy machine is far from its median in five of them."""

AGREE_WITHIN = 0.15
"""Two tables of different days or machines agree where no ratio is further from the other than this share of it."""


def beside_earlier(rows: Sequence[Row], earlier: Sequence[Mapping[str, Any]]) -> list[str]:
    """Return a line for each row that has a floor: its ratio, those of earlier tables, how far the farthest is from it.

    `earlier` are rows of any number of tables, as `Row.as_json` gave them.
    """
    lines = []
    for row in rows:
        if row.ratio is None:
            continue
        start = f"{row.job:<28} {row.of:<46} {row.ratio:7.2f}"
        before = [other["ratio"] for other in earlier if (other["job"], other["of"]) == (row.job, row.of)]
        if not before:
            lines.append(f"{start}  not measured before")
            continue
        apart = max(abs(row.ratio - ratio) / ratio for ratio in before)
        verdict = "agree" if apart <= AGREE_WITHIN else "DIFFER"
        lines.append(f"{start}  {', '.join(f'{ratio:.2f}' for ratio in before)} {apart:6.0%}  {verdict}")
    return lines


def where_and_when() -> dict[str, Any]:
    """Return what tells a table's machine and day from another's; what the system does not say is None."""
    now = datetime.now(UTC)
    return {
        "day": now.date().isoformat(),
        "begun": now.isoformat(timespec="minutes"),
        "booted": _booted(now),
        "cores": os.cpu_count(),
        "processor": _processor(),
        "python": platform.python_version(),
    }


def _booted(now: datetime) -> str | None:
    try:
        seconds = float(Path("/proc/uptime").read_text(encoding="ascii").split()[0])
    except OSError:
        return None
    return (now - timedelta(seconds=seconds)).isoformat(timespec="minutes")


def _processor() -> str | None:
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        return None
    return next((line.partition(":")[2].strip() for line in lines if line.startswith("model name")), None)


def once(job: Callable[[], object]) -> float:
    """Return the time that a job takes. [s]"""
    started = time.perf_counter()
    job()
    return time.perf_counter() - started


def medians(*jobs: Callable[[], object], rounds: int) -> list[float]:
    """Return each job's median time, the jobs taking turns, since a machine is busier at times. [s]"""
    turns = [[once(job) for job in jobs] for _ in range(rounds)]
    return [statistics.median(times) for times in zip(*turns, strict=True)]


def run(words: Sequence[str | Path], cache: Path) -> str:
    """Run Python with these words in a fresh process, with a cache folder of its own; return what it prints."""
    environment = os.environ | {"XDG_CACHE_HOME": str(cache), "PYTHONPATH": str(ROOT)}
    # Compiled code is kept beside the sources or not: as most have it, who publish more than once.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    ended = subprocess.run(
        [sys.executable, *map(str, words)], env=environment, capture_output=True, text=True, check=False
    )
    if ended.returncode:
        raise SystemExit(f"{words}: {ended.returncode}\n{ended.stderr[-2000:]}")
    return ended.stdout


def told(words: Sequence[str | Path], cache: Path) -> dict[str, Any]:
    """Run a script in a fresh process and return the JSON of the last line that it prints."""
    found: dict[str, Any] = json.loads(run(words, cache).splitlines()[-1])
    return found
