"""Whether the function behind a method gives the values from outside that the method names, and how closely."""

from __future__ import annotations

import importlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeGuard

from generator.errors import GeneratorFailed
from generator.model.reference import CheckInput, CheckValue, Method

ABSOLUTE_AT_ZERO = 1e-12
"""How far from an expected zero a number may lie, where no relative tolerance can say it."""


@dataclass(frozen=True)
class Agreement:
    """What a function gives for a check value, and the largest relative difference of its numbers from those expected.

    From an expected zero the difference is absolute. Where nothing expected is a number it is None.
    """

    found: CheckInput
    difference: float | None


def function_of(method: Method) -> Callable[..., Any]:
    """Return the function that a method names."""
    module, _, name = method.function.partition(":")
    return getattr(importlib.import_module(f"generator.scoring.{module}"), name)  # type: ignore[no-any-return]


def agreement(function: Callable[..., Any], check: CheckValue) -> Agreement | None:
    """Return what a function gives for a check value, or None where it differs by more than the tolerance."""
    found = function(**check.inputs)
    differences = _differences(found, check.expected, check.relative_tolerance)
    if differences is None:
        return None
    return Agreement(found, max(differences, default=None))


def _differences(found: object, expected: object, tolerance: float) -> list[float] | None:
    """Return the difference of each expected number; None where one is too large or something is not as expected."""
    if isinstance(expected, tuple):
        if not isinstance(found, tuple) or len(found) != len(expected):
            return None
        parts = [_differences(one, other, tolerance) for one, other in zip(found, expected, strict=True)]
        return None if None in parts else [each for part in parts if part is not None for each in part]
    if _is_number(expected) and _is_number(found):
        apart = abs(found - expected)
        if not apart <= (tolerance * abs(expected) if expected else ABSOLUTE_AT_ZERO):
            return None
        return [apart / abs(expected) if expected else apart]
    return [] if found == expected and isinstance(found, bool) == isinstance(expected, bool) else None


def _is_number(value: object) -> TypeGuard[int | float]:
    return isinstance(value, int | float) and not isinstance(value, bool)


def agreements(method: Method) -> tuple[Agreement, ...]:
    """Return the agreement of each check value of a method, in their order.

    Raises
    ------
    GeneratorFailed
        A check value is not reproduced within its tolerance.
    """
    # A method holds dictionaries and so is no key itself. The functions are pure: one run is enough for a process.
    return _measured(method.model_dump_json())


@lru_cache(maxsize=1024)
def _measured(method_json: str) -> tuple[Agreement, ...]:
    method = Method.model_validate_json(method_json)
    function = function_of(method)
    measured = []
    for number, check in enumerate(method.check_values, start=1):
        one = agreement(function, check)
        if one is None:
            raise GeneratorFailed(
                f"The method {method.id} does not reproduce check value {number}: found {function(**check.inputs)!r}, "
                f"expected {check.expected!r} within {check.relative_tolerance:g}"
            )
        measured.append(one)
    return tuple(measured)
