"""The patterns of the schemas take what the loader takes, in the regular expressions of three languages."""

from __future__ import annotations

import datetime
import re
from typing import Annotated, Any, get_args, get_origin

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from pydantic import StringConstraints, TypeAdapter, ValidationError

from generator.contributing.record_schemas.schemas import DAY_PATTERN
from generator.model import quantity
from generator.model.burden import PartOfADay
from generator.model.quantity import QuantityOf
from generator.model.units import UNITS
from tests.contributing.test_record_schemas import SCHEMAS, parts

QUANTITIES: dict[str, Any] = {
    **{name: hint for name, hint in vars(quantity).items() if get_origin(hint) is Annotated},
    "PartOfADay": PartOfADay,
}
PATTERNS = sorted({part["pattern"] for schema in SCHEMAS.values() for part in parts(schema) if "pattern" in part})

NUMBERS = st.one_of(
    st.from_regex(r"[+-]?[0-9]{0,14}(\.[0-9]{0,3})?([eE][+-]?[0-9]{0,3})?", fullmatch=True),
    st.sampled_from(["1", "0", "-0.4", "17,2", "1e3", "1.", ".5", "0x10", "1_000", "٣", "１", ""]),
)
GAPS = st.sampled_from(["", " ", "  ", "\t", "\u00a0", "\u202f", "\n"])
SPELLINGS = st.one_of(
    st.sampled_from([unit.spelling for unit in UNITS]),
    st.sampled_from(
        ["l/min", "L / min", "LPM", "percent", "°C", "C", "1 1", "", "Pa ", "µm", "L/min/min", "dB A", "m³/h"]
    ),
    st.text(max_size=4),
)
TEXTS = st.builds("".join, st.tuples(NUMBERS, GAPS, SPELLINGS))


def rule_of(hint: Any) -> QuantityOf:
    return next(extra for extra in get_args(hint) if isinstance(extra, QuantityOf))


def whole(pattern: str) -> re.Pattern[str]:
    """Compile a pattern as JSON Schema means it: in ECMAScript `$` is the end alone, not a line's end before it."""
    assert pattern.startswith("^")
    assert pattern.endswith("$")
    return re.compile(pattern[:-1] + r"\Z")


def the_loader_takes(adapter: TypeAdapter[Any], text: str) -> bool:
    """Say whether the loader takes a text, but for bounds, which are told as such."""
    try:
        adapter.validate_python(text)
    except ValidationError as error:
        return error.errors()[0]["type"] == "out-of-bounds"
    return True


CHECKED = {
    name: (TypeAdapter(hint), whole(TypeAdapter(hint).json_schema()["pattern"])) for name, hint in QUANTITIES.items()
}


@given(TEXTS)
@example("17.2 L/min")
@example("17.2L/min")
@example("0.51")
@example("0.5 1")
@example("17.2 L/min\n")
@example("1e99 ppm")
@example("1e123 s")
@example("1234567890123 g")
@settings(max_examples=150, deadline=None)
def test_a_quantity_is_taken_by_its_pattern_where_the_loader_takes_it(text: str) -> None:
    for name, (adapter, pattern) in CHECKED.items():
        assert (pattern.match(text) is not None) == the_loader_takes(adapter, text), (name, text)


@pytest.mark.parametrize("name", QUANTITIES)
def test_every_unit_that_fits_is_taken_and_no_other(name: str) -> None:
    adapter, pattern = CHECKED[name]
    rule = rule_of(QUANTITIES[name])
    taken = [unit.spelling for unit in UNITS if pattern.match(f"1 {unit.spelling}")]
    fitting = [unit.spelling for unit in UNITS if unit.dimension in rule.dimensions]
    # source: a difference of temperatures is in K (model/quantity.py::_in_kelvin)
    assert taken == (["K"] if name == "TemperatureUncertainty" else fitting)
    assert taken == [unit.spelling for unit in UNITS if the_loader_takes(adapter, f"1 {unit.spelling}")]


@given(st.one_of(st.dates().map(str), st.from_regex(r"[0-9]{3,4}-[0-9]{1,2}-[0-9]{1,2}", fullmatch=True)))
@example("2025-02-29")
@example("2024-02-29")
@example("2025-04-31")
@example("2025-3-14")
@example("14.3.2025")
@settings(max_examples=100, deadline=None)
def test_a_day_is_taken_where_the_calendar_has_it_but_for_leap_years(text: str) -> None:
    try:
        known = str(datetime.date.fromisoformat(text)) == text
    except ValueError:
        # The pattern counts no years: each has a 29th of February, and there is a year 0.
        known = (text.endswith("-02-29") and len(text) == 10) or is_of_the_year_0(text)
    assert (whole(DAY_PATTERN).match(text) is not None) == known


def is_of_the_year_0(text: str) -> bool:
    try:
        return text.startswith("0000-") and str(datetime.date.fromisoformat(f"0004{text[4:]}")) == f"0004{text[4:]}"
    except ValueError:
        return False


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_pattern_is_one_for_rust_too(pattern: str) -> None:
    # pydantic compiles with the regex crate of Rust; ECMAScript is asked in tests/outside/test_schema_patterns.py.
    adapter = TypeAdapter(Annotated[str, StringConstraints(pattern=pattern)])
    for text in ("17.2 L/min", "0.5 1", "2025-03-14", "first", "1.2", "pictures/a.png", "a@b", "", "\n", "x\n"):
        try:
            adapter.validate_python(text)
            taken = True
        except ValidationError:
            taken = False
        ends = re.compile(pattern[:-1] + r"\Z") if pattern.endswith("$") else re.compile(pattern)
        assert taken == (ends.search(text) is not None), text
