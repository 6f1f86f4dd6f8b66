"""The engraved rules of all scales: their ends, ticks and caption, and where a value lies on them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from generator.presenting.views import SCALE_ENDS
from generator.rendering.drawing import LINE, TEXT_SIZE, Pen
from generator.rendering.svg_cleaning import INK

BELOW = 11 + TEXT_SIZE + LINE + 5
"""Height of ticks, numbers and caption of a rule. [px]"""


@dataclass(frozen=True)
class Rule:
    """A scale: its ends, its ticks (value, length in px, label) and whether it is logarithmic."""

    low: float
    high: float
    logarithmic: bool
    ticks: tuple[tuple[float, int, str], ...]
    caption: str

    def share(self, value: float) -> float:
        """Return how far along the rule a value lies, 0 to 1, held within the ends."""
        held = min(max(value, self.low), self.high)
        if self.logarithmic:
            return math.log(held / self.low) / math.log(self.high / self.low)
        return (held - self.low) / (self.high - self.low)


def _decade_ticks() -> tuple[tuple[float, int, str], ...]:
    labels = {1: "1", 10: "10", 100: "100", 1000: "1000", 10_000: "10\u202f000", 100_000: "100\u202f000"}
    ticks: list[tuple[float, int, str]] = []
    for decade in range(5):
        for step in range(1, 10):
            value = step * 10**decade
            ticks.append((value, 11 if step == 1 else 8 if step == 5 else 5, labels.get(value, "")))
    return (*ticks, (100_000, 11, labels[100_000]))


def _flow_ticks() -> tuple[tuple[float, int, str], ...]:
    return tuple(
        (value, 11 if value % 100 == 0 else 8 if value % 50 == 0 else 5, str(value) if value % 100 == 0 else "")
        for value in range(0, 401, 10)
    )


RULES = {
    "fit": Rule(*SCALE_ENDS["fit"], True, _decade_ticks(), "fit factor: times fewer particles inside than outside"),
    "flow": Rule(*SCALE_ENDS["flow"], False, _flow_ticks(), "air delivered, L/min"),
}


@dataclass(frozen=True)
class Layout:
    """The measures of one drawing. [px]"""

    width: int
    left: int
    right: int
    label_above: bool
    row_height: int


def place_on(value: float, rule: Rule, layout: Layout) -> float:
    """Return where a value lies on the sheet, from left to right. [px]"""
    return layout.left + (layout.right - layout.left) * rule.share(value)


def draw_rule(pen: Pen, rule: Rule, layout: Layout, y: float) -> None:
    """Draw the rule with its ticks, their numbers and its caption."""
    pen.line((layout.left, layout.right), (y, y), INK, 1)
    for long in (5, 8):
        places = [place_on(value, rule, layout) for value, length, _ in rule.ticks if length == long]
        pen.lines([((x, y), (x, y + long)) for x in places], INK, 0.8 if long > 5 else 0.5)
    for value, length, label in rule.ticks:
        if length <= 8:
            continue
        x = place_on(value, rule, layout)
        pen.line((x, x), (y, y + length), INK, 0.8, f"tick-{value:g}")
        if label:
            pen.text(x, y + length + TEXT_SIZE, label, "middle")
    pen.text(layout.left, y + 11 + TEXT_SIZE + LINE, rule.caption)
