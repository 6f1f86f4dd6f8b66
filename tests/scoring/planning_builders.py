"""Plans of small catalogues for tests: the statements and sessions of one device."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.model.base import Day
from generator.model.catalogue import Catalogue
from generator.model.device_test import DeviceTest
from generator.model.plan_result import Plan, PlannedSession, PlannedStatement
from generator.model.published import published
from generator.scoring.catalogue import score_catalogue
from generator.scoring.planning.plan import plan_of
from generator.scoring.planning.reviewed import Reviewed
from tests.scoring.builders import Data, a_catalogue, a_device, a_run, a_test

HOOD = "loose_powered_hood"
HALF = "tight_powered_half_facepiece"
ENOUGH = (184.0, 186.0, 185.0, 185.0, 184.0, 186.0, 185.0, 185.0)
"""Mean 185 L/min, wholly above the 170 L/min that hoods are held to."""
ASTRIDE = (169.0, 172.0, 170.0, 171.0, 169.0, 172.0, 170.0, 171.0)
"""Mean 170.5 L/min, whose 95 % interval holds 170."""
STATES = [(battery, state) for battery in ("fresh", "at_alarm") for state in ("new", "loaded")]


def plan_in(catalogue: Catalogue, device: str = "device", day: Day | None = None) -> Plan:
    out = published(catalogue)
    return plan_of(Reviewed(out.devices[device], out, score_catalogue(out)), day)


def a_plan(*tests: DeviceTest, kind: str = HOOD, device: Data | None = None, **parts: Any) -> Plan:
    """Return the plan of the one device of a catalogue."""
    return plan_in(a_catalogue(*tests, device=a_device(kind, **(device or {})), **parts))


def statement(plan: Plan, name: str) -> PlannedStatement:
    return next(each for each in plan.statements if each.id == name)


def session(plan: Plan, name: str) -> PlannedSession:
    return next(each for each in plan.sessions if each.id == name)


def order(plan: Plan) -> list[str]:
    return [each.id for each in plan.sessions]


def runs(values: Sequence[float] = ENOUGH, settings: Sequence[str] = ("low", "high"), **changes: Any) -> list[Data]:
    """Return a run in every state of battery and filter at some settings."""
    return [
        a_run(values, id=f"{setting}-{battery}-{state}", setting=setting, battery=battery, filter=state, **changes)
        for setting in settings
        for battery, state in STATES
    ]


def flow_test(values: Sequence[float] = ENOUGH, **changes: Any) -> DeviceTest:
    """Return a record with a run in every state."""
    return a_test([], runs(values), **changes)
