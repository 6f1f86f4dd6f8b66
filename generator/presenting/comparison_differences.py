"""The differences of a comparison in words, each with its working."""

from __future__ import annotations

from generator.model.comparison_result import ComparisonResult, Difference, FitConditions
from generator.presenting.comparison_views import DifferenceWorking
from generator.presenting.context import Context
from generator.presenting.digits import figure_text, interval_text, ratio_words, value_text
from generator.presenting.figures import derivation
from generator.presenting.topics.fit import COUNTERS
from generator.presenting.views import Cell, Column, Row, Table
from generator.presenting.wording import listed, sentence_case

_BLOWERS = {"none": "no blower in either", "off": "blower off", "running": "blower running"}
_LIMIT = 1.0
"""A ratio is never rounded onto the other side of 1."""


def differences_table(result: ComparisonResult, context: Context) -> Table | None:
    """Return a row for each pair, or None where no pair is compared."""
    if not result.differences:
        return None
    return Table(
        "differences",
        "Fit factor with the first device as a multiple of that with the second, on the same wearers",
        (Column("Pair"), Column("How many times"), Column("What it rests on")),
        tuple(_row(difference, f"comparisons/{result.id}.html", context) for difference in result.differences),
    )


def _names(difference: Difference, context: Context) -> tuple[str, str]:
    devices = context.catalogue.devices
    return devices[difference.first].name, devices[difference.second].name


def _row(difference: Difference, page: str, context: Context) -> Row:
    first, second = _names(difference, context)
    figure = difference.ratio
    if figure.value is None:
        times = Cell("not stated", id=f"{figure.key}.ratio")
        basis = Cell(sentence_case(f"{figure.not_scored}."))
    else:
        times = Cell(
            f"{value_text(figure, _LIMIT)} times",
            href=f"{page}#working.{figure.key}",
            note=f"95 % interval {interval_text(figure)}",
            id=f"{figure.key}.ratio",
        )
        share = ""
        if figure.value < 1:
            share = f"With the first it was {ratio_words(figure.value)} that with the second. "
        basis = Cell(
            f"{share}On wearers {listed(difference.wearers)}. {_told_apart(difference)}",
            note=_conditions(difference.conditions, context),
        )
    return Row((Cell(f"{first}, against {second}"), times, basis), figure.key)


def _told_apart(difference: Difference) -> str:
    interval = difference.ratio.interval
    assert interval is not None
    assert interval.low is not None
    assert interval.high is not None
    if interval.low <= 1 <= interval.high:
        return "The interval includes 1: these wearers do not tell the two apart."
    return "The whole interval lies on one side of 1."


def _conditions(conditions: FitConditions | None, context: Context) -> str | None:
    if conditions is None:
        return None
    protocol = context.catalogue.protocols[conditions.protocol].title
    return sentence_case(f"{protocol}; {COUNTERS[conditions.counter]}; {_BLOWERS[conditions.blower]}.")


def difference_workings(result: ComparisonResult, context: Context) -> tuple[DifferenceWorking, ...]:
    """Return how each stated difference comes about, down to the sessions of each wearer."""
    views = []
    for difference in result.differences:
        working = difference.ratio.working
        if working is None:
            continue
        text = figure_text(difference.ratio, _LIMIT)
        first, second = _names(difference, context)
        views.append(
            DifferenceWorking(
                key=difference.ratio.key,
                name=f"{first}, against {second}",
                result=text,
                value=derivation(working, text, "", context),
            )
        )
    return tuple(views)
