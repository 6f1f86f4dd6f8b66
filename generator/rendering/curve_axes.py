"""The two axes of a chart of curves: where values lie, which ticks there are, and what is cut at the edges."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.presenting.curve_views import Axis
from generator.presenting.digits import rounded, unit_text

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom. [px]"""
TIME_STEPS = (60, 120, 300, 600, 1200, 1800, 3600)
"""Steps that a reader of minutes or seconds counts in, past the first twenty. [unit of the axis]"""
_COUNTED_IN_SIXTIES = ("s", "min")


@dataclass(frozen=True)
class Tick:
    """A tick of an axis; one without text is a finer one."""

    value: float
    text: str


def _nice_step(least: float, unit: str) -> tuple[float, int]:
    """Return the smallest step of 1, 2 or 5 times a power of ten not below `least`, and into how many to part it.

    Minutes and seconds go by sixties where they are many.
    """
    if unit in _COUNTED_IN_SIXTIES and 20 < least <= TIME_STEPS[-1]:
        return (30.0, 3) if least <= 30 else (float(next(step for step in TIME_STEPS if step >= least)), 4)
    decade = 10.0 ** math.floor(math.log10(least))
    options = ((lead * decade, parts) for lead, parts in ((1, 5), (2, 4), (5, 5), (10, 5)))
    return next(option for option in options if option[0] >= least * (1 - 1e-9))


def _multiples(step: float, low: float, high: float) -> range:
    return range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1)


def ticks_of(axis: Axis, length: float, room: Callable[[str], float]) -> tuple[Tick, ...]:
    """Return the ticks of an axis of a length [px], as many as their texts leave room for.

    Parameters
    ----------
    axis
        The axis.
    length
        How long it is drawn. [px]
    room
        How much of it a text takes, with its gap. [px]
    """
    span = axis.high - axis.low
    step, parts = _nice_step(span / max(length / 14, 1), axis.unit)
    while True:
        decimals = max(-math.floor(math.log10(step) + 1e-9), 0)
        named = [
            Tick(round(number * step, decimals), rounded(round(number * step, decimals), decimals))
            for number in _multiples(step, axis.low, axis.high)
        ]
        if all(room(tick.text) <= step / span * length for tick in named) or len(named) < 2:
            break
        step, parts = _nice_step(step * 1.01, axis.unit)
    fine = [
        Tick(number * step / parts, "")
        for number in _multiples(step / parts, axis.low, axis.high)
        if number % parts and step / parts / span * length >= 3
    ]
    return (*named, *fine)


def axis_title(axis: Axis) -> str:
    """Return what an axis measures, with its unit as a reader sees it."""
    unit = unit_text(axis.unit)
    return f"{axis.title}, {unit}" if unit else axis.title


def spread_out(axis: Axis) -> Axis:
    """Return an axis of some length, also where its two ends are one."""
    return axis if axis.high > axis.low else replace(axis, low=axis.low - 0.5, high=axis.low + 0.5)


@dataclass(frozen=True)
class Frame:
    """The plot of one panel: its edges on the sheet [px] and the values at them."""

    left: float
    right: float
    top: float
    bottom: float
    horizontal: Axis
    vertical: Axis

    def x(self, value: float) -> float:
        """Return where a value lies from left to right; outside the edges where it lies outside the axis."""
        axis = self.horizontal
        return self.left + (self.right - self.left) * (value - axis.low) / (axis.high - axis.low)

    def y(self, value: float) -> float:
        """Return where a value lies from top to bottom; outside the edges where it lies outside the axis."""
        axis = self.vertical
        return self.bottom - (self.bottom - self.top) * (value - axis.low) / (axis.high - axis.low)

    def at(self, points: Sequence[Point]) -> list[Point]:
        """Return where points lie."""
        return [(self.x(x), self.y(y)) for x, y in points]

    def held(self, point: Point) -> Point:
        """Return the place nearest to a point that is within the edges."""
        return min(max(point[0], self.left), self.right), min(max(point[1], self.top), self.bottom)

    def has_x(self, x: float) -> bool:
        """Whether a place lies between the left and the right edge."""
        return self.left - 0.01 <= x <= self.right + 0.01

    def has_y(self, y: float) -> bool:
        """Whether a place lies between the upper and the lower edge."""
        return self.top - 0.01 <= y <= self.bottom + 0.01


def _between(one: Point, other: Point, share: float) -> Point:
    return one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])


def split_at(points: Sequence[Point], place: int, edges: Sequence[float]) -> list[Point]:
    """Return a polyline with a corner wherever it crosses an edge; `place` is 0 for verticals, 1 for horizontals."""
    corners = list(points[:1])
    for one, other in pairwise(points):
        step = other[place] - one[place]
        shares = sorted((edge - one[place]) / step for edge in edges if step and 0 < (edge - one[place]) / step < 1)
        corners += [_between(one, other, share) for share in shares]
        corners.append(other)
    return corners


def within(points: Sequence[Point], frame: Frame) -> list[list[Point]]:
    """Return the pieces of a polyline that lie within the frame, cut at its edges. [px]"""
    corners = split_at(split_at(points, 0, (frame.left, frame.right)), 1, (frame.top, frame.bottom))
    if len(corners) == 1:
        inside = frame.has_x(corners[0][0]) and frame.has_y(corners[0][1])
        return [[frame.held(corners[0])]] if inside else []
    pieces: list[list[Point]] = []
    unbroken = False
    for one, other in pairwise(corners):
        x, y = _between(one, other, 0.5)
        inside = frame.has_x(x) and frame.has_y(y)
        if inside and not unbroken:
            pieces.append([frame.held(one)])
        if inside:
            pieces[-1].append(frame.held(other))
        unbroken = inside
    return pieces


def without_needless(points: Sequence[Point], apart: float = 0.2) -> list[Point]:
    """Return a polyline without the corners that lie closer than `apart` [px] to the line drawn without them.

    The line from end to end is broken at the corner farthest off it, and so on for each half
    (D. H. Douglas, T. K. Peucker, The Canadian Cartographer 10 (1973) 112-122), so that no peak is lost.
    """
    kept = {0, len(points) - 1}
    spans = [(0, len(points) - 1)]
    while spans:
        first, last = spans.pop()
        offs = ((_off(points[place], points[first], points[last]), place) for place in range(first + 1, last))
        off, farthest = max(offs, default=(0.0, first))
        if off > apart:
            kept.add(farthest)
            spans += [(first, farthest), (farthest, last)]
    return [point for place, point in enumerate(points) if place in kept]


def _off(point: Point, one: Point, other: Point) -> float:
    """Return how far a point lies off the straight piece from one point to another. [px]"""
    right, down = other[0] - one[0], other[1] - one[1]
    length = right * right + down * down
    share = ((point[0] - one[0]) * right + (point[1] - one[1]) * down) / length if length else 0.0
    nearest = _between(one, other, min(max(share, 0.0), 1.0))
    return math.hypot(point[0] - nearest[0], point[1] - nearest[1])


def edges_of(points: Sequence[tuple[float, float, float]], frame: Frame) -> tuple[list[Point], list[Point]]:
    """Return the upper and the lower edge of an area of (x, low, high), held within the frame. [px]"""
    edges = []
    for place in (2, 1):
        corners = [(frame.x(point[0]), frame.y(point[place])) for point in points]
        corners = split_at(split_at(corners, 0, (frame.left, frame.right)), 1, (frame.top, frame.bottom))
        edges.append([frame.held(corner) for corner in corners if frame.has_x(corner[0])])
    return edges[0], edges[1]


def leaves(points: Sequence[Point], frame: Frame, apart: float) -> list[tuple[float, bool]]:
    """Return where a polyline runs off above or below the frame, and whether it is above.

    Where it comes back, it is the middle of what is missing, else the place where it goes, or from which it comes.
    Stretches less than `apart` from the one before are told by it. [px]
    """
    corners = split_at(split_at(points, 0, (frame.left, frame.right)), 1, (frame.top, frame.bottom))
    seen = [point for point in corners if frame.has_x(point[0])]
    stretches: list[tuple[float, float, bool]] = []
    for one, other in pairwise(seen):
        y = (one[1] + other[1]) / 2
        if frame.has_y(y):
            continue
        start, end, above = min(one[0], other[0]), max(one[0], other[0]), y < frame.top
        if stretches and stretches[-1][2] == above and start - stretches[-1][1] < apart:
            stretches[-1] = (stretches[-1][0], max(end, stretches[-1][1]), above)
        else:
            stretches.append((start, end, above))
    return [(_told_at(start, end, seen[0][0], seen[-1][0]), above) for start, end, above in stretches]


def _told_at(start: float, end: float, first: float, last: float) -> float:
    if (start > first) == (end < last):
        return (start + end) / 2
    return start if start > first else end


def height_at(points: Sequence[Point], x: float) -> float | None:
    """Return the height of a polyline whose corners go from left to right, or None beside it. [px]"""
    if not points or not points[0][0] <= x <= points[-1][0]:
        return None
    low, high = 0, len(points) - 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if points[middle][0] <= x else (low, middle)
    (left, one), (right, other) = points[low], points[high]
    return one if right == left else one + (other - one) * (x - left) / (right - left)


def crosses(one: Point, other: Point, box: Box) -> bool:
    """Whether a straight line from one point to another touches a box."""
    enters, leaves_at = 0.0, 1.0
    for place in (0, 1):
        step, low, high = other[place] - one[place], box[place] - one[place], box[place + 2] - one[place]
        if step == 0:
            if low > 0 or high < 0:
                return False
            continue
        first, last = sorted((low / step, high / step))
        enters, leaves_at = max(enters, first), min(leaves_at, last)
    return enters <= leaves_at
