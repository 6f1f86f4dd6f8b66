"""Donnings of several wearers as small catalogues: factors as an instrument gave them, or none counted inside."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from generator.model.device_test import DeviceTest
from generator.model.fit_result import FitGroup, FitSummary
from generator.model.wearers_result import OverWearers
from tests.scoring.builders import EXERCISES, Data, a_catalogue, a_session, a_test, readings, score_all

NOTHING_COUNTED = "nothing counted"
"""In place of a factor: no particle was counted inside, so that the factor is only known to be at least so much."""


def donned(
    factors: Mapping[str, Sequence[float | str]], names: Sequence[str] = EXERCISES, **changes: Any
) -> list[Data]:
    """Return a session for each factor of each wearer, whose overall factor it is."""
    return [
        a_session(
            readings(*((0 if factor == NOTHING_COUNTED else float(factor),) * len(names)), names=names),
            id=f"{wearer}{number}",
            wearer=wearer,
            donning=number,
            **changes,
        )
        for wearer, of_wearer in factors.items()
        for number, factor in enumerate(of_wearer, start=1)
    ]


def one_each(*factors: float | str) -> dict[str, list[float | str]]:
    """Return one donning of each of so many wearers."""
    return {f"w{number:02}": [factor] for number, factor in enumerate(factors)}


def groups_of(*tests: DeviceTest, **parts: Any) -> tuple[FitGroup, ...]:
    summary = score_all(a_catalogue(*tests, **parts)).devices["device"].topics["fit"]
    assert isinstance(summary, FitSummary)
    return summary.groups


def over(factors: Mapping[str, Sequence[float | str]], **parts: Any) -> OverWearers:
    """Return what these donnings say together."""
    (group,) = groups_of(a_test(donned(factors)), **parts)
    return group.over_wearers
