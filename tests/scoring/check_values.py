"""Run a method's check values against a function; shared by the tests of methods and of mutants."""

from __future__ import annotations

import importlib
from collections.abc import Callable
from types import ModuleType
from typing import Any

from generator.model.reference import CheckValue, Method

ABSOLUTE_AT_ZERO = 1e-12


def module_of(method: Method) -> ModuleType:
    """Return the module that holds a method's function."""
    return importlib.import_module(f"generator.scoring.{method.function.split(':')[0]}")


def function_name(method: Method) -> str:
    """Return the name of a method's function."""
    return method.function.split(":")[1]


def reproduces(function: Callable[..., Any], check: CheckValue) -> bool:
    """Say whether a function gives a check value within its tolerance."""
    return _agree(function(**check.inputs), check.expected, check.relative_tolerance)


def _agree(found: object, expected: object, tolerance: float) -> bool:
    if isinstance(expected, tuple):
        return (
            isinstance(found, tuple)
            and len(found) == len(expected)
            and all(_agree(one, other, tolerance) for one, other in zip(found, expected, strict=True))
        )
    if isinstance(expected, int | float) and isinstance(found, int | float):
        return abs(found - expected) <= max(tolerance * abs(expected), ABSOLUTE_AT_ZERO if expected == 0 else 0)
    return found == expected
