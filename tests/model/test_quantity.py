"""Quantities in records: what is read, what is refused and in which words."""

from __future__ import annotations

import json
import re
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from generator.model.quantity import (
    AirPressure,
    Area,
    Concentration,
    Correction,
    Duration,
    Energy,
    Flow,
    Fraction,
    Mass,
    Quantity,
    Readings,
    Temperature,
    TemperatureUncertainty,
    Uncertainty,
)
from generator.model.units import UNITS

KINDS: dict[str, Any] = {
    "flow": Flow,
    "concentration": Concentration,
    "temperature": Temperature,
    "air pressure": AirPressure,
    "fraction": Fraction,
    "duration": Duration,
    "mass": Mass,
    "area": Area,
    "energy": Energy,
    "correction": Correction,
    "uncertainty": Uncertainty,
}


@cache
def adapter(kind: Any) -> TypeAdapter[Quantity]:
    return TypeAdapter(kind)


def read(kind: Any, value: object) -> Quantity:
    return adapter(kind).validate_json(json.dumps(value))


def test_a_quantity_keeps_the_unit_it_was_recorded_in() -> None:
    assert read(Flow, "6.1 cfm") == Quantity(number=6.1, unit="cfm")
    assert str(read(Flow, "6.1 cfm")) == "6.1 cfm"
    assert str(read(Mass, "1234567.5 g")) == "1234567.5 g"


def test_conversion() -> None:
    # source: 1 ft3 = 28.316846592 L, exact (international foot of 1959)
    assert read(Flow, "6 cfm").to("L/min") == pytest.approx(169.901079552, rel=1e-12)
    assert read(Flow, "17.2 L/min").to("L/min") == 17.2
    # source: definition of the degree Fahrenheit
    assert read(Temperature, "68 degF").to("degC") == pytest.approx(20, rel=1e-12)
    # source: 1 m3/h = 1000 L / 60 min (definition)
    assert Readings(unit="m3/h", values=(6.0, 12.0)).to("L/min") == pytest.approx((100.0, 200.0), rel=1e-12)


@pytest.mark.parametrize("spelling", ["degC", "furlong"])
def test_conversion_to_something_else_is_refused(spelling: str) -> None:
    with pytest.raises(KeyError, match=f"'L/min' cannot be converted to '{spelling}'"):
        read(Flow, "1 L/min").to(spelling)


@pytest.mark.parametrize(
    ("kind", "value", "slug", "found", "expected", "remedy"),
    [
        (Flow, "17,2 L/min", "not-a-quantity", "the text `17,2 L/min`", "a number and a unit", "decimal point"),
        (Flow, "NaN L/min", "not-a-quantity", "the text `NaN L/min`", "a number and a unit", "decimal point"),
        (Flow, "1e400 L/min", "not-a-quantity", "the text `1e400 L/min`", "a number and a unit", "decimal point"),
        (Flow, "17.2", "not-a-quantity", "the text `17.2`", "a number and a unit", "as in `35 L/min`"),
        (Fraction, "0.51", "not-a-quantity", "the text `0.51`", "(1, %, ppm)", "as in `45 %`"),
        (Flow, "x" * 500, "not-a-quantity", f"the text `{'x' * 57}...`", "a number and a unit", "decimal point"),
        (Flow, 17.2, "unit-missing", "the bare number 17.2", "(L/min, L/s,", "as in `35 L/min`"),
        (AirPressure, 1013, "unit-missing", "the bare number 1013", "hPa", "as in `1013 hPa`"),
        (Flow, True, "not-a-quantity", "`true`", "a number and a unit", "not_recorded"),
        (Flow, None, "not-a-quantity", "nothing", "a number and a unit", "not_recorded"),
        (Flow, [1], "not-a-quantity", "a list", "a number and a unit", "not_recorded"),
        (Flow, {"a": 1}, "not-a-quantity", "a mapping", "a number and a unit", "not_recorded"),
        (Flow, "17.2 lpm", "unknown-unit", "the unit `lpm`", "one of L/min,", "Correct the unit"),
        (Flow, "17.2 l/min", "unknown-unit", "the unit `l/min`", "one of L/min,", "Correct the unit"),
        (Flow, "17.2 degC", "wrong-unit", "the unit `degC`", "one of L/min,", "Correct the unit"),
        (Flow, "0 L/min", "out-of-bounds", "0 L/min", "more than 0 L/min", "Correct the number"),
        (Concentration, "-1 /cm3", "out-of-bounds", "-1 /cm3", "at least 0 /cm3", "Correct the number"),
        (Temperature, "200 degC", "out-of-bounds", "200 degC", "at most 80 degC", "Correct the number"),
        (AirPressure, "1.013 hPa", "out-of-bounds", "1.013 hPa", "at least 500 hPa", "Correct the number"),
        (TemperatureUncertainty, "0.5 degC", "wrong-unit", "the unit `degC`", "one of K", "difference of temperatures"),
        (TemperatureUncertainty, "30 K", "out-of-bounds", "30 K", "at most 20 K", "Correct the number"),
        (Fraction, "101 %", "out-of-bounds", "101 %", "at most 100 %", "Correct the number"),
    ],
)
def test_what_is_refused(kind: Any, value: object, slug: str, found: str, expected: str, remedy: str) -> None:
    with pytest.raises(ValidationError, match=re.escape(found)) as caught:
        read(kind, value)
    (error,) = caught.value.errors()
    assert error["type"] == slug
    assert error["ctx"]["found"] == found
    assert expected in error["ctx"]["expected"]
    assert remedy in error["ctx"]["remedy"]


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        (Concentration, "0 /cm3"),
        (Fraction, "0 %"),
        (Fraction, "100 %"),
        (Fraction, "1 1"),
        (Temperature, "80 degC"),
        (Temperature, "-40 degF"),
        (AirPressure, "500 hPa"),
        (AirPressure, "110 kPa"),
        (Correction, "-0.4 L/min"),
        (Correction, "0 %"),
    ],
)
def test_bounds_are_allowed_themselves(kind: Any, text: str) -> None:
    # source: the bounds stated in generator/model/quantity.py, taken inclusively except for `above`
    assert str(read(kind, text)) == text


NUMBERS = st.sampled_from(["17.2", "0.51", "51", "1e3", "-4", "+0.5", "17,2", "NaN", "1e400", ".5", "5.", "", "1"])
SPACES = st.sampled_from(["", " ", "  "])
SPELLINGS = st.sampled_from([*(unit.spelling for unit in UNITS), "", "lpm", "C", "1 1", "x"])


@pytest.mark.parametrize("name", KINDS)
@given(number=NUMBERS, space=SPACES, spelling=SPELLINGS)
def test_the_json_schema_says_what_the_parser_says(name: str, number: str, space: str, spelling: str) -> None:
    kind, text = KINDS[name], f"{number}{space}{spelling}"
    pattern = adapter(kind).json_schema()["pattern"]
    try:
        read(kind, text)
        parsed = True
    except ValidationError as error:
        # A schema's pattern cannot hold a bound, so that what is only out of bounds matches it.
        parsed = error.errors()[0]["type"] == "out-of-bounds"
    assert (re.search(pattern, text) is not None) == parsed


@pytest.mark.parametrize("name", KINDS)
def test_the_example_of_each_kind_is_a_good_one(name: str) -> None:
    schema = adapter(KINDS[name]).json_schema()
    assert str(read(KINDS[name], schema["examples"][0])) == schema["examples"][0]
    assert re.search(schema["pattern"], schema["examples"][0])
