"""Sessions of which the truth is known, to see how often an interval holds it. Shared by the tests and the bench.

The process is written here and shares nothing with the code but the intervals that it tries. The counter counts
100 cm3/min; ambient samples take 5 s. Exercises differ in their seal by a fifth (standard deviation of the logarithm).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from generator.scoring.counting import overall_fit_factor_limits
from generator.scoring.overall_simulation import simulated_fit_factor_limits

NOMINAL = 0.95
FLOW = 100 / 60
AMBIENT_VOLUME = FLOW * 5
FINE_STEPS = 20
"""Steps of the ambient concentration during one exercise."""


@dataclass(frozen=True)
class Process:
    """How sessions come about."""

    factor: float
    first_and_last: bool = False
    """Ambient samples at both ends only: four exercises of 30 s; otherwise around each of seven of 40 s."""
    steady: float = 0.0
    """Relative change of the ambient concentration over one exercise, the same way throughout, of either sign."""
    walk: float = 0.0
    """Standard deviation of its random walk over one exercise, which wanders during the exercise too."""
    straight: float = 0.0
    """The same, but straight between the ambient samples."""
    swing: float = 0.0
    """Size of a swing that comes back to where it began within each stretch, so that no sample sees it."""
    leak_spread: float = 0.0
    """Standard deviation of the logarithm of the leak from second to second; the truth is what came in."""
    excess: float = 1.0
    """Variance of the counts inside over their mean: above 1 for a counter that miscounts in bursts."""
    ambient: float = 3000.0
    zero_rate: float = 0.0
    """What the counter counts by itself, per cm3; a zero check of 60 s is subtracted."""

    @property
    def exercises(self) -> int:
        """How many exercises there are."""
        return 4 if self.first_and_last else 7

    @property
    def seconds(self) -> int:
        """The time of counting inside, per exercise."""
        return 30 if self.first_and_last else 40


@dataclass(frozen=True)
class SimulatedSession:
    """What a counter would have counted, and the truth behind it."""

    process: Process
    truth: float
    counts: tuple[int, ...]
    ambient_counts: tuple[int, ...]
    zero_count: int


def simulated_session(process: Process, random: np.random.Generator) -> SimulatedSession:
    """Return one session."""
    number, fine = process.exercises, process.exercises * FINE_STEPS
    path = np.concatenate(([0.0], np.cumsum(random.normal(0, process.walk / math.sqrt(FINE_STEPS), fine))))
    path += random.choice([-1, 1]) * process.steady / FINE_STEPS * np.arange(fine + 1)
    ends = np.concatenate(([0.0], np.cumsum(random.normal(0, process.straight, number))))
    # Straight between the samples, in the concentration itself and not in its logarithm.
    straight = np.interp(np.arange(fine + 1) / FINE_STEPS, np.arange(number + 1), np.exp(ends))
    stretch = number if process.first_and_last else 1
    swing = process.swing * np.sin(math.pi * (np.arange(fine + 1) / FINE_STEPS / stretch)) ** 2
    ambient = process.ambient * np.exp(path + random.choice([-1, 1]) * swing) * straight
    halves = (ambient[1:] + ambient[:-1]) / 2
    during = np.mean(halves.reshape(number, FINE_STEPS), axis=1)
    leaks = np.exp(random.normal(0, 0.2, number)) / process.factor
    if process.leak_spread:
        seconds = np.exp(random.normal(0, process.leak_spread, (number, process.seconds)))
        leaks = leaks * np.mean(seconds, axis=1)
    expected = (during * leaks + process.zero_rate) * FLOW * process.seconds
    if process.excess > 1:
        expected = random.gamma(expected / (process.excess - 1), process.excess - 1)
    sampled = ambient[:: fine if process.first_and_last else FINE_STEPS]
    return SimulatedSession(
        process,
        float(1 / np.mean(leaks)),
        tuple(int(count) for count in random.poisson(expected)),
        tuple(max(1, int(count)) for count in random.poisson(sampled * AMBIENT_VOLUME)),
        int(random.poisson(process.zero_rate * FLOW * 60)),
    )


Interval = Callable[[SimulatedSession, int], tuple[float, float | None]]


def by_simulation(session: SimulatedSession, seed: int) -> tuple[float, float | None]:
    """Return the limits by Monte Carlo; few draws, since their scatter evens out over the sessions."""
    process = session.process
    return simulated_fit_factor_limits(
        session.counts,
        [FLOW * process.seconds] * process.exercises,
        [0] * process.exercises if process.first_and_last else list(range(process.exercises)),
        session.ambient_counts,
        [AMBIENT_VOLUME] * len(session.ambient_counts),
        session.zero_count,
        FLOW * 60 if process.zero_rate else None,
        NOMINAL,
        seed,
        draws=1000,
    )


def by_lower_and_higher(session: SimulatedSession, seed: int) -> tuple[float, float | None]:
    """Return the limits with each exercise's lower and higher ambient value."""
    process = session.process
    read = [count / AMBIENT_VOLUME for count in session.ambient_counts]
    pairs = [(read[0], read[-1])] * process.exercises if process.first_and_last else list(pairwise(read))
    return overall_fit_factor_limits(
        session.counts,
        [FLOW * process.seconds] * process.exercises,
        [min(pair) for pair in pairs],
        [max(pair) for pair in pairs],
        NOMINAL,
    )


@dataclass(frozen=True)
class Covered:
    """How an interval did."""

    share: float
    """Share of the sessions in which it held the truth."""
    width: float
    """Median ratio of the upper to the lower limit; infinite where most have no upper one."""


def covered(process: Process, interval: Interval, sessions: int, seed: int) -> Covered:
    """Try an interval on so many sessions."""
    random = np.random.default_rng(seed)
    held, widths = 0, []
    for number in range(sessions):
        session = simulated_session(process, random)
        low, high = interval(session, number)
        held += int(low <= session.truth and (high is None or session.truth <= high))
        widths.append(math.inf if high is None else high / low)
    return Covered(held / sessions, float(np.median(widths)))
