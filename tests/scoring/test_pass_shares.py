"""How many wearers reached a pass level at the first donning that counts, and what that leaves open."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.model.wearers_result import PassShare
from tests.presenting.small_sites import STANDARD as NAMES
from tests.scoring.builders import a_counter, a_device, a_test
from tests.scoring.test_wearers import ends, value
from tests.scoring.wearer_builders import NOTHING_COUNTED, donned, groups_of, one_each

STANDARD = "eight-standard-exercises"


def passes(
    factors: dict[str, list[float | str]], kind: str = "filtering_facepiece", **changes: Any
) -> PassShare | None:
    """Return the share of a facepiece worn by the protocol that a pass level is bound to."""
    test = a_test(donned(factors, NAMES, protocol=STANDARD), **changes)
    (group,) = groups_of(test, device=a_device(kind))
    return group.over_wearers.passes


def known(found: PassShare | None) -> PassShare:
    assert found is not None
    return found


def test_some_reach_it() -> None:
    found = known(passes(one_each(*[150.0] * 7, *[60.0] * 13)))
    assert (found.wearers, found.reached, found.undecided, found.limit) == (20, 7, 0, 100)
    assert value(found.share) == 0.35
    # source: EnvStats help page ebinom: 7 of 20, exact, and Wilson without correction (seen)
    assert ends(found.share) == pytest.approx((0.1539092, 0.5921885), rel=1e-6)
    assert ends(found.by_score) == pytest.approx((0.1811918, 0.5671457), rel=1e-6)
    assert found.without_failures is None


def test_all_reach_it() -> None:
    found = known(passes(one_each(*[150.0] * 25)))
    # source: R 4.2.2: binom.test(25, 25)
    assert ends(found.share) == pytest.approx((0.8628148284693, 1.0), rel=1e-9)
    # source: 0.05^(1/25), by scipy 1.17.1: stats.beta.ppf(0.05, 25, 1)
    assert value(found.without_failures) == pytest.approx(0.8870722, rel=1e-6)


def test_only_the_first_donning_that_counts_is_counted() -> None:
    assert known(passes({"a": [60.0, 150.0], "b": [150.0, 60.0], "c": [150.0]})).reached == 2
    rule = {"choice": "without_first_of_each_wearer", "stated": "2025-05-01", "why": "The first donning is practice."}
    assert known(passes({"a": [60.0, 150.0], "b": [150.0, 60.0]}, session_rule=rule)).reached == 1


def test_a_result_that_is_only_a_bound_below_the_level_leaves_it_open() -> None:
    # No particle in 0.06 cm3 is a bound below 100 at 3000 /cm3 outside.
    slow = a_counter(counter={"counted_flow": "1 cm3/min"})
    test = a_test(
        donned(one_each(150.0, 150.0, 150.0, NOTHING_COUNTED), NAMES, protocol=STANDARD, in_mask_time="0.5 s")
    )
    (group,) = groups_of(test, device=a_device(), counter=slow)
    found = known(group.over_wearers.passes)
    assert group.over_wearers.donnings[-1].least < 100
    assert (found.wearers, found.reached, found.undecided) == (4, 3, 1)
    # source: R 4.2.2: binom.test(3, 4), its lower limit; with the fourth counted the upper one is 1
    assert ends(found.share) == pytest.approx((0.1941204, 1.0), rel=1e-6)


def test_of_one_wearer_there_is_no_share() -> None:
    assert passes({"a": [150.0, 60.0]}) is None


@pytest.mark.parametrize("kind", ["loose_powered_hood", "surgical_mask"])
def test_without_a_level_there_is_no_share(kind: str) -> None:
    assert passes(one_each(150.0, 90.0), kind=kind) is None


def test_another_protocol_has_no_share() -> None:
    (group,) = groups_of(a_test(donned(one_each(150.0, 90.0))))
    assert group.over_wearers.passes is None


@settings(max_examples=20, deadline=None)
@given(factors=st.lists(st.floats(min_value=5, max_value=900), min_size=2, max_size=9), fails=st.floats(1, 99.9))
def test_a_failing_wearer_never_raises_a_limit(factors: Sequence[float], fails: float) -> None:
    before, after = known(passes(one_each(*factors))), known(passes(one_each(*factors, fails)))
    assert value(after.share) <= value(before.share)
    for one, other in ((after.share, before.share), (after.by_score, before.by_score)):
        assert ends(one)[0] <= ends(other)[0]
        assert ends(one)[1] <= ends(other)[1]
    assert after.without_failures is None
