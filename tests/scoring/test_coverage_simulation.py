"""Does the counting interval of a session hold the true factor as often as it says? A seeded simulation.

source: independent script; the process is written here and shares nothing with the code but the interval. Seven
exercises of 40 s, 100 cm3/min counted, ambient samples of 5 s before and after each exercise.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from generator.scoring.counting import overall_fit_factor_limits

SESSIONS = 2500
EXERCISES = 7
IN_MASK_VOLUME = 100 / 60 * 40
AMBIENT_VOLUME = 100 / 60 * 5
AMBIENT = 3000.0
NOMINAL = 0.95


def covered_share(factor: float, change: float, seed: int) -> float:
    """Return the share of sessions whose interval holds the true overall factor.

    Between two ambient samples the concentration moves by a normal step of relative size `change`, evenly in time, so
    that during an exercise it lies between its two samples. The seal differs from exercise to exercise by a fifth.
    """
    random = np.random.default_rng(seed)
    held = 0
    for _ in range(SESSIONS):
        steps = np.exp(random.normal(0, change, EXERCISES)) if change else np.ones(EXERCISES)
        ambient = AMBIENT * np.concatenate(([1.0], np.cumprod(steps)))
        factors = factor * np.exp(random.normal(0, 0.2, EXERCISES))
        truth = EXERCISES / np.sum(1 / factors)
        during = (ambient[:-1] + ambient[1:]) / 2
        counts = random.poisson(during / factors * IN_MASK_VOLUME)
        read = random.poisson(ambient * AMBIENT_VOLUME) / AMBIENT_VOLUME
        low, high = overall_fit_factor_limits(
            [int(count) for count in counts],
            [IN_MASK_VOLUME] * EXERCISES,
            [float(value) for value in np.minimum(read[:-1], read[1:])],
            [float(value) for value in np.maximum(read[:-1], read[1:])],
            NOMINAL,
        )
        held += int(low <= truth and (high is None or truth <= high))
    return held / SESSIONS


@pytest.mark.parametrize("change", [0.0, 0.1])
@pytest.mark.parametrize("factor", [3.0, 20.0, 100.0, 1000.0, 30000.0])
def test_interval_holds_the_truth_as_often_as_it_says(factor: float, change: float) -> None:
    share = covered_share(factor, change, seed=20240601)
    allowed = 3 * math.sqrt(NOMINAL * (1 - NOMINAL) / SESSIONS)
    assert share >= NOMINAL - allowed, share
