"""The figures of one run-down: run time, time to the stop, alarm, energy."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.model.reference import Criterion
from generator.model.result import Figure, Input, Interval, Relation, Working
from generator.model.run_down import RunEnd
from generator.scoring.counting import COVERAGE
from generator.scoring.run_down import alarm_margin, elapsed_time, first_below, run_time, run_time_limits
from generator.scoring.run_down_flow import LoggedFlow, coverage_input

COVERS = (
    "the meter's calibration and the spacing of the log's lines; not another battery, charge, filter or temperature"
)
ONE_LINE = "known to the spacing of the log's lines"
AS_NOTED = "as it was noted, without an uncertainty on record"


@dataclass(frozen=True)
class RunTime:
    """The run time of a run-down, and whether the flow fell below what is required."""

    figure: Figure
    fell_below: bool


def key_of(logged: LoggedFlow, name: str) -> str:
    """Return the key of one of a run-down's figures."""
    return f"run_time.{logged.run_down.id}.{name}"


def run_time_figure(logged: LoggedFlow, criterion: Criterion | None, reason: str) -> RunTime:
    """Return how long the flow stayed at or above what a criterion requires; without one, why none applies."""
    if criterion is None:
        return RunTime(_run_time(logged, None, None, not_scored=reason), False)
    required = _required(criterion)
    below = first_below(logged.flows, required.value)
    uncertainty, unknown = logged.uncertainty_at(required.value)
    if below is None:
        working = _elapsed(logged, logged.times[-1], "time of the last line of the log")
    elif below:
        working = _crossing(logged, required)
    else:
        working = _elapsed(logged, logged.times[0], "time of the first line, which lies below the required flow")
    relation = Relation.AT_LEAST if below is None else Relation.EQUAL
    time = run_time(logged.times, logged.flows, required.value)
    value = elapsed_time(logged.times[0], logged.times[-1]) if time is None else time
    interval = _interval(logged, required, uncertainty, value, working) if uncertainty is not None else None
    figure = _run_time(logged, value, working, relation, interval, None if interval else unknown)
    stopped = logged.run_down.ended is RunEnd.BLOWER_STOPPED
    # A flow that is read a little below, within its uncertainty to the end, may in truth not have fallen below.
    within = interval is not None and interval.high is None
    return RunTime(figure, stopped or (below is not None and not within))


def _run_time(
    logged: LoggedFlow,
    value: float | None,
    working: Working | None,
    relation: Relation = Relation.EQUAL,
    interval: Interval | None = None,
    no_interval: str | None = None,
    not_scored: str | None = None,
) -> Figure:
    return Figure(
        key=key_of(logged, "run_time"),
        name="run time above the required flow",
        value=value,
        unit="min",
        relation=relation,
        interval=interval,
        no_interval=no_interval,
        sample_size=len(logged.times),
        sample_of="lines of the log",
        method="run-time" if working is None else working.method,
        working=working,
        not_scored=not_scored,
    )


def _interval(logged: LoggedFlow, required: Input, uncertainty: Input, value: float, working: Working) -> Interval:
    higher = _shifted(logged, required, uncertainty, 1)
    lower = _shifted(logged, required, uncertainty, -1)
    # Where the flow as read stays above to the end, the step in question is that of the lower limit.
    crossing = first_below(logged.flows, required.value) or first_below(logged.flows, higher.required)
    step = elapsed_time(logged.times[crossing - 1], logged.times[crossing]) if crossing else 0.0
    at_higher = value if higher.time is None else min(higher.time, value)
    at_lower = lower.time if working.method == "run-time" or not value else None
    factor = coverage_input(logged.where)
    low, high = run_time_limits(value, at_higher, at_lower, step, factor.value)
    inputs = [
        _minutes("T", "run time, or at least that", value, logged, working),
        uncertainty,
        _minutes("T_{-}", f"run time at {higher.required:.6g} L/min, which is higher by U", at_higher, logged),
        _minutes("D", "time between the two lines that the run time ends between", step, logged),
        factor,
    ]
    if at_lower is not None:
        inputs.insert(3, _minutes("T_{+}", f"run time at {lower.required:.6g} L/min, lower by U", at_lower, logged))
    return Interval(
        low=low,
        high=high,
        coverage=COVERAGE,
        method="run-time-interval",
        covers=COVERS,
        working=Working(method="run-time-interval", inputs=tuple(inputs)),
    )


@dataclass(frozen=True)
class _Shifted:
    """A required flow higher or lower by the uncertainty, and the run time at it; None where the log has none."""

    required: float
    time: float | None


def _shifted(logged: LoggedFlow, required: Input, uncertainty: Input, sign: int) -> _Shifted:
    shifted = required.value + sign * uncertainty.value
    # No flow is below nothing: then the log sets no limit.
    return _Shifted(shifted, run_time(logged.times, logged.flows, shifted) if shifted > 0 else None)


def to_stop_figure(logged: LoggedFlow) -> Figure | None:
    """Return how long the blower turned: to the line from which on no flow is read, else to the end of the log."""
    if logged.run_down.ended is not RunEnd.BLOWER_STOPPED:
        return None
    place = len(logged.read) - 1
    while place and logged.read[place] == 0 and logged.read[place - 1] == 0:
        place -= 1
    return _since_start(
        logged, "to_stop", "time until the blower stopped, which is not the run time", logged.times[place], ONE_LINE
    )


def first_alarm_figure(logged: LoggedFlow) -> Figure | None:
    """Return when the first alarm came, or None where none was heard."""
    if not logged.run_down.alarms:
        return None
    return _since_start(
        logged, "first_alarm", "time until the first alarm", logged.run_down.alarms[0].at.to("s"), AS_NOTED
    )


def alarm_margin_figure(logged: LoggedFlow, time: Figure, alarm: Figure | None) -> Figure | None:
    """Return how long before the end of the run time the first alarm came."""
    if alarm is None or alarm.value is None or time.value is None:
        return None
    interval = None
    if time.interval is not None and time.interval.low is not None:
        high = time.interval.high
        interval = Interval(
            low=alarm_margin(time.interval.low, alarm.value),
            high=None if high is None else alarm_margin(high, alarm.value),
            coverage=time.interval.coverage,
            method="alarm-margin",
            covers=f"what the interval of the run time covers: {COVERS}",
        )
    inputs = (
        _figure_input("T", "run time above the required flow", time, logged),
        _figure_input(r"T_{\mathrm{a}}", "time of the alarm since the log began", alarm, logged),
    )
    return Figure(
        key=key_of(logged, "alarm_margin"),
        name="from the first alarm to the end of the run time; below zero, it came too late",
        value=alarm_margin(time.value, alarm.value),
        unit="min",
        relation=time.relation,
        interval=interval,
        no_interval=None if interval is not None else time.no_interval,
        sample_size=1,
        sample_of="alarm",
        method="alarm-margin",
        working=Working(method="alarm-margin", inputs=inputs),
    )


def _since_start(logged: LoggedFlow, name: str, words: str, at: float, no_interval: str) -> Figure:
    working = _elapsed(logged, at, words)
    return Figure(
        key=key_of(logged, name),
        name=words,
        value=elapsed_time(logged.times[0], at),
        unit="min",
        no_interval=no_interval,
        sample_size=1,
        sample_of="reading of the clock",
        method="elapsed-time",
        working=working,
    )


def _required(criterion: Criterion) -> Input:
    return Input(
        symbol=r"Q_{\mathrm{r}}",
        meaning="required flow",
        value=criterion.limit,
        unit=criterion.unit,
        where=f"reference/criteria: {criterion.id}",
    )


def _crossing(logged: LoggedFlow, required: Input) -> Working:
    below = first_below(logged.flows, required.value)
    assert below, "the first line lies above"
    times = ((0, "time of the first line"), (below - 1, "time of the line before"), (below, "time of the first below"))
    inputs = (
        *(_seconds(f"t_{{{n}}}", words, logged.times[place], logged) for n, (place, words) in enumerate(times)),
        logged.at(below - 1, "Q_{1}", "flow at the line before"),
        logged.at(below, "Q_{2}", "flow at the first line below"),
        required,
    )
    return Working(method="run-time", inputs=inputs)


def _elapsed(logged: LoggedFlow, at: float, words: str) -> Working:
    inputs: Sequence[Input] = (
        _seconds("t", words, at, logged),
        _seconds("t_{0}", "time of the first line", logged.times[0], logged),
    )
    return Working(method="elapsed-time", inputs=tuple(inputs))


def _seconds(symbol: str, meaning: str, value: float, logged: LoggedFlow) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit="s", where=logged.where)


def _minutes(symbol: str, meaning: str, value: float, logged: LoggedFlow, working: Working | None = None) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit="min", where=logged.where, working=working)


def _figure_input(symbol: str, meaning: str, figure: Figure, logged: LoggedFlow) -> Input:
    assert figure.value is not None, "only scored figures go into others"
    where = f"run_downs[{logged.run_down.id}]: {figure.key}"
    return Input(symbol=symbol, meaning=meaning, value=figure.value, unit="min", where=where, working=figure.working)
