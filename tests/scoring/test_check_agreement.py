"""What a method's function gives for its check values: measured, and refused where it misses one."""

from __future__ import annotations

import math
from typing import Any

import pytest

from generator.errors import GeneratorFailed
from generator.loading import load_reference
from generator.model.reference import CheckInput, CheckValue
from generator.scoring.check_agreement import Agreement, agreement, agreements, function_of

METHODS = load_reference().methods


def a_check(expected: CheckInput, tolerance: float = 1e-3) -> CheckValue:
    return CheckValue(inputs={"x": 1}, expected=expected, relative_tolerance=tolerance, source="by hand")


def gives(value: object) -> Any:
    return lambda x: value


@pytest.mark.parametrize(
    ("found", "expected", "difference"),
    [
        (100.05, 100, 5e-4),
        (-100.05, -100.0, 5e-4),
        ((1.0, 200.1), (1, 200.0), 5e-4),  # the largest of them
        (1e-13, 0, 1e-13),  # from zero the difference is absolute
        ("meets", "meets", None),
        (None, None, None),
        ((1.0, None), (1.0, None), 0.0),
        (True, True, None),
    ],
)
def test_what_agrees_is_measured(found: CheckInput, expected: CheckInput, difference: float | None) -> None:
    measured = agreement(gives(found), a_check(expected))
    assert measured is not None
    assert measured.found == found
    assert measured.difference == (None if difference is None else pytest.approx(difference, rel=1e-6))


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        (100.2, 100),
        (99.8, 100),
        (math.nan, 100),
        (1e-11, 0),
        ("undecided", "meets"),
        (None, 1.0),
        (1.0, None),
        ((1.0,), (1.0, 2.0)),
        (1.0, (1.0,)),
        ((1.0, 2.1), (1.0, 2.0)),
        (True, 1),
        (1, True),
    ],
)
def test_what_differs_is_no_agreement(found: object, expected: CheckInput) -> None:
    assert agreement(gives(found), a_check(expected)) is None


def test_every_check_of_a_method_is_measured_by_its_own_function() -> None:
    method = METHODS["overall-fit-factor"]
    assert agreements(method) == tuple(agreement(function_of(method), check) for check in method.check_values)
    assert all(isinstance(each, Agreement) for each in agreements(method))


def test_a_value_that_is_missed_stops_the_page() -> None:
    method = METHODS["overall-fit-factor"]
    first, *others = method.check_values
    assert isinstance(first.expected, int | float)
    wrong = first.model_copy(update={"expected": first.expected * 1.1})
    with pytest.raises(GeneratorFailed, match="overall-fit-factor does not reproduce check value 1: found"):
        agreements(method.model_copy(update={"check_values": (wrong, *others)}))
