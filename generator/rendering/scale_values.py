"""Finds places for the values of a line of marks: above the marks they belong to, on their side of every level."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from generator.presenting.views import ScaleMark
from generator.rendering.drawing import text_width

ABOVE = 7
"""How far above its line a value stands. [px]"""
_APART = 7
"""Between two values that stand by themselves. [px]"""
_BESIDE = 4
"""Between a value and the vertical of a level. [px]"""


@dataclass(frozen=True)
class Room:
    """The room above a line of marks: its ends, the levels and where their verticals lie, from left to right. [px]"""

    left: float
    right: float
    levels: tuple[float, ...]
    verticals: tuple[float, ...]

    def side(self, value: float) -> int:
        """Return how many levels a value reaches."""
        return bisect_right(self.levels, value)

    def ends(self, side: int) -> tuple[float, float]:
        """Return between where a value on that side may stand. [px]"""
        left = self.verticals[side - 1] + _BESIDE if side else self.left
        right = self.verticals[side] - _BESIDE if side < len(self.verticals) else self.right
        return max(left, self.left), min(right, self.right)


@dataclass(frozen=True)
class DrawnMark:
    """A mark with a text, and from where to where it is drawn, without its interval. [px]"""

    mark: ScaleMark
    left: float
    right: float


@dataclass(frozen=True)
class PlacedValue:
    """A text above a line of marks, and where it begins. [px]"""

    text: str
    x: float

    @property
    def right(self) -> float:
        """Where it ends."""
        return self.x + text_width(self.text)


def placed_values(drawn: Sequence[DrawnMark], room: Room) -> list[PlacedValue] | None:
    """Return the values of a line where they stand, or None where there is no room for them above it.

    Each stands above its own mark. Those of marks so close that they would meet stand together above them, and no
    value stands beyond the vertical of a level that its mark lies before, where it would be misread.
    """
    placed: list[PlacedValue] = []
    ordered = sorted((each for each in drawn if each.mark.text), key=lambda each: each.left)
    sides = [room.side(each.mark.value) for each in ordered]
    for side in sorted(set(sides)):
        groups: list[list[DrawnMark]] = [[each] for each, own in zip(ordered, sides, strict=True) if own == side]
        found = _apart(groups, room.ends(side))
        if found is None:
            return None
        placed += found
    return placed


def all_values(drawn: Sequence[DrawnMark]) -> str:
    """Return the values of a line one after another, for where there is no room above it."""
    ordered = sorted((each for each in drawn if each.mark.text), key=lambda each: each.left)
    return ", ".join(dict.fromkeys(each.mark.text for each in ordered))


def _apart(groups: list[list[DrawnMark]], ends: tuple[float, float]) -> list[PlacedValue] | None:
    """Place groups of marks on one side of all levels, those together that would meet."""
    while True:
        placed = [_above(group, ends) for group in groups]
        if any(value is None for value in placed):
            return None
        found = [value for value in placed if value is not None]
        meets = next((n for n in range(1, len(found)) if found[n].x < found[n - 1].right + _APART), None)
        if meets is None:
            return found
        groups = [*groups[: meets - 1], groups[meets - 1] + groups[meets], *groups[meets + 1 :]]


def _above(group: Sequence[DrawnMark], ends: tuple[float, float]) -> PlacedValue | None:
    """Place the values of marks above their middle, as near to it as the ends allow."""
    texts = list(dict.fromkeys(each.mark.text for each in group))
    forms = [", ".join(texts)]
    if len(texts) > 2 and not any(each.mark.at_least for each in group):
        forms.append(f"{texts[0]} to {texts[-1]}")
    left, right = ends
    text = next((form for form in forms if text_width(form) <= right - left), None)
    if text is None:
        return None
    middle = (min(each.left for each in group) + max(each.right for each in group)) / 2
    return PlacedValue(text, max(min(middle - text_width(text) / 2, right - text_width(text)), left))
