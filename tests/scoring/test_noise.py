"""Sound levels and noise doses: the printed table row by row, a general library's sums, and directions."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.scoring.noise_dose import eight_hour_level, noise_dose, reference_duration
from generator.scoring.noise_levels import level_without_background, summed_level

DATA = Path(__file__).parent / "data"
ONE_COPY_ONLY = {"83": "21.2"}
"""Errata: for 83 dB(A) the copy that was read prints 21.2 h, an older one 21.1 h; the formula gives 21.11 h."""
TABLED = st.floats(80, 130)
LEVELS = st.floats(0, 140)


def table() -> list[dict[str, str]]:
    lines = (DATA / "noise_dose_osha_g16a.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def test_every_level_of_the_table_is_there() -> None:
    assert [row["L_dBA"] for row in table()] == [str(level) for level in range(80, 131)]


def printed_duration(row: dict[str, str]) -> tuple[float, float]:
    """Return what the table prints, and half a unit of its last digit. [h]"""
    level, printed = row["L_dBA"], row["T_h"]
    half = 0.5 * 10 ** -len(printed.partition(".")[2])
    if level in ONE_COPY_ONLY:
        assert printed == ONE_COPY_ONLY[level]
        printed = "21.1"
    return float(printed), half


@pytest.mark.parametrize("row", table(), ids=lambda row: row["L_dBA"])
def test_reference_duration_of_the_table(row: dict[str, str]) -> None:
    # source: 29 CFR 1910.95 Appendix A, Table G-16A (seen), to the last printed digit
    printed, half = printed_duration(row)
    assert reference_duration(float(row["L_dBA"])) == pytest.approx(printed, abs=half * (1 + 1e-9))


@pytest.mark.parametrize("row", table(), ids=lambda row: row["L_dBA"])
def test_eight_hours_at_a_level_are_that_level(row: dict[str, str]) -> None:
    # source: 29 CFR 1910.95 Appendix A, Table G-16A (seen): eight hours of the printed duration; twice is 5 dB more
    printed, half = printed_duration(row)
    slack = 5 * math.log2(printed / (printed - half)) + 0.001
    assert eight_hour_level(noise_dose(8, printed)) == pytest.approx(float(row["L_dBA"]), abs=slack)


@given(TABLED, st.floats(0, 24), st.floats(0, 24))
def test_more_time_never_lowers_the_dose(level: float, hours: float, more: float) -> None:
    allowed = reference_duration(level)
    assert noise_dose(hours + more, allowed) >= noise_dose(hours, allowed)


@given(TABLED, TABLED, st.floats(0.1, 24))
def test_a_louder_source_never_lowers_the_dose(one: float, other: float, hours: float) -> None:
    quieter, louder = sorted((one, other))
    assert noise_dose(hours, reference_duration(louder)) >= noise_dose(hours, reference_duration(quieter))


@given(st.lists(LEVELS, max_size=5), LEVELS, LEVELS)
def test_a_louder_source_never_lowers_the_sum(others: list[float], one: float, other: float) -> None:
    quieter, louder = sorted((one, other))
    # Decibels of 140 hold about 14 decimals.
    assert summed_level([*others, louder]) >= summed_level([*others, quieter]) - 1e-12


@given(st.lists(LEVELS, min_size=1, max_size=5))
def test_a_sum_is_no_lower_than_its_loudest_part(levels: list[float]) -> None:
    assert summed_level(levels) >= max(levels) - 1e-12
    # source: n equal sounds make 10 log10(n) more than one
    assert summed_level(levels) <= max(levels) + 6.9898


@given(st.floats(0, 120), st.floats(0, 60))
def test_what_a_background_adds_is_taken_off_again(source: float, below: float) -> None:
    background = max(source - below, 0.0)
    together = summed_level([source, background])
    if together - background >= 3.0:
        assert level_without_background(together, background) == pytest.approx(source, abs=1e-6)


@given(st.floats(3, 100), st.floats(0, 40), st.floats(0, 40))
def test_a_louder_reading_never_lowers_the_device(above: float, background: float, more: float) -> None:
    level = background + above
    quieter = level_without_background(level + 1e-9, background)
    assert level_without_background(level + 1e-9 + more, background) >= quieter - 1e-12


def test_nearer_than_three_decibels_there_is_no_level() -> None:
    # source: limits of the definition; acoustics 0.2.6: decibel.dbsub(63, 60)
    assert level_without_background(63.0, 60.0) == pytest.approx(59.97937560071699, rel=1e-12)
    with pytest.raises(OutsideRange, match=r"background, and level less 3 dB \[dB\(A\)\]: found 60 to 59.9"):
        level_without_background(62.9, 60.0)
    with pytest.raises(OutsideRange, match=r"background level \[dB\(A\)\]: found -1, expected a finite number of 0"):
        level_without_background(62.9, -1.0)


@pytest.mark.parametrize("level", [79.99, 130.01, float("nan")])
def test_no_duration_beside_the_table(level: float) -> None:
    with pytest.raises(OutsideRange, match=r"level \[dB\(A\)\]: found .*, expected 80 to 130"):
        reference_duration(level)


def test_times_and_levels_are_never_below_zero() -> None:
    with pytest.raises(OutsideRange, match=r"time at the level \[h\]: found -1, expected a finite number of 0 or more"):
        noise_dose(-1, 8)
    with pytest.raises(OutsideRange, match=r"reference duration \[h\]: found 0, expected a finite number above 0"):
        noise_dose(1, 0)
    with pytest.raises(OutsideRange, match=r"dose \[%\]: found 0, expected a finite number above 0"):
        eight_hour_level(0)
    with pytest.raises(OutsideRange, match="levels: found 0 values, expected at least 1"):
        summed_level([])
    with pytest.raises(OutsideRange, match=r"level \[dB\(A\)\]: found -0.1, expected a finite number of 0 or more"):
        summed_level([50, -0.1])
