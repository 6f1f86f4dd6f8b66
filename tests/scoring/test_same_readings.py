"""Readings of exercises that are alike to the last digit: the chance of it, and what is noted."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.model.published import published
from generator.model.result import Finding
from generator.scoring.same_readings import CHANCE_NOTED, chance_of_same_readings, same_readings
from generator.scoring.samples import CountingAir
from tests.scoring.builders import Data, a_catalogue, a_session, a_test, readings

AIR = CountingAir(100.0, "instruments/counter: counter.counted_flow", single_particle=True)
"""With 60 s of sampling 100 cm3 are counted: a reading of 30.64 /cm3 is of 3064 particles."""
SIX = ("standing", "talking", "bending", "walking", "nodding", "turning")


def found(*inside: Any, air: CountingAir | None = AIR, **changes: Any) -> Finding | None:
    exercises: list[Data] = readings(*inside, names=SIX[: len(inside)])
    catalogue = published(a_catalogue(a_test([a_session(exercises, **({"in_mask_time": "60 s"} | changes))])))
    (session,) = catalogue.device_tests["test"].fit
    return same_readings("fit[am]", session, air)


def test_three_alike_in_six_are_noted_with_what_chance_would_give() -> None:
    finding = found("30.64 /cm3", "29.11 /cm3", "30.64 /cm3", "33.02 /cm3", "30.64 /cm3", "28.57 /cm3")
    assert finding is not None
    assert (finding.rule, finding.where) == ("same-readings-in-exercises", "fit[am]")
    assert finding.facts == {
        "exercises": "standing, bending, nodding",
        "count": 3,
        "of": 6,
        "reading": 30.64,
        # source: R 4.2.2, choose(6, 3) * dpois(3064, 3064)^2
        "expected_by_chance_at_most": pytest.approx(0.00103881, rel=1e-5),
        "noted_below": 0.01,
    }


@pytest.mark.parametrize(
    "inside",
    [
        # Two are too few to look at, whatever the chance (own rule).
        ("30.64 /cm3", "29.11 /cm3", "30.64 /cm3"),
        # source: R 4.2.2, a step of 0.1 /cm3 is 10 particles: choose(6, 3) * (10 * dpois(3060, 3060))^2 = 0.104
        ("30.6 /cm3", "29.1 /cm3", "30.6 /cm3", "33.0 /cm3", "30.6 /cm3", "28.5 /cm3"),
        # A display that shows whole numbers, or thousands: a step holds 100 particles, and more.
        ("31 /cm3", "31 /cm3", "31 /cm3", "31 /cm3", "29 /cm3", "29 /cm3"),
        ("3000 /cm3", "3000 /cm3", "3000 /cm3"),
        # Nothing counted again and again is nothing strange.
        (0, 0, 0, 0, 0, 0),
        ("0 /cm3", "0 /cm3", "0 /cm3"),
        # Factors as given are no readings of particles.
        (200.0, 200.0, 200.0),
        # source: R 4.2.2, choose(6, 3) * dpois(9, 9)^2 = 0.347
        (9, 9, 9, 8, 7, 6),
    ],
)
def test_what_chance_or_the_display_explains_is_not_noted(inside: tuple[Any, ...]) -> None:
    assert found(*inside) is None


def test_a_concentration_is_the_same_in_another_unit() -> None:
    # source: 1 cm3 is 1000 mm3 and 0.001 L, so that 30640 /L are 30.64 /cm3
    assert found("30.64 /cm3", "30640 /L", "30.64 /cm3") is not None


def test_counters_that_do_not_count_single_particles_are_not_judged() -> None:
    alike = ("30.64 /cm3", "30.64 /cm3", "30.64 /cm3")
    assert found(*alike) is not None
    assert found(*alike, air=None) is None
    assert found(*alike, air=CountingAir(100.0, "x", single_particle=False)) is None
    assert found(*alike, in_mask_time=None) is None


@pytest.mark.parametrize(("mean", "exercises"), [(40, 8), (150, 5)])
def test_chance_gives_fewer_sets_than_stated(mean: int, exercises: int) -> None:
    # source: independent simulation, numpy 2.4.6, 40,000 sessions of Poisson counts of one mean
    random = np.random.default_rng(11)
    counts = random.poisson(mean, (40_000, exercises))
    triples = 0.0
    for value in np.unique(counts):
        times = np.sum(counts == value, axis=1)
        triples += float(np.sum(times * (times - 1) * (times - 2) / 6))
    # The bound holds for the count of largest probability; those further out are rarer.
    assert triples / 40_000 < chance_of_same_readings(mean, 1, 3, exercises)


@given(st.integers(1, 10**6), st.floats(0, 100), st.integers(2, 8))
def test_more_alike_are_never_likelier_where_a_reading_is_well_resolved(count: int, step: float, alike: int) -> None:
    fewer, more = (chance_of_same_readings(count, step, number, 9) for number in (alike, alike + 1))
    # source: C(9, r + 1) / C(9, r) is at most 3.5 for r of 2 and more, by arithmetic
    assert more <= 3.5 * fewer
    assert 0 < CHANCE_NOTED < 1


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ((5, 1, 1, 4), "exercises alike beyond the first: found 0"),
        ((5, 1, 5, 4), "exercises beyond those alike, and one: found 0"),
        ((-1, 1, 3, 4), "count that repeats: found -1"),
        ((5, -1, 3, 4), "counts in one step of the display: found -1"),
    ],
)
def test_what_is_outside_the_range_is_refused(values: tuple[int, float, int, int], message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        chance_of_same_readings(*values)
