"""What a log of loading says: the change of flow and pressure, and how long the flow stayed at the requirement."""

from __future__ import annotations

from collections.abc import Sequence

from generator.model.filter_result import LoadingResult
from generator.model.filter_test import FilterLoading
from generator.model.reference import Criterion
from generator.model.result import Figure, Input, Relation, Working
from generator.model.series import Series
from generator.scoring.filter_loading import change_in_percent, time_of_fall
from generator.scoring.unscored import unscored_figure

AS_LOGGED = "the uncertainty of the logged readings is not on record"
_CHANGE, _FALL = "change-in-percent", "time-of-fall"
_S_PER_MIN = 60


def loading_result(item: FilterLoading, series: Series, required: Criterion | None) -> LoadingResult:
    """Return what a log of loading says."""
    flows, pressures = series.flow_l_per_min, series.pressure_pa
    flow_change = pressure_change = time_to_required = None
    if flows is not None:
        flow_change = _change(item.id, "flow", flows, "L/min")
        time_to_required = _time_to_required(item.id, series.time_s, flows, required)
    if pressures is not None:
        pressure_change = _change(item.id, "pressure", pressures, "Pa")
    return LoadingResult(
        loading=item.id, flow_change=flow_change, pressure_change=pressure_change, time_to_required=time_to_required
    )


def _change(identity: str, what: str, readings: Sequence[float], unit: str) -> Figure:
    key, name, first, last = f"filter.{identity}.{what}-change", f"change of the {what}", readings[0], readings[-1]
    if first <= 0:
        return unscored_figure(key, name, "%", _CHANGE, "the first reading is not above zero")
    where = f"filter_test.loading[{identity}].log"
    inputs = (
        Input(symbol="a", meaning="first reading", value=first, unit=unit, where=where),
        Input(symbol="b", meaning="last reading", value=last, unit=unit, where=where),
    )
    return Figure(
        key=key,
        name=name,
        value=change_in_percent(first, last),
        unit="%",
        no_interval=AS_LOGGED,
        sample_size=2,
        sample_of="readings",
        method=_CHANGE,
        working=Working(method=_CHANGE, inputs=inputs),
    )


def _time_to_required(
    identity: str, times: Sequence[float], flows: Sequence[float], required: Criterion | None
) -> Figure:
    key, name = f"filter.{identity}.time-to-required", "time until the flow fell below the requirement"
    where = f"filter_test.loading[{identity}].log"
    if required is None:
        return unscored_figure(key, name, "min", _FALL, "no flow is required of this device")
    limit = Input(
        symbol="L",
        meaning="required flow",
        value=required.limit,
        unit="L/min",
        where=f"reference/criteria: {required.id}",
    )
    if flows[0] < required.limit:
        return unscored_figure(key, name, "min", _FALL, "the flow was below the requirement from the first reading on")
    after = next((place for place, flow in enumerate(flows) if flow < required.limit), None)
    inputs: tuple[Input, ...]
    if after is None:
        end, relation = times[-1] - times[0], Relation.AT_LEAST
        inputs = (
            _time("t_b", "time of the first reading", times[0], where),
            _time("t_b", "time of the last", times[-1], where),
        )
    else:
        before = after - 1
        points = (times[before], flows[before], times[after], flows[after])
        end, relation = time_of_fall(*points, required.limit) - times[0], Relation.EQUAL
        inputs = (
            _time("t_b", "time of the first reading", times[0], where),
            _time("t_{1}", "time of the last reading before it", points[0], where),
            Input(symbol="Q_{1}", meaning="that reading", value=points[1], unit="L/min", where=where),
            _time("t_{2}", "time of the reading after it", points[2], where),
            Input(symbol="Q_{2}", meaning="that reading", value=points[3], unit="L/min", where=where),
        )
    return Figure(
        key=key,
        name=name,
        value=end / _S_PER_MIN,
        unit="min",
        relation=relation,
        no_interval=AS_LOGGED,
        sample_size=len(flows),
        sample_of="readings",
        method=_FALL,
        working=Working(method=_FALL, inputs=(limit, *inputs)),
    )


def _time(symbol: str, meaning: str, value: float, where: str) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit="s", where=where)
