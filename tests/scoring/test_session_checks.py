"""What is noticed in a session's log, times and zero check, each with its nearest neighbour that is not."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.loading import load_reference
from generator.model.log import Log
from generator.model.result import Finding
from generator.scoring.session_checks import (
    readings_that_are_missing,
    readings_that_repeat,
    times_unlike_the_protocol,
    zero_check_too_high,
)
from generator.scoring.zero_check import zero_corrected_concentration
from tests.scoring.test_log_checks import FLOW, counted_log, with_readings

WHERE = "fit[first]"
PROTOCOL = load_reference().protocols["eight-standard-exercises"]


def a_log(*, stuck: bool = False, without: tuple[float, ...] = ()) -> Log:
    samples = counted_log(1)
    if stuck:
        samples = with_readings(with_readings(samples, 100, 119, 30.6), 200, 229, 28.2)
    return Log(file="logs/x.csv", sha256="0" * 64, samples=tuple(row for row in samples if row.time_s not in without))


def test_readings_that_repeat_are_noted() -> None:
    # source: the faults put in
    assert readings_that_repeat(WHERE, a_log(stuck=True), FLOW) == Finding(
        rule="readings-repeat",
        where=WHERE,
        facts={"stretches": 2, "longest_readings": 30, "longest_from_s": 200.0},
    )
    assert readings_that_repeat(WHERE, a_log(), FLOW) is None


def test_readings_that_are_missing_are_noted() -> None:
    # source: the seconds taken out
    assert readings_that_are_missing(WHERE, a_log(without=(9.0, 50.0, 51.0))) == Finding(
        rule="readings-missing",
        where=WHERE,
        facts={"gaps": 2, "missing_readings": 3, "largest_gap_readings": 2, "largest_gap_from_s": 49.0},
    )
    assert readings_that_are_missing(WHERE, a_log()) is None


@pytest.mark.parametrize("seconds", [30.0, 40.0, 60.0, 66.0])
def test_a_part_of_the_exercise_is_in_order(seconds: float) -> None:
    # source: own rule, half to 1.1 of 60 s; a paper prints 40 s sampled of 60 s (PMC8840807)
    assert times_unlike_the_protocol(WHERE, {"talking": seconds, "bending": 60.0}, PROTOCOL) is None


@pytest.mark.parametrize(("seconds", "least", "most"), [(29.0, 29 / 60, 1.0), (67.0, 1.0, 67 / 60)])
def test_too_short_and_too_long_are_noted(seconds: float, least: float, most: float) -> None:
    finding = times_unlike_the_protocol(WHERE, {"talking": seconds, "bending": 60.0}, PROTOCOL)
    # source: by hand
    assert finding is not None
    assert finding.rule == "exercise-times-unlike-protocol"
    assert finding.facts == {
        "exercises": "talking",
        "count": 1,
        "smallest_share_of_duration": pytest.approx(least, rel=1e-12),
        "largest_share_of_duration": pytest.approx(most, rel=1e-12),
        "least": 0.5,
        "most": 1.1,
    }


def test_exercises_without_a_time_are_not_judged() -> None:
    assert times_unlike_the_protocol(WHERE, {}, PROTOCOL) is None


def test_a_zero_check_is_held_against_the_lowest_exercise() -> None:
    assert zero_check_too_high(WHERE, 0.31, [5.0, 3.0, 40.0]) == Finding(
        rule="zero-check-too-high",
        where=WHERE,
        facts={"zero_per_cm3": 0.31, "lowest_in_mask_per_cm3": 3.0, "noted_above": 0.1},
    )
    # source: own rule, a tenth
    assert zero_check_too_high(WHERE, 0.3, [5.0, 3.0, 40.0]) is None
    assert zero_check_too_high(WHERE, 0.3, []) is None
    # Nothing counted at all, neither inside nor in the zero check.
    assert zero_check_too_high(WHERE, 0.0, [0.0, 3.0]) is None


def test_the_standard_uncertainty_is_the_scatter_of_simulated_counts() -> None:
    # source: independent simulation, numpy 2.4.6, 200,000 pairs of Poisson counts of mean 40 and 9
    random = np.random.default_rng(4)
    differences = random.poisson(40, 200_000) / 50 - random.poisson(9, 200_000) / 30
    value, uncertainty = zero_corrected_concentration(40, 50, 9, 30)
    assert value == pytest.approx(np.mean(differences), abs=0.002)
    assert uncertainty == pytest.approx(np.std(differences), rel=0.01)


@given(st.integers(0, 10**6), st.integers(0, 10**6), st.floats(1e-3, 1e6), st.floats(1e-3, 1e6))
def test_a_zero_check_never_raises_a_concentration_nor_makes_it_surer(
    n: int, z: int, volume: float, zero: float
) -> None:
    value, uncertainty = zero_corrected_concentration(n, volume, z, zero)
    assert value <= n / volume
    # Equal where the zero check counted nothing: the last digit may differ, as the two are computed in another order.
    assert uncertainty >= math.sqrt(max(n, 1)) / volume * (1 - 1e-12)


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ((-1, 1, 0, 1), "particles counted: found -1"),
        ((1, 0, 0, 1), r"counted volume \[cm3\]: found 0"),
        ((1, 1, -1, 1), "particles counted in the zero check: found -1"),
        ((1, 1, 0, 0), r"volume counted in the zero check \[cm3\]: found 0"),
    ],
)
def test_what_is_outside_the_range_is_refused(values: tuple[int, float, int, float], message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        zero_corrected_concentration(*values)
