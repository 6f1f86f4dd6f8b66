"""Charts of curves of the kinds that pages show, from closed forms, and what can be read off their drawings."""

from __future__ import annotations

import math

from generator.presenting.curve_views import Area, Axis, Curve, CurveChart, Event, Level, Mark, Panel


def breath_points(peak: float, count: int = 121, period: float = 4.0) -> list[tuple[float, float]]:
    """Return two half sines of breathing in, with nothing drawn in between. [s, L/min]"""
    times = [2 * period * number / (count - 1) for number in range(count)]
    return [(time, max(0.0, peak * math.sin(2 * math.pi * time / period))) for time in times]


def a_breath_panel(peak: float, supply: float, heading: str) -> Panel:
    demand = breath_points(peak)
    over = tuple((time, supply, max(flow, supply)) for time, flow in demand)
    return Panel(
        heading,
        curves=(
            Curve("demand", "what the wearer draws", tuple(demand)),
            Curve("supply", "what the blower gives", ((0.0, supply), (8.0, supply)), accent=False),
        ),
        areas=(Area("outside-air", "air from outside", over, warning=True),) if peak > supply else (),
    )


def breaths() -> CurveChart:
    """Return breathing at five work levels over one supply flow."""
    levels = (
        ("at rest", 31.4),
        ("light work", 63.0),
        ("moderate work", 94.0),
        ("heavy work", 173.0),
        ("hardest", 283.0),
    )
    panels = tuple(a_breath_panel(peak, 120.0, f"{name}: peak {peak:.0f} L/min") for name, peak in levels)
    return CurveChart(
        "breaths", "Breathing and supply", "Two breaths at five work levels.", "Where the curve rises over the line.",
        Axis("time", "s", 0, 8), Axis("flow", "L/min", 0, 300), panels,
    )  # fmt: skip


def a_blower_curve() -> CurveChart:
    """Return a falling blower curve with its band, two rising system lines and where they meet it."""

    def pressure(flow: float) -> float:
        return 620 - 0.0062 * flow**2

    flows = [10.0 * number for number in range(32)]
    clean = [(flow, 1.1 * flow + 0.0012 * flow**2) for flow in flows]
    loaded = [(flow, 2.6 * flow + 0.0021 * flow**2) for flow in flows]
    readings = ((0.0, 622.0), (60.0, 596.0), (120.0, 533.0), (180.0, 418.0), (240.0, 262.0), (300.0, 63.0))
    return CurveChart(
        "blower", "Blower curve", "A falling curve meets two rising ones.", "Where the lines meet the flow settles.",
        Axis("flow", "L/min", 0, 320), Axis("pressure", "Pa", 0, 700),
        (
            Panel(
                "",
                curves=(
                    Curve("blower", "blower at setting high", tuple((flow, pressure(flow)) for flow in flows)),
                    Curve("clean", "clean filter", tuple(clean), accent=False),
                    Curve("loaded", "loaded filter", tuple(loaded), dashed=True, accent=False),
                ),
                areas=(Area("band", "", tuple((f, pressure(f) - 18, pressure(f) + 18) for f in flows)),),
                levels=(),
                marks=(
                    *(Mark(f"reading-{n}", "", x, y, y - 12, y + 12) for n, (x, y) in enumerate(readings)),
                    Mark("at-clean", "216 L/min", 215.6, 331.6, None, None, 209.0, 222.0),
                    Mark("at-loaded", "141 L/min", 138.6, 500.8, None, None, 133.0, 144.0),
                ),
            ),
        ),
    )  # fmt: skip


def a_run_down() -> CurveChart:
    """Return a flow that falls as the battery empties, with its alarm, its end and the flow asked for."""
    points = [(2.0 * n, 205 - 0.05 * n - (0 if n < 180 else 0.09 * (n - 180) ** 1.6)) for n in range(240)]
    return CurveChart(
        "run-down", "A battery run down", "The flow falls slowly, then fast.", "The alarm sounded before.",
        Axis("time", "min", 0, 480), Axis("flow", "L/min", 0, 250),
        (
            Panel(
                "Setting high, filter clean",
                curves=(Curve("flow", "flow", tuple(points)),),
                levels=(Level("required", "170 L/min: least flow, loose-fitting", 170),),
                events=(
                    Event("alarm", "low battery alarm", 391),
                    Event("below", "below 170 L/min", 415),
                    Event("end", "blower stopped", 478),
                ),
            ),
        ),
    )  # fmt: skip


def a_pressure_trace() -> CurveChart:
    """Return the pressure in a facepiece about zero, with the time below it filled."""
    times = [12 * number / 199 for number in range(200)]
    trace = [(t, 90 - 118 * math.sin(2 * math.pi * t / 3.0) - 12 * math.sin(2 * math.pi * t / 0.7)) for t in times]
    below = tuple((time, min(pressure, 0.0), 0.0) for time, pressure in trace)
    return CurveChart(
        "trace", "Pressure inside", "The pressure swings about 90 Pa.", "Below zero, outside air can come in.",
        Axis("time", "s", 0, 12), Axis("pressure inside", "Pa", -60, 240),
        (
            Panel(
                "Wearer A, heavy work",
                curves=(Curve("pressure", "pressure inside the facepiece", tuple(trace)),),
                areas=(Area("below", "below the air around", below, warning=True),),
            ),
        ),
    )  # fmt: skip


EXAMPLES = {"breaths": breaths, "blower": a_blower_curve, "run-down": a_run_down, "trace": a_pressure_trace}
