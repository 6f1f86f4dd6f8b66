"""Does the interval of an exercise hold the true factor as often as it says, where a zero check is taken off?

source: independent script; the process is written here and shares nothing with the code but the intervals. One exercise
of 40 s and ambient samples of 5 s before and after it, 100 cm3/min counted, a zero check of 60 s. The ambient
concentration is steady: drift is tested in test_coverage_simulation.py.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from generator.scoring.above_zero import fit_factor_limits_above_zero
from generator.scoring.counting import exercise_fit_factor_limits

FLOW = 100 / 60
IN_MASK, OUTSIDE, ZERO = FLOW * 40, FLOW * 5, FLOW * 60
SESSIONS = 4000
NOMINAL = 0.95
ALLOWED = 3 * math.sqrt(NOMINAL * (1 - NOMINAL) / SESSIONS)


def covered_share(factor: float, ambient: float, zero_rate: float, *, subtracted: bool, seed: int) -> float:
    """Return the share of exercises whose interval holds the true factor; those without a count inside are left out."""
    random = np.random.default_rng(seed)
    held = tried = 0
    while tried < SESSIONS:
        count = int(random.poisson((ambient / factor + zero_rate) * IN_MASK))
        before, after = (int(number) for number in random.poisson([ambient * OUTSIDE] * 2))
        zero = int(random.poisson(zero_rate * ZERO))
        if count == 0 or min(before, after) == 0:
            continue
        tried += 1
        low, high = limits(count, before, after, zero if subtracted else None)
        held += int((low is None or low <= factor) and (high is None or factor <= high))
    return held / SESSIONS


def limits(count: int, before: int, after: int, zero: int | None) -> tuple[float | None, float | None]:
    read = before / OUTSIDE, after / OUTSIDE
    low, high = exercise_fit_factor_limits(
        count, IN_MASK, before + after, 2 * OUTSIDE, min(read), max(read), coverage=NOMINAL
    )
    if zero is None:
        return low, high
    ambient = sum(read) / 2
    leak_low = 0.0 if high is None else 1 / high
    return fit_factor_limits_above_zero(
        count / IN_MASK / ambient, leak_low, 1 / low, [ambient], zero, ZERO, coverage=NOMINAL
    )


@pytest.mark.parametrize(
    ("factor", "ambient", "zero_rate"),
    [(3.0, 3000.0, 0.5), (100.0, 3000.0, 0.02), (1000.0, 3000.0, 0.5), (1000.0, 3000.0, 5.0), (20_000.0, 3000.0, 0.1)],
)
def test_it_holds_the_truth_as_often_as_it_says(factor: float, ambient: float, zero_rate: float) -> None:
    share = covered_share(factor, ambient, zero_rate, subtracted=True, seed=20240701)
    assert share >= NOMINAL - ALLOWED, share


def test_without_the_zero_check_it_does_not_hold() -> None:
    assert covered_share(1000.0, 3000.0, 0.5, subtracted=False, seed=20240702) < 0.6
