"""What an unquoted scalar means: the YAML 1.2 core schema, less what a record must not hold."""

from __future__ import annotations

import math
import re
from functools import lru_cache

LONGEST_INTEGER = 18
"""Digits. Longer ones are not exact in every program that reads the published data."""

_WORDS: dict[str, bool | None] = {
    "": None,
    "~": None,
    "null": None,
    "Null": None,
    "NULL": None,
    "true": True,
    "True": True,
    "TRUE": True,
    "false": False,
    "False": False,
    "FALSE": False,
}
_OFTEN_AGAIN = 32
"""Characters of a scalar that is likely to stand in many records, so that its meaning is kept."""
_NUMBER_START = frozenset("+-.0123456789")
_INTEGER = re.compile(r"[-+]?[0-9]+")
_OTHER_BASE = re.compile(r"0o[0-7]+|0x[0-9a-fA-F]+")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")
_LEADING_ZERO = re.compile(r"[-+]?0[0-9]")
_NOT_FINITE = re.compile(r"[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)")


class RefusedScalar(ValueError):
    """An unquoted scalar that a record must not hold: slug, what was expected, what to do."""

    def __init__(self, slug: str, expected: str, remedy: str) -> None:
        """Keep the parts of the problem; the caller knows what was found, and where."""
        super().__init__(slug)
        self.slug, self.expected, self.remedy = slug, expected, remedy


def plain_value(text: str) -> bool | int | float | str | None:
    """Return what an unquoted scalar stands for. Dates, times, `no` and `off` stay text, as YAML 1.2 has it.

    Raises
    ------
    RefusedScalar
        A number that is not finite, has leading zeros, or is too long to be exact.
    """
    if text in _WORDS:
        return _WORDS[text]
    if text[0] not in _NUMBER_START:
        return text
    return _like_a_number(text) if len(text) <= _OFTEN_AGAIN else _like_a_number.__wrapped__(text)


@lru_cache(maxsize=8192)
def _like_a_number(text: str) -> int | float | str:
    if _INTEGER.fullmatch(text) or _FLOAT.fullmatch(text):
        return _number(text)
    if _OTHER_BASE.fullmatch(text):
        return _checked_integer(int(text, 0), text)
    if _NOT_FINITE.fullmatch(text):
        raise _not_finite()
    return text


def _number(text: str) -> int | float:
    if _LEADING_ZERO.match(text):
        raise RefusedScalar(
            "number-leading-zero",
            "a number without leading zeros",
            "Remove the zeros, or put quotes round it if it is a name or a serial number",
        )
    if _INTEGER.fullmatch(text):
        return _checked_integer(int(text) if len(text) <= LONGEST_INTEGER + 1 else None, text)
    number = float(text)
    if not math.isfinite(number):
        raise _not_finite()
    return number


def _checked_integer(number: int | None, text: str) -> int:
    if number is None or abs(number) >= 10**LONGEST_INTEGER:
        raise RefusedScalar(
            "number-too-long",
            f"at most {LONGEST_INTEGER} digits",
            "Shorten it, or put quotes round it if it is a name or a serial number",
        )
    return number


def _not_finite() -> RefusedScalar:
    return RefusedScalar(
        "not-finite",
        "a finite number",
        "Write the number that was read, or `{not_recorded: <reason>}` where that is allowed",
    )
