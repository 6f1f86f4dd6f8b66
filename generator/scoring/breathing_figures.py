"""The figures of one flow run against printed breathing demands."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from generator.model.breathing_result import Coverage, LevelResult
from generator.model.result import Figure, Input, Relation, Working
from generator.model.work_level import WorkLevel
from generator.scoring.over_breathing import (
    cleaner_at_best,
    covered_minute_volume,
    over_breathed_a_breath,
    over_breathed_a_minute,
    over_breathed_percent,
    over_breathed_time,
)
from generator.scoring.stored_air import (
    beyond_stored_air,
    mixed_share,
    supplied_while_exhaling,
    times_cleaner,
)
from generator.scoring.varied_inputs import Made, VariedInput, figure_from, varied

COVERS = "the interval of the supply flow; not how wearers breathe otherwise than the printed demand"
A_RANGE = (
    "a range, not an interval: from the least supply with all inhaled particles breathed out again to the greatest "
    "with none"
)
A_RANGE_OF_LUNGS = "a range, not an interval: from all inhaled particles breathed out again to none"
A_RANGE_OF_RATIOS = "a range, not an interval: over printed ratios of peak flow to minute volume"
WHOLLY_ABOVE = "the whole interval of the supply lies at or above the peak"
NO_VOLUME = "the hood's volume is not on record"
NOT_FILLED = "the hood is not filled anew between breaths"
_VOLUME_A_MINUTE = r"\dot{V}_{\mathrm{E}}"


@dataclass(frozen=True)
class Breathing:
    """What figures of a run share: how often is breathed, and what the hood holds, None where that is not known."""

    breaths: Input
    hood: Input | None
    leaks: bool
    """Whether over-breathed air is leakage: not in a tight-fitting device, where it comes through the filter."""


def level_result(run: str, level: WorkLevel, supply: VariedInput, breathing: Breathing) -> LevelResult:
    """Return how a supply stands to one level of work."""
    demand = _Demand(run, level)
    coverage = coverage_of(supply, level.peak)
    share = figure_from(demand.share(), supply, (demand.peak,), COVERS)
    if coverage is Coverage.COVERED and share.interval is not None:
        # From nothing to nothing is no interval.
        share = share.model_copy(update={"interval": None, "no_interval": WHOLLY_ABOVE})
    if not share.value:
        return LevelResult(level=level.id, coverage=coverage, share=share)
    from_share = varied(share, "F", f"flow[{run}]: {share.key}")
    breaths = breathing.breaths
    a_breath = figure_from(demand.a_breath(breaths.value), from_share, (demand.volume, breaths), COVERS)
    in_hood = breathing.leaks and breathing.hood is not None
    return LevelResult(
        level=level.id,
        coverage=coverage,
        share=share,
        time=figure_from(demand.time(), supply, (demand.peak,), COVERS),
        a_minute=figure_from(demand.a_minute(), from_share, (demand.volume,), COVERS),
        a_breath=a_breath,
        factor=figure_from(demand.factor(), from_share, (), COVERS) if breathing.leaks else None,
        mixed=_mixed(demand, supply, breathing) if in_hood else None,
        beyond=_beyond(demand, supply, breathing, a_breath) if in_hood else None,
    )


@dataclass(frozen=True)
class _Demand:
    """One level of work for one run: its numbers as inputs, and what is made of them."""

    run: str
    level: WorkLevel

    def key(self, name: str) -> str:
        return f"breathing.{self.run}.{self.level.id}.{name}"

    def _input(self, symbol: str, meaning: str, value: float) -> Input:
        where = f"reference/work_levels.yaml: {self.level.id}"
        return Input(symbol=symbol, meaning=f"{meaning}, {self.level.name}", value=value, unit="L/min", where=where)

    @property
    def peak(self) -> Input:
        return self._input("A", "peak flow while breathing in", self.level.peak)

    @property
    def volume(self) -> Input:
        return self._input(_VOLUME_A_MINUTE, "air breathed in a minute", self.level.minute_volume)

    def _made(
        self, name: str, words: str, unit: str, method: str, of: Callable[[float], float | None], falls: bool = False
    ) -> Made:
        return Made(self.key(name), f"{words}, {self.level.name}", unit, method, of, falls)

    def share(self) -> Made:
        peak = self.level.peak
        return self._made(
            "share",
            "share of the air breathed in beyond the supply",
            "%",
            "over-breathed-share",
            lambda flow: over_breathed_percent(flow, peak),
            falls=True,
        )

    def time(self) -> Made:
        peak = self.level.peak
        return self._made(
            "time",
            "part of the inhalation beyond the supply",
            "%",
            "over-breathed-time",
            lambda flow: over_breathed_time(flow, peak),
            falls=True,
        )

    def a_minute(self) -> Made:
        volume = self.level.minute_volume
        return self._made(
            "minute",
            "volume beyond the supply in a minute",
            "L/min",
            "over-breathed-a-minute",
            lambda percent: over_breathed_a_minute(percent, volume),
        )

    def a_breath(self, breaths: float) -> Made:
        volume = self.level.minute_volume
        return self._made(
            "breath",
            "volume beyond the supply in a breath",
            "L",
            "over-breathed-a-breath",
            lambda percent: over_breathed_a_breath(percent, volume, breaths),
        )

    def factor(self) -> Made:
        return self._made(
            "factor",
            "times cleaner at best, were this the only leak",
            "1",
            "cleaner-at-best",
            lambda percent: cleaner_at_best(percent) if percent > 0 else None,
            falls=True,
        )

    def beyond(self, hood: float) -> Made:
        return self._made(
            "beyond",
            "outside air in a breath after the hood's air is used up",
            "L",
            "beyond-stored-air",
            lambda volume: beyond_stored_air(volume, hood),
        )


def coverage_of(supply: VariedInput, peak: float) -> Coverage:
    """Say whether a supply covers a peak flow, by its whole interval where it has one, else by its mean alone."""
    low, high = supply.ends or (supply.value, supply.value)
    if low >= peak:
        return Coverage.COVERED
    return Coverage.OVER_BREATHED if high < peak else Coverage.UNDECIDED


def _mixed(demand: _Demand, supply: VariedInput, breathing: Breathing) -> Figure:
    least, greatest = (
        Input(symbol="Q", meaning=end.meaning, value=end.value, unit=end.unit, where=end.where)
        for end in supply.at_ends() or (supply.as_input(), supply.as_input())
    )
    most = _mixed_input(demand, breathing, least, 1, "concentration breathed in as a share of that outside, at most")
    fewest = _mixed_input(demand, breathing, greatest, 2, "the same, at least")
    made = demand.factor()
    return Figure(
        key=demand.key("mixed"),
        name=f"times cleaner with the hood's air mixed in, {demand.level.name}",
        value=times_cleaner(most.value),
        unit=made.unit,
        relation=Relation.AT_LEAST,
        other_bound=times_cleaner(fewest.value) if fewest.value > 0 else None,
        no_interval=A_RANGE if supply.ends else f"{A_RANGE_OF_LUNGS}; {supply.no_interval}",
        sample_size=supply.sample_size,
        sample_of=supply.sample_of,
        method="cleaner-with-mixed-air",
        working=Working(method="cleaner-with-mixed-air", inputs=(most, fewest)),
    )


def _mixed_input(demand: _Demand, breathing: Breathing, flow: Input, number: int, meaning: str) -> Input:
    """Return a share with its working: the first with all particles breathed out again, the second with none."""
    assert breathing.hood is not None
    returned = Input(
        symbol="e",
        meaning="share of the inhaled particles that is breathed out again; not known, between none and all",
        value=1.0 if number == 1 else 0.0,
        unit="1",
        where="fixed here",
    )
    level, breaths, hood = demand.level, breathing.breaths, breathing.hood
    share = mixed_share(flow.value, level.minute_volume, level.peak, breaths.value, hood.value, returned.value)
    return Input(
        symbol=f"c_{{{number}}}",
        meaning=meaning,
        # Where nothing is clean, rounding may leave more than all.
        value=min(share, 1.0),
        unit="1",
        where=breathing.hood.where,
        working=Working(method="mixed-share", inputs=(flow, demand.volume, demand.peak, breaths, hood, returned)),
    )


def _beyond(demand: _Demand, supply: VariedInput, breathing: Breathing, a_breath: Figure) -> Figure:
    assert breathing.hood is not None
    hood, level = breathing.hood, demand.level
    made = demand.beyond(hood.value)
    supplied = supplied_while_exhaling(supply.value, level.minute_volume, level.peak, breathing.breaths.value)
    if supplied < hood.value:
        return Figure(
            key=made.key,
            name=made.name,
            value=None,
            unit=made.unit,
            sample_size=supply.sample_size,
            sample_of=supply.sample_of,
            method=made.method,
            not_scored=NOT_FILLED,
        )
    drawn = varied(a_breath, r"V_{\mathrm{ob}}", f"flow[{demand.run}]: {a_breath.key}")
    return figure_from(made, drawn, (hood,), COVERS, symbol="V")


def covered_figure(run: str, name: str, words: str, supply: VariedInput, ratio: Input) -> Figure:
    """Return the largest minute volume that a supply covers at one ratio of peak flow to minute volume."""
    made = Made(
        f"breathing.{run}.{name}",
        words,
        "L/min",
        "covered-minute-volume",
        lambda flow: covered_minute_volume(flow, ratio.value),
    )
    return figure_from(made, supply, (ratio,), COVERS)


def covered_range(run: str, words: str, supply: VariedInput, ratios: tuple[Input, Input]) -> Figure:
    """Return the same over a range of ratios, the least first: the greatest ratio leaves the least minute volume."""
    least, greatest = ratios
    low, high = supply.ends or (supply.value, supply.value)
    flows = supply.at_ends() or (supply.as_input(),)
    return Figure(
        key=f"breathing.{run}.covered-printed",
        name=words,
        value=covered_minute_volume(low, greatest.value),
        unit="L/min",
        relation=Relation.AT_LEAST,
        other_bound=covered_minute_volume(high, least.value),
        no_interval=f"{A_RANGE_OF_RATIOS}; {'over the supply interval too' if supply.ends else supply.no_interval}",
        sample_size=supply.sample_size,
        sample_of=supply.sample_of,
        method="covered-minute-volume",
        working=Working(method="covered-minute-volume", inputs=(*flows, least, greatest)),
    )


def sine_ratio() -> Input:
    """Return the ratio of peak flow to minute volume of a sine that takes half of the breath."""
    return Input(
        symbol="k",
        meaning="peak flow over minute volume of a sine that takes half of the breath",
        value=math.pi,
        unit="1",
        where="fixed here",
    )


def printed_ratio(symbol: str, level: WorkLevel) -> Input:
    """Return a level's printed ratio of peak flow to minute volume."""
    return Input(
        symbol=symbol,
        meaning=f"peak flow over minute volume as printed, {level.name}",
        value=level.ratio,
        unit="1",
        where=f"reference/work_levels.yaml: {level.id}",
    )
