"""Numbers of a record that lie where such numbers do not lie as a rule, and what was meant where a slip explains it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Set
from dataclasses import dataclass

from generator.model.base import Frozen
from generator.model.plausibility import PlausibleRange, PlausibleSpan
from generator.model.quantity import Quantity, Readings
from generator.model.units import Unit, checked_unit, find_unit, to_base, units_of

Steps = tuple[str | int, ...]
"""The way from the record to a value: keys, and places in lists counted from 0."""

SLIPS = (10.0, 0.1, 100.0, 0.01)
"""What a decimal point one or two places off multiplies by; looked at in this order."""


@dataclass(frozen=True)
class Unlikely:
    """A value, or the values of a list of readings, outside the span for its kind."""

    rule: PlausibleRange
    span: PlausibleSpan
    kind: str | None
    """Which of the record's kinds the span is for; None where it is for all."""
    steps: Steps
    """To the value, to a reading of a list, or to the unit of a list where another unit explains all of them."""
    numbers: tuple[float, ...]
    """What was read, in `unit`: one number, or all of a list."""
    unit: str
    meant: Quantity | None
    """The lowest of them as it was probably meant; None where no single slip explains it."""
    outside: int
    """How many of the numbers lie outside."""

    @property
    def lowest(self) -> float:
        """The lowest of the numbers in the unit of the rule."""
        return Quantity(number=min(self.numbers), unit=self.unit).to(self.rule.unit)

    @property
    def highest(self) -> float:
        """The highest of them in that unit."""
        return Quantity(number=max(self.numbers), unit=self.unit).to(self.rule.unit)


def unlikely_values(record: Frozen, kinds: Set[str], rules: Iterable[PlausibleRange]) -> Iterator[Unlikely]:
    """Return what of a record lies outside the spans of the rules, which are those for records of its kind.

    Parameters
    ----------
    record : Frozen
        The record.
    kinds : Set[str]
        The kinds of device and instrument that it is about.
    rules : Iterable[PlausibleRange]
        The ranges.

    Yields
    ------
    Unlikely
        What lies outside; a list of readings gives one at most.
    """
    for rule in rules:
        span = next((each for each in rule.spans if not each.kinds or kinds & set(each.kinds)), None)
        if span is None:
            continue
        kind = next((each.value for each in span.kinds if each.value in kinds), None)
        for place in rule.places:
            for steps, value in values_at(record, place):
                found = _looked_at(steps, value, rule, span, kind)
                if found is not None:
                    yield found


def values_at(record: Frozen, place: str) -> Iterator[tuple[Steps, object]]:
    """Go through the values at a place such as `fit[].exercises[].in_mask`; what is not there gives none."""
    found: list[tuple[Steps, object]] = [((), record)]
    for step in place.split("."):
        key = step.removesuffix("[]")
        below = [((*steps, key), getattr(value, key, None)) for steps, value in found]
        if step.endswith("[]"):
            below = [
                ((*steps, number), item)
                for steps, value in below
                if isinstance(value, tuple)
                for number, item in enumerate(value)
            ]
        found = below
    yield from found


def _looked_at(
    steps: Steps, value: object, rule: PlausibleRange, span: PlausibleSpan, kind: str | None
) -> Unlikely | None:
    if isinstance(value, Quantity):
        numbers: tuple[float, ...] = (value.number,)
    elif isinstance(value, Readings):
        numbers = value.values
    else:
        return None
    unit, of_rule = checked_unit(value.unit), checked_unit(rule.unit)
    if unit.dimension != of_rule.dimension:
        return None
    low, high = (_a_digit_wider(to_base(end, of_rule), up) for end, up in ((span.low, False), (span.high, True)))

    def inside(number: float, other: Unit = unit) -> bool:
        return low <= to_base(number, other) <= high

    outside = [place for place, number in enumerate(numbers) if not inside(number)]
    if not outside:
        return None
    first = outside[0]
    meant = None
    if len(outside) == len(numbers):
        meant = _in_another_unit(numbers, unit, rule.unit, low, high)
    if isinstance(value, Readings):
        steps = (*steps, "unit") if meant is not None else (*steps, "values", first)
    if meant is None:
        told = numbers[first]
        slip = next((factor for factor in SLIPS if inside(told * factor)), None)
        meant = None if slip is None else Quantity(number=told * slip, unit=unit.spelling)
        numbers = (told,)
    return Unlikely(rule, span, kind, steps, numbers, unit.spelling, meant, len(outside))


def _a_digit_wider(end: float, up: bool) -> float:
    # Conversion may leave a number that stands exactly at an end a last digit beside it.
    return end + abs(end) * (1e-12 if up else -1e-12)


def _in_another_unit(
    numbers: tuple[float, ...], unit: Unit, preferred: str, low: float, high: float
) -> Quantity | None:
    """Return the lowest number in the unit that brings all of them inside; that of the rule goes first."""
    for spelling in dict.fromkeys((preferred, *units_of(unit.dimension))):
        other = find_unit(spelling)
        if other is not None and other != unit and all(low <= to_base(each, other) <= high for each in numbers):
            return Quantity(number=min(numbers), unit=spelling)
    return None
