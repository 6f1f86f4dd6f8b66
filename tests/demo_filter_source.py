"""Make the demo's log of a filter that is loaded with dust, invented: flow falls and pressure goes up.

Run as `python -m tests.demo_filter_source` to write it. The scatter comes from a seeded generator whose stream is
frozen (numpy's RandomState, NEP 19).
"""

import io
from pathlib import Path

import numpy as np

LOG = Path(__file__).parent.parent / "records" / "logs" / "gorseback-half-2025-11-dust.csv"
SEED = 20251116
MINUTES = 240


def loading_log() -> bytes:
    """Return a reading a minute for four hours: time in s, flow in L/min, pressure across the filters in Pa."""
    scatter = np.random.RandomState(SEED)
    text = io.StringIO()
    text.write("time,flow,pressure\n")
    for minute in range(MINUTES + 1):
        share = minute / MINUTES
        flow = 131.0 - 22.0 * share**1.4 + scatter.normal(0, 0.25)
        pressure = 212.0 + 168.0 * share**1.3 + scatter.normal(0, 1.5)
        text.write(f"{minute * 60},{flow:.1f},{pressure:.0f}\n")
    return text.getvalue().encode()


if __name__ == "__main__":
    LOG.write_bytes(loading_log())
