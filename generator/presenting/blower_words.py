"""Words about blower curves and the flows that they predict: each case, each comparison, each reason in one place."""

from __future__ import annotations

from generator.model.base import NotRecorded
from generator.model.blower_result import BlowerCurveResult, PredictedFlow, WhatIf
from generator.model.device import Device
from generator.model.pressure_flow import BlowerCurve, PressureDrops
from generator.presenting.digits import percent_text, quantity_text
from generator.presenting.wording import count_text, sentence_case, shortened

WHAT_IT_IS = (
    "The more air a blower moves, the less pressure it holds; the more air goes through a filter, the more pressure "
    "the filter takes. Where the two are equal lies the flow. It is predicted here, not measured."
)
NO_HOSE = "No loss in a hose is on record. Where there is a hose, less air comes than is predicted."
AS_THEY_STAND = (
    "The interval of a prediction covers the scatter of the points and the uncertainty that is stated for their "
    "pressures, and nothing else: not the loss in a hood or facepiece, leaks or another day. No prediction says how a "
    "filter fits or what it lets through."
)
_BATTERY = {"fresh": "battery fresh", "at_alarm": "battery at its alarm", "mains": "on mains"}
_PART = {"filter": "filter", "hose": "hose", "filter_and_hose": "filter and hose"}
_STATE = {"new": "new", "loaded": "loaded"}


def curve_state(setting: str, battery: str) -> str:
    """Say at which setting and battery a curve was measured."""
    return f"{shortened(setting, 40)}, {_BATTERY[battery]}"


def case_words(prediction: PredictedFlow, device: Device, other: PressureDrops | None) -> str:
    """Say what the air is predicted to go through."""
    if other is not None:
        return shortened(other.what, 80)
    if prediction.what_if is WhatIf.TWO:
        return f"{_doubled(device)} of its own filters side by side"
    return f"its own filter, {_STATE[prediction.what_if.value]}"


def short_case(prediction: PredictedFlow, device: Device, other: PressureDrops | None) -> str:
    """Say the same where there is little room."""
    if other is not None:
        return shortened(other.what, 56)
    if prediction.what_if is WhatIf.TWO:
        return f"{_doubled(device)} filters"
    return f"own filter, {_STATE[prediction.what_if.value]}"


def _doubled(device: Device) -> str:
    if isinstance(device.filter, NotRecorded):
        return "twice as many"
    return count_text(2 * device.filter.count, "filter").removesuffix(" filters")


def agreement_words(agrees: bool | None) -> str:
    """Say whether a prediction stands beside the measured flow."""
    if agrees is None:
        return "not decided: one of them has no interval"
    return "they agree: the difference may be zero" if agrees else "they disagree: the difference is not zero"


def agreement_sentence(found: list[bool | None]) -> str:
    """Say in a sentence whether the predictions reproduce what was measured in the same states."""
    decided = [agrees for agrees in found if agrees is not None]
    if not decided:
        return "No measured flow decides whether the predictions hold: none of the same state has an interval."
    missed = decided.count(False)
    if not missed:
        return (
            f"Where the flow was also measured, in {count_text(len(decided), 'run')}, prediction and measurement "
            "differ by no more than their uncertainties allow."
        )
    number, _ = count_text(missed, "run").split()
    return (
        f"In {number} of {count_text(len(decided), 'run')} in which the flow was also measured, prediction and "
        "measurement differ by more than their uncertainties allow."
    )


def part_words(drops: PressureDrops) -> str:
    """Say of which part a resistance is."""
    named = f"{'another ' if drops.alternative else ''}{_PART[drops.of.value]}"
    state = "" if drops.of.value == "hose" else f", {_STATE[drops.filter.value]}"
    several = f", {count_text(drops.filters_at_once, 'filter')} side by side" if drops.filters_at_once > 1 else ""
    return sentence_case(f"{named}{state}{several}")


def shape_words(result: BlowerCurveResult, curve: BlowerCurve) -> str:
    """Say which curve was laid through the points, and why that one."""
    if result.not_used is not None:
        return f"not used: {result.not_used}"
    shape = {"line": "straight line", "parabola": "parabola"}[result.shape or ""]
    if len(curve.points) == 2:
        return f"{shape} through both points"
    if result.chance_of_line is None:
        return f"{shape} through {count_text(len(curve.points), 'point')}; a bend is looked for from five points on"
    chance = (
        percent_text(result.chance_of_line, 2)
        if result.chance_of_line >= 0.001
        else "below 0.1\N{NARROW NO-BREAK SPACE}%"
    )
    return (
        f"{shape} through {count_text(len(curve.points), 'point')}; chance that a straight line seems as bent: {chance}"
    )


def ends_words(curve: BlowerCurve) -> str | None:
    """Say what the blower held when shut and moved when open, as far as that was measured; None where neither was."""
    first, last = curve.points[0], curve.points[-1]
    said = []
    if first.flow.number == 0:
        said.append(f"held shut, it held {quantity_text(first.pressure.number, first.pressure.unit)}")
    if last.pressure.number == 0:
        said.append(f"with nothing in its way, it moved {quantity_text(last.flow.number, last.flow.unit)}")
    return "; ".join(said) or None
