"""Requirements and protocols as tables: each in a row with limit, clause and how it is known."""

from __future__ import annotations

import pytest

from generator.model.reference import CriterionQuantity
from generator.presenting.context import Context
from generator.presenting.requirement_tables import criteria_table, exercises_table, protocols_table
from tests.presenting.small_sites import a_whole_catalogue, context_of

NARROW = "\N{NARROW NO-BREAK SPACE}"


@pytest.fixture(scope="module")
def context() -> Context:
    return context_of(a_whole_catalogue())


def test_every_requirement_has_a_row_that_leads_to_it(context: Context) -> None:
    table = criteria_table(context)
    criteria = context.catalogue.criteria
    named = [(row.cells[0].href or "").removeprefix("requirements.html#") for row in table.rows]
    assert sorted(named) == sorted(criteria)
    quantities = [criteria[each].quantity for each in named]
    assert quantities == sorted(quantities, key=list(CriterionQuantity).index)


@pytest.mark.parametrize(
    ("criterion", "cells", "notes"),
    [
        (
            "supply-flow-loose-fitting",
            {"Limit": f"supply flow at least 170{NARROW}L/min", "Decided by": "guarded rule"},
            {"Limit": f"6{NARROW}cfm"},
        ),
        (
            "fit-test-pass-half-facepiece",
            {
                "Limit": "overall fit factor at least 100",
                "Bound to": "four protocols",
                "Document, clause, edition": "29 CFR 1910.134 (United States), (f)(7); Appendix A Part I.C",
                "How known": "seen in a secondary source; from memory, not seen",
                "Decided by": "plain comparison",
            },
            {
                "Limit": None,
                "Document, clause, edition": "as amended by 84 FR 50739 of 26 September 2019; and two further sources",
            },
        ),
    ],
)
def test_what_a_row_says(criterion: str, cells: dict[str, str], notes: dict[str, str | None], context: Context) -> None:
    table = criteria_table(context)
    (row,) = (row for row in table.rows if row.cells[0].href == f"requirements.html#{criterion}")
    by_head = {column.head: cell for column, cell in zip(table.columns, row.cells, strict=True)}
    assert {head: by_head[head].text for head in cells} == cells
    assert {head: by_head[head].note for head in notes} == notes


def test_a_protocol_has_a_row_and_a_table_of_its_exercises(context: Context) -> None:
    table = protocols_table(context)
    (row,) = (row for row in table.rows if row.cells[0].href == "requirements.html#eight-standard-exercises")
    # source: 29 CFR 1910.134 Appendix A, Part I.A.14: seven exercises of 60 s and a grimace of 15 s, not counted
    assert (row.cells[2].text, row.cells[2].note) == ("Eight exercises", f"7 counted; 435{NARROW}s in all")
    assert row.cells[5].text == "seen in a secondary source"
    exercises = exercises_table(context.catalogue.protocols["eight-standard-exercises"])
    assert exercises.id == "eight-standard-exercises"
    assert [line.cells[2].text for line in exercises.rows].count("no") == 1
