"""Make the demo's logs of run-downs, invented flows on one charge: records/logs/*-run-down.csv.

The flow of a blower sinks slowly while its battery sags, and fast when the cells are nearly empty; a reading scatters
by a little over one in a thousand. The generator is numpy's RandomState, whose streams are frozen by numpy's
compatibility policy (NEP 19), so that the files can be made again byte for byte. Run as
`python -m tests.demo_run_time_source` to write them.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

LOGS = Path(__file__).parent.parent / "records" / "logs"
CFM = 28.316846592
"""L/min in a cubic foot a minute, exact from the inch of 25.4 mm."""


@dataclass(frozen=True)
class DemoRunDown:
    """What a blower did on one charge."""

    file: str
    seed: int
    flow: float
    """Flow at the start, as read [L/min]."""
    stops_at: float
    """When the blower stopped [min]."""
    sag: tuple[float, float, float]
    """What is lost of the flow at the end: in a straight line, by the cube of the time, and by its twelfth power."""
    volts: float
    amperes: float
    step: float = 0.5
    """Time between two lines [min]."""
    until: float | None = None
    """When the test was ended before the blower stopped [min]."""
    unit: float = 1.0
    """L/min in the unit of the file."""
    heading: str = "flow_lpm"

    def flow_at(self, minutes: float) -> float:
        """Return the flow without scatter [L/min]."""
        part = minutes / self.stops_at
        straight, cube, twelfth = self.sag
        return self.flow * (1 - straight * part - cube * part**3 - twelfth * part**12)

    def content(self) -> bytes:
        """Return the file's bytes: time in minutes, flow in its unit, volts, amperes."""
        draws = np.random.RandomState(self.seed)
        lines = [f"minutes,{self.heading},battery_v,battery_a"]
        for number in range(int((self.until or self.stops_at) / self.step)):
            minutes = number * self.step
            part = minutes / self.stops_at
            flow = self.flow_at(minutes) * (1 + 0.0012 * draws.standard_normal())
            volts = self.volts * (1 - 0.1 * part - 0.1 * part**12) + 0.01 * draws.standard_normal()
            amperes = self.amperes * (flow / self.flow) ** 1.4 + 0.003 * draws.standard_normal()
            lines.append(f"{minutes:g},{flow / self.unit:.{1 if self.unit == 1 else 3}f},{volts:.2f},{amperes:.3f}")
        if self.until is None:
            lines.append(f"{self.stops_at:g},0,{self.volts * 0.86:.2f},0")
        return ("\n".join(lines) + "\n").encode()


RUN_DOWNS = (
    DemoRunDown("bellheather-hood-2025-11-run-down-high.csv", 2511, 216.6, 402, (0.06, 0.05, 0.22), 14.8, 0.60),
    DemoRunDown(
        "bellheather-hood-2025-11-run-down-low.csv", 2512, 194.2, 500, (0.05, 0.03, 0.2), 14.8, 0.47, until=240
    ),
    DemoRunDown(
        "hollybrake-hood-2025-11-run-down.csv",
        2513,
        201.5,
        262,
        (0.10, 0.06, 0.22),
        14.8,
        0.71,
        unit=CFM,
        heading="flow_cfm",
    ),
    DemoRunDown("mothwing-hood-2025-11-run-down.csv", 2514, 17.2, 141, (0.05, 0.05, 0.2), 4.1, 0.95, step=1.0),
)


def main() -> None:
    """Write the logs."""
    for run_down in RUN_DOWNS:
        (LOGS / run_down.file).write_bytes(run_down.content())


if __name__ == "__main__":
    main()
