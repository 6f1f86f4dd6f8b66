"""Draws measured points with their intervals, and arrow heads at an edge for what lies past it."""

from __future__ import annotations

import math

from generator.presenting.curve_views import Mark
from generator.rendering.curve_axes import Frame, Point
from generator.rendering.curve_labels import HALF, HEAD, REACH
from generator.rendering.drawing import ACCENT, Pen

OPEN = 22
"""How far the bar of an interval reaches that has no end on that side. [px]"""


def draw_pointer(pen: Pen, at: Point, way: Point, colour: str, name: str = "") -> None:
    """Draw an arrow head with its tip at a point, in the direction of a vector of length 1."""
    (x, y), (right, down) = at, way
    across, along = HALF * abs(down), HALF * abs(right)
    x_base, y_base = x - HEAD * right, y - HEAD * down
    pen.shape([(x_base - across, y_base - along), at, (x_base + across, y_base + along)], colour, name)


def draw_diamond(pen: Pen, at: Point, hollow: bool, name: str) -> None:
    """Draw a diamond about a point, filled or hollow."""
    x, y = at
    corners = [(x - REACH, y), (x, y - REACH), (x + REACH, y), (x, y + REACH)]
    if hollow:
        pen.lines([[*corners, corners[0], corners[1]]], ACCENT, 1.3, name)
    else:
        pen.shape(corners, ACCENT, name)


def _apart(one: Point, other: Point) -> float:
    return max(abs(one[0] - other[0]), abs(one[1] - other[1]))


def _draw_bar(pen: Pen, start: Point, end: Point | None, way: Point, frame: Frame, name: str) -> None:
    """Draw one side of an interval: to its end, or open with an arrow head where it has none or runs past the axis."""
    free = end if end is not None else (start[0] + OPEN * way[0], start[1] + OPEN * way[1])
    reached = frame.held(free)
    pen.line((start[0], reached[0]), (start[1], reached[1]), ACCENT, 2, name)
    if end is None or _apart(free, reached) > 0.01:
        draw_pointer(pen, reached, way, ACCENT)


def draw_mark(pen: Pen, mark: Mark, frame: Frame, name: str) -> None:
    """Draw a diamond with the bars of its intervals; past the axis an arrow head at the edge instead."""
    free = frame.x(mark.x), frame.y(mark.y)
    x, y = frame.held(free)
    if mark.x_low is not None or mark.x_high is not None:
        for side, value, right in (("low", mark.x_low, -1), ("high", mark.x_high, 1)):
            end = None if value is None else (frame.x(value), y)
            _draw_bar(pen, (x, y), end, (right, 0), frame, f"{name}-x-{side}")
    if mark.y_low is not None or mark.y_high is not None:
        for side, value, down in (("low", mark.y_low, 1), ("high", mark.y_high, -1)):
            end = None if value is None else (x, frame.y(value))
            _draw_bar(pen, (x, y), end, (0, down), frame, f"{name}-y-{side}")
    if _apart(free, (x, y)) <= 0.01:
        draw_diamond(pen, (x, y), mark.hollow, name)
    elif abs(free[0] - x) > 0.01:
        draw_pointer(pen, (x, y), (math.copysign(1, free[0] - x), 0), ACCENT, name)
    else:
        draw_pointer(pen, (x, y), (0, math.copysign(1, free[1] - y)), ACCENT, name)
