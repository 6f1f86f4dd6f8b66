"""The closed table of units that records may use.

A general unit parser is not safe here: one that was tried read `17,2 L/min` as 172 and `cfm` as a unit of length. So
every unit a record may use is a row of this table, and each row is tested against an independent unit library.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal, get_args

Dimension = Literal[
    "flow",
    "concentration",
    "temperature",
    "pressure",
    "ratio",
    "time",
    "mass",
    "length",
    "area",
    "volume",
    "energy",
    "charge",
    "voltage",
    "current",
    "sound level",
]
DIMENSIONS: tuple[Dimension, ...] = get_args(Dimension)


@dataclass(frozen=True)
class Unit:
    """One spelling of a unit: base value = number x factor + offset, in the dimension's base unit."""

    spelling: str
    dimension: Dimension
    factor: float
    offset: float = 0.0
    oracle: str = ""
    """How the independent library used in the tests spells this unit."""


BASE_UNITS: dict[Dimension, str] = {
    "flow": "L/min",
    "concentration": "/cm3",
    "temperature": "K",
    "pressure": "Pa",
    "ratio": "1",
    "time": "s",
    "mass": "g",
    "length": "mm",
    "area": "cm2",
    "volume": "L",
    "energy": "Wh",
    "charge": "Ah",
    "voltage": "V",
    "current": "A",
    "sound level": "dB(A)",
}

# Standard gravity, exact (CGPM 1901), with water taken as 1000 kg/m3: the conventional millimetre of water.
_PA_PER_MM_H2O = 9.80665
# Avoirdupois pound in grams and inch in millimetres, both exact (international yard and pound agreement, 1959).
_G_PER_LB = 453.59237
_MM_PER_IN = 25.4
_L_PER_FT3 = (12 * _MM_PER_IN) ** 3 / 1e6

UNITS: tuple[Unit, ...] = (
    Unit("L/min", "flow", 1.0, oracle="liter / minute"),
    Unit("L/s", "flow", 60.0, oracle="liter / second"),
    Unit("mL/min", "flow", 1e-3, oracle="milliliter / minute"),
    Unit("cm3/min", "flow", 1e-3, oracle="centimeter ** 3 / minute"),
    Unit("m3/h", "flow", 1000 / 60, oracle="meter ** 3 / hour"),
    Unit("cfm", "flow", _L_PER_FT3, oracle="foot ** 3 / minute"),
    Unit("/cm3", "concentration", 1.0, oracle="1 / centimeter ** 3"),
    Unit("/L", "concentration", 1e-3, oracle="1 / liter"),
    Unit("/m3", "concentration", 1e-6, oracle="1 / meter ** 3"),
    Unit("degC", "temperature", 1.0, 273.15, oracle="degree_Celsius"),
    Unit("degF", "temperature", 5 / 9, 459.67 * 5 / 9, oracle="degree_Fahrenheit"),
    Unit("K", "temperature", 1.0, oracle="kelvin"),
    Unit("Pa", "pressure", 1.0, oracle="pascal"),
    Unit("hPa", "pressure", 100.0, oracle="hectopascal"),
    Unit("mbar", "pressure", 100.0, oracle="millibar"),
    Unit("kPa", "pressure", 1000.0, oracle="kilopascal"),
    Unit("mmH2O", "pressure", _PA_PER_MM_H2O, oracle="kilogram / liter * standard_gravity * millimeter"),
    Unit("mmHg", "pressure", 133.322387415, oracle="millimeter_Hg"),
    Unit("inHg", "pressure", 133.322387415 * _MM_PER_IN, oracle="inch_Hg"),
    Unit("1", "ratio", 1.0, oracle="dimensionless"),
    Unit("%", "ratio", 0.01, oracle="percent"),
    Unit("ppm", "ratio", 1e-6, oracle="ppm"),
    Unit("s", "time", 1.0, oracle="second"),
    Unit("min", "time", 60.0, oracle="minute"),
    Unit("h", "time", 3600.0, oracle="hour"),
    Unit("g", "mass", 1.0, oracle="gram"),
    Unit("kg", "mass", 1000.0, oracle="kilogram"),
    Unit("oz", "mass", _G_PER_LB / 16, oracle="ounce"),
    Unit("lb", "mass", _G_PER_LB, oracle="pound"),
    Unit("nm", "length", 1e-6, oracle="nanometer"),
    Unit("um", "length", 1e-3, oracle="micrometer"),
    Unit("mm", "length", 1.0, oracle="millimeter"),
    Unit("cm", "length", 10.0, oracle="centimeter"),
    Unit("m", "length", 1000.0, oracle="meter"),
    Unit("in", "length", _MM_PER_IN, oracle="inch"),
    Unit("cm2", "area", 1.0, oracle="centimeter ** 2"),
    Unit("m2", "area", 1e4, oracle="meter ** 2"),
    Unit("in2", "area", (_MM_PER_IN / 10) ** 2, oracle="inch ** 2"),
    Unit("mL", "volume", 1e-3, oracle="milliliter"),
    Unit("L", "volume", 1.0, oracle="liter"),
    Unit("Wh", "energy", 1.0, oracle="watt * hour"),
    Unit("kJ", "energy", 1000 / 3600, oracle="kilojoule"),
    Unit("mAh", "charge", 1e-3, oracle="milliampere * hour"),
    Unit("Ah", "charge", 1.0, oracle="ampere * hour"),
    Unit("V", "voltage", 1.0, oracle="volt"),
    Unit("mA", "current", 1e-3, oracle="milliampere"),
    Unit("A", "current", 1.0, oracle="ampere"),
    Unit("dB(A)", "sound level", 1.0, oracle=""),
)

_BY_SPELLING: dict[str, Unit] = {unit.spelling: unit for unit in UNITS}

NUMBER_PATTERN = r"[+-]?(?:[0-9]{1,12})(?:\.[0-9]{1,12})?(?:[eE][+-]?[0-9]{1,2})?"
# The number is taken whole (atomic group) before the unit is looked at, so that `0.51` is never 0.5 of the unit `1`.
_QUANTITY = re.compile(rf"((?>{NUMBER_PATTERN}))(?: ?([^\s0-9.,_+-].*)| (1))")


_LONGEST_SPELLING = 20
"""Characters of a spelling that is looked up among those in use elsewhere."""


def find_unit(spelling: str) -> Unit | None:
    """Return the unit with exactly this spelling, or None."""
    return _BY_SPELLING.get(spelling)


def checked_unit(spelling: str) -> Unit:
    """Return the unit with a spelling that a model has checked already."""
    unit = find_unit(spelling)
    assert unit is not None, "the model checks the unit"
    return unit


OTHER_SPELLINGS: dict[str, str] = {
    "lpm": "L/min",
    "l/minute": "L/min",
    "liter/min": "L/min",
    "litre/min": "L/min",
    "lps": "L/s",
    "l/sec": "L/s",
    "ccm": "cm3/min",
    "cc/min": "cm3/min",
    "ft3/min": "cfm",
    "cbm/h": "m3/h",
    "m3/hr": "m3/h",
    "1/cm3": "/cm3",
    "#/cm3": "/cm3",
    "p/cm3": "/cm3",
    "pt/cm3": "/cm3",
    "particles/cm3": "/cm3",
    "/cc": "/cm3",
    "c": "degC",
    "celsius": "degC",
    "f": "degF",
    "fahrenheit": "degF",
    "kelvin": "K",
    "pascal": "Pa",
    "millibar": "mbar",
    "mmws": "mmH2O",
    "mmwc": "mmH2O",
    "percent": "%",
    "pct": "%",
    "sec": "s",
    "secs": "s",
    "second": "s",
    "seconds": "s",
    "mins": "min",
    "minute": "min",
    "minutes": "min",
    "hr": "h",
    "hrs": "h",
    "hour": "h",
    "hours": "h",
    "gram": "g",
    "grams": "g",
    "kilograms": "kg",
    "micron": "um",
    "microns": "um",
    "inch": "in",
    "inches": "in",
    "sqcm": "cm2",
    "litre": "L",
    "liter": "L",
    "db": "dB(A)",
    "dba": "dB(A)",
}
"""Spellings that are in use elsewhere, in small letters and plain signs, and the one of the table; common practice."""
_PLAIN_SIGNS = str.maketrans({"°": "deg", "μ": "u", "∕": "/", "⁄": "/", "−": "-"})


def unit_meant(spelling: str, fitting: Collection[str]) -> str | None:
    """Return the unit that another spelling most likely means, among those that fit, or None."""
    if len(spelling) > _LONGEST_SPELLING:
        return None
    # Signs above and below the line, and signs that stand for two, become plain ones.
    plain = "".join(unicodedata.normalize("NFKC", spelling).translate(_PLAIN_SIGNS).casefold().split())
    alike = [each for each in fitting if each.casefold() == plain]
    other = OTHER_SPELLINGS.get(plain)
    if other is not None and other in fitting:
        alike.append(other)
    return alike[0] if alike else None


def units_of(dimension: Dimension) -> tuple[str, ...]:
    """Return the spellings that fit a dimension, in the order of the table."""
    return tuple(unit.spelling for unit in UNITS if unit.dimension == dimension)


def spellings_of(*dimensions: Dimension) -> tuple[str, ...]:
    """Return the spellings that fit one of several dimensions, by dimension."""
    return tuple(spelling for dimension in dimensions for spelling in units_of(dimension))


def split_quantity(text: str) -> tuple[float, str] | None:
    """Split `17.2 L/min` into its number and its unit's spelling, or None where it is not of that form."""
    match = _QUANTITY.fullmatch(text)
    if match is None:
        return None
    return float(match[1]), match[2] or match[3]


def to_base(number: float, unit: Unit) -> float:
    """Convert a number in `unit` to the base unit of its dimension."""
    return number * unit.factor + unit.offset


def from_base(base: float, unit: Unit) -> float:
    """Convert a number in the base unit of a dimension to `unit`."""
    return (base - unit.offset) / unit.factor
