"""What was measured on a modified device says nothing of the device as supplied."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.breathing_result import BreathingSummary
from generator.model.flow_result import FlowSummary
from generator.model.gas_result import GasSummary
from tests.scoring.builders import NONE, Data, a_catalogue, a_device, a_run, a_test, score_all

CHANGED: Data = {"state": "modified", "description": "two filters", "changes": ["A second filter."]}
POWER: Data = {
    "source": "battery",
    "energy": NONE,
    "settings": ["low", "high"],
    "protective_settings": ["high"],
}
SUPPLIED = a_test(flow=[a_run([180.0, 181.0, 180.5])])
WORSE = a_test(
    id="changed",
    configuration=CHANGED,
    flow=[a_run([150.0, 150.5, 151.0]), a_run([120.0, 120.5, 121.0], id="low", setting="low")],
)


def topics(*tests: Any) -> dict[str, Any]:
    bare = a_catalogue(*tests, device=a_device("loose_powered_hood", power=POWER))
    catalogue = replace(bare, work_levels=load_reference().work_levels)
    return dict(score_all(catalogue).devices["device"].topics)


@pytest.mark.parametrize(
    ("tests", "record", "states", "runs"),
    [((SUPPLIED, WORSE), "test", [("high", 1)], 3), ((WORSE,), "changed", [("high", 1), ("low", 1)], 2)],
    ids=["as supplied where there is one", "modified where there is no other"],
)
def test_states_and_what_governs_are_as_supplied(
    tests: tuple[Any, ...], record: str, states: list[tuple[str, int]], runs: int
) -> None:
    found = topics(*tests)
    flow, breathing, gas = found["flow"], found["breathing"], found["gas"]
    assert isinstance(flow, FlowSummary)
    assert isinstance(breathing, BreathingSummary)
    assert isinstance(gas, GasSummary)
    assert (flow.runs, flow.governing_record) == (runs, record)
    measured = [state for state in flow.states if state.runs]
    assert [(state.setting, state.runs) for state in measured] == states
    assert {state.record for state in measured} == {record}
    assert breathing.governing_record == gas.worst_record == record
