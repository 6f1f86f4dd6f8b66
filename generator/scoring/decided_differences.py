"""Whether differences that stand together are told apart: each probability is adjusted for how many there are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from generator.model.difference_result import Decision, FactorDifference
from generator.model.result import Figure, Input, Working
from generator.scoring.differences import adjusted_probabilities, told_apart

LEVEL = 0.05
"""The most that an adjusted probability may be where two are told apart."""
_ADJUSTED = "adjusted-probabilities"
_TOLD_APART = "told-apart"

Stated = TypeVar("Stated", bound=FactorDifference)


def decided_together(differences: Sequence[Stated]) -> tuple[Stated, ...]:
    """Return the differences, in their order, with what follows from all of them together.

    Those that are not stated, or whose probability is not known, neither count nor get a decision.
    """
    chances = {
        place: found.chance.value
        for place, found in enumerate(differences)
        if found.chance is not None and found.chance.value is not None
    }
    if not chances:
        return tuple(differences)
    inputs = tuple(
        Input(
            symbol="P_{(j)}",
            meaning=f"probability by chance: {differences[place].ratio.name}",
            value=chance,
            unit="1",
            where=f"{differences[place].ratio.key}.chance",
        )
        for place, chance in chances.items()
    )
    working = Working(method=_ADJUSTED, inputs=inputs)
    adjusted = dict(zip(chances, adjusted_probabilities(list(chances.values())), strict=True))
    return tuple(
        _decided(found, adjusted[place], working) if place in adjusted else found
        for place, found in enumerate(differences)
    )


def _decided(found: Stated, chance: float, working: Working) -> Stated:
    figure = Figure(
        key=f"{found.ratio.key}.adjusted",
        name="the same probability, adjusted for the number of differences that stand together",
        value=chance,
        unit="1",
        no_interval="the probability that a test gives has no interval",
        sample_size=len(working.inputs),
        sample_of="differences that stand together",
        method=_ADJUSTED,
        working=working,
    )
    return found.model_copy(update={"adjusted_chance": figure, "decision": _decision(found.ratio, figure, chance)})


def _decision(ratio: Figure, figure: Figure, chance: float) -> Decision:
    interval = ratio.interval
    assert interval is not None
    assert interval.low is not None
    assert interval.high is not None
    inputs = (
        Input(symbol=r"R_{\mathrm{low}}", meaning="lower limit", value=interval.low, unit="1", where=ratio.key),
        Input(symbol=r"R_{\mathrm{high}}", meaning="upper limit", value=interval.high, unit="1", where=ratio.key),
        Input(symbol=r"\tilde{P}", meaning="adjusted probability", value=chance, unit="1", where=figure.key),
        Input(
            symbol=r"\alpha", meaning="the most that it may be", value=LEVEL, unit="1", where="rule of this catalogue"
        ),
    )
    return Decision(
        apart=told_apart(interval.low, interval.high, chance, LEVEL),
        level=LEVEL,
        method=_TOLD_APART,
        working=Working(method=_TOLD_APART, inputs=inputs),
    )
