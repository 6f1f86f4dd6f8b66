"""Logs with two channels of which the truth is known, row by row; shared by the tests and the bench.

The process is written here and shares nothing with the code but what reads it: both channels count 100 cm3/min once a
second, the second one reads too little by a known ratio and comes late by a known number of seconds, the room wanders.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from generator.model.log import LogSample, Sampling
from generator.scoring.two_channel_simulation import two_channel_fit_factor_limits
from generator.scoring.two_channels import compare_channels, second_channel_during

FLOW = 100 / 60
NOMINAL = 0.95


@dataclass(frozen=True)
class TwoChannels:
    """How a log with two channels comes about."""

    factor: float
    ratio: float = 1.06
    """How much more the channel inside reads than the second one in the same air."""
    lag: int = 2
    """By how many readings the second channel is late."""
    side_by_side: int = 60
    """Seconds in which both channels draw the same air, before the first exercise."""
    exercises: int = 7
    seconds: int = 40
    ambient: float = 3000.0
    wander: float = 0.01
    """Standard deviation of a second's step of the room's logarithm."""


@dataclass(frozen=True)
class TwoChannelLog:
    """A log and the truth behind it."""

    samples: tuple[LogSample, ...]
    truth: float
    truths: tuple[float, ...]
    """The true factor of each exercise."""


def two_channel_log(process: TwoChannels, random: np.random.Generator) -> TwoChannelLog:
    """Return one log: side by side, then purge and in-mask seconds of each exercise."""
    plan = [(Sampling.SIDE_BY_SIDE, "")] * process.side_by_side
    for number in range(process.exercises):
        plan += [(Sampling.PURGE, "")] * 5 + [(Sampling.IN_MASK, f"e{number}")] * process.seconds
    plan += [(Sampling.PURGE, "")] * 5
    path = np.cumsum(random.normal(0, process.wander, len(plan) + 20))
    room = process.ambient * np.exp(path - path.mean())
    leaks = np.exp(random.normal(0, 0.2, process.exercises)) / process.factor
    came_in, outside = np.zeros(process.exercises), np.zeros(process.exercises)
    samples = []
    for second, (sampling, exercise) in enumerate(plan):
        here = room[second + 10]
        inside = here
        if sampling is Sampling.IN_MASK:
            number = int(exercise[1:])
            inside = here * leaks[number]
            came_in[number] += inside
            outside[number] += here
        late = room[second + 10 - process.lag]
        samples.append(
            LogSample(
                time_s=float(second),
                concentration_per_cm3=random.poisson(inside * FLOW) / FLOW,
                exercise=exercise,
                sampling=sampling,
                outside_per_cm3=random.poisson(late / process.ratio * FLOW) / FLOW,
            )
        )
    penetrations = came_in / outside
    return TwoChannelLog(tuple(samples), float(1 / np.mean(penetrations)), tuple(1 / penetrations))


def limits_of(log: TwoChannelLog, process: TwoChannels, seed: int, draws: int = 1000) -> tuple[float, float | None]:
    """Return the limits of the overall factor, from the log alone."""
    channels = compare_channels(log.samples, "here")
    counts, volumes, ambient_counts, ambient_volumes = [], [], [], []
    for number in range(process.exercises):
        rows = [row for row in log.samples if row.exercise == f"e{number}"]
        counts.append(round(math.fsum(row.concentration_per_cm3 for row in rows) * FLOW))
        volumes.append(len(rows) * FLOW)
        second = second_channel_during(log.samples, f"e{number}", channels.lag)
        assert second is not None
        ambient_volumes.append(second.seconds * FLOW)
        ambient_counts.append(round(second.concentration * second.seconds * FLOW))
    return two_channel_fit_factor_limits(
        counts,
        volumes,
        ambient_counts,
        ambient_volumes,
        channels.ratio,
        channels.deviation,
        len(channels.first),
        0,
        None,
        NOMINAL,
        seed,
        draws,
    )


def share_held(process: TwoChannels, sessions: int, seed: int) -> tuple[float, float]:
    """Return in which share of sessions the limits hold the truth, and the median of upper over lower limit."""
    random = np.random.default_rng(seed)
    held, widths = 0, []
    for number in range(sessions):
        log = two_channel_log(process, random)
        low, high = limits_of(log, process, number)
        held += low <= log.truth and (high is None or log.truth <= high)
        widths.append(math.inf if high is None else high / low)
    return held / sessions, float(np.median(widths))
