"""How an agreement is told. The cases are by hand; the digits printed are those of the expected value."""

from __future__ import annotations

import pytest

from generator.loading import load_reference
from generator.model.reference import CheckInput, CheckValue
from generator.presenting.agreement_words import (
    agreement_text,
    difference_text,
    found_text,
    number_text,
    tolerance_text,
)
from generator.scoring.check_agreement import agreement, agreements

NARROW = "\N{NARROW NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("expected", "found", "tolerance", "shown", "words", "difference"),
    [
        (78.0, 78.0103, 5e-4, "78.01", "agrees to the digits printed", "at most 10⁻³"),
        (0.1651, 0.16513547, 5e-4, "0.165135", "agrees to the digits printed", "at most 10⁻³"),
        (131, 131.14754, 4e-3, "131.15", "agrees to the digits printed", f"at most 0.2{NARROW}%"),
        (31.671, 31.84931, 6e-3, "31.84931", f"agrees within 0.6{NARROW}%", f"at most 0.6{NARROW}%"),
        (0.333778, 0.3338082, 2e-4, "0.3338082", "agrees to four digits", "at most 10⁻⁴"),
        (12.2874371, 12.2874364, 1e-6, "12.2874364", "agrees to seven digits", "at most 10⁻⁷"),
        # Noise of a machine is never told, whatever it is; the tolerance that was kept is.
        (1.234567890123, 1.234567890124, 1e-9, "1.23456789", "agrees to nine digits", "at most 10⁻⁹"),
        (1.234567890123, 1.234567890123, 1e-12, "1.23456789", "agrees to twelve digits", "at most 10⁻¹²"),
        (1.234567890123, 1.234567890123, 1e-7, "1.23456789", "agrees to nine digits", "at most 10⁻⁹"),
        ("undecided", "undecided", 1e-9, "undecided", "the same", "none"),
        (None, None, 1e-9, "none", "the same", "none"),
        (150, 150, 1e-9, "150", "the same", "none"),
        ((-4.65, None), (-4.6535007, None), 1e-2, "(−4.6535, none)", "agrees to the digits printed", "at most 10⁻³"),
    ],
)
def test_an_agreement_in_words(
    expected: CheckInput, found: CheckInput, tolerance: float, shown: str, words: str, difference: str
) -> None:
    check = CheckValue(inputs={}, expected=expected, relative_tolerance=tolerance, source="by hand")
    measured = agreement(lambda: found, check)
    assert measured is not None
    assert found_text(measured, check) == shown
    assert agreement_text(measured, check) == words
    assert difference_text(measured, check) == difference


@pytest.mark.parametrize(
    ("tolerance", "text"),
    [(1e-9, "10⁻⁹"), (2e-6, "2 × 10⁻⁶"), (5e-4, "5 × 10⁻⁴"), (0.0065, f"0.65{NARROW}%"), (0.04, f"4{NARROW}%")],
)
def test_what_is_allowed(tolerance: float, text: str) -> None:
    assert tolerance_text(tolerance) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [(3.4663884e-05, "3.4663884 × 10⁻⁵"), (-0.5, "−0.5"), (-3, "−3"), ("as-found", "as-found"), (True, "True")],
)
def test_a_value_in_a_check(value: CheckInput, text: str) -> None:
    assert number_text(value) == text


def test_every_check_of_every_method_has_its_words() -> None:
    told = {
        agreement_text(measured, check)
        for method in load_reference().methods.values()
        for measured, check in zip(agreements(method), method.check_values, strict=True)
    }
    assert {"the same", "agrees to the digits printed", "agrees to nine digits"} < told
    assert all(text == "the same" or text.startswith("agrees ") for text in told)
