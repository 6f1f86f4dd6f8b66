"""Run a method's check values against a function; shared by the tests of methods and of mutants."""

from __future__ import annotations

import importlib
from collections.abc import Callable
from types import ModuleType
from typing import Any

from generator.model.reference import CheckValue, Method
from generator.scoring.check_agreement import agreement


def module_of(method: Method) -> ModuleType:
    """Return the module that holds a method's function."""
    return importlib.import_module(f"generator.scoring.{method.function.split(':')[0]}")


def function_name(method: Method) -> str:
    """Return the name of a method's function."""
    return method.function.split(":")[1]


def reproduces(function: Callable[..., Any], check: CheckValue) -> bool:
    """Say whether a function gives a check value within its tolerance."""
    return agreement(function, check) is not None
