"""Make the demo's raw log, invented counts of one fit session: records/logs/wallstone-half-2025-09-c2.csv.

Counts are drawn once a second from a Poisson law for the counter's counted flow, so that their scatter is that of a
real counter. The generator is numpy's RandomState, whose streams are frozen by numpy's compatibility policy (NEP 19),
so that the file can be made again byte for byte. Run as `python -m tests.demo_log_source` to write it.
"""

import math
from pathlib import Path

import numpy as np

LOG_FILE = Path(__file__).parent.parent / "records" / "logs" / "wallstone-half-2025-09-c2.csv"
SEED = 20250903
COUNTED_CM3_PER_S = 100 / 60  # the counter's counted flow of 100 cm3/min
PURGE_S = 5
FIRST_AMBIENT_S = 20
LAST_AMBIENT_S = 20
AMBIENT_S = 10

# Exercise, its duration [s] and the invented mean concentration inside the facepiece [/cm3].
EXERCISES: tuple[tuple[str, int, float], ...] = (
    ("normal-breathing", 60, 4.1),
    ("deep-breathing", 60, 5.6),
    ("head-side-to-side", 60, 6.9),
    ("head-up-and-down", 60, 6.2),
    ("talking", 60, 12.8),
    ("grimace", 15, 31.0),
    ("bending", 60, 9.4),
    ("normal-breathing-again", 60, 4.7),
)
Row = tuple[float, str, str]
"""Mean concentration [/cm3], exercise, what is sampled."""


def _ambient_mean(second: int) -> float:
    """Return the room's mean concentration [/cm3], which falls slowly as the dust of the morning settles."""
    return 3350.0 - 0.22 * second + 40.0 * math.sin(second / 95.0)


def _rows() -> list[Row]:
    """Lay out the session second by second; an ambient or purge row bears the name of the exercise it leads to."""
    rows: list[Row] = []
    for index, (exercise, duration, inside) in enumerate(EXERCISES):
        for _ in range(FIRST_AMBIENT_S if index == 0 else AMBIENT_S):
            rows.append((_ambient_mean(len(rows)), exercise, "ambient"))
        for step in range(PURGE_S):
            rows.append((_ambient_mean(len(rows)) * 0.05**step + inside, exercise, "purge"))
        for step in range(duration):
            # Breathing in draws more through the leak than breathing out: a slow wave of one breath in four seconds.
            rows.append((inside * (1 + 0.35 * math.sin(2 * math.pi * step / 4)), exercise, "in-mask"))
        for step in range(PURGE_S):
            rows.append((_ambient_mean(len(rows)) * (1 - 0.05 ** (step + 1)), exercise, "purge"))
    for _ in range(LAST_AMBIENT_S):
        rows.append((_ambient_mean(len(rows)), EXERCISES[-1][0], "ambient"))
    return rows


def demo_log() -> bytes:
    """Return the log's bytes."""
    random = np.random.RandomState(SEED)
    lines = ["time_s,concentration_per_cm3,exercise,sampling"]
    for second, (mean, exercise, sampling) in enumerate(_rows()):
        count = random.poisson(mean * COUNTED_CM3_PER_S)
        lines.append(f"{second},{count / COUNTED_CM3_PER_S:.1f},{exercise},{sampling}")
    return ("\n".join(lines) + "\n").encode("ascii")


if __name__ == "__main__":
    LOG_FILE.write_bytes(demo_log())
