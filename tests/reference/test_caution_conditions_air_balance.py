"""What raises each caution about a hood's air balance, and its nearest neighbour that does not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generator.model.catalogue import Catalogue
from tests.reference.test_caution_conditions import FLOW, Case, hood, raised
from tests.scoring.air_builders import LOG, a_trace, an_exhaust, pressures


def exhausting(takes: float) -> Catalogue:
    """Return a hood whose exhaust takes so much; its supply is that of `FLOW`, 185 L/min on the mean."""
    return hood(exhaust=[an_exhaust([takes + each - 185.0 for each in FLOW])])


def traced(lowest: float, setting: str = "high") -> Catalogue:
    """Return a hood in which a pressure was read three times, once as low as that."""
    catalogue = hood(pressure_traces=[a_trace(setting)])
    return replace(catalogue, series={LOG: pressures([2.0, lowest, 3.0])})


CASES: dict[str, Case] = {
    # By the meter's certificate each flow is known to 2 % (k = 2), so that the net flow is known to about 5.2 L/min.
    "exhaust-exceeds-supply": Case(lambda: exhausting(190.3), lambda: exhausting(190.2)),
    "pressure-below-room": Case(lambda: traced(-0.1), lambda: traced(0.0)),
}


def test_the_catalogues_that_are_changed_raise_nothing() -> None:
    assert raised(exhausting(100.0)) == set()
    assert raised(traced(1.0)) == set()


@pytest.mark.parametrize("rule", CASES)
def test_the_condition_raises_the_rule_and_nothing_beside_it(rule: str) -> None:
    assert raised(CASES[rule].raising()) == {rule} | CASES[rule].beside


@pytest.mark.parametrize("rule", CASES)
def test_what_is_nearest_to_the_condition_does_not_raise_it(rule: str) -> None:
    assert rule not in raised(CASES[rule].near())


def test_with_the_blower_off_a_pressure_below_the_room_raises_nothing() -> None:
    assert raised(traced(-20.0, "off")) == set()
