"""Mass and money: directions, limits, and what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import OutsideRange
from generator.scoring.carried_mass import share_on_head, total_mass
from generator.scoring.running_cost import cost_of_an_hour

MASSES = st.lists(st.floats(0.1, 1e5), min_size=1, max_size=6)
AMOUNTS = st.floats(0, 1e6)
HOURS = st.floats(0.01, 1e6)


@given(MASSES, st.floats(0.1, 1e5))
def test_another_part_never_makes_it_lighter(masses: list[float], more: float) -> None:
    assert total_mass([*masses, more]) > total_mass(masses) >= max(masses)


@given(MASSES, MASSES)
def test_a_share_lies_between_none_and_all(head: list[float], elsewhere: list[float]) -> None:
    total = total_mass([*head, *elsewhere])
    assert 0 < share_on_head(total_mass(head), total) <= 100
    # source: limits of the definition
    assert share_on_head(total, total) == 100
    assert share_on_head(0, total) == 0


@given(AMOUNTS, AMOUNTS, HOURS, HOURS, AMOUNTS, HOURS)
def test_what_costs_more_or_lasts_less_never_makes_an_hour_cheaper(
    price: float, more: float, hours: float, longer: float, part: float, lasts: float
) -> None:
    cost = cost_of_an_hour(price, hours, [part], [lasts])
    assert cost_of_an_hour(price + more, hours, [part], [lasts]) >= cost
    assert cost_of_an_hour(price, hours, [part + more], [lasts]) >= cost
    assert cost_of_an_hour(price, hours + longer, [part], [lasts]) <= cost
    assert cost_of_an_hour(price, hours, [part], [lasts + longer]) <= cost
    assert cost_of_an_hour(None, hours, [part], [lasts]) <= cost


def test_out_of_range() -> None:
    with pytest.raises(OutsideRange, match="parts: found 0 values, expected at least 1"):
        total_mass([])
    with pytest.raises(OutsideRange, match=r"mass of a part \[g\]: found 0, expected a finite number above 0"):
        total_mass([12, 0])
    with pytest.raises(OutsideRange, match=r"mass of all parts \[g\]: found 0, expected a finite number above 0"):
        share_on_head(0, 0)
    with pytest.raises(OutsideRange, match=r"mass on the head \[g\]: found -1, expected a finite number of 0 or more"):
        share_on_head(-1, 10)
    with pytest.raises(OutsideRange, match=r"mass elsewhere \[g\]: found -1, expected a finite number of 0 or more"):
        share_on_head(11, 10)
    with pytest.raises(OutsideRange, match="price of the device: found -1, expected a finite number of 0 or more"):
        cost_of_an_hour(-1, 10, [], [])
    with pytest.raises(OutsideRange, match=r"hours of use \[h\]: found 0, expected a finite number above 0"):
        cost_of_an_hour(1, 0, [], [])
    with pytest.raises(OutsideRange, match="prices of parts and how long they last: found 1, 0 values"):
        cost_of_an_hour(1, 10, [1], [])
    with pytest.raises(OutsideRange, match="price of a part: found -1, expected a finite number of 0 or more"):
        cost_of_an_hour(1, 10, [-1], [1])
    with pytest.raises(OutsideRange, match=r"how long a part lasts \[h\]: found 0, expected a finite number above 0"):
        cost_of_an_hour(1, 10, [1], [0])
