"""Formulas about filters: published tables, directions, limits, and what lies outside their ranges."""

from __future__ import annotations

import csv
import math
from collections.abc import Callable
from pathlib import Path

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.scoring.combined_ends import combined_ends
from generator.scoring.face_velocity import face_velocity, penetration_together, resistance_together
from generator.scoring.filter_loading import change_in_percent, time_of_fall
from generator.scoring.filter_penetration import (
    highest_fit_factor,
    penetration_at_other_flow,
    quality_factor,
    share_past_seal,
    total_inward_leakage,
)
from generator.scoring.pressure_drop_lines import drop_between, resistance_of_points, share_off_line
from generator.scoring.valid_range import require_between

LINES = (Path(__file__).parent / "data" / "filter_resistance_published.csv").read_text(encoding="utf-8").splitlines()
ROWS = [
    row
    for row in csv.DictReader(line for line in LINES if not line.startswith("#"))
    if row["flow_L_min"] and row["dp_Pa"]
]
SHARES = st.floats(1e-6, 1 - 1e-6)
POSITIVE = st.floats(0.1, 1e4)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["item"])
def test_resistances_of_the_published_table(row: dict[str, str]) -> None:
    # source: Kim and others 2015, PMC4499853, and 42 CFR 84.172, one flow and drop each; the last column by R = dp / Q,
    # to a tenth. Erratum: for 196.1 Pa the table has 138.5 where 138.4 follows.
    flow, drop = float(row["flow_L_min"]), float(row["dp_Pa"])
    assert resistance_of_points([0, flow], [0, drop]) == pytest.approx(float(row["R_Pa_s_per_L"]), abs=0.08)


@given(st.lists(st.tuples(POSITIVE, POSITIVE), min_size=3, max_size=12, unique_by=(lambda p: p[0], lambda p: p[1])))
def test_the_line_is_that_of_a_general_library(points: list[tuple[float, float]]) -> None:
    # source: numpy 2.4.6: numpy.linalg.lstsq on one column, the flows in L/s
    flows, drops = [flow for flow, _ in points], [drop for _, drop in points]
    (slope,), *_ = numpy.linalg.lstsq(numpy.array(flows)[:, None] / 60, numpy.array(drops), rcond=None)
    found = resistance_of_points(flows, drops)
    assert found == pytest.approx(slope, rel=1e-6)
    left = numpy.sum((numpy.array(drops) - found * numpy.array(flows) / 60) ** 2)
    assert share_off_line(flows, drops, found) == pytest.approx(left / (numpy.var(drops) * len(drops)), rel=1e-6)


@given(POSITIVE, POSITIVE, st.floats(1, 10))
def test_more_area_never_raises_the_face_velocity(flow: float, area: float, more: float) -> None:
    assert face_velocity(flow, area * more) <= face_velocity(flow, area)


@given(POSITIVE, st.floats(1e-6, 0.999), st.integers(1, 8))
def test_a_filter_beside_its_like_never_lets_more_through(flow: float, penetration: float, more: int) -> None:
    # Each of n + 1 filters takes less of the flow than each of n did; by diffusion less gets through.
    fewer, all_of_them = flow / more, flow / (more + 1)
    each = penetration_at_other_flow(penetration, fewer, all_of_them)
    together = penetration_together([all_of_them] * (more + 1), [each] * (more + 1))
    assert together <= penetration * (1 + 1e-12)


@given(st.lists(POSITIVE, min_size=1, max_size=6), POSITIVE)
def test_a_filter_beside_others_never_raises_the_resistance(resistances: list[float], another: float) -> None:
    before, after = resistance_together(resistances), resistance_together([*resistances, another])
    assert after < before
    assert after <= min(*resistances, another) * (1 + 1e-12)


def test_two_equal_filters_halve_the_resistance_and_let_the_same_share_through() -> None:
    # source: arithmetic, two ways of the same width
    assert resistance_together([172.0, 172.0]) == pytest.approx(86.0)
    assert penetration_together([42.5, 42.5], [0.01, 0.01]) == pytest.approx(0.01)


@pytest.mark.parametrize(
    ("penetration", "highest"),
    # source: arithmetic: 5 %, 1 % and 0.03 % of the particles get through
    [(0.05, 20), (0.01, 100), (0.0003, 3333.33)],
)
def test_what_a_filter_leaves_possible(penetration: float, highest: float) -> None:
    assert highest_fit_factor(penetration) == pytest.approx(highest, rel=1e-5)


@given(SHARES, SHARES)
def test_leakage_lies_between_its_greater_part_and_the_sum(seal: float, penetration: float) -> None:
    # source: NIOSH 1992, page 71: the sum of both, which leaves out their product
    total = total_inward_leakage(seal, penetration)
    assert max(seal, penetration) * (1 - 1e-12) <= total <= min(1.0, seal + penetration) * (1 + 1e-12)
    assert total == pytest.approx(seal + penetration - seal * penetration)
    assert 1 / total <= highest_fit_factor(penetration) * (1 + 1e-12)


@given(SHARES, st.floats(1e-6, 0.9))
def test_the_share_past_the_seal_is_found_again(seal: float, penetration: float) -> None:
    assert share_past_seal(total_inward_leakage(seal, penetration), penetration) == pytest.approx(seal, abs=1e-9)


def test_less_than_the_filter_lets_through_is_below_zero() -> None:
    assert share_past_seal(0.01, 0.02) == pytest.approx(-0.0102, rel=0.01)


@given(st.floats(1e-6, 0.99), POSITIVE, st.floats(1, 4))
def test_more_flow_never_lets_less_through(penetration: float, flow: float, more: float) -> None:
    assert penetration_at_other_flow(penetration, flow, min(flow * more, 4 * flow)) >= penetration * (1 - 1e-12)


@given(st.floats(1e-6, 0.99), POSITIVE)
def test_a_filter_that_keeps_more_back_is_of_higher_quality(penetration: float, drop: float) -> None:
    assert quality_factor(penetration / 2, drop) > quality_factor(penetration, drop)
    assert quality_factor(penetration, 2 * drop) < quality_factor(penetration, drop)
    assert quality_factor(1, drop) == 0


@given(st.floats(0, 500), st.floats(1, 100), st.floats(0, 500), st.floats(0, 1))
def test_between_two_points_the_drop_lies_between_theirs(low: float, step: float, drop: float, part: float) -> None:
    flow = min(low + part * step, low + step)
    found = drop_between(flow, low, drop, low + step, drop + 10)
    assert drop - 1e-9 <= found <= drop + 10 + 1e-9


@given(st.floats(-100, 100), st.lists(st.tuples(st.floats(0, 10), st.floats(0, 10)), min_size=1, max_size=5))
def test_ends_lie_outside_what_any_number_does_alone(value: float, steps: list[tuple[float, float]]) -> None:
    low, high = combined_ends(value, [value - down for down, _ in steps], [value + up for _, up in steps])
    assert low <= min(value - down for down, _ in steps) + 1e-9
    assert high >= max(value + up for _, up in steps) - 1e-9


def test_an_end_that_is_not_known_leaves_none() -> None:
    assert combined_ends(1, [0.5, 0.9], [math.inf, 1.2])[1] == math.inf


@given(st.floats(1, 1e3), st.floats(0.1, 1e3), st.floats(0, 1), st.floats(0, 1))
def test_a_higher_limit_is_never_reached_later(start: float, fall: float, one: float, other: float) -> None:
    after = start - fall
    limits = [min(after + max(part, 1e-6) * fall, start) for part in sorted((one, other))]
    late, early = (time_of_fall(0, start, 60, after, limit) for limit in limits)
    assert early <= late + 1e-9
    assert 0 <= early <= 60 + 1e-9


OUTSIDE: list[tuple[Callable[[], object], str]] = [
    (lambda: face_velocity(-1, 100), "flow through the filters .*: found -1"),
    (lambda: face_velocity(85, 0), "area of the medium .*: found 0"),
    (lambda: penetration_together([1, 2], [0.1]), "flows and penetrations: found 2, 1 values"),
    (lambda: penetration_together([0, 2], [0.1, 0.1]), "flow through one filter .*: found 0"),
    (lambda: penetration_together([1, 2], [0.1, -0.1]), "penetration of one filter: found -0.1"),
    (lambda: resistance_together([]), "resistances: found 0 values"),
    (lambda: resistance_together([80, 0]), "resistance of one filter .*: found 0"),
    (lambda: quality_factor(0, 100), "penetration: found 0, expected a finite number above 0"),
    (lambda: quality_factor(1.1, 100), "penetration: found 1.1, expected 0 to 1"),
    (lambda: quality_factor(0.1, 0), "pressure drop .*: found 0"),
    (lambda: penetration_at_other_flow(0, 85, 85), "penetration: found 0"),
    (lambda: penetration_at_other_flow(2, 85, 85), "penetration: found 2"),
    (lambda: penetration_at_other_flow(0.1, 0, 85), "^flow .*: found 0"),
    (lambda: penetration_at_other_flow(0.1, 85, 0), "other flow .*: found 0"),
    (lambda: penetration_at_other_flow(0.1, 100, 401), "ratio of the flows: found 4.01, expected 0.25 to 4"),
    (lambda: penetration_at_other_flow(0.1, 100, 24), "ratio of the flows: found 0.24, expected 0.25 to 4"),
    (lambda: total_inward_leakage(-0.1, 0.1), "share of the air past the seal: found -0.1"),
    (lambda: total_inward_leakage(0.1, 1.1), "penetration: found 1.1"),
    (lambda: share_past_seal(0, 0.1), "inward leakage: found 0"),
    (lambda: share_past_seal(0.1, -0.1), "penetration: found -0.1"),
    (lambda: share_past_seal(0.1, 1), "share that the filter keeps back: found 0"),
    (lambda: highest_fit_factor(0), "penetration: found 0"),
    (lambda: highest_fit_factor(1.5), "penetration: found 1.5"),
    (lambda: resistance_of_points([30], [40, 50]), "flows and pressure drops: found 1, 2 values"),
    (lambda: resistance_of_points([30, -1], [40, 50]), "flow .*: found -1"),
    (lambda: resistance_of_points([30, 60], [40, -5]), "pressure drop .*: found -5"),
    (lambda: resistance_of_points([30, 30], [40, 41]), "flows: found no two different values"),
    (lambda: share_off_line([30, 60], [40], 80), "flows and pressure drops: found 2, 1 values"),
    (lambda: share_off_line([30, 60], [40, 80], 80), "pressure drops: found 2 values, expected at least 3"),
    (lambda: share_off_line([30, 60, 90], [40, 40, 40], 80), "pressure drops: found no two different"),
    (lambda: share_off_line([30, 60, 90], [40, 80, 120], -1), "resistance .*: found -1"),
    (lambda: drop_between(85, 60, 80, 60, 90), "distance of the two flows .*: found 0"),
    (lambda: drop_between(85, 30, 40, 60, 80), "flow .*: found 85, expected 30 to 60"),
    (lambda: change_in_percent(0, 5), "first reading: found 0"),
    (lambda: time_of_fall(60, 180, 60, 160, 170), "time between the readings .*: found 0"),
    (lambda: time_of_fall(0, 160, 60, 150, 170), "flow before, above the limit .*: found -10"),
    (lambda: time_of_fall(0, 180, 60, 170, 170), "limit, above the flow after .*: found 0"),
    (lambda: combined_ends(1, [0.5], [1.5, 2]), "lows and highs: found 1, 2 values"),
    (lambda: combined_ends(1, [1.5], [2]), "low and figure: found 1.5 to 1"),
    (lambda: combined_ends(1, [0.5], [0.9]), "figure and high: found 1 to 0.9"),
    (lambda: require_between("share", math.nan, 0, 1), "share: found nan, expected 0 to 1"),
]


@pytest.mark.parametrize(("asked", "message"), OUTSIDE, ids=[message for _, message in OUTSIDE])
def test_outside_its_range(asked: Callable[[], object], message: str) -> None:
    with pytest.raises(OutsideRange, match=message):
        asked()


def test_the_ends_of_a_range_belong_to_it() -> None:
    require_between("share", 0, 0, 1)
    require_between("share", 1, 0, 1)
    assert penetration_at_other_flow(0.5, 100, 400) > 0.5 > penetration_at_other_flow(0.5, 100, 25)
