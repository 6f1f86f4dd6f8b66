"""What raises each caution about run times, and its nearest neighbour that does not.

The catalogue that is changed is a hood that was worn twice by each of two wearers and run down on one charge; its flow
falls by 10 L/min an hour from 200 and reaches 170 L/min, the requirement (42 CFR 84.175(b), 2020), after 180 min. The
limits of that, from a certificate of 2 % and lines 60 min apart, are 140.6 and 219.4 min.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.catalogue import Catalogue
from tests.reference.test_caution_conditions import Case, hood, raised
from tests.scoring.run_down_builders import FALLING, a_run_down, a_series

LONG = (*FALLING, 150.0)


def run_down(flows: Any = LONG, at: str | None = "120 min", **changes: Any) -> Catalogue:
    """Return the hood with a run-down; an alarm was heard two hours after its start."""
    alarms = [{"at": at, "what": "three beeps"}] if at is not None else []
    catalogue = hood(run_downs=[a_run_down(alarms=alarms, **changes)])
    log = a_series(flows)
    return replace(catalogue, series={log.file: log})


def task(duration: str) -> dict[str, Any]:
    return {"task": {"what": "one round", "duration": duration, "source": "the tester"}}


CASES: dict[str, Case] = {
    "alarm-after-flow-fell": Case(lambda: run_down(at="220 min"), lambda: run_down(at="219 min")),
    # 168 L/min to the end lies within the uncertainty of 3.3 L/min and need not have fallen below.
    "no-alarm-when-flow-fell": Case(
        lambda: run_down((200, 190, 180, 166), at=None), lambda: run_down((200, 190, 180, 168), at=None)
    ),
    "run-time-shorter-than-task": Case(lambda: run_down(**task("220 min")), lambda: run_down(**task("219 min"))),
}


def test_every_rule_about_run_times_has_a_case() -> None:
    told = {rule.when for rule in load_reference().caution_rules}
    assert set(CASES) <= told
    assert set(CASES) == {rule for rule in told if "alarm-" in rule or "run-time" in rule}


def test_the_catalogue_that_is_changed_raises_nothing() -> None:
    assert raised(run_down()) == set()


@pytest.mark.parametrize("rule", CASES)
def test_the_condition_raises_the_rule_and_nothing_beside_it(rule: str) -> None:
    assert raised(CASES[rule].raising()) == {rule} | CASES[rule].beside


@pytest.mark.parametrize("rule", CASES)
def test_what_is_nearest_to_the_condition_does_not_raise_it(rule: str) -> None:
    assert raised(CASES[rule].near()) == set()


@pytest.mark.parametrize(
    ("catalogue", "expected"),
    [
        # Stopped: whatever the last line read, the flow fell to nothing.
        (lambda: run_down((200, 190, 180), at=None, ended="blower_stopped"), {"no-alarm-when-flow-fell"}),
        (lambda: run_down((200, 190, 180), at=None), set()),
        # Never enough: an alarm is too late whenever it comes.
        (lambda: run_down((40, 39, 38), at="60 min"), {"alarm-after-flow-fell"}),
        (lambda: run_down((40, 39, 38), at=None), {"no-alarm-when-flow-fell"}),
        # A test that ended before a long task was over says nothing of it.
        (lambda: run_down((200, 190, 180), at=None, **task("5 h")), set()),
    ],
)
def test_other_cases(catalogue: Callable[[], Catalogue], expected: set[str]) -> None:
    assert raised(catalogue()) == expected
