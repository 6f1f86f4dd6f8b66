"""How closely a method's function gives a value from outside, in digits and in words.

A difference is told by a power of ten that it does not exceed. What may be a machine's own noise is told by the
tolerance alone, so that no two machines tell it differently.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal
from typing import TypeGuard

from generator.model.reference import CheckInput, CheckValue
from generator.presenting.digits import MINUS, percent_text
from generator.presenting.wording import count_text
from generator.scoring.check_agreement import Agreement

_SUPERSCRIPTS = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_NOISE = 9
"""Relative differences below ten to the power of minus this are not told apart: solvers end there."""
_MOST_PRINTED = 6
"""A source that prints more digits than this was written out by a machine."""
_FEWEST_DIGITS = 3
"""Of fewer equal digits a share says more."""


def number_text(value: CheckInput, digits: int = _NOISE) -> str:
    """Write a value of a check: a number to so many significant digits, a list in brackets."""
    if isinstance(value, tuple):
        return "(" + ", ".join(number_text(item, digits) for item in value) + ")"
    if value is None:
        return "none"
    if not isinstance(value, float):
        return str(value).replace("-", MINUS) if _is_number(value) else str(value)
    number, _, exponent = f"{value:.{digits}g}".replace("-", MINUS, value < 0).partition("e")
    return f"{number} × {power_text(int(exponent))}" if exponent else number


def found_text(agreement: Agreement, check: CheckValue) -> str:
    """Write what the function gives, two digits past those expected, so that the difference can be seen."""
    digits = max((max(printed_digits(number), _whole_digits(number)) for number in _numbers(check.expected)), default=0)
    return number_text(agreement.found, min(digits + 2, _NOISE))


def printed_digits(number: float) -> int:
    """Return how many significant digits a number is written with."""
    return len(Decimal(repr(number)).normalize().as_tuple().digits)


def _whole_digits(number: float) -> int:
    return len(str(abs(int(number))))


def difference_text(agreement: Agreement, check: CheckValue) -> str:
    """Say how large the relative difference is at most."""
    if agreement.difference is None or (not _has_fractions(agreement.found) and agreement.difference == 0):
        return "none"
    digits = digits_that_agree(agreement.difference, check.relative_tolerance)
    if digits < _FEWEST_DIGITS:
        return f"at most {percent_text(agreement.difference, 1, ROUND_CEILING)}"
    return f"at most {power_text(-digits)}"


def digits_that_agree(difference: float, tolerance: float) -> int:
    """Return an n with a relative difference of at most ten to the power of minus n, at least what is allowed."""
    allowed = math.floor(-math.log10(tolerance) + 1e-9)
    if difference < 10.0**-_NOISE:
        return max(_NOISE, allowed)
    return max(math.floor(-math.log10(difference)), allowed)


def power_text(exponent: int) -> str:
    """Write a power of ten."""
    return "10" + str(exponent).translate(_SUPERSCRIPTS)


def tolerance_text(tolerance: float) -> str:
    """Write the largest relative difference that a check allows."""
    if tolerance > 10.0**-_FEWEST_DIGITS:
        return percent_text(tolerance)
    number, _, exponent = f"{tolerance:e}".partition("e")
    leading = f"{float(number):g}"
    power = power_text(int(exponent))
    return power if leading == "1" else f"{leading} × {power}"


def agreement_text(agreement: Agreement, check: CheckValue) -> str:
    """Say how closely the function gives what was expected."""
    if difference_text(agreement, check) == "none" or agreement.difference is None:
        return "the same"
    if _agrees_as_printed(agreement.found, check.expected):
        return "agrees to the digits printed"
    digits = digits_that_agree(agreement.difference, check.relative_tolerance)
    if digits < _FEWEST_DIGITS:
        return f"agrees within {percent_text(agreement.difference, 1, ROUND_CEILING)}"
    return f"agrees to {count_text(digits, 'digit')}"


def _numbers(value: CheckInput) -> Iterator[float]:
    for item in value if isinstance(value, tuple) else (value,):
        if _is_number(item):
            yield item


def _is_number(value: object) -> TypeGuard[int | float]:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _has_fractions(value: CheckInput) -> bool:
    return any(isinstance(number, float) for number in _numbers(value))


def _agrees_as_printed(found: CheckInput, expected: CheckInput) -> bool:
    pairs = list(zip(_numbers(found), _numbers(expected), strict=True))
    digits = [printed_digits(number) for _, number in pairs]
    return max(digits, default=0) <= _MOST_PRINTED and all(
        float(f"{one:.{count}g}") == other for (one, other), count in zip(pairs, digits, strict=True)
    )
