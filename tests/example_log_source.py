"""Make the log of the readme's example, invented readings as a logger may write them: .examples/saturday.txt.

A line of the bench, one of headings, clock times, decimal commas; the air in the tube takes some seconds to change.
Run as `python -m tests.example_log_source` to write it.
"""

from pathlib import Path

import numpy as np

EXAMPLE_LOG = Path(__file__).parent.parent / ".examples" / "saturday.txt"
COUNTED_CM3_PER_S = 100 / 60  # the counted flow of records/instruments/bench-counter.yaml, 100 cm3/min
BEGINS_S = 14 * 3600 + 2 * 60 + 41
OUTSIDE, SLOW_CHANGE_S = 3400.0, 1.2
PARTS = (
    # seconds, what the air drawn is of that outside
    (19, 1.0),  # before the test
    (20, 1.0),
    (35, 1 / 170),  # the tube changes to the air inside first
    (30, 1 / 95),
    (30, 1 / 150),
    (30, 1 / 130),
    (25, 1.0),
    (7, 1.0),  # until the logger was stopped
)


def example_log() -> bytes:
    """Return the log's bytes."""
    random = np.random.RandomState(1217)
    lines, drawn, second = ["bench by the window; one reading a second", "clock;particles [/cm3]"], OUTSIDE, 0
    for seconds, share in PARTS:
        for _ in range(seconds):
            outside = OUTSIDE * (1 - 0.0004 * second)
            drawn += (outside * share - drawn) * (1 - np.exp(-1 / SLOW_CHANGE_S))
            counted = random.poisson(drawn * COUNTED_CM3_PER_S)
            clock = BEGINS_S + second
            time = f"{clock // 3600}:{clock // 60 % 60:02d}:{clock % 60:02d}"
            lines.append(f"{time};{counted / COUNTED_CM3_PER_S:.1f}".replace(".", ","))
            second += 1
    return ("\r\n".join(lines) + "\r\n").encode()


if __name__ == "__main__":
    EXAMPLE_LOG.write_bytes(example_log())
