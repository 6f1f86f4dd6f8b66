"""What a raw log tells of itself: readings that stuck, seconds that are missing, and how far two channels are apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np

from generator.model.log import LogSample, Sampling
from generator.scoring.log_figures import chance_of_repeats
from generator.scoring.valid_range import (
    require_at_least_items,
    require_not_negative,
    require_positive,
    require_same_length,
)

CHANCE_NOTED = 0.001
"""Repeats that chance would give less often than once in a thousand logs are noted (own rule)."""

STEP_NOTED = 1.5
"""Steps of time longer than this many usual ones leave readings out (own rule)."""

CHANNELS_AGREE = 0.5
"""Least correlation of two channels at which the lag between them is told (own rule)."""


@dataclass(frozen=True)
class Stretch:
    """Readings of a log that belong together."""

    start: float
    """Time of the first one in s."""
    end: float
    """Time of the last one in s."""
    readings: int


@dataclass(frozen=True)
class Lag:
    """How far one channel is behind another."""

    readings: int
    """By how many readings the second channel is later than the first; negative where it is earlier."""
    correlation: float
    """Correlation of the two at that lag."""


def stuck_stretches(samples: Sequence[LogSample], counted_flow: float) -> tuple[Stretch, ...]:
    """Return where readings repeat to the last digit for longer than chance explains; for unsmoothed counts only.

    The counted flow, in cm3/min, tells how many particles a reading is. The step of the display is taken as the
    smallest difference between readings of the same kind of air.
    """
    require_positive("counted flow [cm3/min]", counted_flow)
    if len(samples) < 2:
        return ()
    volume = counted_flow / 60 * _usual_step(samples)
    steps = {kind: _display_step(samples, kind) for kind in {sample.sampling for sample in samples}}
    found = []
    for (sampling, _, concentration), group in groupby(
        samples, key=lambda sample: (sample.sampling, sample.exercise, sample.concentration_per_cm3)
    ):
        rows = list(group)
        count = round(concentration * volume)
        # A reading above zero that is less than one particle a second was smoothed: it is judged as one particle.
        judged = max(count, 1) if concentration > 0 else 0
        if (
            len(rows) > 1
            and chance_of_repeats(judged, steps[sampling] * volume, len(rows), len(samples)) < CHANCE_NOTED
        ):
            found.append(Stretch(rows[0].time_s, rows[-1].time_s, len(rows)))
    return tuple(found)


def _display_step(samples: Sequence[LogSample], kind: Sampling) -> float:
    shown = np.unique([sample.concentration_per_cm3 for sample in samples if sample.sampling is kind])
    return float(np.min(np.diff(shown))) if len(shown) > 1 else 0.0


def missing_readings(samples: Sequence[LogSample]) -> tuple[Stretch, ...]:
    """Return where a log leaves readings out: from the reading before to the one after, and how many are missing."""
    if len(samples) < 3:
        return ()
    usual = _usual_step(samples)
    return tuple(
        Stretch(earlier.time_s, later.time_s, round((later.time_s - earlier.time_s) / usual) - 1)
        for earlier, later in pairwise(samples)
        if later.time_s - earlier.time_s > STEP_NOTED * usual
    )


def _usual_step(samples: Sequence[LogSample]) -> float:
    return float(np.median(np.diff([sample.time_s for sample in samples])))


def channel_lag(first: Sequence[float], second: Sequence[float], most: int) -> Lag | None:
    """Return by how many readings the second of two channels is behind the first, or None where they do not agree.

    Parameters
    ----------
    first : Sequence[float]
        Readings of one channel, equally spaced in time. [any]
    second : Sequence[float]
        Readings of the other at the same times. [any]
    most : int
        The longest lag that is looked for, either way. [count]

    Returns
    -------
    Lag | None
        The lag of highest correlation; None where that is below 0.5, or a channel never changes. [count]

    Raises
    ------
    OutsideRange
        The lists differ in length, or hold fewer readings than three more than twice the longest lag.

    Notes
    -----
    r(k) = corr(x_t, y_(t+k)) over the readings that both have; the lag is the k of largest r, |k| <= most.

    References
    ----------
    .. [1] Common definition of the sample cross-correlation (no source).
    """
    require_same_length("readings of two channels", first, second)
    require_not_negative("longest lag", most)
    require_at_least_items("readings of a channel", first, 2 * most + 3)
    one, other = np.asarray(first, dtype=float), np.asarray(second, dtype=float)
    lags = sorted(range(-most, most + 1), key=abs)
    # At the same correlation the shorter lag is taken.
    best = max((Lag(lag, _correlation_at(one, other, lag)) for lag in lags), key=lambda lag: lag.correlation)
    return best if best.correlation >= CHANNELS_AGREE else None


def _correlation_at(first: np.ndarray, second: np.ndarray, lag: int) -> float:
    """Return the correlation of two channels with the second moved back by a lag; 0 where one does not change."""
    early = first[: len(first) - lag] if lag >= 0 else first[-lag:]
    late = second[lag:] if lag >= 0 else second[: len(second) + lag]
    if np.ptp(early) == 0 or np.ptp(late) == 0:
        return 0.0
    return float(np.corrcoef(early, late)[0, 1])
