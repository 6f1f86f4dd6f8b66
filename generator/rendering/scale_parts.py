"""Parts a scale that is too tall for a sheet of paper into several, each with its own rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from generator.presenting.views import ScaleChart
from generator.presenting.wearer_views import WearerChart
from generator.rendering.scale_drawing import HEADING, heights_of_scale
from generator.rendering.wearer_drawing import heights_of_wearers

MOST_ON_PAPER = 900.0
"""So tall may a scale be on a sheet of paper: on A4 it then has its own size, on US Letter nine tenths of it. [px]"""
_STEP = 20.0
"""Parts are made shorter by so much, as long as their number stays the same, so that they are of like height. [px]"""
_GOES_ON = "It goes on from the part before; the description of the first part tells of all."


def parts_of(chart: ScaleChart | WearerChart, most: float = MOST_ON_PAPER) -> Sequence[ScaleChart | WearerChart]:
    """Return a scale as it is, or in parts that are no taller than `most` [px], cut where a group begins if it can."""
    if isinstance(chart, WearerChart):
        frame, rows = heights_of_wearers(chart)
        headings = [""] * len(rows)
    else:
        frame, rows = heights_of_scale(chart)
        headings = [row.heading for row in chart.rows]
    if frame + sum(rows) <= most:
        return (chart,)
    starts = [*_even_starts(rows, headings, most - frame), len(rows)]
    parts = [_part(chart, start, end) for start, end in pairwise(starts)]
    return [
        replace(
            part,
            id=part.id if number == 1 else f"{part.id}-part-{number}",
            title=f"{part.title}. Part {number} of {len(parts)}",
            description=part.description if number == 1 else _GOES_ON,
        )
        for number, part in enumerate(parts, start=1)
    ]


def _even_starts(rows: Sequence[float], headings: Sequence[str], most: float) -> list[int]:
    """Return at which rows parts begin: as few as can be, where a group begins if they stay as few, of like height."""
    fewest = len(_starts(rows, headings, most, whole=False))
    for whole in (True, False):
        best, limit = _starts(rows, headings, most, whole), most - _STEP
        if len(best) == fewest:
            break
    while limit > 0 and len(lower := _starts(rows, headings, limit, whole)) == fewest:
        best, limit = lower, limit - _STEP
    return best


def _starts(rows: Sequence[float], headings: Sequence[str], most: float, whole: bool) -> list[int]:
    """Return at which rows parts begin that are no taller than `most` [px]: with `whole`, only where a group begins."""
    starts, height = [0], 0.0
    for row, own in enumerate(rows):
        if height + own > most and row > starts[-1]:
            begins = [n for n in range(starts[-1] + 1, row + 1) if headings[n]] if whole else []
            starts.append(begins[-1] if begins else row)
            height = sum(rows[starts[-1] : row])
            if any(headings) and not headings[starts[-1]]:
                height += HEADING
        height += own
    return starts


def _part(chart: ScaleChart | WearerChart, start: int, end: int) -> ScaleChart | WearerChart:
    if isinstance(chart, WearerChart):
        last = end == len(chart.rows)
        return replace(
            chart,
            rows=chart.rows[start:end],
            mean=chart.mean if last else None,
            bound=chart.bound if last else None,
        )
    first, *others = chart.rows[start:end]
    opened = next((row.heading for row in reversed(chart.rows[:start]) if row.heading), "")
    if opened and not first.heading:
        first = replace(first, heading=f"{opened}, continued")
    return replace(chart, rows=(first, *others))
