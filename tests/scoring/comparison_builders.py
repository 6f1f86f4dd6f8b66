"""Catalogues of several devices for tests of comparisons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from generator.model.catalogue import Catalogue
from generator.model.comparison import Comparison
from generator.model.comparison_result import ComparisonResult, Difference
from generator.model.device import Device
from generator.model.device_test import DeviceTest
from tests.scoring.builders import Data, a_catalogue, a_device, a_session, a_test, readings, score_all

WEARERS = ("dunlin", "plover", "sedge", "wren")
"""In the order of their letters: A, B, C, D."""


def inside(concentration: str) -> list[Data]:
    """Return three exercises with 3000 /cm3 outside and the same inside: 300 /cm3 gives a factor of 10."""
    return readings(concentration, concentration, concentration)


def worn(device: str, sessions: Sequence[Data], **changes: Any) -> DeviceTest:
    return a_test(sessions, id=f"{device}-test", device=device, **changes)


def one_each(*concentrations: str, **changes: Any) -> list[Data]:
    """Return a session of each wearer in turn, with the concentration that was inside."""
    return [
        a_session(inside(concentration), id=f"s{number}", wearer=WEARERS[number], **changes)
        for number, concentration in enumerate(concentrations)
    ]


def several(
    tests: Sequence[DeviceTest],
    devices: dict[str, Data],
    kind: str = "filtering_facepiece",
    comparisons: Sequence[Comparison] = (),
    base: Catalogue | None = None,
) -> Catalogue:
    """Return a catalogue of these devices, with what is said of each."""
    return replace(
        base or a_catalogue(*tests),
        devices={name: _device(name, said, kind) for name, said in devices.items()},
        comparisons={comparison.id: comparison for comparison in comparisons},
    )


def _device(name: str, said: Data, kind: str) -> Device:
    changes = {"id": name, "name": name.capitalize()} | {key: value for key, value in said.items() if key != "kind"}
    return a_device(said.get("kind", kind), **changes)


def a_comparison(*devices: str, **changes: Any) -> Comparison:
    said: Data = {"id": "own", "version": "1", "title": "Own", "question": "Which?", "devices": devices}
    return Comparison.model_validate(said | changes)


def results(catalogue: Catalogue) -> dict[str, ComparisonResult]:
    return score_all(catalogue).comparisons


def the_difference(*tests: DeviceTest, kind: str = "filtering_facepiece") -> Difference:
    """Return the difference between the two devices `first` and `second`."""
    catalogue = several(tests, {"first": {}, "second": {}}, kind, [a_comparison("first", "second")])
    (difference,) = results(catalogue)["own"].differences
    return difference
