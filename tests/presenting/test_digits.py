"""Digits, signs and spaces, and that rounding never carries a value over a limit."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties.formatting import PDG_precision

from generator.model.result import Figure, Interval, Relation
from generator.presenting.digits import (
    decimals_beside,
    decimals_for,
    figure_decimals,
    figure_text,
    interval_text,
    other_system,
    other_unit_text,
    percent_text,
    quantity_text,
    ratio_words,
    rounded,
    unit_text,
    value_text,
)


def a_figure(
    value: float | None,
    unit: str = "1",
    limits: tuple[float | None, float | None] | None = None,
    relation: Relation = Relation.EQUAL,
) -> Figure:
    interval = None
    if limits is not None:
        interval = Interval(low=limits[0], high=limits[1], coverage=0.95, method="m", covers="counting")
    return Figure(
        key="fit.a.overall",
        name="overall fit factor",
        value=value,
        unit=unit,
        relation=relation,
        interval=interval,
        sample_size=7,
        sample_of="exercises",
        method="m",
        not_scored="nothing was measured" if value is None else None,
    )


@pytest.mark.parametrize(
    "uncertainty", [0.354, 0.3549, 0.355, 0.09499, 0.095, 0.0999, 1.0, 3.54, 3.55, 9.49, 9.5, 123, 354, 356, 951, 2e5]
)
def test_digits_follow_the_rule_of_the_particle_data_group(uncertainty: float) -> None:
    # source: uncertainties 3.2, uncertainties.formatting.PDG_precision, which gives the digits and the rounded value
    digits, shown = PDG_precision(uncertainty)
    expected = digits - 1 - int(f"{shown:.10e}".split("e")[1])
    assert decimals_for(uncertainty) == expected


@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (0.0, 1, "0.0"),
        (1234.0, 0, "1234"),
        (12345.0, 0, "12\u202f345"),
        (1234567.0, -3, "1\u202f235\u202f000"),
        (-3.25, 1, "\u22123.2"),  # half to even: regression only
        (99.96, 1, "100.0"),
    ],
)
def test_rounded(value: float, decimals: int, text: str) -> None:
    assert rounded(value, decimals) == text


@given(
    value=st.floats(min_value=0.01, max_value=1e6),
    limit=st.sampled_from([100.0, 500.0, 115.0, 170.0]),
    decimals=st.integers(min_value=-3, max_value=3),
)
def test_a_value_is_never_shown_on_the_wrong_side_of_a_limit(value: float, limit: float, decimals: int) -> None:
    shown = float(f"{value:.{max(decimals_beside(value, limit, decimals), 0)}f}")
    assert (shown >= limit) == (value >= limit) or decimals_beside(value, limit, decimals) >= 12


@pytest.mark.parametrize(
    ("figure", "limit", "text"),
    [
        (a_figure(4321.7, limits=(3900.2, 4800.1)), None, "4300 (95\u202f% interval 3900 to 4900)"),
        (a_figure(196.34, limits=(191.2, 201.6)), None, "196 (95\u202f% interval 191 to 202)"),
        (a_figure(4321.7), None, "4300"),
        # The interval alone would round it to tens, and so to 0.
        (a_figure(1.0, limits=(1.0, 133.1)), None, "1 (95\u202f% interval 1.0 to 140)"),
        (a_figure(99.96), 100, "99.96"),
        (a_figure(99.96), None, "100"),
        (a_figure(100.2), 100, "100.2"),
        (a_figure(17.23, "L/min", (16.65, 17.81)), 170, "17.2\u202fL/min (95\u202f% interval 16.6 to 17.9\u202fL/min)"),
        (a_figure(43217, relation=Relation.AT_LEAST, limits=(43217, None)), None, "at least 43\u202f000"),
        (a_figure(0.0123, "%", relation=Relation.AT_MOST), None, "at most 0.013\u202f%"),
        (a_figure(None), None, "not scored: nothing was measured"),
    ],
)
def test_a_figure_as_a_phrase(figure: Figure, limit: float | None, text: str) -> None:
    assert figure_text(figure, limit) == text


def test_a_bound_is_rounded_to_its_weaker_side() -> None:
    assert value_text(a_figure(1999, relation=Relation.AT_LEAST)) == "at least 1900"
    assert value_text(a_figure(0.01231, "%", relation=Relation.AT_MOST)) == "at most 0.013\u202f%"


def test_limits_are_rounded_outwards() -> None:
    assert interval_text(a_figure(150, limits=(131.9, 168.1))) == "131 to 169"
    assert interval_text(a_figure(150, limits=(131.9, None))) == "at least 131"
    assert interval_text(a_figure(150, limits=(None, 168.1))) == "at most 169"
    assert interval_text(a_figure(150, limits=(None, None))) is None


@given(
    value=st.floats(min_value=0.01, max_value=1e6),
    below=st.floats(min_value=1e-4, max_value=0.99),
    above=st.floats(min_value=1e-4, max_value=10),
    unit=st.sampled_from(["1", "%", "L/min"]),
)
def test_a_value_never_stands_outside_the_interval_beside_it(
    value: float, below: float, above: float, unit: str
) -> None:
    figure = a_figure(value, unit, (value * (1 - below), value * (1 + above)))
    shown, ends = value_text(figure), interval_text(figure)
    assert ends is not None
    low, high = ends.split(" to ")
    assert as_number(low) <= as_number(shown) <= as_number(high)


def as_number(text: str) -> float:
    return float(re.sub("[^0-9.]", "", text.replace("L/min", "")))


def test_the_digits_of_no_value_and_of_one_beside_its_limit_by_a_hair() -> None:
    assert figure_decimals(a_figure(None)) == 0
    # The nearest number to 100 from below is not told from it by so few digits. source: by hand, -2 and 15 more
    assert decimals_beside(99.99999999999999, 100.0, -2) == 13


def test_units_and_quantities() -> None:
    assert [unit_text(unit) for unit in ("/cm3", "1", "degC", "L/min")] == ["/cm³", "", "°C", "L/min"]
    assert quantity_text(100.0, "/cm3") == "100\u202f/cm³"
    assert quantity_text(0.5, "L") == "0.5\u202fL"
    assert percent_text(0.95) == "95\u202f%"
    # source: 1 ft is 0.3048 m exactly, so 170 L/min is 170 / 28.316846592 = 6.0035 cubic feet a minute
    assert other_system(170.0, "L/min") == "6\u202fcfm"
    # source: 1 mm of water is 9.80665 Pa by convention, so 343.23275 Pa, as 42 CFR 84.172 limits, are 35 of them
    assert other_system(343.23275, "Pa") == "35\u202fmmH₂O"
    assert other_system(-2.0, "Pa") == "−0.2\u202fmmH₂O"
    assert other_system(170.0, "1") is None


@pytest.mark.parametrize(
    ("relation", "bound", "text"),
    [
        # source: by hand, 1776 / 28.316846592 = 62.719
        (Relation.EQUAL, None, "62.7\u202fcfm"),
        (Relation.AT_LEAST, None, "at least 62.7\u202fcfm"),
        (Relation.AT_MOST, None, "at most 62.8\u202fcfm"),
        (Relation.AT_LEAST, 1800.0, None),
    ],
)
def test_a_bound_is_one_in_the_other_unit_too(relation: Relation, bound: float | None, text: str | None) -> None:
    figure = a_figure(1776.0, "L/min", relation=relation).model_copy(update={"other_bound": bound})
    assert other_unit_text(figure) == text


@pytest.mark.parametrize(("value", "text"), [(0.15, None), (6.0, "0.21\u202fcfm")])
def test_a_difference_that_may_be_none_has_no_digits_of_its_own_in_the_other_unit(
    value: float, text: str | None
) -> None:
    # source: by hand, 6 / 28.316846592 = 0.2119; 0.15 with an interval of 5 to either side is written as 0
    assert other_unit_text(a_figure(value, "L/min", (value - 5, value + 5))) == text


@pytest.mark.parametrize(
    ("ratio", "words"),
    [
        (0.1, "one tenth of"),
        (0.1013, "one tenth of"),
        (0.5, "half of"),
        (0.70, "70\u202f% of"),
        (0.9999, "0.9999 times"),
        (1.004, "1.004 times"),
        (1.2, "1.20 times"),
        (0.0, "none of"),
    ],
)
def test_ratios_in_words(ratio: float, words: str) -> None:
    assert ratio_words(ratio) == words
