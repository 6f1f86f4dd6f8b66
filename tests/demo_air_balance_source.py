"""Make the logs of pressure inside two of the demo's hoods, invented: records/logs/*-pressure-*.csv.

A half sine of demand is drawn from the net flow, and the rest passes the collar by the square law of an opening; the
sensor adds a little noise. Run as `python -m tests.demo_air_balance_source` to write them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np

LOGS = Path(__file__).parent.parent / "records" / "logs"
STEP_S = 0.2
DISCHARGE, DENSITY = 0.61, 1.2  # of an opening, and of air [kg/m3]
EXERCISES = (
    # exercise, seconds, breaths a minute, peak demand [L/min]
    ("standing", 24, 14, 28.0),
    ("stepping", 30, 22, 62.0),
    ("reading-aloud", 24, 16, 74.0),
)


@dataclass(frozen=True)
class PressureLog:
    """The pressure inside at one net flow."""

    file: str
    seed: int
    net_l_per_min: float
    opening_m2: float
    """Free area past the wearer."""

    def content(self) -> bytes:
        """Return the log's bytes."""
        random = np.random.RandomState(self.seed)
        lines = ["time_s,pressure_pa,exercise"]
        rows = [row for row in EXERCISES for _ in range(round(row[1] / STEP_S))]
        for number, (exercise, _, breaths, peak) in enumerate(rows):
            time = number * STEP_S
            demand = peak * math.sin(2 * math.pi * breaths / 60 * time)
            through = (self.net_l_per_min - demand) / 60_000 / (DISCHARGE * self.opening_m2)
            pressure = math.copysign(DENSITY / 2 * through**2, through) + random.normal(0.0, 0.01)
            lines.append(f"{time:.1f},{pressure:.3f},{exercise}")
        return ("\n".join(lines) + "\n").encode("ascii")


PRESSURE_LOGS = (
    PressureLog("bellheather-hood-2025-11-pressure-high.csv", 20251115, net_l_per_min=218.0, opening_m2=64e-4),
    PressureLog("mothwing-hood-2025-11-pressure-high.csv", 20251116, net_l_per_min=-5.9, opening_m2=38e-4),
    PressureLog("mothwing-hood-2025-11-pressure-off.csv", 20251117, net_l_per_min=0.0, opening_m2=38e-4),
)

if __name__ == "__main__":
    for log in PRESSURE_LOGS:
        (LOGS / log.file).write_bytes(log.content())
