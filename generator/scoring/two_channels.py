"""The second channel of a log: how it compares with the one that goes inside, and what it counted in an exercise."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from generator.model.log import LogSample, Sampling
from generator.scoring.log_checks import channel_lag
from generator.scoring.log_figures import side_by_side_ratio

BLOCK_READINGS = 10
"""Least readings of a block whose mean is one pair for the ratio; means of so many hardly depend on each other."""

MOST_BLOCKS = 12
"""Blocks that the side-by-side readings are cut into at most, so that a reader can follow the working."""

MOST_LAG = 10
"""The longest lag between the channels that is looked for, in readings."""

COVERAGE = 0.95


@dataclass(frozen=True)
class ChannelComparison:
    """What the lines say in which both channels draw the same air. Without enough of them, the ratio is taken as 1."""

    lag: int
    """By how many readings the second channel is later than the first; 0 where the lines show none."""
    lag_seen: bool
    """Whether the two channels changed together enough to tell the lag."""
    where: str
    """Where the lines stand, and which they are."""
    first: tuple[float, ...]
    """Means of the blocks of the first channel, the one that goes inside, in /cm3."""
    second: tuple[float, ...]
    """Those of the second channel at the same times, in /cm3."""
    ratio: float
    low: float
    high: float
    deviation: float
    """Standard deviation of the logarithms of the blocks' ratios."""

    @property
    def compared(self) -> bool:
        """Whether the ratio was measured."""
        return len(self.first) > 1


@dataclass(frozen=True)
class SecondChannelBlock:
    """What the second channel read while an exercise was sampled inside."""

    concentration: float
    """Mean, in /cm3, without the ratio."""
    seconds: float
    what: str


def compare_channels(samples: Sequence[LogSample], path: str) -> ChannelComparison:
    """Return how the two channels of a log compare in its side-by-side lines; `path` is where the log is named."""
    stretches = list(_stretches(samples))
    longest = max(stretches, key=len, default=[])
    lag = _lag(longest)
    pairs = [pair for stretch in stretches for pair in _pairs(stretch, lag or 0)]
    size = max(BLOCK_READINGS, math.ceil(len(pairs) / MOST_BLOCKS))
    blocks = [pairs[start : start + size] for start in range(0, len(pairs) - size + 1, size)]
    first = tuple(math.fsum(one for one, _ in block) / size for block in blocks)
    second = tuple(math.fsum(other for _, other in block) / size for block in blocks)
    if len(blocks) < 2 or min(first) <= 0 or min(second) <= 0:
        where = f"{path}: too few side-by-side samples" if stretches else f"{path}: no side-by-side samples"
        return ChannelComparison(lag or 0, lag is not None, where, (), (), 1.0, 1.0, 1.0, 0.0)
    ratio, low, high = side_by_side_ratio(first, second, COVERAGE)
    return ChannelComparison(
        lag=lag or 0,
        lag_seen=lag is not None,
        where=f"{path}: {len(blocks)} blocks of {size} side-by-side samples from {stretches[0][0].time_s:g} s to "
        f"{stretches[-1][-1].time_s:g} s",
        first=first,
        second=second,
        ratio=ratio,
        low=low,
        high=high,
        deviation=float(np.std(np.log(np.divide(first, second)), ddof=1)),
    )


def second_channel_during(samples: Sequence[LogSample], exercise: str, lag: int) -> SecondChannelBlock | None:
    """Return what the second channel read during an exercise's own in-mask seconds, moved by the lag.

    At the end of a log the last readings of a late channel are missing; the mean is then of those there are.
    """
    step = float(np.median([later.time_s - earlier.time_s for earlier, later in pairwise(samples)] or [1.0]))
    moments = {
        round(row.time_s / step) + lag
        for row in samples
        if row.sampling is Sampling.IN_MASK and row.exercise == exercise
    }
    rows = [row for row in samples if round(row.time_s / step) in moments]
    read = [row.outside_per_cm3 for row in rows if row.outside_per_cm3 is not None]
    if not read:
        return None
    return SecondChannelBlock(
        concentration=math.fsum(read) / len(read),
        seconds=len(read) * step,
        what=f"{len(read)} second-channel samples from {rows[0].time_s:g} s to {rows[-1].time_s:g} s, {exercise}",
    )


def _stretches(samples: Sequence[LogSample]) -> Iterator[list[LogSample]]:
    stretch: list[LogSample] = []
    for row in samples:
        if row.sampling is Sampling.SIDE_BY_SIDE:
            stretch.append(row)
        elif stretch:
            yield stretch
            stretch = []
    if stretch:
        yield stretch


def _lag(stretch: Sequence[LogSample]) -> int | None:
    """Return the lag that a stretch shows, or None; in air that does not change there is none to see, nor to mind."""
    most = min(MOST_LAG, len(stretch) // 6)
    if most < 1:
        return None
    first, second = zip(*_pairs(stretch, 0), strict=True)
    found = channel_lag(first, second, most)
    return found.readings if found is not None else None


def _pairs(stretch: Sequence[LogSample], lag: int) -> list[tuple[float, float]]:
    """Return the readings of both channels of the same air, the second moved back by the lag."""
    first = [row.concentration_per_cm3 for row in stretch][max(0, -lag) :]
    second = [row.outside_per_cm3 for row in stretch if row.outside_per_cm3 is not None][max(0, lag) :]
    return list(zip(first, second, strict=False))
