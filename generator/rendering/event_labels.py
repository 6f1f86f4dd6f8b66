"""Finds places for the names of events above a panel of curves, each beside the vertical that rises to it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from generator.presenting.curve_views import Event
from generator.rendering.curve_axes import Frame
from generator.rendering.drawing import LINE, in_lines, text_width

WIDEST = 210.0
"""So wide a name may be, of the sheet's width at most so much; a longer one takes several lines. [px]"""
_SHARE = 0.62
_MOST_LINES = 5
_BESIDE = 5
"""From a vertical to the name beside it. [px]"""
_APART = 8
"""Between two names on one line. [px]"""
_OVER = 9
"""From the lowest row of names to the panel, with room for the number of its highest tick. [px]"""


@dataclass(frozen=True)
class EventLabel:
    """An event's name above a panel, in lines: where they begin and end, and how high the lowest of them stands.

    `row` counts lines of text from the panel's edge up. A name on the left of its vertical has its lines end there.
    """

    event: Event
    lines: tuple[str, ...]
    left: float
    right: float
    row: int
    is_left: bool = False

    @property
    def top(self) -> int:
        """The row of its first line."""
        return self.row + len(self.lines) - 1


@dataclass(frozen=True)
class _Sheet:
    """Where the panel lies, how wide the sheet is, and what of the lowest row the title of the axis takes. [px]"""

    frame: Frame
    width: float
    title: float

    def at(self, event: Event) -> float:
        return self.frame.held((self.frame.x(event.value), 0))[0]


_Span = Callable[[float, float, float], tuple[float, float]]
"""From where to where a name lies, by the place of its vertical, its width and the width of the sheet. [px]"""


def placed_events(events: Sequence[Event], frame: Frame, width: float, title: float) -> list[EventLabel]:
    """Give each event's name a place above the panel where it meets no other; the axis title takes `title` of a row.

    All stand right of their verticals, or all left of them, the innermost lowest: so no vertical runs through a name.
    Where neither is possible, a name is moved along, and the verticals behind it are broken there.
    """
    sheet = _Sheet(frame, width, title)
    right = _stacked(events, sheet, lambda at, wide, _: (at + _BESIDE, at + _BESIDE + wide), is_left=False)
    if right is not None:
        return right
    left = _stacked(events, sheet, lambda at, wide, _: (at - _BESIDE - wide, at - _BESIDE), is_left=True)
    return left if left is not None else _moved_along(events, sheet)


def _lines(event: Event, sheet: _Sheet) -> tuple[str, ...]:
    return tuple(in_lines(event.text, min(WIDEST, sheet.width * _SHARE), _MOST_LINES)) if event.text else ()


def _stacked(events: Sequence[Event], sheet: _Sheet, span: _Span, *, is_left: bool) -> list[EventLabel] | None:
    """Place all names on one side of their verticals, or return None where one would leave the sheet or be crossed."""
    placed: list[EventLabel] = []
    for event in sorted(events, key=lambda event: (event.value if is_left else -event.value, event.key)):
        lines, at = _lines(event, sheet), sheet.at(event)
        left, right = span(at, max(map(text_width, lines), default=0.0), sheet.width)
        if lines and (left < 0 or right > sheet.width - 2 or at < sheet.title + 2):
            return None
        row = 0
        while lines and not _is_free(placed, left, right, row, row + len(lines) - 1, sheet):
            row += 1
        placed.append(EventLabel(event, lines, left, right, row, is_left))
    return placed


def _is_free(placed: Sequence[EventLabel], left: float, right: float, low: int, high: int, sheet: _Sheet) -> bool:
    """Whether rows are free from one place to another of names, and of verticals that rise to names above."""
    return _is_apart(placed, left, right, low, high, sheet) and not any(
        other.top >= low and left - 2 < sheet.at(other.event) < right + 2 for other in placed if other.lines
    )


def _moved_along(events: Sequence[Event], sheet: _Sheet) -> list[EventLabel]:
    """Place names from right to left, each as far right as the sheet allows, the last one lowest."""
    placed: list[EventLabel] = []
    for event in sorted(events, key=lambda event: (-event.value, event.key)):
        lines, at = _lines(event, sheet), sheet.at(event)
        wide = max(map(text_width, lines), default=0.0)
        left = max(min(at + _BESIDE, sheet.width - _BESIDE - wide), 0)
        row = 0
        while lines and not _is_apart(placed, left, left + wide, row, row + len(lines) - 1, sheet):
            row += 1
        placed.append(EventLabel(event, lines, left, left + wide, row))
    return placed


def _is_apart(placed: Sequence[EventLabel], left: float, right: float, low: int, high: int, sheet: _Sheet) -> bool:
    """Whether rows are free of names from one place to another."""
    if low == 0 and left < sheet.title + _APART:
        return False
    return not any(
        other.row <= high and low <= other.top and left < other.right + _APART and other.left - _APART < right
        for other in placed
        if other.lines
    )


def events_height(labels: Sequence[EventLabel], title: float) -> float:
    """Return how much room the names above a panel take. [px]"""
    rows = max([label.top + 1 for label in labels if label.lines] + ([1] if title else []), default=0)
    return rows * LINE + (_OVER if rows else 0)


def baseline(frame: Frame, row: int) -> float:
    """Return where the texts of a row above a plot stand. [px]"""
    return frame.top - 2 - _OVER - LINE * row
