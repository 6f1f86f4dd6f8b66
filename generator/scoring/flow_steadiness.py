"""The figures that tell how steady a run was: scatter, scatter as a share of the mean, change from first to last."""

from __future__ import annotations

from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.counting import COVERAGE
from generator.scoring.flow_readings import MeteredFlows
from generator.scoring.flow_statistics import mean_flow, standard_deviation
from generator.scoring.flow_trends import (
    change_limits,
    change_over_run,
    coefficient_of_variation,
    least_squares_slope,
    slope_uncertainty,
)

UNSTEADY_ABOVE = 0.05
"""Share of the mean above which a run's scatter, or its change from first to last, is noted: an own rule."""
ONE_READING = "not estimated: there is one reading"
TOO_FEW = "not estimated: a line through fewer than three readings has no scatter about it"
_NO_MORE_THAN_ROUNDING = 1e-12
NO_SCATTER = "the readings lie on a straight line as far as they were read, so that its uncertainty is not known"
NO_AIR = "not estimated: the mean is not above zero"


def deviation_figure(run: str, metered: MeteredFlows) -> Figure:
    """Return the standard deviation of a run's readings."""
    several = len(metered.flows) > 1
    return Figure(
        key=f"flow.{run}.sd",
        name="standard deviation of one reading",
        value=standard_deviation(metered.flows) if several else None,
        unit="L/min",
        no_interval="not computed for a standard deviation" if several else None,
        sample_size=len(metered.flows),
        sample_of="readings",
        method="standard-deviation",
        working=Working(method="standard-deviation", inputs=metered.bare_inputs) if several else None,
        not_scored=None if several else ONE_READING,
    )


def variation_figure(run: str, metered: MeteredFlows) -> Figure:
    """Return the standard deviation of a run's readings as a share of their mean, in percent."""
    count, mean = len(metered.flows), mean_flow(metered.flows)
    reason = ONE_READING if count < 2 else NO_AIR if mean <= 0 else None
    value, working = None, None
    if reason is None:
        deviation = standard_deviation(metered.flows)
        value = coefficient_of_variation(deviation, mean)
        path = f"flow[{run}]"
        inputs = (
            _input("s", "standard deviation of one reading", deviation, "L/min", f"{path}: flow.{run}.sd"),
            _input("Q", "mean of the readings", mean, "L/min", f"{path}.readings"),
        )
        working = Working(method="coefficient-of-variation", inputs=inputs)
    return Figure(
        key=f"flow.{run}.variation",
        name="scatter of one reading as a share of the mean",
        value=value,
        unit="%",
        no_interval="not computed for a standard deviation" if reason is None else None,
        sample_size=count,
        sample_of="readings",
        method="coefficient-of-variation",
        working=working,
        not_scored=reason,
    )


def trend_figure(run: str, metered: MeteredFlows) -> Figure:
    """Return the change of a run's flow from its first reading to its last, along a straight line."""
    count = len(metered.flows)
    if count < 3:
        return _trend(run, count, None, None, None, not_scored=TOO_FEW)
    places = [float(number) for number in range(1, count + 1)]
    slope = least_squares_slope(places, metered.flows)
    uncertainty = slope_uncertainty(places, metered.flows)
    path = f"flow[{run}].readings"
    slope_input = _input(
        "b",
        "slope of the line: change from one reading to the next",
        slope,
        "L/min",
        path,
        Working(method="least-squares-slope", inputs=metered.bare_inputs),
    )
    number = _input("n", "number of readings", count, "count", path)
    working = Working(method="change-over-run", inputs=(slope_input, number))
    change = change_over_run(slope, count)
    if uncertainty * count <= _NO_MORE_THAN_ROUNDING * mean_flow(metered.flows):
        return _trend(run, count, change, None, working, no_interval=NO_SCATTER)
    low, high = change_limits(slope, uncertainty, count, COVERAGE)
    bare = slope_input.model_copy(update={"working": None})
    u = _input(
        "u(b)",
        "standard uncertainty of the slope",
        uncertainty,
        "L/min",
        path,
        Working(method="slope-uncertainty", inputs=(bare, number)),
    )
    coverage = _input("p", "coverage probability", COVERAGE, "1", "fixed here")
    interval = Interval(
        low=low,
        high=high,
        coverage=COVERAGE,
        method="change-limits",
        covers="the scatter of the readings about the line; not whether the change is a straight one",
        working=Working(method="change-limits", inputs=(bare, u, number, coverage)),
    )
    return _trend(run, count, change, interval, working)


def unsteady(variation: Figure, trend: Figure, mean: float) -> bool:
    """Say whether a run's readings scatter too much, or went up or down too far and certainly so."""
    if variation.value is not None and variation.value > 100 * UNSTEADY_ABOVE:
        return True
    if trend.value is None or mean <= 0 or abs(trend.value) <= UNSTEADY_ABOVE * mean:
        return False
    if trend.interval is None:
        return True
    low, high = trend.interval.low, trend.interval.high
    assert low is not None
    assert high is not None
    return low > 0 or high < 0


def _trend(
    run: str,
    count: int,
    value: float | None,
    interval: Interval | None,
    working: Working | None,
    no_interval: str | None = None,
    not_scored: str | None = None,
) -> Figure:
    return Figure(
        key=f"flow.{run}.trend",
        name="change from the first reading to the last, along a straight line",
        value=value,
        unit="L/min",
        interval=interval,
        no_interval=no_interval,
        sample_size=count,
        sample_of="readings",
        method="change-over-run",
        working=working,
        not_scored=not_scored,
    )


def _input(symbol: str, meaning: str, value: float, unit: str, where: str, working: Working | None = None) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=value, unit=unit, where=where, working=working)
