"""The differences of a comparison in words, each with its working."""

from __future__ import annotations

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
    difference_working,
    following_lines,
    people_lines,
    ratio_line,
)
from generator.presenting.topics.fit import COUNTERS
from generator.presenting.wording import sentence_case

_BLOWERS = {"none": "no blower in either", "off": "blower off", "running": "blower running"}
_COLUMNS = ("Pair", "How many times", "What follows", "What it rests on")


def differences_table(result: ComparisonResult, context: Context) -> DifferencesTable | None:
    """Return a row for each pair, or None where no pair is compared."""
    if not result.differences:
        return None
    page = f"comparisons/{result.id}.html"
    return DifferencesTable(
        "Fit factor with the first device as a multiple of that with the second",
        _COLUMNS,
        tuple(_row(difference, page, context) for difference in result.differences),
    )


def _names(difference: Difference, context: Context) -> tuple[str, str]:
    devices = context.catalogue.devices
    return devices[difference.first].name, devices[difference.second].name


def _pair(difference: Difference, context: Context) -> str:
    first, second = _names(difference, context)
    return f"{first}, against {second}"


def _row(difference: Difference, page: str, context: Context) -> DifferenceRow:
    first, second = _names(difference, context)
    words = SideWords(f"with {first}", f"with {second}", "The two", "wore both", "of this comparison")
    conditions = _conditions(difference.conditions, context)
    cells = (
        tuple(ratio_line(difference, words, f"{page}#working.{difference.ratio.key}")),
        tuple(following_lines(difference, words)),
        (*people_lines(difference, words), SideLine("", conditions)),
    )
    return DifferenceRow(
        difference.ratio.key,
        _pair(difference, context),
        tuple(SideCell(heading, lines) for heading, lines in zip(_COLUMNS[1:], cells, strict=True)),
    )


def _conditions(conditions: FitConditions | None, context: Context) -> str:
    if conditions is None:
        return "No sessions that are alike."
    protocol = context.catalogue.protocols[conditions.protocol].title
    return sentence_case(f"{protocol}; {COUNTERS[conditions.counter]}; {_BLOWERS[conditions.blower]}.")


def difference_workings(result: ComparisonResult, context: Context) -> tuple[DifferenceWorking, ...]:
    """Return how each stated difference comes about, down to the sessions of each wearer."""
    views = (difference_working(found, _pair(found, context), context) for found in result.differences)
    return tuple(view for view in views if view is not None)
