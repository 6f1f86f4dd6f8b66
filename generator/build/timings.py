"""What a build took the time for: wall time by stage, and processor time of all processes by what it went into."""

from __future__ import annotations

import re
import resource
import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from time import perf_counter


@dataclass
class Timings:
    """Filled in while a build goes on."""

    stages: dict[str, float] = field(default_factory=dict)
    """Wall time of each stage, in their order. [s]"""
    seconds: dict[str, float] = field(default_factory=dict)
    """Processor time of all jobs together, by what it went into. [s]"""
    made: Counter[str] = field(default_factory=Counter)
    """Jobs that were done, by their kind."""
    taken: Counter[str] = field(default_factory=Counter)
    """Jobs whose outcome had been kept, by their kind."""
    peak_mib: float = 0.0
    """The most memory of a process that did jobs alone; 0 where there was none. [MiB]"""

    def add(self, kind: str, seconds: Mapping[str, float], memory_mib: float | None) -> None:
        """Note a job that was done, and the memory of the process where that does jobs alone."""
        self.made[kind] += 1
        for what, each in seconds.items():
            self.seconds[what] = self.seconds.get(what, 0.0) + each
        self.peak_mib = max(self.peak_mib, memory_mib or 0.0)

    @contextmanager
    def stage(self, name: str) -> Iterator[None]:
        """Time a stage."""
        started = perf_counter()
        try:
            yield
        finally:
            self.stages[name] = self.stages.get(name, 0.0) + perf_counter() - started


def memory_mib() -> float:
    """Return the most memory that this process has taken so far. [MiB]"""
    # What the system counts for a process begins with what the one that started it had; Linux tells its own apart.
    own = re.search(r"^VmHWM:\s+(\d+) kB$", _status(), re.MULTILINE)
    if own is not None:
        return int(own[1]) / (1 << 10)
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    # Linux counts in KiB, macOS in bytes.
    return most / (1 << 20) if sys.platform == "darwin" else most / (1 << 10)


def _status() -> str:
    try:
        return Path("/proc/self/status").read_text(encoding="ascii", errors="replace")
    except OSError:
        return ""
