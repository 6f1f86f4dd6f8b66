"""How a number is written: digits, minus, spaces. Rounding is for display and never for a verdict."""

from __future__ import annotations

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from functools import lru_cache

from generator.model.result import Figure, Interval, Relation
from generator.model.units import find_unit, from_base, to_base

MINUS = "\N{MINUS SIGN}"
THIN = "\N{NARROW NO-BREAK SPACE}"
_UNIT_TEXT = {
    "1": "",
    "count": "",
    "/cm3": "/cm³",
    "/m3": "/m³",
    "/L": "/L",
    "cm3": "cm³",
    "cm2": "cm²",
    "m2": "m²",
    "in2": "in²",
    "m3/h": "m³/h",
    "kg/m3": "kg/m³",
    "cm3/min": "cm³/min",
    "um": "µm",
    "degC": "°C",
    "degF": "°F",
    "mmH2O": "mmH₂O",
}
_AS_BOUND = {
    Relation.EQUAL: ("", ROUND_HALF_EVEN),
    Relation.AT_LEAST: ("at least ", ROUND_FLOOR),
    Relation.AT_MOST: ("at most ", ROUND_CEILING),
}
_BETWEEN = "between "
_THREE_DIGITS_FROM = 10
"""From where on a number in the other system's unit is given three digits rather than two."""
_WHOLE_BELOW = 1e15
"""Below it every whole number is written as it is, to the last digit."""
_OTHER_SYSTEM = {"L/min": "cfm", "Pa": "mmH2O"}


def unit_text(unit: str) -> str:
    """Return the unit as a reader sees it: superscripts, no ASCII stand-ins."""
    return _UNIT_TEXT.get(unit, unit)


def decimals_for(uncertainty: float) -> int:
    """Return the decimal place that an uncertainty deserves; negative for tens, hundreds and so on.

    Notes
    -----
    The rule of the Particle Data Group: where the three leading digits of the uncertainty are 100 to 354, keep two
    digits; 355 to 949, one; 950 to 999, round up to 1000 and keep two.

    References
    ----------
    .. [1] Particle Data Group, Review of Particle Physics, Introduction, section 5.3 "Rounding".
    """
    exponent = math.floor(math.log10(uncertainty))
    leading_digits = int(uncertainty / 10.0**exponent * 100 + 1e-9)
    return 1 - exponent if leading_digits <= 354 else -exponent


def decimals_for_digits(value: float, digits: int) -> int:
    """Return the decimal place that leaves a value with so many significant digits."""
    if value == 0:
        return digits - 1
    return digits - 1 - math.floor(math.log10(abs(value)))


@lru_cache(maxsize=8192)  # a working names the same numbers for every exercise
def rounded(value: float, decimals: int, rounding: str = ROUND_HALF_EVEN) -> str:
    """Write a value to a decimal place, with a real minus and narrow spaces in numbers of five digits or more."""
    negative = value < 0
    if decimals >= 0 and abs(value) < _WHOLE_BELOW and value == int(value):
        # Nothing is to be rounded, and counts need not become decimal numbers for it.
        whole, fraction = str(abs(int(value))), "0" * decimals
    else:
        exact = Decimal(repr(value)).quantize(_step(decimals), rounding=rounding)
        negative = exact < 0
        whole, _, fraction = f"{abs(exact):f}".partition(".")
    if len(whole) > 4:
        groups = []
        while whole:
            groups.append(whole[-3:])
            whole = whole[:-3]
        whole = THIN.join(reversed(groups))
    sign = MINUS if negative else ""
    return f"{sign}{whole}.{fraction}" if fraction else f"{sign}{whole}"


@lru_cache(maxsize=64)
def _step(decimals: int) -> Decimal:
    return Decimal(1).scaleb(-decimals)


def decimals_beside(value: float, limit: float, decimals: int) -> int:
    """Return at least `decimals`, and as many more as keep a rounded value on its true side of a limit."""
    for more in range(decimals, decimals + 15):
        shown = float(Decimal(repr(value)).quantize(Decimal(1).scaleb(-more), rounding=ROUND_HALF_EVEN))
        if (shown > limit) == (value > limit) and (shown < limit) == (value < limit):
            return more
    return decimals + 15


def with_unit(number: str, unit: str) -> str:
    """Join a written number and its unit by a narrow space that does not break."""
    text = unit_text(unit)
    return f"{number}{THIN}{text}" if text else number


def _digits_without_interval(unit: str) -> int:
    # A factor of unknown uncertainty is not worth more than two digits; a meter's reading is worth three.
    return 2 if unit in ("1", "%") else 3


def _half_width(value: float, interval: Interval) -> float | None:
    sides = [abs(limit - value) for limit in (interval.low, interval.high) if limit is not None]
    sides = [side for side in sides if side > 0]
    return min(sides) if sides else None


def figure_decimals(figure: Figure, limit: float | None = None, factor_digits: int = 3) -> int:
    """Return the decimal place to which a figure is written, from its interval where it has one.

    A factor, a share and a volume of breath are never given more than `factor_digits`: their intervals do not cover all
    that they rest on, however narrow they are.
    """
    if figure.value is None:
        return 0
    half = _half_width(figure.value, figure.interval) if figure.interval else None
    if (figure.value, figure.unit, half) == (0, "min", None):
        # No time at all was not measured to the hundredth of a minute.
        return 0
    if half is not None and figure.relation is Relation.EQUAL:
        most = decimals_for_digits(figure.value, factor_digits if figure.unit in ("1", "%", "L") else 6)
        # A value that is small beside its uncertainty keeps its first digit: 1.0 in an interval up to 140 is not 0.
        decimals = min(max(decimals_for(half), decimals_for_digits(figure.value, 1)), most)
    else:
        decimals = decimals_for_digits(figure.value, _digits_without_interval(figure.unit))
    if limit is not None and figure.relation is Relation.EQUAL:
        decimals = decimals_beside(figure.value, limit, decimals)
    return decimals


def value_text(figure: Figure, limit: float | None = None, factor_digits: int = 3) -> str:
    """Write a figure's value with its unit, without its interval; a bound is rounded to its weaker side."""
    if figure.value is None:
        return "not scored"
    if figure.other_bound is not None:
        low, high = sorted((figure.value, figure.other_bound))
        return with_unit(f"{_BETWEEN}{_both_bounds(low, high, limit)}", figure.unit)
    decimals = figure_decimals(figure, limit, factor_digits)
    if figure.relation is Relation.AT_LEAST:
        return "at least " + with_unit(rounded(figure.value, decimals, ROUND_FLOOR), figure.unit)
    if figure.relation is Relation.AT_MOST:
        return "at most " + with_unit(rounded(figure.value, decimals, ROUND_CEILING), figure.unit)
    return with_unit(rounded(figure.value, decimals), figure.unit)


def _both_bounds(low: float, high: float, limit: float | None) -> str:
    """Write two bounds to three digits, rounded outwards, but never onto the other side of a limit."""
    decimals = decimals_for_digits(high, 3)
    if limit is not None and high < limit:
        while float(Decimal(repr(high)).quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_CEILING)) >= limit:
            decimals += 1
    low_end = rounded(low, decimals_for_digits(low, 3), ROUND_FLOOR)
    return f"{low_end} and {rounded(high, decimals, ROUND_CEILING)}"


def rough_text(figure: Figure, limit: float | None = None) -> str:
    """Write a figure's value where its interval does not stand beside it: a factor to two digits, a lower bound."""
    return value_text(figure.model_copy(update={"other_bound": None}), limit, factor_digits=2)


def scale_text(figure: Figure, limit: float | None = None, factor_digits: int = 3) -> str:
    """Write a figure beside its mark on a scale: as elsewhere, but two bounds in as little room as `126 to 240`."""
    text = value_text(figure, limit, factor_digits)
    return text if figure.other_bound is None else text.removeprefix(_BETWEEN).replace(" and ", " to ", 1)


def interval_text(figure: Figure) -> str | None:
    """Write a figure's interval, its limits rounded outwards, such as `160 to 210`, or None where it has none."""
    if figure.value is None or figure.interval is None:
        return None
    low, high = figure.interval.low, figure.interval.high
    half = _half_width(figure.value, figure.interval)
    decimals = decimals_for(half) if half is not None else figure_decimals(figure)

    def outwards(limit: float, rounding: str) -> str:
        # At least two digits, and never more than three of a factor.
        digits = max(decimals, decimals_for_digits(limit, 2)) if limit else decimals
        if limit and figure.unit in ("1", "%", "L"):
            digits = min(digits, decimals_for_digits(limit, 3))
        return rounded(limit, digits, rounding)

    if low is not None and high is not None:
        ends = f"{outwards(low, ROUND_FLOOR)} to {outwards(high, ROUND_CEILING)}"
        return with_unit(ends, figure.unit)
    if low is not None:
        return "at least " + with_unit(outwards(low, ROUND_FLOOR), figure.unit)
    if high is not None:
        return "at most " + with_unit(outwards(high, ROUND_CEILING), figure.unit)
    return None


def percent_text(share: float, digits: int = 3, rounding: str = ROUND_HALF_EVEN) -> str:
    """Write a share as a percentage, to at most so many significant digits, without idle zeros."""
    return quantity_text(share * 100, "%", digits, rounding)


def figure_text(figure: Figure, limit: float | None = None) -> str:
    """Write a figure as a phrase: value, unit and interval, or why there is no value."""
    if figure.value is None:
        return f"not scored: {figure.not_scored}"
    text = value_text(figure, limit)
    ends = interval_text(figure)
    if ends is not None and figure.interval is not None and figure.relation is Relation.EQUAL:
        text += f" ({percent_text(figure.interval.coverage)} interval {ends})"
    return text


def quantity_text(number: float, unit: str, digits: int = 4, rounding: str = ROUND_HALF_EVEN) -> str:
    """Write a recorded number with its unit, to at most so many significant digits, dropping idle zeros."""
    decimals = max(decimals_for_digits(number, digits), 0)
    text = rounded(number, decimals, rounding)
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return with_unit(text, unit)


def other_system(value: float, unit: str, rounding: str = ROUND_HALF_EVEN) -> str | None:
    """Write a flow in cubic feet a minute, a pressure in millimetres of water; None where a unit has no such twin."""
    own, other = find_unit(unit), find_unit(_OTHER_SYSTEM.get(unit, ""))
    if own is None or other is None:
        return None
    number = from_base(to_base(value, own), other)
    return quantity_text(number, other.spelling, 2 if abs(number) < _THREE_DIGITS_FROM else 3, rounding)


def other_unit_text(figure: Figure) -> str | None:
    """Write a figure in the other system's unit; a bound says that it is one, rounded to its weaker side."""
    if figure.value is None or figure.other_bound is not None:
        return None
    ends = figure.interval
    if ends is not None and ends.low is not None and ends.high is not None and ends.low <= 0 <= ends.high:
        return None  # a difference that may be none: digits of its own would tell it apart from zero
    words, rounding = _AS_BOUND[figure.relation]
    text = other_system(figure.value, figure.unit, rounding)
    return None if text is None else f"{words}{text}"


def ratio_words(ratio: float) -> str:
    """Say a ratio of two flows in words a reader can picture, such as `one tenth of` or `1.2 times`."""
    if ratio <= 0:
        return "none of"
    if ratio < 0.67:
        part = round(1 / ratio)
        words = {2: "half", 3: "one third", 4: "one quarter", 5: "one fifth", 10: "one tenth", 20: "one twentieth"}
        if part in words and abs(ratio * part - 1) <= 0.07:
            return f"{words[part]} of" if part != 2 else "half of"
    if ratio < 0.995:
        return f"{percent_text(ratio, digits=2)} of"
    return f"{rounded(ratio, decimals_beside(ratio, 1.0, 2))} times"
