"""Comparisons: which are made, and when a difference between two devices is stated."""

from __future__ import annotations

import math

import pytest
from scipy import stats

from generator.model.air import Aerosol
from generator.model.comparison_result import ComparedDevice, FitConditions
from generator.model.device_test import DeviceTest
from generator.model.difference_result import Apart, People
from generator.model.fit_result import Basis
from generator.model.result import Relation
from generator.scoring.device_differences import device_difference
from tests.presenting.small_sites import STANDARD
from tests.scoring.builders import Data, a_protocol, a_session, readings
from tests.scoring.comparison_builders import (
    WEARERS,
    a_comparison,
    inside,
    one_each,
    results,
    several,
    the_difference,
    worn,
)

FIRST = worn("first", one_each("30 /cm3", "10 /cm3", "20 /cm3"))
"""Factors 100, 300 and 150 of wearers A, B and C, by definition: 3000 over what is inside."""
WITHDRAWN: Data = {"withdrawn": {"date": "2025-11-01", "reason": "It was recalled."}}


def test_the_ratio_is_that_of_the_same_wearers_whatever_their_order() -> None:
    # Factors of the second: 10, 15 and 30, and one of wearer D, who did not wear the first.
    sessions = one_each("300 /cm3", "200 /cm3", "100 /cm3", "3 /cm3")[::-1]
    difference = the_difference(FIRST, worn("second", sessions))
    logs = [math.log(100 / 10), math.log(300 / 15), math.log(150 / 30)]
    # source: scipy 1.17.1, stats.ttest_1samp(logs, 0).confidence_interval(0.95), and 10 as the third root of 1000
    limits = stats.ttest_1samp(logs, 0).confidence_interval(0.95)
    ratio = difference.ratio
    assert difference.wearers == ("A", "B", "C")
    assert ratio.key == "difference-first-second"
    assert ratio.value == pytest.approx(10, rel=1e-9)
    assert ratio.interval is not None
    assert (ratio.interval.low, ratio.interval.high) == pytest.approx((math.exp(limits.low), math.exp(limits.high)))
    assert (ratio.sample_size, ratio.sample_of, ratio.method) == (3, "wearers in common", "paired-log-ratio")


def test_several_donnings_of_a_wearer_count_as_their_geometric_mean() -> None:
    second = one_each("300 /cm3", "300 /cm3", "300 /cm3")
    again = a_session(inside("3 /cm3"), id="again", wearer=WEARERS[0], donning=2)
    difference = the_difference(FIRST, worn("second", [*second, again]))
    assert difference.ratio.working is not None
    # source: definition; wearer A had 10 and 1000 with the second, whose geometric mean is 100
    values = [item.value for item in difference.ratio.working.inputs]
    assert values == pytest.approx([100, 100, 300, 10, 150, 10])
    by_wearer = difference.ratio.working.inputs[1].working
    assert by_wearer is not None
    assert [item.where for item in by_wearer.inputs] == [
        "second-test: fit.s0.overall",
        "second-test: fit.again.overall",
    ]


def _given() -> list[Data]:
    return [a_session(readings(10.0, 10.0, 10.0), id=f"s{n}", wearer=WEARERS[n]) for n in range(3)]


def _none_counted() -> list[Data]:
    return [*one_each("300 /cm3", "200 /cm3"), a_session(readings(0, 0, 0), id="zero", wearer=WEARERS[2])]


def _one_aborted() -> list[Data]:
    return [*one_each("300 /cm3", "200 /cm3"), a_session(id="x", wearer=WEARERS[2], outcome="aborted", reason="cough")]


def _standard() -> list[Data]:
    return [
        a_session(
            readings(*["300 /cm3"] * 8, names=STANDARD),
            id=f"s{n}",
            wearer=WEARERS[n],
            protocol="eight-standard-exercises",
        )
        for n in range(3)
    ]


def few(common: int, first_only: int, second_only: int) -> str:
    both, first, second = (str(number) if number else "nobody" for number in (common, first_only, second_only))
    return (
        f"too few wearers by the same exercises: {both} wore both, {first} only the one and {second} only the other; "
        "needed are 3 who wore both, or 3 others with each"
    )


NOT_WORN = "nobody wore one of the two as supplied in a test that stands"
MODIFIED = {"configuration": {"state": "modified", "description": "d", "changes": ["a strap"]}}


@pytest.mark.parametrize(
    ("second", "reason"),
    [
        (worn("second", one_each("300 /cm3", "200 /cm3")), few(2, 1, 0)),
        (worn("second", one_each("300 /cm3")), few(1, 2, 0)),
        (worn("second", [a_session(inside("9 /cm3"), wearer="wren")]), few(0, 3, 1)),
        (worn("second", _one_aborted()), few(2, 1, 0)),
        (worn("second", _given()), "the instrument gave factors without what they rest on"),
        (
            worn("second", _none_counted()),
            "no particle was counted inside in a session, so that its factor is known as “at least” only",
        ),
        (worn("second", _standard()), "never worn by the same exercises"),
        (worn("second", one_each("300 /cm3", "200 /cm3", "100 /cm3"), **MODIFIED), NOT_WORN),
        (worn("second", one_each("300 /cm3", "200 /cm3", "100 /cm3"), **WITHDRAWN), NOT_WORN),
    ],
    ids=["two", "one", "none", "aborted", "given", "at-least", "protocol", "modified", "record-withdrawn"],
)
def test_the_difference_is_not_stated(second: DeviceTest, reason: str) -> None:
    difference = the_difference(FIRST, second)
    assert difference.ratio.value is None
    assert difference.ratio.not_scored == reason


HOOD = "loose_powered_hood"


@pytest.mark.parametrize(
    ("first", "second", "reason"),
    [
        ("off", "off", None),
        ("high", "low", None),
        (
            "off",
            "high",
            "by the same exercises, but not with the blower in the same state (off with the one, running with the "
            "other)",
        ),
    ],
)
def test_a_blower_is_off_with_off_and_running_with_running(first: str, second: str, reason: str | None) -> None:
    factors = ("300 /cm3", "200 /cm3", "100 /cm3")
    difference = the_difference(
        worn("first", one_each(*factors, blower=first)), worn("second", one_each(*factors, blower=second)), kind=HOOD
    )
    assert difference.ratio.not_scored == reason


def test_a_device_without_a_blower_is_not_set_against_one_that_is_off() -> None:
    factors = ("300 /cm3", "200 /cm3", "100 /cm3")
    second = worn("second", one_each(*factors, blower="off"))
    catalogue = several(
        [worn("first", one_each(*factors)), second],
        {"first": {}, "second": {"kind": HOOD}},
        comparisons=[a_comparison("first", "second")],
    )
    (difference,) = results(catalogue)["own"].differences
    assert difference.ratio.not_scored == (
        "by the same exercises, but not with the blower in the same state (none with the one, off with the other)"
    )


ROOM_AIR = FitConditions(protocol="three", counter="condensation_particle_counter", blower="none")


def one_worn(device: str, *each: FitConditions | None) -> ComparedDevice:
    template = results(several([FIRST], {"first": {}, "second": {}}))["kind-filtering-facepiece"].devices["first"]
    sessions = tuple(template.sessions[0].model_copy(update={"conditions": conditions}) for conditions in each)
    return ComparedDevice(device=device, withdrawn=False, sessions=sessions)


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"protocol": "eight"}, "never worn by the same exercises"),
        ({"counter": "photometer"}, "by the same exercises, never measured with the same kind of particle counter"),
        (
            {"aerosol": Aerosol.SALT},
            "by the same exercises, never measured in the same kind of particles (room air, sprayed salt or sprayed "
            "oil)",
        ),
        ({"basis": Basis.PARTIAL}, "by the same exercises, but as a whole with only one of them"),
        # What is named is the first that no session shares, though another of them shares what comes after.
        ({"protocol": "eight", "counter": "photometer"}, "never worn by the same exercises"),
        (None, "the kind of counter is not on record"),
    ],
)
def test_what_keeps_two_devices_apart_is_named(changes: Data | None, reason: str) -> None:
    other = None if changes is None else ROOM_AIR.model_copy(update=changes)
    found = device_difference(one_worn("first", ROOM_AIR), one_worn("second", other))
    assert (found.ratio.value, found.ratio.not_scored) == (None, reason)


def test_nobody_wore_either() -> None:
    nobody = [ComparedDevice(device=name, withdrawn=False) for name in ("first", "second")]
    reason = device_difference(*nobody).ratio.not_scored
    assert reason == "nobody wore either of the two as supplied in a test that stands"


def test_no_choice_of_a_setting_makes_the_difference() -> None:
    factors = ("300 /cm3", "200 /cm3", "100 /cm3")
    mixed = [*one_each(*factors[:2], blower="high"), a_session(inside("9 /cm3"), id="z", wearer="sedge", blower="low")]
    difference = the_difference(worn("first", one_each(*factors, blower="high")), worn("second", mixed), kind=HOOD)
    assert difference.ratio.not_scored == "one of the two was worn at several blower settings (high and low)"


def test_of_several_conditions_the_one_with_most_wearers_is_taken() -> None:
    protocol = a_protocol()
    both = [*one_each("300 /cm3"), *(session | {"id": f"e{n}"} for n, session in enumerate(_standard()))]
    difference = the_difference(worn("first", both), worn("second", both))
    assert difference.conditions is not None
    assert difference.conditions.protocol == "eight-standard-exercises" != protocol.id
    assert difference.ratio.value == pytest.approx(1)  # the same sessions: by definition


def _shared_and_not(first: int, second: int) -> list[Data]:
    """Return three exercises with the first wearers, and the eight standard ones with the second number of them."""
    both = one_each(*["300 /cm3", "200 /cm3", "100 /cm3", "30 /cm3"][:first])
    return [*both, *(session | {"id": f"e{n}"} for n, session in enumerate(_standard()[:second]))]


def test_the_same_wearers_go_before_more_other_wearers() -> None:
    found = the_difference(worn("first", _shared_and_not(4, 3)), worn("second", _shared_and_not(1, 3)))
    assert found.conditions is not None
    assert (found.conditions.protocol, found.people) == ("eight-standard-exercises", People.SAME_WEARERS)


SIX = ("ash", "birch", "cedar", "dogwood", "elder", "fir")


def _by(*wearers: str) -> list[Data]:
    return [a_session(inside(f"{30 + 10 * n} /cm3"), id=wearer, wearer=wearer) for n, wearer in enumerate(wearers)]


def test_other_wearers_are_compared_where_too_few_wore_both() -> None:
    # ash and dogwood wore both; of the others two wore the first and two the second, which are too few
    found = the_difference(worn("first", _by(*SIX[:4])), worn("second", _by(SIX[0], *SIX[3:])))
    assert found.ratio.not_scored == few(2, 2, 2)
    found = the_difference(worn("first", _by(*SIX[:3])), worn("second", _by(*SIX[3:])))
    # source: definition; the same factors with other people: 100, 75 and 60 against the same
    assert found.people is People.OTHER_WEARERS
    assert found.ratio.value == pytest.approx(1)
    assert found.decision is not None
    assert found.decision.apart is Apart.CANNOT_BE_TOLD_APART


def test_there_is_one_comparison_for_each_kind_that_has_two_devices_or_more() -> None:
    catalogue = several(
        [FIRST],
        {
            "first": {},
            "second": {},
            "third": {"kind": "surgical_mask"},
            "fourth": {"kind": "surgical_mask"} | WITHDRAWN,
        },
    )
    found = results(catalogue)
    assert list(found) == ["kind-filtering-facepiece"]
    assert found["kind-filtering-facepiece"].title == "Filtering facepieces, side by side"
    assert list(found["kind-filtering-facepiece"].devices) == ["first", "second"]
    assert found["kind-filtering-facepiece"].of_kind


def test_a_withdrawn_device_is_named_and_has_nothing() -> None:
    comparison = a_comparison("second", "first", "third")
    catalogue = several([FIRST], {"first": WITHDRAWN, "second": {}, "third": {}}, comparisons=[comparison])
    result = results(catalogue)["own"]
    assert list(result.devices) == ["second", "first", "third"]
    withdrawn = result.devices["first"]
    assert (withdrawn.withdrawn, withdrawn.sessions, withdrawn.groups, withdrawn.runs) == (True, (), (), ())
    assert [(pair.first, pair.second) for pair in result.differences] == [("second", "third")]


@pytest.mark.parametrize(("devices", "pairs"), [(8, 28), (9, 0)])
def test_pairs_are_compared_among_at_most_eight_devices(devices: int, pairs: int) -> None:
    catalogue = several([], {f"device{n}": {} for n in range(devices)})
    result = results(catalogue)["kind-filtering-facepiece"]
    assert len(result.differences) == pairs  # 8 * 7 / 2
    assert (result.no_differences is None) == bool(pairs)
    if not pairs:
        assert result.no_differences == "pairs are compared among at most 8 devices, and here are 9"


def test_a_bound_stays_a_bound_among_the_sessions() -> None:
    catalogue = several([worn("second", _none_counted())], {"first": {}, "second": {}})
    sessions = results(catalogue)["kind-filtering-facepiece"].devices["second"].sessions
    assert [session.overall.relation for session in sessions] == [Relation.EQUAL, Relation.EQUAL, Relation.AT_LEAST]
