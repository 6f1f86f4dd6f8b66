"""Words about flow: the state of a run, the air it is of, what its meter held back, which states were not measured."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.flow_result import AirConditions, BackPressure, FlowRunResult, FlowState
from generator.model.reference import Criterion
from generator.presenting.digits import percent_text, quantity_text
from generator.presenting.wording import listed, shortened

BATTERY = {"fresh": "battery fresh", "at_alarm": "battery at its alarm", "mains": "on mains"}
FILTER = {"new": "new filter", "loaded": "loaded filter"}
LEAST_AIR = "at which filters of its class are tested, and which the trade takes as the least it should deliver"
ROOM_AIR = "in the air of the test room; the requirement states no other that was seen"


def flow_state_words(setting: str, battery: str, filter_state: str) -> str:
    """Say the state in which a flow was measured."""
    return f"{shortened(setting, 40)}, {BATTERY[battery]}, {FILTER[filter_state]}"


def run_state(run: FlowRunResult) -> str:
    """Say at which setting, and with which battery and filter, a run was done."""
    return flow_state_words(run.setting, run.battery, run.filter)


def short_state(run: FlowRunResult) -> str:
    """Say the same where there is little room."""
    battery = BATTERY[run.battery].removeprefix("battery ")
    return f"{shortened(run.setting, 14)}, {battery}, {FILTER[run.filter].removesuffix(' filter')}"


def air_words(air: AirConditions) -> str:
    """Say of which air a flow is: `21.5 °C, 1008 hPa, humidity 45 %`."""
    words = f"{quantity_text(air.temperature - 273.15, 'degC', 3)}, {quantity_text(air.pressure / 100, 'hPa', 4)}"
    return words if air.relative_humidity is None else f"{words}, humidity {percent_text(air.relative_humidity)}"


def compared_words(run: FlowRunResult, criterion: Criterion | None) -> str:
    """Say in which air a flow was held against its requirement."""
    if criterion is None or run.verdict.limit is None:
        return "not held against a requirement"
    if run.compared_air is not None:
        return f"in the air that the requirement states: {air_words(run.compared_air)}"
    if criterion.conditions is not None:
        return f"in the air of the test room; the requirement says: {criterion.conditions}"
    return ROOM_AIR


def back_pressure_words(run: FlowRunResult) -> str:
    """Say what became of the resistance that the meter adds."""
    reason = run.back_pressure_reason
    if run.back_pressure is BackPressure.CORRECTED:
        return "taken off by the blower's own curve; the flow with the meter in place stands below"
    if run.back_pressure is BackPressure.NULL_METHOD:
        return f"balanced while it was read, so that nothing was to be corrected: {reason}"
    if run.back_pressure is BackPressure.NOT_CORRECTED:
        return f"not corrected: {reason}. Without the meter the device delivers at least the flow that was read"
    return "not on record. A meter never raises the flow that it reads"


def governing_words(claimed: Sequence[str], named: bool) -> str:
    """Say which verdict stands for the device."""
    verdicts = "There is one verdict for each setting, battery state and filter state, and the worst of them governs"
    if named:
        shown = listed([shortened(setting, 40) for setting in claimed])
        return f"{verdicts}. What counts is where its maker says that it protects: {shown}."
    return f"{verdicts}. Its maker names no setting as the protective one, so every one counts."


def requirement_words(limit: float) -> str:
    """Say what the flow is that a device is held against."""
    return (
        f"The requirement of {quantity_text(limit, 'L/min')} is custom, not law: it is the flow at which filters of "
        "its class are tested, and which the trade takes as the least that such a device should deliver."
    )


def not_measured_words(states: Sequence[FlowState]) -> str | None:
    """Name the states that count and were not measured; None where every one was."""
    settings = list(dict.fromkeys(state.setting for state in states if state.claimed))
    parts = []
    for setting in settings:
        of_setting = [state for state in states if state.claimed and state.setting == setting]
        missing = [state for state in of_setting if state.runs == 0]
        if len(missing) == len(of_setting):
            parts.append(f"Not measured at {shortened(setting, 40)}: any state.")
        elif missing:
            named = (f"{BATTERY[state.battery]} with {FILTER[state.filter]}" for state in missing)
            parts.append(f"Not measured at {shortened(setting, 40)}: {'; '.join(named)}.")
    return " ".join(parts) or None
