"""How often the counting intervals hold the truth: 10,000 seeded sessions a row, two intervals beside each other.

    make coverage-bench

Prints a table and writes it to build/coverage.json. "simulation" is the Monte Carlo over shared ambient samples;
"lower and higher" takes each exercise's lower ambient value for one limit and its higher one for the other.
"""

import json
import math
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

from tests.scoring.simulated_sessions import (  # noqa: E402
    NOMINAL,
    Covered,
    Process,
    by_lower_and_higher,
    by_simulation,
    covered,
)
from tests.scoring.two_channel_sessions import TwoChannels, share_held  # noqa: E402

RESULTS = ROOT / "build" / "coverage.json"
SESSIONS = 10_000
SEED = 20240604
FACTORS = (3.0, 20.0, 100.0, 1000.0, 30_000.0)
ROWS = (
    *(
        (f"{where}, {what}, factor {factor:g}", Process(factor, first_and_last=first_and_last, **{kind: size}))
        for first_and_last, where in ((False, "around each"), (True, "first and last"))
        for kind, size, what in (
            ("steady", 0.0, "no drift"),
            ("steady", 0.1, "steady 10 % an exercise"),
            ("walk", 0.1, "walk of 10 % an exercise"),
        )
        for factor in FACTORS
    ),
    ("around each, no drift, factor 300000: few counts", Process(300_000)),
    ("around each, ambient 20 /cm3, factor 100", Process(100, ambient=20)),
    ("first and last, ambient 20 /cm3, factor 100", Process(100, first_and_last=True, ambient=20)),
    ("around each, leak varies by the second, factor 100", Process(100, leak_spread=1)),
    ("around each, counts of twice the variance, factor 100", Process(100, excess=2)),
    ("around each, unseen swings of 10 %, factor 1000", Process(1000, swing=0.1)),
    ("first and last, unseen swing of 10 %, factor 1000", Process(1000, first_and_last=True, swing=0.1)),
    ("around each, zero rate 0.5 /cm3, factor 1000", Process(1000, zero_rate=0.5)),
)


TWO_CHANNELS = (
    *(
        (f"two channels, room wanders 1 % a second, factor {factor:g}", TwoChannels(factor))
        for factor in (3.0, 20.0, 100.0, 1000.0, 30_000.0)
    ),
    ("two channels, steady room, factor 100", TwoChannels(100, wander=0.0)),
    ("two channels, room wanders 3 % a second, factor 100", TwoChannels(100, wander=0.03)),
    ("two channels, side by side for 30 s, factor 100", TwoChannels(100, side_by_side=30)),
    ("two channels, side by side for 120 s, factor 100", TwoChannels(100, side_by_side=120)),
    ("two channels, ambient 20 /cm3, factor 100", TwoChannels(100, ambient=20)),
)


def one_row(process: Process) -> tuple[Covered, Covered]:
    """Return how both intervals did."""
    return covered(process, by_simulation, SESSIONS, SEED), covered(process, by_lower_and_higher, SESSIONS, SEED)


def one_row_of_two_channels(process: TwoChannels) -> Covered:
    """Return how the interval of logs with two channels did."""
    return Covered(*share_held(process, SESSIONS, SEED))


def main() -> None:
    """Run all rows, print the table, write the JSON."""
    least = NOMINAL - 3 * math.sqrt(NOMINAL * (1 - NOMINAL) / SESSIONS)
    print(f"{'':<56} {'simulation':>18} {'lower and higher':>20}")
    print(f"{f'{SESSIONS} sessions a row':<56} {'holds':>8} {'width':>9} {'holds':>10} {'width':>9}")
    written = []
    with ProcessPoolExecutor(os.cpu_count()) as pool:
        for (name, process), (new, old) in zip(ROWS, pool.map(one_row, [row for _, row in ROWS]), strict=True):
            mark = "" if new.share >= least else "  falls short"
            print(
                f"{name:<56} {new.share:>8.2%} {new.width:>9.3f} {old.share:>10.2%} {old.width:>9.3f}{mark}", flush=True
            )
            written.append({"row": name, "process": asdict(process), "simulation": asdict(new), "old": asdict(old)})
        held = pool.map(one_row_of_two_channels, [row for _, row in TWO_CHANNELS])
        for (name, two_channels), new in zip(TWO_CHANNELS, held, strict=True):
            mark = "" if new.share >= least else "  falls short"
            print(f"{name:<56} {new.share:>8.2%} {new.width:>9.3f}{mark}", flush=True)
            written.append({"row": name, "process": asdict(two_channels), "simulation": asdict(new)})
    print(
        f"Falls short: less than {least:.2%}, which is 95 % less three standard errors. Width: upper over lower limit."
    )
    RESULTS.parent.mkdir(exist_ok=True)
    RESULTS.write_text(json.dumps({"sessions": SESSIONS, "rows": written}, indent=2) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
