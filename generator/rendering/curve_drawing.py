"""Draws one thing against another: curves, filled areas, named levels, points with their intervals."""

from __future__ import annotations

from generator.presenting.curve_views import CurveChart
from generator.rendering.drawing import Pen


def draw_curves(chart: CurveChart, narrow: bool = False) -> str:
    """Draw a chart of curves as inline SVG, wide or narrow."""
    pen = Pen(350 if narrow else 700, 40)
    pen.text(0, 20, chart.title)
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)
