"""A log as a plot for a terminal: concentrations on a logarithmic axis over time, and the cut beneath.

Kinds of air differ by colour, and without one by the signs beneath the axis; nothing rests on colour alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from generator.contributing.taking_in.cut import Cut, Stretch
from generator.contributing.taking_in.readings import Floats, Readings
from generator.model.log import Sampling

WIDTH = 80
HEIGHT = 14
_MARGIN = 8
COLUMNS = WIDTH - _MARGIN - 1
OUTSIDE = "outside"
"""Kind of what a second channel read."""
_EXERCISE_SIGNS = "123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_AIR_SIGNS = {Sampling.AMBIENT: "a", Sampling.SIDE_BY_SIDE: "=", Sampling.IN_MASK: "i"}
_TICKS = 6


@dataclass(frozen=True)
class Glyphs:
    """What a plot is drawn with: nothing, the lower half, the upper half and both of a cell; axis and corner."""

    halves: str
    axis: str
    corner: str
    rule: str


BLOCKS = Glyphs(" ▄▀█", "│", "└", "─")
PLAIN = Glyphs(" .':", "|", "+", "-")


@dataclass(frozen=True)
class Segment:
    """A run of characters of one kind: a kind of air, or nothing."""

    text: str
    kind: str = ""


Line = tuple[Segment, ...]


def signs(stretches: Sequence[Stretch]) -> tuple[str, ...]:
    """Return the sign of each stretch: exercises by their order, kinds of air by theirs."""
    order: dict[str, str] = {}
    for stretch in stretches:
        if stretch.mark.sampling is Sampling.IN_MASK and stretch.mark.exercise is not None:
            order.setdefault(stretch.mark.exercise, _EXERCISE_SIGNS[len(order) % len(_EXERCISE_SIGNS)])
    return tuple(
        order[stretch.mark.exercise]
        if stretch.mark.sampling is Sampling.IN_MASK and stretch.mark.exercise is not None
        else _AIR_SIGNS[stretch.mark.sampling]
        for stretch in stretches
    )


def plot(readings: Readings, cut: Cut, glyphs: Glyphs) -> tuple[Line, ...]:
    """Draw what is kept of a log."""
    times = readings.time_s[cut.first : cut.end]
    begin, length = float(times[0]), float(times[-1] - times[0]) or 1.0
    columns = np.minimum(((times - begin) / length * COLUMNS).astype(int), COLUMNS - 1)
    kinds = np.full(len(times), "", dtype=object)
    beneath = [" "] * COLUMNS
    kinds_beneath = [""] * COLUMNS
    for sign, stretch in zip(signs(cut.stretches), cut.stretches, strict=True):
        inside = slice(stretch.first - cut.first, stretch.end - cut.first)
        kinds[inside] = stretch.mark.sampling.value
        for column in range(int(columns[inside][0]), int(columns[inside][-1]) + 1):
            beneath[column], kinds_beneath[column] = sign, stretch.mark.sampling.value
    drawn = [(readings.concentration[cut.first : cut.end], kinds)]
    if readings.outside is not None:
        drawn.insert(0, (readings.outside[cut.first : cut.end], np.full(len(times), OUTSIDE, dtype=object)))
    canvas = _Canvas(_decades([values for values, _ in drawn]))
    for values, kinds_of_values in drawn:
        canvas.draw(values, columns, kinds_of_values)
    unit = f"particles {readings.unit}"
    return (
        (Segment(unit.rjust(_MARGIN) if len(unit) < _MARGIN else unit),),
        *canvas.lines(glyphs),
        (Segment(" " * (_MARGIN - 1) + glyphs.corner + glyphs.rule * COLUMNS),),
        (Segment(" " * _MARGIN), *_segments(beneath, kinds_beneath)),
        (Segment(" " * _MARGIN + _time_axis(begin, length)),),
    )


def _decades(values: Sequence[Floats]) -> tuple[int, int]:
    """Return the powers of ten that the axis goes between."""
    together = np.concatenate(values)
    positive = together[together > 0]
    if not len(positive):
        return 0, 1
    low = math.floor(math.log10(float(positive.min())))
    return low, max(low + 1, math.ceil(math.log10(float(positive.max()))))


class _Canvas:
    """Half cells from the lowest power of ten upwards, each with the kind of air that was drawn there."""

    def __init__(self, decades: tuple[int, int]) -> None:
        self._low, self._high = decades
        self._zeros = [""] * COLUMNS
        self._kinds = [[""] * COLUMNS for _ in range(2 * HEIGHT)]

    def draw(self, values: Floats, columns: NDArray[np.int64], kinds: NDArray[np.object_]) -> None:
        """Draw the span of the readings of each kind in each column."""
        spans: dict[tuple[int, str], tuple[int, int]] = {}
        scale = (2 * HEIGHT - 1) / (self._high - self._low)
        with np.errstate(divide="ignore"):
            heights = np.rint((np.log10(values) - self._low) * scale)
        for column, kind, value, height in zip(columns.tolist(), kinds, values.tolist(), heights.tolist(), strict=True):
            if value <= 0:
                self._zeros[column] = kind or " "
                continue
            low, high = spans.get((column, kind), (10**6, -1))
            spans[column, kind] = min(low, int(height)), max(high, int(height))
        # What belongs to no stretch first, so that it hides nothing.
        for (column, kind), (low, high) in sorted(spans.items(), key=lambda item: item[0][1]):
            for row in range(low, high + 1):
                self._kinds[row][column] = kind or " "

    def lines(self, glyphs: Glyphs) -> Iterator[Line]:
        """Go through the lines from above, and a line for readings of zero where there are any."""
        labels = {
            round((power - self._low) * (2 * HEIGHT - 1) / (self._high - self._low)) // 2: _power(power)
            for power in range(self._low, self._high + 1)
        }
        for row in range(HEIGHT - 1, -1, -1):
            lower, upper = self._kinds[2 * row], self._kinds[2 * row + 1]
            cells = [glyphs.halves[bool(low) + 2 * bool(high)] for low, high in zip(lower, upper, strict=True)]
            kinds = [(high or low).strip() for low, high in zip(lower, upper, strict=True)]
            yield Segment(f"{labels.get(row, ''):>{_MARGIN - 1}}{glyphs.axis}"), *_segments(cells, kinds)
        if any(self._zeros):
            cells = [glyphs.halves[2 if zero else 0] for zero in self._zeros]
            yield (
                Segment(f"{'0':>{_MARGIN - 1}}{glyphs.axis}"),
                *_segments(cells, [kind.strip() for kind in self._zeros]),
            )


def _segments(cells: Sequence[str], kinds: Sequence[str]) -> Iterator[Segment]:
    for kind, group in groupby(zip(cells, kinds, strict=True), key=lambda pair: pair[1]):
        yield Segment("".join(cell for cell, _ in group), kind)


def _power(power: int) -> str:
    return f"{10**power}" if 0 <= power <= 5 else f"{10.0**power:.{-power}f}" if -4 <= power < 0 else f"1e{power}"


def minutes_text(seconds: float) -> str:
    """Write seconds as `5:10`, or as `1:05:10`."""
    whole = round(seconds)
    hours, rest = divmod(whole, 3600)
    minutes, seconds_left = divmod(rest, 60)
    return f"{hours}:{minutes:02}:{seconds_left:02}" if hours else f"{minutes}:{seconds_left:02}"


def _time_axis(begin: float, length: float) -> str:
    """Write the times below the axis, each beginning where it lies."""
    line = ""
    for tick in range(_TICKS):
        at = round(tick * COLUMNS / _TICKS)
        line = f"{line:<{at}}{minutes_text(begin + length * at / COLUMNS)}"
    return line
