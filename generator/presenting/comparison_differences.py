"""The differences of a comparison in words, each with its working."""

from __future__ import annotations

from generator.model.air import Aerosol
from generator.model.comparison_result import ComparisonResult, Difference, FitConditions
from generator.presenting.comparison_views import (
    DifferenceRow,
    DifferencesTable,
    DifferenceWorking,
    SideCell,
    SideLine,
)
from generator.presenting.context import Context
from generator.presenting.difference_words import (
    SideWords,
    decision_lines,
    difference_working,
    people_lines,
    ratio_lines,
    short_answer,
    sure_lines,
)
from generator.presenting.fit_conditions import sprayed_words
from generator.presenting.topics.fit import COUNTERS
from generator.presenting.views import Cell, Column, Row, Table
from generator.presenting.wording import sentence_case

_BLOWERS = {"none": "no blower in either", "off": "blower off", "running": "blower running"}
_COLUMNS = ("Pair", "What follows", "How many times", "What it rests on")


def differences_table(result: ComparisonResult, context: Context) -> DifferencesTable | None:
    """Return a row for each pair whose difference is stated, or None where there is none."""
    page = f"comparisons/{result.id}.html"
    rows = tuple(difference_row(found, page, context) for found in result.differences if found.ratio.value is not None)
    caption = "Fit factor with the first device as a multiple of that with the second"
    return DifferencesTable(caption, _COLUMNS, rows) if rows else None


def difference_row(difference: Difference, page: str, context: Context) -> DifferenceRow:
    """Return what is said of a stated difference, cell by cell, its ratio leading to its working on `page`."""
    words = _words(difference, context)
    assert difference.conditions is not None
    conditions = conditions_words(difference.conditions, context)
    sure = tuple(sure_lines(difference, words))
    times = tuple(ratio_lines(difference, words, f"{page}#working.{difference.ratio.key}"))
    rests_on = (*people_lines(difference, words), SideLine("", conditions))
    return DifferenceRow(
        difference.ratio.key,
        _pair(difference, context),
        (
            SideCell(_COLUMNS[1], tuple(decision_lines(difference, words)), sure),
            SideCell(_COLUMNS[2], times),
            SideCell(_COLUMNS[3], rests_on),
        ),
    )


def answer_in_short(difference: Difference, context: Context) -> str:
    """Say in a line what is decided of a pair, or why nothing is."""
    return short_answer(difference, _words(difference, context))


def not_stated_table(result: ComparisonResult, context: Context) -> Table | None:
    """Return a row for each pair whose difference is not stated, with the reason, or None where there is none."""
    rows = tuple(
        Row(
            (
                Cell(_pair(found, context)),
                Cell(f"not stated: {found.ratio.not_scored}", id=f"{found.ratio.key}.ratio"),
            ),
            found.ratio.key,
        )
        for found in result.differences
        if found.ratio.value is None
    )
    columns = (Column("Pair"), Column("Difference"))
    return Table("differences-not-stated", "Pairs whose difference is not stated", columns, rows) if rows else None


def _names(difference: Difference, context: Context) -> tuple[str, str]:
    devices = context.catalogue.devices
    return devices[difference.first].name, devices[difference.second].name


def _words(difference: Difference, context: Context) -> SideWords:
    first, second = _names(difference, context)
    return SideWords(f"with {first}", f"with {second}", "The two", "wore both", "of this comparison")


def _pair(difference: Difference, context: Context) -> str:
    first, second = _names(difference, context)
    return f"{first}, against {second}"


def conditions_words(conditions: FitConditions, context: Context) -> str:
    """Say under which conditions two devices are compared."""
    protocol = context.catalogue.protocols[conditions.protocol].title
    sprayed = f"; {sprayed_words(conditions.aerosol)}" if conditions.aerosol is not Aerosol.ROOM_AIR else ""
    return sentence_case(f"{protocol}; {COUNTERS[conditions.counter]}; {_BLOWERS[conditions.blower]}{sprayed}.")


def difference_workings(result: ComparisonResult, context: Context) -> tuple[DifferenceWorking, ...]:
    """Return how each stated difference comes about, down to the sessions of each wearer."""
    views = (difference_working(found, _pair(found, context), context) for found in result.differences)
    return tuple(view for view in views if view is not None)
