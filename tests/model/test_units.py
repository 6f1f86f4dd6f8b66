"""The table of units, row by row against pint, which takes no part in the program."""

import pint
import pytest

from generator.model.units import (
    BASE_UNITS,
    DIMENSIONS,
    OTHER_SPELLINGS,
    UNITS,
    Dimension,
    Unit,
    find_unit,
    from_base,
    split_quantity,
    to_base,
    unit_meant,
    units_of,
)

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()
WITH_ORACLE = [unit for unit in UNITS if unit.oracle]


@pytest.mark.parametrize("unit", WITH_ORACLE, ids=lambda unit: unit.spelling)
def test_a_unit_is_what_an_independent_library_says(unit: Unit) -> None:
    base = find_unit(BASE_UNITS[unit.dimension])
    assert base is not None
    # source: pint 0.25.3, Quantity(number, unit).to(base unit)
    for number in (0.0, 1.0, 37.5):
        expected = REGISTRY.Quantity(number, unit.oracle).to(base.oracle).magnitude
        assert to_base(number, unit) == pytest.approx(expected, rel=1e-9, abs=1e-9)


def test_only_the_sound_level_has_no_oracle() -> None:
    # pint knows no A-weighted decibel; the row is a base unit, so that it has nothing to convert.
    assert [unit.spelling for unit in UNITS if not unit.oracle] == ["dB(A)"]


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: unit.spelling)
def test_there_and_back_again(unit: Unit) -> None:
    assert from_base(to_base(12.5, unit), unit) == pytest.approx(12.5, rel=1e-12)


def test_every_dimension_has_its_base_unit_first_hand() -> None:
    for dimension in DIMENSIONS:
        base = find_unit(BASE_UNITS[dimension])
        assert base is not None
        assert (base.dimension, base.factor, base.offset) == (dimension, 1.0, 0.0)
        assert base.spelling in units_of(dimension)


def test_spellings_are_unique() -> None:
    spellings = [unit.spelling for unit in UNITS]
    assert len(spellings) == len(set(spellings))


@pytest.mark.parametrize(
    ("number", "spelling", "base"),
    [
        # source: 1 ft3 = 28.316846592 L, exact (international foot of 1959)
        (6.0, "cfm", 169.901079552),
        # source: definition of the degree Fahrenheit: 32 degF = 0 degC, 212 degF = 100 degC
        (32.0, "degF", 273.15),
        (212.0, "degF", 373.15),
        # source: 1 m3/h = 1000 L / 60 min (definition)
        (10.2, "m3/h", 170.0),
        # source: standard atmosphere 101325 Pa = 760 mmHg to 1 part in 10^7 (NIST SP 811, B.8: 1 mmHg = 133.3224 Pa)
        (760.0, "mmHg", 101325.0),
    ],
)
def test_some_well_known_conversions(number: float, spelling: str, base: float) -> None:
    unit = find_unit(spelling)
    assert unit is not None
    assert to_base(number, unit) == pytest.approx(base, rel=2e-7)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        # source: the rule of the record guide: a number with a decimal point, a space, a unit
        ("17.2 L/min", (17.2, "L/min")),
        ("17.2L/min", (17.2, "L/min")),
        ("-0.4 %", (-0.4, "%")),
        ("+1e3 /cm3", (1000.0, "/cm3")),
        ("0.5 1", (0.5, "1")),
        ("65 dB(A)", (65.0, "dB(A)")),
        ("21 °C", (21.0, "°C")),
        # A quoted number is no ratio: the last digit is not the unit `1`.
        ("0.51", None),
        ("51", None),
        ("17,2 L/min", None),
        ("NaN L/min", None),
        ("inf L/min", None),
        ("1e400 L/min", None),
        ("1234567890123 L/min", None),
        (".5 L/min", None),
        ("5. L/min", None),
        ("17 2 L/min", None),
        ("17.2", None),
        ("L/min", None),
        ("", None),
        (" 17.2 L/min", None),
        ("17.2  L/min", None),
        ("1_000 L/min", None),
        ("٣ L/min", None),
    ],
)
def test_a_quantity_is_split_or_refused(text: str, parts: tuple[float, str] | None) -> None:
    assert split_quantity(text) == parts


def test_a_unit_in_other_letters_is_not_known() -> None:
    assert find_unit("l/min") is None
    assert find_unit("lpm") is None


@pytest.mark.parametrize(
    ("spelling", "dimension", "meant"),
    [
        # In other letters, with other signs, or as they are spelled elsewhere; common practice, no source.
        ("l/min", "flow", "L/min"),
        ("L / min", "flow", "L/min"),
        ("lpm", "flow", "L/min"),
        ("LPM", "flow", "L/min"),
        ("m³/h", "flow", "m3/h"),
        ("CFM", "flow", "cfm"),
        ("°C", "temperature", "degC"),
        ("℃", "temperature", "degC"),
        ("deg C", "temperature", "degC"),
        ("C", "temperature", "degC"),
        ("hpa", "pressure", "hPa"),
        ("mmH₂O", "pressure", "mmH2O"),
        ("#/cm³", "concentration", "/cm3"),
        ("cm²", "area", "cm2"),
        ("µm", "length", "um"),
        ("μm", "length", "um"),
        ("sec", "time", "s"),
        ("dB", "sound level", "dB(A)"),
        # Standard litres are of other air, a coulomb is no temperature here, and nothing is guessed.
        ("slpm", "flow", None),
        ("C", "flow", None),
        ("L", "flow", None),
        ("x" * 1_000, "flow", None),
        ("", "flow", None),
    ],
)
def test_another_spelling_of_a_unit_is_known_for_what_it_means(
    spelling: str, dimension: Dimension, meant: str | None
) -> None:
    assert unit_meant(spelling, units_of(dimension)) == meant


def test_every_other_spelling_means_a_unit_of_the_table_and_is_none_itself() -> None:
    assert [each for each in OTHER_SPELLINGS.values() if find_unit(each) is None] == []
    assert [each for each in OTHER_SPELLINGS if find_unit(each) is not None] == []
