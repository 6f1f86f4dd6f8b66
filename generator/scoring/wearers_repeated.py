"""Wearers who donned a device several times: geometric mean, spread between and within wearers, low percentile."""

from __future__ import annotations

from functools import cache

from generator.errors import OutsideRange
from generator.model.result import Figure, Input, Interval, Relation, Working
from generator.model.wearers_result import Carried, OverWearers
from generator.scoring.counting import COVERAGE
from generator.scoring.donnings import donning_input
from generator.scoring.nested_bounds import between_wearer_limits
from generator.scoring.nested_coverage import bounded_new_donnings
from generator.scoring.nested_lognormal import (
    GroupedLogs,
    between_and_within_wearers,
    grouped_logs,
    nested_mean_limits,
    within_wearer_limits,
)
from generator.scoring.percentile_bound import PercentileBound
from generator.scoring.wearer_figures import (
    CONFIDENCE,
    ITSELF_A_BOUND,
    LEAST_BOUND,
    SHARE,
    Group,
    agreed_coverage,
    agreed_share,
    given,
    interval,
    least_mean_figure,
    logarithm,
    wearer_count,
    why_no_bound,
)
from generator.scoring.wearers_once import BOUND, MEAN, PERCENTILE

BETWEEN = "geometric standard deviation between wearers"
WITHIN = "geometric standard deviation within one wearer"
PARTED = "between-and-within-wearers"
_NO_SPREAD_WITHIN = "no wearer had two different results, so that the spread within one wearer is not known"
_SAME_MEANS = "the wearers' means are all the same, so that no bound follows"
_ALIKE_BY_CHANCE = "the wearers' means differ less than their own donnings would make them, so that no limit follows"
_TOO_FAR_APART = "the results differ too much for a bound to be found"
_UNEQUAL = "the wearers donned it so unequally often that the interval does not hold the estimate"

Factors = tuple[float, ...]
Letters = tuple[str, ...]


@cache
def _percentile_bound(factors: Factors, wearers: Letters) -> PercentileBound:
    return bounded_new_donnings(factors, wearers, SHARE, CONFIDENCE, LEAST_BOUND)


@cache
def _mean_and_spreads(factors: Factors, wearers: Letters) -> tuple[float, float, float]:
    return between_and_within_wearers(factors, wearers)


def several_donnings(group: Group) -> OverWearers:
    """Return what the donnings of several wearers carry of whom at least one donned it more than once."""
    logs = grouped_logs(group.values, group.letters)
    if not logs.within_squares > 0:
        return OverWearers(
            carried=Carried.SEVERAL_DONNINGS,
            donnings=group.donnings,
            mean=group.not_scored("mean", MEAN, PARTED, _NO_SPREAD_WITHIN),
            bound=group.not_scored("bound", BOUND, "new-donning-bound", _NO_SPREAD_WITHIN),
        )
    mean, between, within = _mean_and_spreads(tuple(group.values), tuple(group.letters))
    found, reason = None, _SAME_MEANS
    if logs.between_squares > 0:
        try:
            found, reason = _percentile_bound(tuple(group.values), tuple(group.letters)), ""
        except OutsideRange:
            reason = _TOO_FAR_APART
    result = OverWearers(
        carried=Carried.SEVERAL_DONNINGS,
        donnings=group.donnings,
        mean=_mean_figure(group, mean, logs),
        between=_between_figure(group, mean, between, logs),
        within=_within_figure(group, mean, within, logs),
        bound=group.not_scored("bound", BOUND, "new-donning-bound", why_no_bound(found) if found else reason),
        wearers_needed=found.wearers_needed if found is not None and found.bound is None else None,
    )
    if found is None:
        return result
    percentile = _percentile_figure(group, found.estimate, mean, between, within)
    changes: dict[str, Figure] = {"percentile": percentile}
    if found.bound is not None:
        changes["bound"] = _bound_figure(group, found.bound, logs)
    return result.model_copy(update=changes)


def several_donnings_with_bounds(group: Group) -> OverWearers:
    """Return what they carry where some results are only known to be at least so much."""
    return OverWearers(
        carried=Carried.SEVERAL_DONNINGS_WITH_BOUNDS, donnings=group.donnings, mean=least_mean_figure(group)
    )


def _mean_of_logarithms(group: Group, logs: GroupedLogs) -> Input:
    return given("m", "mean of the wearers' mean logarithms", logs.mean, group.place("mean"))


def _between_squares(group: Group, logs: GroupedLogs) -> Input:
    meaning = "sum of squares of the wearers' mean logarithms about their mean"
    return given("S_{b}", meaning, logs.between_squares, group.place("mean"))


def _within_squares(group: Group, logs: GroupedLogs) -> Input:
    meaning = "sum of squares of the logarithms about their own wearer's mean"
    return given("S_{w}", meaning, logs.within_squares, group.place("mean"))


def _inverse_donnings(group: Group, logs: GroupedLogs) -> Input:
    return given("h", "mean over wearers of 1 over the donnings", logs.inverse_donnings, group.place("mean"))


def _mean_figure(group: Group, mean: float, logs: GroupedLogs) -> Figure:
    inputs = tuple(donning_input(r"\mathrm{FF}_{ij}", donning) for donning in group.donnings)
    low, high = nested_mean_limits(group.values, group.letters, COVERAGE)
    limits = interval(
        (low, high),
        "nested-mean-limits",
        _mean_of_logarithms(group, logs),
        _between_squares(group, logs),
        _within_squares(group, logs),
        _inverse_donnings(group, logs),
        wearer_count("a", group),
        given("N", "number of donnings", len(group.donnings), "donnings of this group", "count"),
        agreed_coverage(),
    )
    # The estimate weighs wearers by their donnings, the interval does not.
    holds = low <= mean <= high
    return group.figure(
        "mean",
        MEAN,
        mean,
        Working(method=PARTED, inputs=inputs),
        limits if holds else None,
        None if holds else _UNEQUAL,
    )


def _spread(
    group: Group, name: str, words: str, value: float, mean: float, limits: Interval | None, no_interval: str | None
) -> Figure:
    # The factors stand with the geometric mean, which is estimated together with both spreads.
    of_mean = logarithm(r"\mu", "logarithm of the geometric mean, estimated together with this", mean, group)
    working = Working(method=PARTED, inputs=(of_mean,))
    return group.figure(name, words, value, working, limits, no_interval, of_wearers=name == "between")


def _between_figure(group: Group, mean: float, between: float, logs: GroupedLogs) -> Figure:
    if not logs.between_squares > 0:
        return _spread(group, "between", BETWEEN, between, mean, None, _SAME_MEANS)
    inputs = _between_squares(group, logs), _within_squares(group, logs), _inverse_donnings(group, logs)
    try:
        found = between_wearer_limits(group.values, group.letters, COVERAGE)
    except OutsideRange:
        return _spread(group, "between", BETWEEN, between, mean, None, _TOO_FAR_APART)
    if found[1] == 1:
        return _spread(group, "between", BETWEEN, between, mean, None, _ALIKE_BY_CHANCE)
    return _spread(group, "between", BETWEEN, between, mean, interval(found, "between-wearer-limits", *inputs), None)


def _within_figure(group: Group, mean: float, within: float, logs: GroupedLogs) -> Figure:
    found = within_wearer_limits(group.values, group.letters, COVERAGE)
    limits = interval(found, "within-wearer-limits", _within_squares(group, logs), agreed_coverage())
    return _spread(group, "within", WITHIN, within, mean, limits, None)


def _percentile_figure(group: Group, estimate: float, mean: float, between: float, within: float) -> Figure:
    inputs = (
        given(r"\mathrm{GM}", "geometric mean", mean, group.place("mean")),
        given(r"\mathrm{GSD}_{b}", BETWEEN, between, group.place("between")),
        given(r"\mathrm{GSD}_{w}", WITHIN, within, group.place("within")),
        agreed_share(),
    )
    working = Working(method="new-donning-percentile", inputs=inputs)
    return group.figure(
        "percentile", PERCENTILE, estimate, working, no_interval="its lower bound stands beside it", of_wearers=False
    )


def _bound_figure(group: Group, bound: float, logs: GroupedLogs) -> Figure:
    inputs = (
        _mean_of_logarithms(group, logs),
        _between_squares(group, logs),
        _within_squares(group, logs),
        wearer_count("a", group),
        _inverse_donnings(group, logs),
        agreed_share(),
    )
    working = Working(method="new-donning-bound", inputs=inputs)
    return group.figure(
        "bound", BOUND, bound, working, no_interval=ITSELF_A_BOUND, relation=Relation.AT_LEAST, of_wearers=False
    )
