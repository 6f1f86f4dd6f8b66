"""The colours of charts on both grounds: texts and marks stand out enough, by the formula of WCAG 2.2."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.rendering.curve_drawing import BAND, HATCHED
from generator.rendering.drawing import ACCENT, FAINT, LIMIT
from generator.rendering.svg_cleaning import INK

STYLES = Path(__file__).resolve().parents[2] / "site_templates" / "styles"
LIGHT, DARK = (
    dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", part))
    for part in (STYLES / "base.css").read_text(encoding="utf-8").split("prefers-color-scheme: dark", 1)
)
WHITE = "#ffffff"


def channels(colour: str) -> tuple[float, ...]:
    return tuple(int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))


def luminance(rgb: tuple[float, ...]) -> float:
    # source: WCAG 2.2, definition of relative luminance
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in rgb)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    # source: WCAG 2.2, definition of contrast ratio
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def over(colour: str, ground: str, opacity: float) -> tuple[float, ...]:
    """Return what a tint makes of its ground. source: CSS Compositing 1, simple alpha compositing"""
    pairs = zip(channels(colour), channels(ground), strict=True)
    return tuple(opacity * above + (1 - opacity) * below for above, below in pairs)


def test_the_formula() -> None:
    # source: WCAG 2.2: black on white is 21:1, a colour on itself 1:1; #767676 on white 4.54:1, widely published
    assert contrast(channels("#000000"), channels(WHITE)) == pytest.approx(21)
    assert contrast(channels("#767676"), channels(WHITE)) == pytest.approx(4.54, abs=0.005)
    assert contrast(channels(INK), channels(INK)) == 1


def test_drawings_are_made_in_the_colours_of_the_light_ground() -> None:
    assert (LIGHT["ink"], LIGHT["accent"], LIGHT["limit"], LIGHT["rule"]) == (INK, ACCENT, LIMIT, FAINT)


GROUNDS = pytest.mark.parametrize(
    "colours", [LIGHT, LIGHT | DARK, LIGHT | {"paper": WHITE}], ids=["light", "dark", "on paper"]
)


@GROUNDS
@pytest.mark.parametrize("name", ["ink", "accent", "limit"])
def test_texts_and_marks_stand_out(colours: dict[str, str], name: str) -> None:
    """Words are in these three, and may lie on a band of either colour. What holds for them holds for marks: 3:1."""
    ground = colours["paper"]
    assert contrast(channels(colours[name]), channels(ground)) >= 4.5
    for tint, opacity in (("accent", BAND), ("limit", BAND), ("limit", HATCHED)):
        assert contrast(channels(colours[name]), over(colours[tint], ground, opacity)) >= 4.5


@GROUNDS
def test_faint_lines_are_seen(colours: dict[str, str]) -> None:
    """Of what is drawn faintly some carries meaning: air that was purged, the line that leads to a label."""
    assert contrast(channels(colours["rule"]), channels(colours["paper"])) >= 3
