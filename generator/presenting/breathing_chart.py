"""The chart of a breath against a constant supply: what is drawn beyond it is an area."""

from __future__ import annotations

import math
from collections.abc import Sequence

from generator.model.breathing_result import BreathingRun
from generator.model.work_level import WorkLevel
from generator.presenting.breathing_words import Level, peak_text
from generator.presenting.curve_views import Area, Axis, Curve, CurveChart, Panel
from generator.presenting.curve_views import Level as NamedLevel
from generator.presenting.digits import quantity_text, value_text
from generator.presenting.wording import sentence_case

POINTS = 48
HIGHEST = 300.0
"""The upper end of the flow axis, L/min: above every printed peak; a greater supply stretches it."""
_SILENT_PANELS = 3


def chosen_levels(levels: Sequence[Level]) -> tuple[Level, ...]:
    """Return the levels that are drawn: the three lightest without speech, and those with it."""
    silent = [pair for pair in levels if not pair[0].speaking]
    return (*silent[:_SILENT_PANELS], *(pair for pair in levels if pair[0].speaking))


def breath_chart(
    identity: str, run: BreathingRun, state: str, levels: Sequence[Level], share_words: str
) -> CurveChart | None:
    """Return one breath of several levels against the supply of a run, or None where there is no supply."""
    supply = run.supply.value
    if supply is None or not levels:
        return None
    shown = chosen_levels(levels)
    breath = 60 / run.breaths_per_minute
    return CurveChart(
        id=identity,
        title=f"One breath against the supply ({state})",
        description=" ".join(_described(pair, run, share_words) for pair in shown),
        caption=(
            "Each curve is the flow of one breath at a printed demand, the line the supply with its interval. "
            f"What the breath draws above the line is {share_words}."
        ),
        x=Axis("Time since the breath began", "s", 0.0, breath),
        y=Axis("Flow", "L/min", 0.0, max(HIGHEST, 1.05 * _upper(run, supply))),
        panels=tuple(_panel(pair, run, supply, share_words) for pair in shown),
        table="breathing-levels",
    )


def _upper(run: BreathingRun, supply: float) -> float:
    interval = run.supply.interval
    return interval.high if interval is not None and interval.high is not None else supply


def _described(pair: Level, run: BreathingRun, share_words: str) -> str:
    level, result = pair
    start = f"{sentence_case(level.name)}: breaths peak at {peak_text(level)}, the supply is {value_text(run.supply)}"
    if result.time is None:
        return f"{start}, and no part of the curve lies above it."
    return f"{start}; {value_text(result.share)} of the air breathed in lies above it, {share_words}."


def _panel(pair: Level, run: BreathingRun, supply: float, share_words: str) -> Panel:
    level, result = pair
    time = _inhaling_time(level, run.breaths_per_minute)
    interval = run.supply.interval
    areas: tuple[Area, ...] = ()
    if result.time is not None:
        areas = (
            Area(
                key=f"{level.id}-beyond",
                label=f"{value_text(result.share)} {share_words}",
                points=_area(level.peak, supply, time),
                warning=True,
            ),
        )
    return Panel(
        heading=f"{sentence_case(level.name)}: {level.work}",
        curves=(
            Curve(
                key=f"{level.id}-demand",
                label=f"peak {peak_text(level)}",
                points=tuple(_curve(level.peak, time)),
                accent=False,
            ),
        ),
        areas=areas,
        levels=(
            NamedLevel(
                key=f"{level.id}-supply",
                text=f"supply {quantity_text(supply, 'L/min', 3)}",
                value=supply,
                low=interval.low if interval is not None else None,
                high=interval.high if interval is not None else None,
            ),
        ),
    )


def _inhaling_time(level: WorkLevel, breaths: float) -> float:
    """Return how long a half sine of the printed peak takes for the volume of a breath. [s]"""
    return 60 / breaths * math.pi / (2 * level.ratio)


def _curve(peak: float, time: float) -> list[tuple[float, float]]:
    inhaling = [(time * part / POINTS, peak * math.sin(math.pi * part / POINTS)) for part in range(POINTS)]
    return [*inhaling, (time, 0.0)]


def _area(peak: float, supply: float, time: float) -> tuple[tuple[float, float, float], ...]:
    begins = math.asin(supply / peak)
    angles = [begins + (math.pi - 2 * begins) * part / POINTS for part in range(POINTS + 1)]
    return tuple((time * angle / math.pi, supply, max(supply, peak * math.sin(angle))) for angle in angles)
