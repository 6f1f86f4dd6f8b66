"""Every public formula says what it takes and gives, with units, and where it comes from."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from typing import Any

import pytest

from generator.scoring import (
    air_balance,
    blower_curve,
    blower_energy,
    carried_mass,
    censored_lognormal,
    censoring,
    combined_ends,
    conformity,
    control_charts,
    counting,
    differences,
    face_velocity,
    filter_loading,
    filter_penetration,
    fit_factors,
    flow_resistance,
    flow_statistics,
    flow_trends,
    gas_conditions,
    gas_exchange,
    hood_gas,
    log_figures,
    log_normality,
    lognormal,
    meter_back_pressure,
    moist_air,
    nested_bounds,
    nested_coverage,
    nested_lognormal,
    noise_dose,
    noise_levels,
    operating_point,
    over_breathing,
    overall_simulation,
    panels,
    pressure_drop_lines,
    pressure_traces,
    proportions,
    run_down,
    running_cost,
    speech_scores,
    stored_air,
    two_channel_simulation,
    uncertainty_components,
    valid_range,
    worn_part_of_the_time,
    zero_check,
)

FORMULAS = (
    carried_mass,
    blower_curve,
    blower_energy,
    air_balance,
    censored_lognormal,
    censoring,
    combined_ends,
    conformity,
    control_charts,
    counting,
    differences,
    face_velocity,
    filter_loading,
    filter_penetration,
    fit_factors,
    flow_resistance,
    flow_statistics,
    flow_trends,
    gas_conditions,
    gas_exchange,
    hood_gas,
    log_figures,
    log_normality,
    lognormal,
    meter_back_pressure,
    moist_air,
    nested_bounds,
    nested_coverage,
    nested_lognormal,
    noise_dose,
    noise_levels,
    operating_point,
    over_breathing,
    overall_simulation,
    panels,
    pressure_drop_lines,
    pressure_traces,
    proportions,
    running_cost,
    speech_scores,
    run_down,
    stored_air,
    two_channel_simulation,
    uncertainty_components,
    worn_part_of_the_time,
    zero_check,
)
FUNCTIONS: list[Callable[..., Any]] = [
    function
    for module in (*FORMULAS, valid_range)
    for name, function in inspect.getmembers(module, inspect.isfunction)
    if function.__module__ == module.__name__ and not name.startswith("_")
]
ENTRY = re.compile(r"^(\w+) : (.+)\n((?:    .+\n?)+)", re.MULTILINE)
UNIT = re.compile(r"\[[^\]]+\]$")


def section(docstring: str, title: str) -> str | None:
    """Return a section's text, or None where the docstring has none of that title."""
    match = re.search(
        rf"^{title}\n-{{{len(title)}}}\n(.*?)(?=^\S[^\n]*\n-{{3,}}$|\Z)", docstring, re.MULTILINE | re.DOTALL
    )
    return match[1] if match else None


def parts_of(function: Callable[..., Any]) -> str:
    """Return a function's docstring."""
    documented = inspect.getdoc(function)
    assert documented is not None
    return documented


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: function.__name__)
def test_parameters_match_the_signature_and_carry_units(function: Callable[..., Any]) -> None:
    parameters = section(parts_of(function), "Parameters")
    assert parameters is not None
    entries = ENTRY.findall(parameters + "\n")
    signature = inspect.signature(function).parameters
    assert [name for name, _, _ in entries] == list(signature)
    for name, stated, text in entries:
        assert stated == signature[name].annotation, name
        assert UNIT.search(text.strip()), f"{name} has no unit in brackets"


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: function.__name__)
def test_result_matches_the_signature_and_carries_a_unit(function: Callable[..., Any]) -> None:
    returned = inspect.signature(function).return_annotation
    returns = section(parts_of(function), "Returns")
    if returned == "None":
        assert returns is None
        return
    assert returns is not None
    stated, text = returns.strip().split("\n", 1)
    assert stated == returned
    assert UNIT.search(text.strip())


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: function.__name__)
def test_range_is_stated(function: Callable[..., Any]) -> None:
    raises = section(parts_of(function), "Raises")
    assert raises is not None
    assert raises.strip().startswith("OutsideRange")


@pytest.mark.parametrize(
    "function",
    [function for function in FUNCTIONS if function.__module__ != valid_range.__name__],
    ids=lambda function: function.__name__,
)
def test_formula_has_equation_and_numbered_references(function: Callable[..., Any]) -> None:
    notes, references = section(parts_of(function), "Notes"), section(parts_of(function), "References")
    assert notes is not None
    assert re.search(r"=|>=|<", notes)
    assert references is not None
    assert references.strip().startswith(".. [1] ")
