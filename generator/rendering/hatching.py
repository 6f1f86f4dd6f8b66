"""Hatching: parallel strokes over an area, so that it is told from a plain one without its colour."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from generator.rendering.curve_axes import Box, Point, height_at

APART = (7, 14, 28)
"""From one stroke to the next, measured along a level: the widest where an area is in many pieces. [px]"""
ENOUGH = 80
"""So many strokes tell an area; more only make the drawing large."""
SHORTEST = 1.5
"""Shorter strokes would be specks. [px]"""


def hatched(upper: Sequence[Point], lower: Sequence[Point], texts: Sequence[Box]) -> list[tuple[Point, Point]]:
    """Return strokes that rise to the right, between two edges that go from left to right, and around texts.

    Parameters
    ----------
    upper, lower
        The edges of the area. [px]
    texts
        What stays free of strokes. [px]
    """
    start, end = math.floor(upper[0][0]), math.ceil(upper[-1][0])
    columns = [(height_at(upper, x), height_at(lower, x)) for x in range(start, end + 1)]
    heights = [height for column in columns for height in column if height is not None]
    top, bottom = min(heights), max(heights)
    strokes: list[tuple[Point, Point]] = []
    for apart in APART:
        # On one stroke lie all points where x + y is a multiple of the distance.
        totals = range(math.ceil((start + top) / apart) * apart, math.floor(end + bottom) + 1, apart)
        strokes = []
        for total in totals:
            places = range(max(start, math.floor(total - bottom)), min(end, math.ceil(total - top)) + 1)
            strokes += _strokes(total, places, columns, start, texts)
        if len(strokes) <= ENOUGH:
            break
    return strokes


def _strokes(
    total: int,
    places: range,
    columns: Sequence[tuple[float | None, float | None]],
    start: int,
    texts: Sequence[Box],
) -> Iterator[tuple[Point, Point]]:
    """Yield the pieces of one stroke: x + y is `total` on it. [px]"""
    run: list[float] = []
    before: tuple[float, float] | None = None
    for x in places:
        depth = _depth(x, total - x, columns[x - start], texts)
        inside = depth >= 0
        if inside and not run:
            run.append(_edge(before, (x, depth)))
        elif not inside and run:
            run.append(_edge(before, (x, depth)))
            yield from _piece(run, total)
            run = []
        before = (x, depth)
    if run and before is not None:
        yield from _piece([*run, before[0]], total)


def _depth(x: float, y: float, column: tuple[float | None, float | None], texts: Sequence[Box]) -> float:
    """Return how far a point lies within the area; negative where it lies outside it or on a text. [px]"""
    upper, lower = column
    if upper is None or lower is None:
        return -1
    beside = min(
        (max(left - 2 - x, x - right - 2, top - y, y - bottom) for left, top, right, bottom in texts), default=9
    )
    return min(y - upper, lower - y, beside)


def _edge(before: tuple[float, float] | None, after: tuple[float, float]) -> float:
    """Return where the depth is nothing, between two places one pixel apart."""
    if before is None or before[1] == after[1]:
        return after[0]
    return before[0] + min(max(before[1] / (before[1] - after[1]), 0), 1)


def _piece(run: Sequence[float], total: int) -> Iterator[tuple[Point, Point]]:
    if run[-1] - run[0] >= SHORTEST:
        one, other = round(run[0], 1), round(run[-1], 1)
        yield (one, round(total - one, 1)), (other, round(total - other, 1))
