"""Make the demo's raw logs, invented counts of three fit sessions: records/logs/*.csv.

Counts are drawn once a second from a Poisson law for the counter's counted flow, so that their scatter is that of a
real counter. The generator is numpy's RandomState, whose streams are frozen by numpy's compatibility policy (NEP 19),
so that the files can be made again byte for byte. Run as `python -m tests.demo_log_source` to write them.
"""

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np

LOGS = Path(__file__).parent.parent / "records" / "logs"
COUNTED_CM3_PER_S = 100 / 60  # the counter's counted flow of 100 cm3/min
PURGE_S = 5

Row = tuple[float, str, str]
"""Mean concentration [/cm3], exercise, what is sampled."""


@dataclass(frozen=True)
class DemoLog:
    """What was done in one session, and what went wrong with the counter meanwhile."""

    file: str
    seed: int
    exercises: tuple[tuple[str, int, float], ...]
    """Exercise, its seconds of in-mask sampling and the invented mean concentration inside the facepiece [/cm3]."""
    room: float
    """Concentration in the room at the start [/cm3]."""
    falls_by: float
    """How much the room's concentration falls each second [/cm3]."""
    swell: float
    """Slow coming and going of the room's concentration [/cm3]."""
    first_ambient_s: int = 20
    between_ambient_s: int = 10
    """Ambient samples between exercises; 0 where the protocol takes them first and last only."""
    last_ambient_s: int = 20
    headings: str = "time_s,concentration_per_cm3,exercise,sampling"
    spikes: range = range(0)
    """Seconds in which the sampling tube was knocked, so that every other reading is far too high."""
    stuck: range = range(0)
    """Seconds in which the counter showed its last reading again and again."""

    def room_at(self, second: int) -> float:
        """Return the room's mean concentration [/cm3], which falls slowly as the dust of the morning settles."""
        return self.room - self.falls_by * second + self.swell * math.sin(second / 95.0)

    def rows(self) -> list[Row]:
        """Lay out the session second by second; an ambient or purge row bears the name of the exercise it leads to."""
        rows: list[Row] = []
        for index, (exercise, duration, inside) in enumerate(self.exercises):
            ambient_s = self.first_ambient_s if index == 0 else self.between_ambient_s
            for _ in range(ambient_s):
                rows.append((self.room_at(len(rows)), exercise, "ambient"))
            for step in range(PURGE_S if ambient_s else 0):
                rows.append((self.room_at(len(rows)) * 0.05**step + inside, exercise, "purge"))
            for step in range(duration):
                # Breathing in draws more through the leak than breathing out: one breath in four seconds.
                rows.append((inside * (1 + 0.35 * math.sin(2 * math.pi * step / 4)), exercise, "in-mask"))
            last = index == len(self.exercises) - 1
            for step in range(PURGE_S if self.between_ambient_s or last else 0):
                rows.append((self.room_at(len(rows)) * (1 - 0.05 ** (step + 1)), exercise, "purge"))
        for _ in range(self.last_ambient_s):
            rows.append((self.room_at(len(rows)), self.exercises[-1][0], "ambient"))
        return rows

    def content(self) -> bytes:
        """Return the log's bytes."""
        random = np.random.RandomState(self.seed)
        lines = [self.headings]
        shown = 0.0
        for second, (mean, exercise, sampling) in enumerate(self.rows()):
            knocked = 5.0 if second in self.spikes and second % 2 == 0 else 1.0
            count = random.poisson(mean * knocked * COUNTED_CM3_PER_S)
            if second not in self.stuck:
                shown = count / COUNTED_CM3_PER_S
            lines.append(f"{second},{shown:.1f},{exercise},{sampling}")
        return ("\n".join(lines) + "\n").encode("ascii")


DEMO_LOGS = (
    DemoLog(
        file="wallstone-half-2025-09-c2.csv",
        seed=20250903,
        room=3350.0,
        falls_by=0.22,
        swell=40.0,
        exercises=(
            ("normal-breathing", 60, 4.1),
            ("deep-breathing", 60, 5.6),
            ("head-side-to-side", 60, 6.9),
            ("head-up-and-down", 60, 6.2),
            ("talking", 60, 12.8),
            ("grimace", 15, 31.0),
            ("bending", 60, 9.4),
            ("normal-breathing-again", 60, 4.7),
        ),
    ),
    # The room drifts: a door to the slipway stood open. While the head went up and down, the tube struck the collar.
    DemoLog(
        file="cinderpool-cup-2025-06-c2.csv",
        seed=20250628,
        room=4180.0,
        falls_by=0.61,
        swell=70.0,
        spikes=range(281, 292),
        exercises=(
            ("normal-breathing", 60, 17.2),
            ("deep-breathing", 60, 20.5),
            ("head-side-to-side", 60, 22.9),
            ("head-up-and-down", 60, 24.0),
            ("talking", 60, 37.5),
            ("grimace", 15, 66.0),
            ("bending", 60, 29.8),
            ("normal-breathing-again", 60, 18.1),
        ),
    ),
    # Ambient first and last only, other headings, and nine seconds in which the display stood still.
    DemoLog(
        file="leatfoot-full-2025-10-f2.csv",
        seed=20251018,
        room=2840.0,
        falls_by=-0.18,
        swell=22.0,
        first_ambient_s=15,
        between_ambient_s=0,
        last_ambient_s=15,
        headings="t,conc,step,air",
        stuck=range(63, 72),
        exercises=(
            ("bending", 30, 2.6),
            ("jogging", 30, 3.1),
            ("head-side-to-side", 30, 1.8),
            ("head-up-and-down", 30, 1.9),
        ),
    ),
)


if __name__ == "__main__":
    for log in DEMO_LOGS:
        (LOGS / log.file).write_bytes(log.content())
