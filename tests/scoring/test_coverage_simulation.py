"""Does the counting interval of a session hold the true factor as often as it says? A seeded simulation.

source: independent script; the process is written here and shares nothing with the code but the interval. Seven
exercises of 40 s, 100 cm3/min counted, ambient samples of 5 s before and after each exercise; and four exercises of
30 s with ambient samples at the beginning and the end only.

Where ambient air is sampled at the beginning and the end only, the interval holds for a steady change. Two shortfalls
were measured with this process, and what is published names both. With a random walk of 10 % a step between the samples
it held the truth in 74, 81 and 93 % of sessions at factors of 20, 100 and 1000: swings that no sample saw cannot be in
it. Without any change it did so in 85 % at a factor of 3: so many particles are then counted inside that counting those
outside matters too, and that is not in it.
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


def covered_share_first_and_last(factor: float, change: float, seed: int) -> float:
    """Return the share of four-exercise sessions, ambient first and last, whose interval holds the true factor.

    The ambient concentration moves steadily by a normal relative amount of size `change` over the whole session.
    """
    random = np.random.default_rng(seed)
    held, exercises, volume = 0, 4, 100 / 60 * 30
    for _ in range(SESSIONS):
        ambient = AMBIENT * np.linspace(1.0, math.exp(random.normal(0, change)), exercises + 1)
        factors = factor * np.exp(random.normal(0, 0.2, exercises))
        truth = exercises / np.sum(1 / factors)
        counts = random.poisson((ambient[:-1] + ambient[1:]) / 2 / factors * volume)
        first, last = random.poisson(ambient[[0, -1]] * AMBIENT_VOLUME) / AMBIENT_VOLUME
        low, high = overall_fit_factor_limits(
            [int(count) for count in counts],
            [volume] * exercises,
            [float(min(first, last))] * exercises,
            [float(max(first, last))] * exercises,
            NOMINAL,
        )
        held += int(low <= truth and (high is None or truth <= high))
    return held / SESSIONS


@pytest.mark.parametrize("change", [0.0, 0.1])
@pytest.mark.parametrize("factor", [20.0, 100.0, 1000.0, 30000.0])
def test_interval_with_ambient_first_and_last_holds_for_a_steady_change(factor: float, change: float) -> None:
    share = covered_share_first_and_last(factor, change, seed=20240602)
    allowed = 3 * math.sqrt(NOMINAL * (1 - NOMINAL) / SESSIONS)
    assert share >= NOMINAL - allowed, share
