"""Panel rules on a device's donnings: only of their own protocol, aerosol and kind, only a whole panel."""

from __future__ import annotations

from typing import Any

import pytest

from generator.loading import load_reference
from generator.model.panel import PanelOutcome
from generator.model.reference import Protocol
from generator.model.wearers_result import PanelResult
from tests.scoring.builders import a_device, a_protocol, a_test
from tests.scoring.wearer_builders import NOTHING_COUNTED, donned, groups_of, one_each

RULES = load_reference().panels
CAPABILITY = "fit-capability-thirteen-of-twenty-five"
CHAMBER = "generated-aerosol-eight-exercises"
LEAKAGE = "five-exercises-inward-leakage"
FIVE = ("walking", "head-side-to-side", "head-up-and-down", "talking", "walking-again")


def chamber() -> Protocol:
    """Return a protocol with the id that the rule is bound to; its exercises do not matter here."""
    return a_protocol(id=CHAMBER)


def panels(
    factors: dict[str, list[float | str]],
    protocol: str = CHAMBER,
    names: tuple[str, ...] = ("standing", "talking", "bending"),
    kind: str = "filtering_facepiece",
    **changes: Any,
) -> dict[str, PanelResult]:
    test = a_test(donned(factors, names, protocol=protocol), **changes)
    (group,) = groups_of(test, device=a_device(kind), protocol=chamber())
    return {result.rule: result for result in group.over_wearers.panels}


@pytest.mark.parametrize(
    ("reaching", "outcome"),
    # source: ASTM F3407, at least 13 of 25 at 100 (secondary page)
    [(13, PanelOutcome.REACHED), (12, PanelOutcome.NOT_REACHED)],
)
def test_thirteen_of_twenty_five(reaching: int, outcome: PanelOutcome) -> None:
    found = panels(one_each(*[100.0] * reaching, *[99.0] * (25 - reaching)))
    assert list(found) == [CAPABILITY]
    assert found[CAPABILITY].outcome is outcome
    assert [(each.found, each.required) for each in found[CAPABILITY].counted] == [(reaching, 13)]


def test_a_panel_counts_the_first_donnings_alone() -> None:
    found = panels({f"w{number:02}": [99.0 if number < 13 else 100.0, 100.0] for number in range(25)})
    assert found[CAPABILITY].outcome is PanelOutcome.NOT_REACHED


def test_too_few_wearers_are_no_panel() -> None:
    found = panels(one_each(*[500.0] * 24))[CAPABILITY]
    assert (found.outcome, found.counted) == (PanelOutcome.NOT_COMPLETE, ())
    assert found.reason == "the rule asks for 25 wearers, and there were 24"


def test_a_bound_below_the_limit_leaves_a_rule_open() -> None:
    found = panels(one_each(*[100.0] * 12, *[99.0] * 12, NOTHING_COUNTED))
    assert found[CAPABILITY].outcome is PanelOutcome.REACHED
    lower = panels(one_each(*[100.0] * 11, *[99.0] * 13, NOTHING_COUNTED))[CAPABILITY]
    assert lower.outcome is PanelOutcome.NOT_COMPLETE
    assert lower.reason.startswith("some results are only known as “at least”")


@pytest.mark.parametrize(
    ("kind", "changes", "reason"),
    [
        ("loose_powered_hood", {}, "the rule is for another kind of device"),
        (
            "filtering_facepiece",
            {"configuration": {"state": "modified", "description": "taped", "changes": ["tape"]}},
            "the device was modified, and the rule is for devices as their maker supplies them",
        ),
    ],
)
def test_another_device_is_not_of_the_rule(kind: str, changes: dict[str, Any], reason: str) -> None:
    found = panels(one_each(*[500.0] * 25), kind=kind, **changes)[CAPABILITY]
    assert (found.outcome, found.reason) == (PanelOutcome.NOT_ITS_METHOD, reason)


def test_inward_leakage_counts_exercises_and_means() -> None:
    # source: EN 149:2001+A1:2009, class 2: 46 of 50 exercises at most 11 %, 8 of 10 means at most 8 % (secondary page)
    good, poor = 100 / 7.0, 100 / 11.5
    found = panels(one_each(*[good] * 10), LEAKAGE, FIVE, aerosol="salt")
    assert {rule: result.outcome for rule, result in found.items()} == {
        "total-inward-leakage-class-1": PanelOutcome.REACHED,
        "total-inward-leakage-class-2": PanelOutcome.REACHED,
        "total-inward-leakage-class-3": PanelOutcome.NOT_REACHED,
    }
    worse = panels(one_each(*[good] * 9, poor), LEAKAGE, FIVE, aerosol="salt")["total-inward-leakage-class-2"]
    assert worse.outcome is PanelOutcome.NOT_REACHED
    assert [(each.found, each.required) for each in worse.counted] == [(45, 46), (9, 8)]


@pytest.mark.parametrize("aerosol", ["room_air", "oil"])
def test_leakage_of_another_aerosol_is_of_no_rule(aerosol: str) -> None:
    assert panels(one_each(*[90.0] * 10), LEAKAGE, FIVE, aerosol=aerosol) == {}


def test_other_protocols_are_of_no_rule() -> None:
    (group,) = groups_of(a_test(donned(one_each(*[90.0] * 25)), aerosol="salt"))
    assert group.over_wearers.panels == ()


def test_a_rule_without_a_protocol_says_why_it_is_never_applied() -> None:
    for rule in RULES.values():
        assert (rule.protocol is None) == (rule.not_recorded is not None)
