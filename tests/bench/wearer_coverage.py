"""How often do bounds and limits over wearers hold? 10,000 seeded data sets a row; at least 95 % less three errors.

    make coverage-bench

Prints a table and writes it to build/wearer_coverage.json. Ends with 1 where a row falls short.
"""

import json
import math
import sys
import time
from pathlib import Path

import numpy as np
from scipy.special import ndtr, ndtri, stdtrit

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

from generator.scoring.lognormal import tolerance_factor  # noqa: E402
from generator.scoring.nested_coverage import simulated_coverage  # noqa: E402
from generator.scoring.proportions import exact_share_limits, share_without_failures  # noqa: E402

RESULTS = ROOT / "build" / "wearer_coverage.json"
RUNS = 10_000
NOMINAL = 0.95
LEAST = NOMINAL - 3 * math.sqrt(NOMINAL * (1 - NOMINAL) / RUNS)
WEARERS = (3, 4, 5, 6, 8, 10, 15, 25)
BETWEEN = (0.0, 0.25, 0.5, 0.75, 0.9, 1.0)
"""Share of the variance of the logarithms that lies between wearers."""
Row = dict[str, str | int | float]


def designs() -> dict[str, list[tuple[int, ...]]]:
    """Return the donnings of each wearer, for each kind of design."""
    return {
        "one donning each": [(1,) * wearers for wearers in WEARERS],
        "two donnings each": [(2,) * wearers for wearers in WEARERS],
        "two or one": [tuple(2 - number % 2 for number in range(wearers)) for wearers in WEARERS],
        "one wearer ten times": [(10,) + (1,) * (wearers - 1) for wearers in WEARERS],
    }


def tolerance_bound(wearers: int, seed: int) -> float:
    """Return how often the tolerance bound of one donning each holds, from whole data sets."""
    logs = np.random.default_rng(seed).normal(0, 1, (RUNS, wearers))
    factor = tolerance_factor(wearers, 0.95, NOMINAL)
    bounds = np.mean(logs, axis=1) - factor * np.std(logs, axis=1, ddof=1)
    return float(np.mean(bounds <= -1.6448536269514722))


def mean_limits(donnings: tuple[int, ...], between: float, seed: int) -> float:
    """Return how often the limits of the geometric mean hold, from wearers' means."""
    random = np.random.default_rng(seed)
    deviations = np.sqrt(between + (1 - between) / np.array(donnings, dtype=float))
    means = random.normal(0, deviations, (RUNS, len(donnings)))
    wearers, degrees = len(donnings), sum(donnings) - len(donnings)
    half = stdtrit(wearers - 1, (1 + NOMINAL) / 2) * np.std(means, axis=1, ddof=1) / math.sqrt(wearers)
    if degrees:
        own = (1 - between) * random.chisquare(degrees, RUNS)
        inverse = sum(1 / number for number in donnings) / wearers
        from_own = stdtrit(degrees, (1 + NOMINAL) / 2) * np.sqrt(inverse * own / (wearers * degrees))
        half = np.maximum(half, from_own)
    return float(np.mean(np.abs(np.mean(means, axis=1)) <= half))


def capped_level(wearers: int, shown: float, seed: int) -> float:
    """Return how often the share that reaches the lowest result is as large as stated, results capped by a display."""
    logs = np.random.default_rng(seed).normal(0, 1, (RUNS, wearers))
    # What the display does not show is known only as "more than": its bound is taken, never more.
    level = np.min(np.minimum(logs, ndtri(shown)), axis=1)
    return float(np.mean(ndtr(-level) >= share_without_failures(wearers, NOMINAL)))


def share_limits(wearers: int, share: float, seed: int) -> float:
    """Return how often the exact limits hold the share of wearers who reach a level."""
    reached = np.random.default_rng(seed).binomial(wearers, share, RUNS)
    limits = np.array([exact_share_limits(number, wearers, NOMINAL) for number in range(wearers + 1)])
    return float(np.mean((limits[reached, 0] <= share) & (share <= limits[reached, 1])))


def rows() -> list[Row]:
    """Simulate every row; each has a seed of its own."""
    found: list[Row] = []
    for wearers in WEARERS:
        one: Row = {"donnings": "one donning each", "wearers": wearers}
        found.append({"what": "tolerance bound", **one, "held": tolerance_bound(wearers, 1000 + wearers)})
        for number, share in enumerate((0.9, 0.5, 0.2)):
            held = capped_level(wearers, share, 2000 + 10 * wearers + number)
            found.append({"what": "level all reached, capped", **one, "shown": share, "held": held})
        for number, share in enumerate((0.05, 0.3, 0.5, 0.8, 0.95)):
            held = share_limits(wearers, share, 3000 + 10 * wearers + number)
            found.append({"what": "limits of a pass share", **one, "share": share, "held": held})
    for name, every in designs().items():
        for donnings in every:
            shares = BETWEEN if max(donnings) > 1 else (1.0,)
            for number, between in enumerate(shares):
                seed = 10_000 * len(donnings) + 100 * len(name) + number
                row: Row = {"donnings": name, "wearers": len(donnings), "between": between}
                bound = simulated_coverage(donnings, between, 0.95, NOMINAL, RUNS, seed)
                found.append({"what": "bound for new wearers", **row, "held": bound})
                found.append({"what": "limits of the mean", **row, "held": mean_limits(donnings, between, seed)})
    return found


def main() -> int:
    """Print the least of each kind over the shares between wearers; say whether all hold."""
    started = time.perf_counter()
    found = rows()
    RESULTS.parent.mkdir(exist_ok=True)
    RESULTS.write_text(json.dumps({"runs": RUNS, "least allowed": LEAST, "rows": found}, indent=1), encoding="utf-8")
    print(f"\nShare of {RUNS} data sets in which it holds, at nominal {NOMINAL:.0%}; allowed from {LEAST:.4f}")
    print(f"{'what':28}{'donnings':24}" + "".join(f"{wearers:>8}" for wearers in WEARERS) + "  wearers")
    for what, donnings in dict.fromkeys((str(row["what"]), str(row["donnings"])) for row in found):
        of_kind = [row for row in found if (row["what"], row["donnings"]) == (what, donnings)]
        least = [min(float(row["held"]) for row in of_kind if row["wearers"] == wearers) for wearers in WEARERS]
        print(f"{what:28}{donnings:24}" + "".join(f"{held:8.4f}" for held in least))
    short = [row for row in found if float(row["held"]) < LEAST]
    for row in short:
        print(f"falls short: {row}")
    print(f"{len(found)} rows, {len(short)} short, {time.perf_counter() - started:.1f} s")
    return 1 if short else 0


if __name__ == "__main__":
    sys.exit(main())
