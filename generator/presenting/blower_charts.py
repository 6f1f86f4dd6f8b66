"""The chart of pressure against flow: a blower's points and curve, what filters and hose take, where they meet."""

from __future__ import annotations

from generator.model.blower_result import BlowerCurveResult, BlowerResult, PredictedFlow, WhatIf
from generator.model.device import Device
from generator.model.pressure_flow import PressureDrops
from generator.model.published import PublishedTest
from generator.presenting.blower_words import curve_state, short_case
from generator.presenting.curve_views import Area, Axis, Curve, CurveChart, Event, Mark, Panel
from generator.presenting.digits import figure_text, value_text
from generator.presenting.wording import listed, sentence_case

TITLE = "Pressure that the blower holds against the flow, and what filter and hose take of it"
CAPTION = (
    "The falling curve is the blower, with its 95 % band and its measured points; it is drawn between the least and "
    "the greatest measured flow. Each line that rises from the corner is what a filter and hose take, dashed where the "
    "device does not have that part. Where they meet is a flow that is predicted, not measured."
)
_VERTICALS = " A vertical is a flow that the same record measured."
_ROOM = 1.05


def pressure_chart(
    test: PublishedTest, result: BlowerResult, device: Device, identity: str, table: str
) -> CurveChart | None:
    """Return the chart of a record's blower curves, a panel for each that is used, or None where none is.

    `table` is the id of what has its numbers as text, without the id of a curve at its end.
    """
    used = [curve for curve in result.curves if curve.not_used is None]
    if not used:
        return None
    points = {curve.id: curve.points for curve in test.blower_curves}
    highest = max(
        *(point.pressure.to("Pa") for curve in used for point in points[curve.curve]),
        *(point.high_pa or 0.0 for curve in used for point in curve.fitted),
    )
    farthest = max(curve.fitted[-1].flow_l_per_min for curve in used)
    others = {drops.id: drops for drops in test.pressure_drops}
    panels = tuple(_panel(curve, test, device, others) for curve in used)
    return CurveChart(
        id=identity,
        title=TITLE,
        description=" ".join(_described(curve, device, others) for curve in used),
        caption=CAPTION + (_VERTICALS if any(panel.events for panel in panels) else ""),
        x=Axis("Flow", "L/min", 0.0, farthest * _ROOM),
        y=Axis("Pressure", "Pa", 0.0, highest * _ROOM),
        panels=panels,
        table=f"{table}{used[0].curve}",
    )


def _described(curve: BlowerCurveResult, device: Device, others: dict[str, PressureDrops]) -> str:
    state = sentence_case(curve_state(curve.setting, curve.battery))
    first, last = curve.fitted[0], curve.fitted[-1]
    predicted = [
        f"{figure_text(prediction.flow)} with {short_case(prediction, device, others.get(prediction.part or ''))}"
        for prediction in curve.predictions
        if prediction.flow.value is not None
    ]
    falls = (
        f"the curve falls from {first.pressure_pa:.0f} Pa at {first.flow_l_per_min:.0f} L/min to "
        f"{last.pressure_pa:.0f} Pa at {last.flow_l_per_min:.0f} L/min"
    )
    return f"{state}: {falls}; predicted are {listed(predicted) or 'no flows'}."


def _panel(curve: BlowerCurveResult, test: PublishedTest, device: Device, others: dict[str, PressureDrops]) -> Panel:
    (recorded,) = (item for item in test.blower_curves if item.id == curve.curve)
    crossings = [
        (prediction, prediction.flow.value, prediction.resistance_pa_min_per_l)
        for prediction in curve.predictions
        if prediction.flow.value is not None
    ]
    lines = tuple(
        Curve(
            key=f"{curve.curve}-{prediction.case}-line",
            label=short_case(prediction, device, others.get(prediction.part or "")),
            points=((0.0, 0.0), (flow, (resistance or 0.0) * flow)),
            dashed=not _is_own(prediction),
            accent=False,
            # Lines of its own filter lie so close together that each is named where it ends.
            named_by_mark=_is_own(prediction),
        )
        for prediction, flow, resistance in crossings
    )
    fitted = tuple((point.flow_l_per_min, point.pressure_pa) for point in curve.fitted)
    measured = tuple(
        Mark(key=f"{curve.curve}-point-{number}", text="", x=point.flow.to("L/min"), y=point.pressure.to("Pa"))
        for number, point in enumerate(recorded.points, start=1)
    )
    return Panel(
        heading=sentence_case(curve_state(curve.setting, curve.battery)),
        curves=(Curve(key=f"{curve.curve}-fitted", label="blower", points=fitted), *lines),
        areas=_band(curve),
        events=_measured_flows(curve),
        marks=(
            *measured,
            *(_crossing(prediction, device, flow, resistance or 0.0) for prediction, flow, resistance in crossings),
        ),
    )


def _band(curve: BlowerCurveResult) -> tuple[Area, ...]:
    points = tuple(
        (point.flow_l_per_min, point.low_pa, point.high_pa)
        for point in curve.fitted
        if point.low_pa is not None and point.high_pa is not None
    )
    return (Area(key=f"{curve.curve}-band", label="", points=points),) if points else ()


def _is_own(prediction: PredictedFlow) -> bool:
    return prediction.what_if not in (WhatIf.TWO, WhatIf.OTHER)


def _crossing(prediction: PredictedFlow, device: Device, flow: float, resistance: float) -> Mark:
    interval, text, short = prediction.flow.interval, value_text(prediction.flow), ""
    if _is_own(prediction):
        text, short = f"{short_case(prediction, device, None)}: {text}", f"{prediction.what_if}: {text}"
    return Mark(
        key=prediction.flow.key,
        text=text,
        short=short,
        x=flow,
        y=resistance * flow,
        x_low=interval.low if interval is not None else None,
        x_high=interval.high if interval is not None else None,
    )


def _measured_flows(curve: BlowerCurveResult) -> tuple[Event, ...]:
    return tuple(
        Event(
            key=f"{curve.curve}-measured-{beside.run}",
            text=f"measured {value_text(beside.mean)}",
            value=beside.mean.value,
        )
        for prediction in curve.predictions
        for beside in prediction.measured
        if beside.mean.value is not None
    )
