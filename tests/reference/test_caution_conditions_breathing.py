"""What raises each caution about breathing demand, and its nearest neighbour that does not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.catalogue import Catalogue
from tests.scoring.builders import a_catalogue, a_device, a_run, a_test, score_all

OURS = {rule.when for rule in load_reference().caution_rules if rule.when.startswith("over-breathed")}


def delivering(flow: float, kind: str = "loose_powered_hood", **device: Any) -> Catalogue:
    """Return a powered device whose supply was read four times, close together."""
    test = a_test(flow=[a_run([flow - 0.01, flow + 0.01, flow - 0.01, flow + 0.01])])
    bare = a_catalogue(test, device=a_device(kind, **device))
    return replace(bare, work_levels=load_reference().work_levels)


def raised(catalogue: Catalogue) -> set[str]:
    return {finding.rule for finding in score_all(catalogue).records["test"].all_findings} & OURS


@dataclass(frozen=True)
class Case:
    """A catalogue that raises a rule, and the nearest that does not."""

    raising: Callable[[], Catalogue]
    near: Callable[[], Catalogue]


CASES = {
    # NIOSH working draft, 15 September 1992, page 83 (seen): breaths at rest peak at 31 L/min, at light work at 59.
    "over-breathed-at-rest": Case(lambda: delivering(30.9), lambda: delivering(31.1)),
    "over-breathed-at-light-work": Case(lambda: delivering(58.9), lambda: delivering(59.1)),
    # Berndtsson 2004, abstract (seen): 266 L/min while reading aloud.
    "over-breathed-when-speaking": Case(lambda: delivering(265.9), lambda: delivering(266.1)),
}


def test_every_rule_of_the_topic_has_a_case() -> None:
    assert set(CASES) == OURS


@pytest.mark.parametrize("rule", CASES)
def test_the_condition_raises_the_rule_and_none_beside_it(rule: str) -> None:
    assert raised(CASES[rule].raising()) == {rule}


@pytest.mark.parametrize("rule", CASES)
def test_what_is_nearest_to_the_condition_does_not_raise_it(rule: str) -> None:
    assert rule not in raised(CASES[rule].near())


@pytest.mark.parametrize("rule", CASES)
@pytest.mark.parametrize(
    "device", [{"kind": "tight_powered_full_facepiece"}, {"breath_responsive": True}], ids=["tight", "responsive"]
)
def test_none_is_raised_for_devices_that_the_index_is_not_for(rule: str, device: dict[str, Any]) -> None:
    flows = {"over-breathed-at-rest": 30.9, "over-breathed-at-light-work": 58.9, "over-breathed-when-speaking": 265.9}
    assert raised(delivering(flows[rule], **device)) == set()
