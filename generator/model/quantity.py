"""A number with its unit, and the annotated types that records use for one."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, GetJsonSchemaHandler, model_serializer
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError

from generator.model.base import Frozen
from generator.model.units import (
    NUMBER_PATTERN,
    UNITS,
    Dimension,
    Unit,
    find_unit,
    from_base,
    spellings_of,
    split_quantity,
    to_base,
    unit_meant,
    units_of,
)

_DECIMAL_COMMA = re.compile(r"([+-]?[0-9]{1,12}),([0-9]{1,2}|[0-9]{4,12})( ?[^\s0-9.,_+-][^,]{0,20})")


_LONGEST_MET = 32
"""Characters of a quantity that is kept once it was met."""
_MOST_MET = 4096


class Quantity(Frozen):
    """One number with the unit it was recorded in."""

    number: float
    unit: str

    def to(self, spelling: str) -> float:
        """Return the number in another unit of the same dimension.

        Raises
        ------
        KeyError
            The unit is not in the table, or is of another dimension.
        """
        here, there = find_unit(self.unit), find_unit(spelling)
        if here is None or there is None or here.dimension != there.dimension:
            raise KeyError(f"{self.unit!r} cannot be converted to {spelling!r}")
        if here is there:
            return self.number
        return from_base(to_base(self.number, here), there)

    @model_serializer
    def __str__(self) -> str:
        """Give the quantity as it stands in a record, to the last digit."""
        return f"{repr(self.number).removesuffix('.0')} {self.unit}"


class Readings(Frozen):
    """A list of readings that share one unit."""

    unit: str
    values: tuple[float, ...]

    def to(self, spelling: str) -> tuple[float, ...]:
        """Return the readings in another unit of the same dimension."""
        return tuple(Quantity(number=value, unit=self.unit).to(spelling) for value in self.values)


def quantity_problem(slug: str, found: str, expected: str, remedy: str) -> PydanticCustomError:
    """Build the error that the loader turns into a problem with these very words."""
    return PydanticCustomError(
        slug,
        "found {found}, expected {expected}. {remedy}",
        {"found": found, "expected": expected, "remedy": remedy},
    )


def _listed(spellings: tuple[str, ...]) -> str:
    return ", ".join(spellings)


def _unit_remedy(spelling: str, fitting: tuple[str, ...], what: str) -> str:
    meant = unit_meant(spelling, fitting)
    remedy = f"Correct the unit, or convert the {what}"
    return remedy if meant is None else f"Did you mean `{meant}`? {remedy}"


def _with_point(text: str) -> str | None:
    """Return a text with a decimal comma as it was meant; None where it may part thousands."""
    match = _DECIMAL_COMMA.fullmatch(text)
    return None if match is None else f"{match[1]}.{match[2]}{match[3]}"


@dataclass(frozen=True)
class QuantityOf:
    """Pydantic annotation: text such as `17.2 L/min` of one or more dimensions, within bounds in the base unit."""

    dimensions: tuple[Dimension, ...]
    example: str
    also: str
    """Another example, where it can be in another unit."""
    above: float | None = None
    at_least: float | None = None
    at_most: float | None = None
    only: tuple[str, ...] = ()
    """The spellings of the dimension that fit, where not all of them do."""

    def parse(self, value: Any) -> Any:
        """Turn text into the number and unit that `Quantity` holds, or say what is wrong with it."""
        if isinstance(value, Quantity):
            return value
        met = self._met.get(value) if isinstance(value, str) else None
        if met is not None:
            return met
        if isinstance(value, bool) or value is None or isinstance(value, Mapping | list | tuple):
            raise quantity_problem(
                "not-a-quantity",
                _shown(value),
                self._expected(),
                f"Write the value as in `{self.example}`, or `{{not_recorded: <reason>}}` where that is allowed",
            )
        if isinstance(value, int | float):
            raise quantity_problem(
                "unit-missing", _shown(value), self._expected(), f"Add the unit it was read in, as in `{self.example}`"
            )
        parts = split_quantity(value)
        if parts is None:
            remedy = f"Write a plain number with a decimal point, a space and the unit, as in `{self.example}`"
            meant = _with_point(value)
            if meant is not None:
                remedy = f"Did you mean `{meant}`? {remedy}"
            raise quantity_problem("not-a-quantity", _shown(value), self._expected(), remedy)
        number, spelling = parts
        unit = find_unit(spelling)
        if unit is None or unit.dimension not in self.dimensions:
            kind = "unknown-unit" if unit is None else "wrong-unit"
            fitting = self.units
            raise quantity_problem(
                kind,
                f"the unit `{shown_unit(spelling)}`",
                f"one of {_listed(fitting)}",
                _unit_remedy(spelling, fitting, "number"),
            )
        self.check_bounds(number, unit)
        quantity = Quantity(number=number, unit=unit.spelling)
        if len(value) <= _LONGEST_MET and len(self._met) < _MOST_MET:
            self._met[value] = quantity
        return quantity

    @cached_property
    def _met(self) -> dict[str, Quantity]:
        """Good quantities by their text: the same ones stand in many records, and one object does for all."""
        return {}

    def _expected(self) -> str:
        return f"a number and a unit ({_listed(self.units)})"

    @property
    def units(self) -> tuple[str, ...]:
        """The spellings of the units that fit."""
        return self.only or spellings_of(*self.dimensions)

    def check_bounds(self, number: float, unit: Unit) -> None:
        """Raise the problem `out-of-bounds` where the number lies outside the allowed range."""
        base = to_base(number, unit)
        bound: str | None = None
        if self.above is not None and not base > self.above:
            bound = f"more than {self._bound(self.above, unit)}"
        elif self.at_least is not None and base < self.at_least and not _same(base, self.at_least):
            bound = f"at least {self._bound(self.at_least, unit)}"
        elif self.at_most is not None and base > self.at_most and not _same(base, self.at_most):
            bound = f"at most {self._bound(self.at_most, unit)}"
        if bound is not None:
            raise quantity_problem(
                "out-of-bounds", f"{number:.12g} {unit.spelling}", bound, "Correct the number or its unit"
            )

    @staticmethod
    def _bound(base: float, unit: Unit) -> str:
        return f"{from_base(base, unit):.6g} {unit.spelling}"

    @property
    def described(self) -> str:
        """What may be written, in words: the bounds too, which a pattern cannot hold."""
        units = ", ".join(f"`{spelling}`" for spelling in self.units)
        what = ", ".join([" or ".join(self.dimensions), *([bounds] if (bounds := self._bounds()) else [])])
        return f"A number and a unit, such as `{self.example}`: {what}, in {units}."

    def _bounds(self) -> str:
        unit = next(unit for unit in UNITS if unit.spelling == self.example.rpartition(" ")[2])
        bounds = {"above": self.above, "at least": self.at_least, "at most": self.at_most}
        # 0 is the same in every unit but those of temperature, and only a difference, in K, is bound by 0 there.
        return " and ".join(
            f"{words} {self._bound(bound, unit) if bound else '0'}"
            for words, bound in bounds.items()
            if bound is not None
        )

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """Describe the quantity as text with a pattern, so that an editor can check it."""
        units = "|".join(_unit_pattern(spelling) for spelling in self.units)
        return {
            "type": "string",
            "pattern": f"^{NUMBER_PATTERN}(?:{units})$",
            "description": self.described,
            "examples": [self.example, self.also],
        }


def _same(base: float, bound: float) -> bool:
    # Conversion may leave a number that stands exactly at its bound a last digit beside it.
    return math.isclose(base, bound, rel_tol=1e-12)


def _unit_pattern(spelling: str) -> str:
    # Only what has a meaning in a pattern: with the flag `u`, ECMAScript refuses any other escape.
    escaped = "".join(f"\\{character}" if character in "()." else character for character in spelling)
    # Without the space, the unit `1` would be read as one more digit.
    return f" {escaped}" if spelling[0].isdigit() else f" ?{escaped}"


def _shown(value: Any) -> str:
    if isinstance(value, str):
        return f"the text `{value if len(value) <= 60 else value[:57] + '...'}`"
    if isinstance(value, Mapping):
        return "a mapping"
    if isinstance(value, list | tuple):
        return "a list"
    if value is None:
        return "nothing"
    return f"`{str(value).lower()}`" if isinstance(value, bool) else f"the bare number {value:g}"


def shown_unit(spelling: str) -> str:
    """Return a unit's spelling as it can stand in a message, whatever was written in its place."""
    return spelling if len(spelling) <= 60 else f"{spelling[:57]}..."


def of(
    *dimensions: Dimension,
    example: str,
    also: str,
    above: float | None = None,
    at_least: float | None = None,
    at_most: float | None = None,
    only: tuple[str, ...] = (),
) -> tuple[QuantityOf, BeforeValidator]:
    """Make the two annotations of a quantity; bounds are in the base unit of the (first) dimension."""
    rule = QuantityOf(dimensions, example, also, above, at_least, at_most, only)
    return rule, BeforeValidator(rule.parse)


_flow = of("flow", example="35 L/min", also="2.1 m3/h", above=0)
_concentration = of("concentration", example="2400 /cm3", also="2400000 /L", at_least=0)
_temperature = of("temperature", example="21.5 degC", also="70.5 degF", at_least=233.15, at_most=353.15)
_air_pressure = of("pressure", example="1013 hPa", also="29.92 inHg", at_least=50_000, at_most=110_000)
_fraction = of("ratio", example="45 %", also="410 ppm", at_least=0, at_most=1)
_duration = of("time", example="60 s", also="1 min", above=0)
_moment = of("time", example="20 s", also="0 s", at_least=0)
_mass = of("mass", example="320 g", also="11.3 oz", above=0)
_area = of("area", example="450 cm2", also="0.045 m2", above=0)
_energy = of("energy", example="40 Wh", also="144 kJ", above=0)

_flow_or_none = of("flow", example="0 L/min", also="95 L/min", at_least=0)
_pressure = of("pressure", example="120 Pa", also="12.2 mmH2O", at_least=0, at_most=1e5)
_volume = of("volume", example="6.5 L", also="850 mL", above=0)
_length = of("length", example="0.1 um", also="100 nm", above=0)
_sound_level = of("sound level", example="68 dB(A)", also="71.5 dB(A)", at_least=0, at_most=140)

Flow = Annotated[Quantity, _flow[0], _flow[1]]
FlowOrNone = Annotated[Quantity, _flow_or_none[0], _flow_or_none[1]]
"""A flow that may be 0, as where a blower is held shut."""
Pressure = Annotated[Quantity, _pressure[0], _pressure[1]]
"""A pressure against the room's air, 0 or more."""
Volume = Annotated[Quantity, _volume[0], _volume[1]]
Length = Annotated[Quantity, _length[0], _length[1]]
SoundLevel = Annotated[Quantity, _sound_level[0], _sound_level[1]]
Concentration = Annotated[Quantity, _concentration[0], _concentration[1]]
Temperature = Annotated[Quantity, _temperature[0], _temperature[1]]
AirPressure = Annotated[Quantity, _air_pressure[0], _air_pressure[1]]
Fraction = Annotated[Quantity, _fraction[0], _fraction[1]]
Duration = Annotated[Quantity, _duration[0], _duration[1]]
Moment = Annotated[Quantity, _moment[0], _moment[1]]
"""A time on the clock of a log, which may be 0."""
Mass = Annotated[Quantity, _mass[0], _mass[1]]
Area = Annotated[Quantity, _area[0], _area[1]]
Energy = Annotated[Quantity, _energy[0], _energy[1]]

_flow_or_ratio = of("flow", "ratio", example="-0.4 L/min", also="0 %")
_uncertainty = of("flow", "ratio", "concentration", example="2 %", also="1.5 L/min", above=0)
_share = of("ratio", example="3 %", also="0.03 1", above=0, at_most=1)
_pressure_uncertainty = of("pressure", "ratio", example="2 %", also="5 Pa", above=0)
_temperature_uncertainty = of("temperature", example="0.5 K", also="1 K", above=0, at_most=20, only=("K",))
Correction = Annotated[Quantity, _flow_or_ratio[0], _flow_or_ratio[1]]
"""What a certificate adds to a reading: a flow, or a share of the reading."""
Uncertainty = Annotated[Quantity, _uncertainty[0], _uncertainty[1]]
"""An expanded uncertainty: absolute, or a share of the reading."""
Share = Annotated[Quantity, _share[0], _share[1]]
"""A share of a whole, above 0."""
PressureUncertainty = Annotated[Quantity, _pressure_uncertainty[0], _pressure_uncertainty[1]]
"""An expanded uncertainty of a pressure: absolute, or a share of the reading."""


def _in_kelvin(value: Any) -> Any:
    """Refuse a difference of temperatures in a unit that does not begin at nothing, before its bounds are looked at."""
    parts = split_quantity(value) if isinstance(value, str) else None
    if parts is not None and parts[1] in units_of("temperature") and parts[1] != "K":
        raise quantity_problem(
            "wrong-unit",
            f"the unit `{parts[1]}`",
            "one of K",
            "Write a difference of temperatures in K; one of 1 degC is 1 K, and one of 1 degF 0.556 K",
        )
    return value


TemperatureUncertainty = Annotated[
    Quantity, _temperature_uncertainty[0], _temperature_uncertainty[1], BeforeValidator(_in_kelvin)
]
"""An expanded uncertainty of a temperature, a difference and so in K."""


def unit_of(*dimensions: Dimension, example: str) -> Any:
    """Make the annotation of text that is the unit of other numbers; `check_unit` holds a record to it."""
    return Field(examples=[example], json_schema_extra={"enum": list(spellings_of(*dimensions))})


def check_unit(spelling: str, dimension: Dimension) -> None:
    """Raise a problem where a unit is unknown or is not one of a dimension."""
    unit = find_unit(spelling)
    if unit is None or unit.dimension != dimension:
        fitting = units_of(dimension)
        slug = "unknown-unit" if unit is None else "wrong-unit"
        found, expected = f"the unit `{shown_unit(spelling)}`", f"one of {_listed(fitting)}"
        raise quantity_problem(slug, found, expected, _unit_remedy(spelling, fitting, "readings"))
