"""What raises each caution about filters, and its nearest neighbour that does not."""

from __future__ import annotations

from typing import Any

import pytest

from generator.model.catalogue import Catalogue
from tests.reference.test_caution_conditions import Case, known, raised
from tests.scoring.builders import NOTHING_COUNTED, Data, a_catalogue, a_device, a_session, a_test, readings

OF_ROOM: Data = {"not_recorded": "the room's particles of every size"}


def breathing_in(pressure: str, uncertainty: str = "3 Pa") -> Data:
    return {
        "id": "in",
        "of": "inhalation",
        "filter": "new",
        "what": "the whole facepiece on a head form",
        "points": [{"flow": "85 L/min", "pressure": pressure}],
        "uncertainty": uncertainty,
    }


def a_penetration(penetration: str, uncertainty: str, **changes: Any) -> Data:
    return {
        "id": "worn",
        "filter": "new",
        "flow": "30 L/min",
        "filters_at_once": 1,
        "aerosol": "room_air",
        "diameter": OF_ROOM,
        "charge": "as_in_room",
        "breathing": True,
        "penetration": penetration,
        "uncertainty": uncertainty,
        "where": "on a plate",
        "sessions": ["s0", "s1", "s2", "s3"],
    } | changes


def half_facepiece(**parts: Any) -> Catalogue:
    """Return a half facepiece that each of two wearers put on twice, with 1000 particles inside in each exercise."""
    sessions = [
        a_session(readings(1000, 1010, 990), id=f"s{number}", wearer=name, donning=donning, zero_check=NOTHING_COUNTED)
        for number, (name, donning) in enumerate([("wren", 1), ("wren", 2), ("plover", 1), ("plover", 2)])
    ]
    return known(a_catalogue(a_test(sessions, **parts), device=a_device("elastomeric_half_facepiece")))


CASES: dict[str, Case] = {
    # 42 CFR 84.172(c), 2020: 35 mm of water, or 343.2 Pa, for breathing in without a blower; the interval decides.
    "resistance-above-limit": Case(
        lambda: half_facepiece(pressure_drops=[breathing_in("346.5 Pa")]),
        lambda: half_facepiece(pressure_drops=[breathing_in("346.0 Pa")]),
    ),
    # 1000 of 200 000 particles came in, 0.5 %: factors of 200 are counted to within 4 %. A filter that lets 0.6 to
    # 0.8 % through leaves 167 at most; one that lets 0.5 to 0.7 % through leaves 200.
    "fit-factor-above-filter": Case(
        lambda: half_facepiece(filter_test={"penetrations": [a_penetration("0.7 %", "0.1 %")]}),
        lambda: half_facepiece(filter_test={"penetrations": [a_penetration("0.6 %", "0.1 %")]}),
    ),
}


def test_the_catalogue_that_is_changed_raises_nothing() -> None:
    assert raised(half_facepiece()) == set()


@pytest.mark.parametrize("rule", CASES)
def test_the_condition_raises_the_rule_and_nothing_beside_it(rule: str) -> None:
    assert raised(CASES[rule].raising()) == {rule} | CASES[rule].beside


@pytest.mark.parametrize("rule", CASES)
def test_what_is_nearest_to_the_condition_does_not_raise_it(rule: str) -> None:
    assert rule not in raised(CASES[rule].near())
