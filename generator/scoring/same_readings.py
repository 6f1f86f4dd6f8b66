"""Readings of a session's exercises that are alike to the last digit: whether chance explains them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

from generator.model.published import PublishedSession
from generator.model.quantity import Quantity
from generator.model.result import Finding
from generator.model.session import ExerciseReading
from generator.scoring.fit_factors import count_from_concentration, counted_volume
from generator.scoring.log_figures import chance_of_repeats
from generator.scoring.samples import CountingAir
from generator.scoring.valid_range import require_positive

ALIKE_NOTED = 3
"""Fewest exercises with the same reading that are looked at (own rule)."""

CHANCE_NOTED = 0.01
"""Expected number at or above which chance explains them (own rule)."""


def chance_of_same_readings(count: int, step: float, alike: int, exercises: int) -> float:
    """Return how many sets of exercises with the same reading chance would give at most in a session.

    Parameters
    ----------
    count : int
        The particles of the reading that recurs. [count]
    step : float
        How many particles one step of the display stands for, where that is more than one. [count]
    alike : int
        How many exercises have it. [count]
    exercises : int
        How many exercises the session has. [count]

    Returns
    -------
    float
        Upper bound of the expected number of such sets; it may be above 1. [count]

    Raises
    ------
    OutsideRange
        The count or the step is below zero, or there are fewer than two alike or fewer exercises than are alike.

    Notes
    -----
    m <= (N choose r) P^(r - 1) with P = min(1, s n^n e^(-n) / n!), the largest probability that a Poisson count can
    have of being n, for each of the s counts that are shown alike, at least one. It would be reached only if the air
    inside were the same in every exercise.

    References
    ----------
    .. [1] Derived here from the Poisson distribution.
    """
    require_positive("exercises alike beyond the first", alike - 1)
    require_positive("exercises beyond those alike, and one", exercises - alike + 1)
    # Two readings of two: the probability that the second is like the first.
    same = chance_of_repeats(count, step, 2, 2)
    return math.comb(exercises, alike) * same ** (alike - 1)


@dataclass(frozen=True)
class _Shown:
    """A reading as it was shown."""

    number: float
    count: int
    step: float
    """Particles that one step of the display stands for."""


def same_readings(where: str, session: PublishedSession, air: CountingAir | None) -> Finding | None:
    """Return a finding where exercises of a session have the same reading inside and chance does not explain it.

    Only for sessions without a log, by counters of single particles. Zeros are never strange. A step of the display is
    taken from the last digit of the reading that is not zero: zeros at the end may not have been read.
    """
    if air is None or not air.single_particle or session.in_mask_time is None:
        return None
    volume = counted_volume(air.flow, session.in_mask_time.to("s"))
    shown = {reading.exercise: seen for reading in session.exercises if (seen := _shown(reading, volume)) is not None}
    sets = [
        [name for name, seen in shown.items() if seen == each] for each in dict.fromkeys(shown.values()) if each.number
    ]
    largest = max(sets, key=len, default=[])
    if len(largest) < ALIKE_NOTED:
        return None
    reading = shown[largest[0]]
    chance = chance_of_same_readings(reading.count, reading.step, len(largest), len(shown))
    if chance >= CHANCE_NOTED:
        return None
    facts: dict[str, str | int | float] = {
        "exercises": ", ".join(largest),
        "count": len(largest),
        "of": len(shown),
        "reading": reading.number,
        "expected_by_chance_at_most": chance,
        "noted_below": CHANCE_NOTED,
    }
    return Finding(rule="same-readings-in-exercises", where=where, facts=facts)


def _shown(reading: ExerciseReading, volume: float) -> _Shown | None:
    if reading.in_mask_count is not None:
        return _Shown(reading.in_mask_count, reading.in_mask_count, 1)
    if reading.in_mask is None:
        return None
    concentration = reading.in_mask.to("/cm3")
    step = _last_digit(reading.in_mask)
    return _Shown(concentration, count_from_concentration(concentration, volume), step * volume)


def _last_digit(quantity: Quantity) -> float:
    """Return what a step in the last digit that is not zero stands for, in /cm3."""
    exponent = Decimal(repr(quantity.number)).normalize().as_tuple().exponent
    assert isinstance(exponent, int), "a quantity is a finite number"
    return Quantity(number=10.0**exponent, unit=quantity.unit).to("/cm3")
