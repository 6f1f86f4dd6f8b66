"""Wearers with one donning each: geometric mean, spread and low percentile, with some results perhaps only bounds."""

from __future__ import annotations

from generator.errors import OutsideRange
from generator.model.result import Figure, Input, Relation, Working
from generator.model.wearers_result import Carried, OverWearers
from generator.scoring.censored_lognormal import censored_mean_and_deviation
from generator.scoring.counting import COVERAGE
from generator.scoring.donnings import donning_input, numbered_inputs
from generator.scoring.lognormal import (
    bounded_low_percentile,
    geometric_mean,
    geometric_mean_limits,
    geometric_standard_deviation,
    geometric_standard_deviation_limits,
    tolerance_factor,
)
from generator.scoring.wearer_figures import (
    ALL_THE_SAME,
    CONFIDENCE,
    ITSELF_A_BOUND,
    LEAST_BOUND,
    SHARE,
    Group,
    agreed_confidence,
    agreed_coverage,
    agreed_share,
    given,
    interval,
    least_mean_figure,
    wearer_count,
    why_no_bound,
)

MEAN = "geometric mean of the fit factors"
BETWEEN = "geometric standard deviation from wearer to wearer"
PERCENTILE = "factor that 95 in 100 donnings of new wearers exceed, estimate"
BOUND = "factor that 95 in 100 donnings of new wearers exceed, lower bound"
_SOME_BOUNDS = "none holds for so few wearers where results are only known as “at least”"


def _mean_input(group: Group, value: float) -> Input:
    return given(r"\mathrm{GM}", "geometric mean", value, group.place("mean"))


def _deviation_input(group: Group, value: float) -> Input:
    return given(r"\mathrm{GSD}", "geometric standard deviation", value, group.place("between"))


def one_donning_each(group: Group) -> OverWearers:
    """Return what the donnings of several wearers carry who donned it once each."""
    values = group.values
    mean = geometric_mean(values)
    if len(set(values)) == 1:
        return OverWearers(
            carried=Carried.ONE_DONNING_EACH,
            donnings=group.donnings,
            mean=_mean_figure(group, mean, None),
            between=group.not_scored("between", BETWEEN, "geometric-standard-deviation", ALL_THE_SAME),
            bound=group.not_scored("bound", BOUND, "low-percentile-bound", ALL_THE_SAME),
        )
    deviation = geometric_standard_deviation(values)
    found = bounded_low_percentile(values, SHARE, CONFIDENCE, LEAST_BOUND)
    inputs = _mean_input(group, mean), _deviation_input(group, deviation)
    percentile = group.figure(
        "percentile",
        PERCENTILE,
        found.estimate,
        Working(method="low-percentile", inputs=(*inputs, agreed_share())),
        no_interval="its lower bound stands beside it",
    )
    return OverWearers(
        carried=Carried.ONE_DONNING_EACH,
        donnings=group.donnings,
        mean=_mean_figure(group, mean, deviation),
        between=_deviation_figure(group, mean, deviation),
        percentile=percentile,
        bound=_bound_figure(group, found.bound, inputs)
        if found.bound is not None
        else group.not_scored("bound", BOUND, "low-percentile-bound", why_no_bound(found)),
        wearers_needed=None if found.bound is not None else found.wearers_needed,
    )


def _mean_figure(group: Group, mean: float, deviation: float | None) -> Figure:
    working = Working(method="geometric-mean", inputs=numbered_inputs(group.donnings))
    if deviation is None:
        return group.figure("mean", MEAN, mean, working, no_interval=ALL_THE_SAME)
    inputs = _mean_input(group, mean), _deviation_input(group, deviation), wearer_count("n", group), agreed_coverage()
    limits = interval(geometric_mean_limits(group.values, COVERAGE), "geometric-mean-limits", *inputs)
    return group.figure("mean", MEAN, mean, working, limits)


def _deviation_figure(group: Group, mean: float, deviation: float) -> Figure:
    inputs = _deviation_input(group, deviation), wearer_count("n", group), agreed_coverage()
    limits = geometric_standard_deviation_limits(group.values, COVERAGE)
    return group.figure(
        "between",
        BETWEEN,
        deviation,
        Working(
            method="geometric-standard-deviation", inputs=(_mean_input(group, mean), *numbered_inputs(group.donnings))
        ),
        interval(limits, "geometric-standard-deviation-limits", *inputs),
    )


def _bound_figure(group: Group, bound: float, inputs: tuple[Input, Input]) -> Figure:
    from_wearers = Working(
        method="tolerance-factor", inputs=(wearer_count("n", group), agreed_share(), agreed_confidence())
    )
    factor = Input(
        symbol="k",
        meaning="one-sided tolerance factor",
        value=tolerance_factor(len(group.wearers), SHARE, CONFIDENCE),
        unit="1",
        where="from the number of wearers",
        working=from_wearers,
    )
    return group.figure(
        "bound",
        BOUND,
        bound,
        Working(method="low-percentile-bound", inputs=(*inputs, factor)),
        no_interval=ITSELF_A_BOUND,
        relation=Relation.AT_LEAST,
    )


def one_donning_each_with_bounds(group: Group) -> OverWearers:
    """Return what they carry where some results are only known to be at least so much."""
    measured = [donning.least for donning in group.donnings if not donning.bound]
    bounds = [donning.least for donning in group.donnings if donning.bound]
    try:
        mean, deviation = censored_mean_and_deviation(measured, bounds)
    except OutsideRange:
        # Too few were measured: the bounds themselves then are all that can be said.
        return OverWearers(
            carried=Carried.ONE_DONNING_EACH_WITH_BOUNDS, donnings=group.donnings, mean=least_mean_figure(group)
        )
    inputs = tuple(
        donning_input("B_{j}" if donning.bound else rf"\mathrm{{FF}}_{{{number}}}", donning)
        for number, donning in enumerate(group.donnings, start=1)
    )
    working = Working(method="censored-mean-and-deviation", inputs=inputs)
    return OverWearers(
        carried=Carried.ONE_DONNING_EACH_WITH_BOUNDS,
        donnings=group.donnings,
        mean=group.figure("mean", MEAN, mean, working, no_interval=_SOME_BOUNDS),
        between=group.figure("between", BETWEEN, deviation, working, no_interval=_SOME_BOUNDS),
    )
