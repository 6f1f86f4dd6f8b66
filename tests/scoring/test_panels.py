"""Panel rules at their edges: only their own method, only a whole panel, both conditions where there are two."""

from __future__ import annotations

import math

import pytest

from generator.loading import load_reference
from generator.model.panel import PanelOutcome
from generator.scoring.panels import Panel, number_reaching, panel_outcome

RULES = load_reference().panels
CAPABILITY = RULES["fit-capability-thirteen-of-twenty-five"]
BENCHMARK = RULES["research-benchmark-more-than-three-quarters"]
CLASS_2 = RULES["total-inward-leakage-class-2"]


def one_each(*factors: float) -> Panel:
    return {f"W{number}": [[factor]] for number, factor in enumerate(factors)}


@pytest.mark.parametrize(
    ("reaching", "outcome"),
    [
        # source: ASTM F3407, at least 13 of 25 at 100 (secondary page)
        (25, PanelOutcome.REACHED),
        (13, PanelOutcome.REACHED),
        (12, PanelOutcome.NOT_REACHED),
        (0, PanelOutcome.NOT_REACHED),
    ],
)
def test_thirteen_of_twenty_five(reaching: int, outcome: PanelOutcome) -> None:
    panel = one_each(*[100.0] * reaching, *[math.nextafter(100, 0)] * (25 - reaching))
    assert panel_outcome(CAPABILITY, CAPABILITY.method, panel) is outcome


@pytest.mark.parametrize("wearers", [0, 13, 24, 26])
def test_a_panel_of_another_size_is_not_complete(wearers: int) -> None:
    panel = one_each(*[500.0] * wearers)
    assert panel_outcome(CAPABILITY, CAPABILITY.method, panel) is PanelOutcome.NOT_COMPLETE


@pytest.mark.parametrize("last", [[], [[100.0], [100.0]], [[100.0, 100.0]], [[]], [[math.nan]], [[math.inf]]], ids=repr)
def test_a_wearer_with_results_missing_or_too_many_leaves_it_not_complete(last: list[list[float]]) -> None:
    panel = {**one_each(*[500.0] * 24), "last": last}
    assert panel_outcome(CAPABILITY, CAPABILITY.method, panel) is PanelOutcome.NOT_COMPLETE


@pytest.mark.parametrize("rule", RULES.values(), ids=lambda rule: rule.id)
def test_results_of_another_method_are_never_judged(rule: object) -> None:
    for other in (CAPABILITY, BENCHMARK, CLASS_2):
        if other is not rule:
            assert panel_outcome(other, "eight-standard-exercises", {}) is PanelOutcome.NOT_ITS_METHOD


@pytest.mark.parametrize(("reaching", "outcome"), [(19, PanelOutcome.REACHED), (18, PanelOutcome.NOT_REACHED)])
def test_more_than_three_quarters_on_the_better_of_two_donnings(reaching: int, outcome: PanelOutcome) -> None:
    # source: published panel study, above 75 % on at least one of two donnings at 500 (seen): 72 % is 18, 76 % is 19
    panel = {f"W{number}": [[20.0], [500.0 if number < reaching else 499.0]] for number in range(25)}
    assert panel_outcome(BENCHMARK, BENCHMARK.method, panel) is outcome


def leakages(bad_exercises: int, bad_wearers: int) -> Panel:
    """Return ten wearers with five exercises, so many of which are above 11 %, and so many wearers' means above 8 %."""
    panel = {}
    for wearer in range(10):
        here = min(bad_exercises, 1) if wearer >= bad_wearers else 0
        bad_exercises -= here
        usual = 10.0 if wearer < bad_wearers else 2.0
        panel[f"W{wearer}"] = [[12.0] * here + [usual] * (5 - here)]
    return panel


@pytest.mark.parametrize(
    ("bad_exercises", "bad_wearers", "outcome"),
    [
        # source: EN 149, class 2: 46 of 50 exercises at 11 % and 8 of 10 means at 8 % (secondary page); both must hold
        (0, 0, PanelOutcome.REACHED),
        (4, 2, PanelOutcome.REACHED),
        (5, 2, PanelOutcome.NOT_REACHED),
        (4, 3, PanelOutcome.NOT_REACHED),
        (5, 0, PanelOutcome.NOT_REACHED),
        (0, 3, PanelOutcome.NOT_REACHED),
    ],
)
def test_both_leakage_conditions_must_hold(bad_exercises: int, bad_wearers: int, outcome: PanelOutcome) -> None:
    panel = leakages(bad_exercises, bad_wearers)
    exercises, means = CLASS_2.conditions
    assert number_reaching(exercises, panel) == 50 - bad_exercises
    assert number_reaching(means, panel) == 10 - bad_wearers
    assert panel_outcome(CLASS_2, CLASS_2.method, panel) is outcome


def test_a_leakage_at_the_limit_counts_for_it() -> None:
    # source: EN 149: not greater than (secondary page)
    panel: Panel = {f"W{number}": [[8.0] * 5] for number in range(10)}
    assert panel_outcome(CLASS_2, CLASS_2.method, panel) is PanelOutcome.REACHED


@pytest.mark.parametrize(
    ("rule", "limits", "required"),
    [
        # source: EN 149:2001+A1:2009, total inward leakage of the three classes (secondary page)
        ("total-inward-leakage-class-1", (25, 22), (46, 8)),
        ("total-inward-leakage-class-2", (11, 8), (46, 8)),
        ("total-inward-leakage-class-3", (5, 2), (46, 8)),
    ],
)
def test_limits_of_the_classes(rule: str, limits: tuple[float, float], required: tuple[int, int]) -> None:
    assert tuple(condition.limit for condition in RULES[rule].conditions) == limits
    assert tuple(condition.required for condition in RULES[rule].conditions) == required
