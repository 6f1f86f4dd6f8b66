"""What the fit sessions of a device say together: who wore it, and which sessions stand beside one another."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.device_test import DeviceTest
from generator.model.fit_result import FitSummary
from tests.scoring.builders import (
    a_catalogue,
    a_device,
    a_session,
    a_test,
    readings,
    score_all,
)


def summary(*tests: DeviceTest, **parts: Any) -> FitSummary:
    found = score_all(a_catalogue(*tests, **parts)).devices["device"].topics["fit"]
    assert isinstance(found, FitSummary)
    return found


def test_a_device_nobody_wore() -> None:
    found = summary()
    assert [finding.rule for finding in found.findings] == ["no-wearer"]
    assert (found.completed, found.lowest, found.highest, found.groups) == (0, None, None, ())


def test_one_wearer_once() -> None:
    found = summary(a_test([a_session(readings("30 /cm3", "30 /cm3", "30 /cm3"))]))
    assert [finding.rule for finding in found.findings] == ["one-wearer", "one-donning"]
    assert (found.wearers, found.donnings, found.completed) == (("A",), 1, 1)


def test_two_wearers_over_two_records() -> None:
    rows = readings("30 /cm3", "30 /cm3", "30 /cm3")
    first = a_test([a_session(rows), a_session(rows, id="pm", donning=2)])
    better = readings("3 /cm3", "3 /cm3", "3 /cm3")
    second = a_test([a_session(better, wearer="dunlin")], id="later")
    found = summary(first, second)
    assert found.findings == ()
    assert (found.wearers, found.donnings, found.completed) == (("A", "B"), 3, 3)
    assert (found.lowest_record, found.highest_record) == ("test", "later")
    assert found.lowest is not None
    assert found.highest is not None
    # source: 3000 / 30 and 3000 / 3 by arithmetic
    assert found.lowest.value == pytest.approx(100, rel=1e-12)
    assert found.highest.value == pytest.approx(1000, rel=1e-12)
    (group,) = found.groups
    assert (group.configuration, group.counter) == ("as_supplied", "condensation_particle_counter")


def test_blower_states_and_modifications_stand_apart() -> None:
    rows = readings("30 /cm3", "30 /cm3", "30 /cm3")
    hood = a_device("loose_powered_hood")
    first = a_test([a_session(rows, blower="high"), a_session(rows, id="low", blower="low")])
    modified = {"state": "modified", "description": "taped seam", "changes": ["tape"]}
    later = {"received": "2025-05-01", "performed": "2025-06-02", "issued": "2025-07-01"}
    second = a_test([a_session(rows, blower="high")], id="later", configuration=modified, dates=later)
    groups = summary(first, second, device=hood).groups
    assert [(group.configuration, group.blower) for group in groups] == [
        ("as_supplied", "high"),
        ("as_supplied", "low"),
        ("modified: taped seam", "high"),
    ]


def test_sessions_without_a_factor_make_no_group() -> None:
    found = summary(a_test([a_session(readings("30 /cm3", "30 /cm3", "30 /cm3", ambient="0 /cm3"))]))
    assert (found.completed, found.lowest, found.groups) == (1, None, ())
