"""Figures as cells of tables: id, way to the working, interval, and what stands where there is no figure."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.result import Figure, Input, Interval, Relation, Working
from generator.presenting.figure_cells import figure_cell, figure_id
from generator.presenting.views import Cell

NARROW = "\N{NARROW NO-BREAK SPACE}"
WORKING = Working(method="m", inputs=(Input(symbol="x", meaning="x", value=1.0, unit="1", where="run_down[a]"),))


def a_figure(value: float | None = 172.4, **parts: Any) -> Figure:
    data = {"key": "breathing.a.mean", "name": "mean", "value": value, "unit": "L/min", "sample_size": 5}
    return Figure.model_validate(data | {"sample_of": "readings", "method": "m", "working": WORKING} | parts)


def an_interval(low: float | None, high: float | None) -> Interval:
    return Interval(low=low, high=high, coverage=0.95, method="m", covers="all of it")


def test_on_a_records_page_a_figure_has_its_own_key_and_leads_to_its_working() -> None:
    cell = figure_cell(a_figure(interval=an_interval(169.0, 175.8)), "hood-2025")
    assert cell == Cell(
        f"172.4{NARROW}L/min",
        "records/hood-2025.html#working.breathing.a.mean",
        f"6.1{NARROW}cfm; 95{NARROW}% interval 169.0 to 175.8{NARROW}L/min",
        "breathing.a.mean",
    )
    assert cell.id == figure_id(a_figure(), "hood-2025", on_device=False)


def test_on_a_devices_page_the_record_stands_before_the_key() -> None:
    cell = figure_cell(a_figure(), "hood-2025", on_device=True)
    assert cell.id == "hood-2025-breathing.a.mean" == figure_id(a_figure(), "hood-2025", on_device=True)
    assert cell.href == "records/hood-2025.html#working.breathing.a.mean"


def test_a_missing_figure_says_why_and_leads_nowhere() -> None:
    figure = a_figure(None, working=None, not_scored="the log has no flow")
    assert figure_cell(figure, "hood") == Cell("not scored", None, "the log has no flow", "breathing.a.mean")


def test_a_figure_without_interval_or_working_is_its_value_in_both_units() -> None:
    cell = figure_cell(a_figure(no_interval="one reading", working=None), "hood")
    assert (cell.text, cell.href, cell.note) == (f"172{NARROW}L/min", None, f"6.1{NARROW}cfm")
    assert figure_cell(a_figure(no_interval="one reading"), "hood", other_unit=False).note is None


@pytest.mark.parametrize(
    ("relation", "text"),
    # source: a bound is rounded to its weaker side: a lower one down, an upper one up
    [(Relation.AT_LEAST, f"at least 1770{NARROW}L/min"), (Relation.AT_MOST, f"at most 1780{NARROW}L/min")],
)
def test_a_bound_says_so(relation: Relation, text: str) -> None:
    assert figure_cell(a_figure(1776.0, relation=relation), "hood").text == text


@pytest.mark.parametrize(
    ("low", "high", "note"),
    [
        (169.0, None, f"95{NARROW}% interval at least 169.0{NARROW}L/min"),
        (None, 176.0, f"95{NARROW}% interval at most 176{NARROW}L/min"),
    ],
)
def test_an_interval_with_one_end_says_so(low: float | None, high: float | None, note: str) -> None:
    assert figure_cell(a_figure(interval=an_interval(low, high)), "hood").note == f"6.1{NARROW}cfm; {note}"


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (-12.34, "Pa", f"\N{MINUS SIGN}12.3{NARROW}Pa"),
        (21.55, "degC", f"21.6{NARROW}°C"),
        (1.234, "1", "1.2"),
        (63.21, "dB(A)", f"63.2{NARROW}dB(A)"),
    ],
)
def test_units_are_written_as_a_reader_sees_them(value: float, unit: str, text: str) -> None:
    assert figure_cell(a_figure(value, unit=unit), "hood").text == text


def test_rounding_never_moves_a_figure_to_the_other_side_of_its_limit() -> None:
    figure = a_figure(169.96)
    assert figure_cell(figure, "hood").text == f"170{NARROW}L/min"
    assert figure_cell(figure, "hood", limit=170.0).text == f"169.96{NARROW}L/min"
