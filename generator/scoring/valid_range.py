"""Every formula holds in a stated range; outside it these raise OutsideRange instead of giving a number."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.errors import OutsideRange

_REMEDY = "Leave the figure out with its reason, or correct the value."


def require_positive(name: str, value: float) -> None:
    """Raise unless a value is finite and above zero.

    Parameters
    ----------
    name : str
        What the value is, for the message. [-]
    value : float
        The value, in any unit. [any]

    Raises
    ------
    OutsideRange
        The value is not finite, or not above zero.
    """
    if not (math.isfinite(value) and value > 0):
        raise OutsideRange(f"{name}: found {value:.12g}, expected a finite number above 0. {_REMEDY}")


def require_not_negative(name: str, value: float) -> None:
    """Raise unless a value is finite and zero or above.

    Parameters
    ----------
    name : str
        What the value is, for the message. [-]
    value : float
        The value, in any unit. [any]

    Raises
    ------
    OutsideRange
        The value is not finite, or below zero.
    """
    if not (math.isfinite(value) and value >= 0):
        raise OutsideRange(f"{name}: found {value:.12g}, expected a finite number of 0 or more. {_REMEDY}")


def require_between(name: str, value: float, low: float, high: float) -> None:
    """Raise unless a value lies between two ends, or on one of them.

    Parameters
    ----------
    name : str
        What the value is, for the message. [-]
    value : float
        The value, in any unit. [any]
    low : float
        Lower end. [as value]
    high : float
        Upper end. [as value]

    Raises
    ------
    OutsideRange
        The value is not a number, or lies outside the ends.
    """
    if not low <= value <= high:
        raise OutsideRange(f"{name}: found {value:.12g}, expected {low:.12g} to {high:.12g}. {_REMEDY}")


def require_coverage(value: float) -> None:
    """Raise unless a coverage probability lies between zero and one.

    Parameters
    ----------
    value : float
        Coverage probability. [1]

    Raises
    ------
    OutsideRange
        The value is not above 0 and below 1.
    """
    if not 0 < value < 1:
        raise OutsideRange(f"coverage: found {value:.12g}, expected more than 0 and less than 1. {_REMEDY}")


def require_at_least_items(name: str, values: Sequence[float], least: int) -> None:
    """Raise where there are too few values.

    Parameters
    ----------
    name : str
        What the values are, for the message. [-]
    values : Sequence[float]
        The values, in any unit. [any]
    least : int
        How many there must be. [count]

    Raises
    ------
    OutsideRange
        There are fewer values.
    """
    if len(values) < least:
        raise OutsideRange(f"{name}: found {len(values)} values, expected at least {least}. {_REMEDY}")


def require_same_length(names: str, *lists: Sequence[float]) -> None:
    """Raise unless lists that belong together are equally long and hold something.

    Parameters
    ----------
    names : str
        What the lists are, for the message. [-]
    lists : Sequence[float]
        The lists, in any unit. [any]

    Raises
    ------
    OutsideRange
        The lists differ in length, or are empty.
    """
    lengths = [len(values) for values in lists]
    if len(set(lengths)) != 1 or lengths[0] == 0:
        found = ", ".join(str(length) for length in lengths)
        raise OutsideRange(f"{names}: found {found} values, expected the same number of each, 1 or more. {_REMEDY}")


def require_ordered(name: str, low: float, high: float) -> None:
    """Raise unless the lower end of an interval is at or below its upper end.

    Parameters
    ----------
    name : str
        What the interval is, for the message. [-]
    low : float
        Lower end, which may be minus infinity. [any]
    high : float
        Upper end, which may be infinity. [as low]

    Raises
    ------
    OutsideRange
        The ends are the wrong way round, or not numbers.
    """
    if not low <= high:
        raise OutsideRange(f"{name}: found {low:.12g} to {high:.12g}, expected the lower end first. {_REMEDY}")


def require_different(name: str, values: Sequence[float]) -> None:
    """Raise where all values are the same, so that they show no spread.

    Parameters
    ----------
    name : str
        What the values are, for the message. [-]
    values : Sequence[float]
        The values, in any unit. [any]

    Raises
    ------
    OutsideRange
        There are fewer than two different values.
    """
    if len(set(values)) < 2:
        raise OutsideRange(f"{name}: found no two different values, expected some spread. {_REMEDY}")
