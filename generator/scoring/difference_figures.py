"""The figures of a difference between two sets of fit factors, on the same wearers or on others, with workings."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.model.comparison_result import ComparedSession
from generator.model.difference_result import FactorDifference, People
from generator.model.result import Figure, Input, Interval, Working
from generator.scoring.counting import COVERAGE
from generator.scoring.differences import (
    MOST_PAIRS,
    better_for_a_new_wearer,
    least_sign_flip_probability,
    sign_flip_probability,
    unpaired_ratio,
)
from generator.scoring.lognormal import geometric_mean
from generator.scoring.paired_ratio import paired_log_ratio

PAIRED = "paired-log-ratio"
UNPAIRED = "unpaired-ratio"
_BY_WEARER = "wearer-fit-factor"
_SIGN_FLIP = "sign-flip-probability"
_LEAST = "least-sign-flip-probability"
_NEW_WEARER = "better-for-a-new-wearer"
_IN_COMMON = "wearers in common"
_OF_ONE_ONLY = "wearers of one of the two only"
_NO_INTERVAL = "the probability that a test gives has no interval"
_COVERS_PAIRS = "how the wearers in common differed in this ratio; not wearers unlike them, other units or other days"
_COVERS_OTHERS = (
    "how the wearers of each differed from one another; not what else sets these people apart from those, other units "
    "or other days"
)
_COVERS_NEW = "how the wearers in common differed in this ratio; for a new wearer like them"
LEAST_FOR_A_NEW_WEARER = 6
"""With fewer nothing can be told apart, nor seen whether the ratios scatter as the formula needs it."""
_ALIKE = 1e-9
"""Logarithms that lie closer are the same: they differ by rounding only."""

Worn = Mapping[str, Sequence[ComparedSession]]
"""Sessions under one set of conditions, by the wearer's letter."""


@dataclass(frozen=True)
class Sides:
    """What is set against what, as a figure's key and as words."""

    key: str
    name: str
    """Of the ratio."""
    first: str
    """Such as `with the hood`."""
    second: str


@dataclass(frozen=True)
class Wearers:
    """Who wore both, only the first and only the second, by letter."""

    common: tuple[str, ...] = ()
    first_only: tuple[str, ...] = ()
    second_only: tuple[str, ...] = ()


def not_stated(sides: Sides, who: Wearers, reason: str) -> FactorDifference:
    """Return a difference that is not stated, with the reason."""
    return FactorDifference(
        people=None,
        wearers=who.common,
        first_only=who.first_only,
        second_only=who.second_only,
        ratio=Figure(
            key=sides.key,
            name=sides.name,
            value=None,
            unit="1",
            sample_size=len(who.common),
            sample_of=_IN_COMMON,
            method=PAIRED,
            not_scored=reason,
        ),
    )


def on_the_same(sides: Sides, who: Wearers, first: Worn, second: Worn) -> FactorDifference:
    """Return the difference on wearers who wore both."""
    ours, theirs = _factors("a", sides.first, first), _factors("b", sides.second, second)
    pairs = list(zip(ours, theirs, strict=True))
    ratio, low, high = paired_log_ratio([one.value for one in ours], [other.value for other in theirs], COVERAGE)
    working = Working(method=PAIRED, inputs=tuple(item for pair in pairs for item in pair))
    logs = tuple(
        Input(
            symbol=f"d_{{{number}}}",
            meaning=f"logarithm of the ratio of wearer {wearer}",
            value=math.log(one.value / other.value),
            unit="1",
            where=f"ln(a/b) of wearer {wearer}",
        )
        for number, (wearer, (one, other)) in enumerate(zip(first, pairs, strict=True), start=1)
    )
    return FactorDifference(
        people=People.SAME_WEARERS,
        wearers=who.common,
        first_only=who.first_only,
        second_only=who.second_only,
        ratio=Figure(
            key=sides.key,
            name=sides.name,
            value=ratio,
            unit="1",
            interval=_interval(low, high, _COVERS_PAIRS, working),
            sample_size=len(pairs),
            sample_of=_IN_COMMON,
            method=PAIRED,
            working=working,
        ),
        chance=_chance_of_pairs(sides, logs),
        least_chance=Figure(
            key=f"{sides.key}.least",
            name=f"smallest probability that {len(pairs)} pairs can give",
            value=least_sign_flip_probability(len(pairs)),
            unit="1",
            no_interval="it follows from the number of pairs",
            sample_size=len(pairs),
            sample_of=_IN_COMMON,
            method=_LEAST,
            working=Working(method=_LEAST, inputs=(_count("n", "wearers who wore both", len(pairs)),)),
        ),
        better_for_new_wearer=_for_a_new_wearer(sides, logs),
    )


def _interval(low: float, high: float, covers: str, working: Working) -> Interval:
    return Interval(low=low, high=high, coverage=COVERAGE, method=working.method, covers=covers, working=working)


def _count(symbol: str, meaning: str, count: int) -> Input:
    return Input(symbol=symbol, meaning=meaning, value=count, unit="count", where="the wearers of this difference")


def _chance_of_pairs(sides: Sides, logs: tuple[Input, ...]) -> Figure:
    figure = Figure(
        key=f"{sides.key}.chance",
        name="probability of pairs as far apart by chance alone",
        value=None,
        unit="1",
        sample_size=len(logs),
        sample_of=_IN_COMMON,
        method=_SIGN_FLIP,
    )
    if len(logs) > MOST_PAIRS:
        reason = f"all patterns of signs are counted for at most {MOST_PAIRS} wearers who wore both"
        return figure.model_copy(update={"not_scored": reason})
    return figure.model_copy(
        update={
            "value": sign_flip_probability([item.value for item in logs]),
            "no_interval": _NO_INTERVAL,
            "working": Working(method=_SIGN_FLIP, inputs=logs),
        }
    )


def _for_a_new_wearer(sides: Sides, logs: tuple[Input, ...]) -> Figure:
    differences = [item.value for item in logs]
    figure = Figure(
        key=f"{sides.key}.new-wearer",
        name=f"probability that a new wearer gets the higher fit factor {sides.first}",
        value=None,
        unit="1",
        sample_size=len(logs),
        sample_of=_IN_COMMON,
        method=_NEW_WEARER,
    )
    if len(differences) < LEAST_FOR_A_NEW_WEARER:
        reason = f"{len(differences)} wore both, and at least {LEAST_FOR_A_NEW_WEARER} are needed"
        return figure.model_copy(update={"not_scored": reason})
    if max(differences) - min(differences) <= _ALIKE:
        return figure.model_copy(update={"not_scored": "the ratio was the same on all wearers"})
    value, low, high = better_for_a_new_wearer(differences, COVERAGE)
    working = Working(method=_NEW_WEARER, inputs=logs)
    interval = _interval(low, high, _COVERS_NEW, working)
    return figure.model_copy(update={"value": value, "interval": interval, "working": working})


def on_others(sides: Sides, who: Wearers, first: Worn, second: Worn) -> FactorDifference:
    """Return the difference on wearers of whom none wore both."""
    ours, theirs = _factors("a", sides.first, first), _factors("b", sides.second, second)
    values = [item.value for item in ours], [item.value for item in theirs]
    if any(math.log(max(each) / min(each)) <= _ALIKE for each in values):
        return not_stated(
            sides, who, "all wearers of one of the two had the same fit factor, so that no scatter is seen"
        )
    ratio, low, high, chance = unpaired_ratio(*values, COVERAGE)
    working = Working(method=UNPAIRED, inputs=(*ours, *theirs))
    wearers = len(ours) + len(theirs)
    return FactorDifference(
        people=People.OTHER_WEARERS,
        wearers=who.common,
        first_only=who.first_only,
        second_only=who.second_only,
        ratio=Figure(
            key=sides.key,
            name=sides.name,
            value=ratio,
            unit="1",
            interval=_interval(low, high, _COVERS_OTHERS, working),
            sample_size=wearers,
            sample_of=_OF_ONE_ONLY,
            method=UNPAIRED,
            working=working,
        ),
        chance=Figure(
            key=f"{sides.key}.chance",
            name="probability of geometric means as far apart by chance alone",
            value=chance,
            unit="1",
            no_interval=_NO_INTERVAL,
            sample_size=wearers,
            sample_of=_OF_ONE_ONLY,
            method=UNPAIRED,
            working=working,
        ),
    )


def _factors(symbol: str, words: str, worn: Worn) -> list[Input]:
    """Return the fit factor of each wearer, in the order of their letters."""
    found = []
    for number, (wearer, sessions) in enumerate(worn.items(), start=1):
        inputs = tuple(
            Input(
                symbol=rf"\mathrm{{FF}}_{{{place}}}",
                meaning=f"overall fit factor, donning {session.donning}",
                value=session.overall.value,
                unit="1",
                where=f"{session.record}: {session.overall.key}",
            )
            for place, session in enumerate(sessions, start=1)
            if session.overall.value is not None
        )
        found.append(
            Input(
                symbol=f"{symbol}_{{{number}}}",
                meaning=f"fit factor of wearer {wearer} {words}",
                value=geometric_mean([item.value for item in inputs]),
                unit="1",
                where=f"{len(inputs)} counted session{'s' if len(inputs) > 1 else ''}",
                working=Working(method=_BY_WEARER, inputs=inputs),
            )
        )
    return found
