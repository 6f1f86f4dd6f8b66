"""What a device's wearers wore beside it on the same day, and everything that must be shared for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from generator.model.catalogue import Catalogue
from generator.model.corrections import Withdrawal
from generator.model.device_test import DeviceTest
from generator.model.meaning_result import SameDay
from generator.model.published import published
from generator.scoring.same_day import same_day_tests
from tests.scoring.builders import (
    Data,
    a_catalogue,
    a_counter,
    a_device,
    a_protocol,
    a_session,
    a_test,
    a_wearer,
    readings,
    score_all,
)

MODIFIED: Data = {"state": "modified", "description": "changed", "changes": ["a clip"]}
GONE: Data = {"date": "2025-08-01", "reason": "the wrong filter"}
WEARERS = {"wren": a_wearer("wren", "A"), "plover": a_wearer("plover", "B")}
OTHER_COUNTER = {"particle_counter": "second", "flow_meter": "meter"}


def own_test(**changes: Any) -> DeviceTest:
    sessions = changes.pop("fit", [worn(30)])
    return a_test(sessions, **changes)


def mask_test(**changes: Any) -> DeviceTest:
    """Return a record of another device, a surgical mask, of the same day."""
    sessions = changes.pop("fit", [worn(1000)])
    return a_test(sessions, **({"id": "mask-day", "device": "mask"} | changes))


def worn(inside: float, **changes: Any) -> Data:
    return a_session(readings(*[f"{inside} /cm3"] * 3), **changes)


def catalogue(*tests: DeviceTest) -> Catalogue:
    found = a_catalogue(*tests)
    mask = a_device("surgical_mask", id="mask", name="Mask")
    return replace(
        found,
        devices={"device": a_device(), "mask": mask},
        instruments={**found.instruments, "second": a_counter(id="second")},
        protocols={**found.protocols, "other": a_protocol(id="other")},
        wearers=WEARERS,
    )


def same_day(*tests: DeviceTest, device: str = "device") -> tuple[SameDay, ...]:
    return score_all(catalogue(*tests)).devices[device].meaning.same_day


def test_both_are_found_from_either_side() -> None:
    (day,) = same_day(own_test(), mask_test())
    assert (day.wearer, str(day.day), day.tester, day.protocol, day.counter) == (
        "A",
        "2025-06-01",
        "tester",
        "three-exercises",
        "counter",
    )
    (own,), (other,) = day.own, day.others
    assert (own.device, own.record, other.device, other.record) == ("device", "test", "mask", "mask-day")
    # source: 3000 / 30 and 3000 / 1000 by arithmetic
    assert own.overall.value == pytest.approx(100, rel=1e-12)
    assert other.overall.value == pytest.approx(3, rel=1e-12)
    (mirrored,) = same_day(own_test(), mask_test(), device="mask")
    assert (mirrored.own, mirrored.others) == (day.others, day.own)


@pytest.mark.parametrize(
    "other",
    [
        lambda: mask_test(fit=[worn(1000, wearer="plover")]),
        lambda: mask_test(tester="somebody"),
        lambda: mask_test(dates={"received": "2025-05-01", "performed": "2025-06-02", "issued": "2025-07-01"}),
        lambda: mask_test(fit=[worn(1000, protocol="other")]),
        lambda: mask_test(instruments=OTHER_COUNTER),
        lambda: mask_test(instruments={"flow_meter": "meter"}),
        lambda: mask_test(configuration=MODIFIED),
        lambda: mask_test(withdrawn=GONE),
        lambda: mask_test(fit=[worn(1000, outcome="aborted", reason="the strap tore")]),
        lambda: mask_test(fit=[a_session([], outcome="voided", reason="the tube came off")]),
        lambda: mask_test(
            session_rule={"choice": "without_first_of_each_wearer", "stated": "2025-05-01", "why": "practice"}
        ),
        lambda: mask_test(device="device", id="again"),
    ],
    ids=[
        "another wearer",
        "another tester",
        "another day",
        "another protocol",
        "another counter",
        "no counter",
        "modified",
        "withdrawn",
        "aborted",
        "voided",
        "left out by the rule",
        "the same device",
    ],
)
def test_what_is_not_shared_is_not_beside_it(other: Callable[[], DeviceTest]) -> None:
    assert same_day(own_test(), other()) == ()


def test_a_withdrawn_device_is_not_beside_it() -> None:
    found = catalogue(own_test(), mask_test())
    gone = Withdrawal.model_validate(GONE, strict=False)
    mask = found.devices["mask"].model_copy(update={"withdrawn": gone})
    result = score_all(replace(found, devices={**found.devices, "mask": mask}))
    assert result.devices["device"].meaning.same_day == ()


def test_its_own_modified_state_is_shown_and_named() -> None:
    (day,) = same_day(own_test(), own_test(id="clipped", configuration=MODIFIED), mask_test())
    assert [(session.record, session.state.value) for session in day.own] == [
        ("clipped", "modified"),
        ("test", "as_supplied"),
    ]


def test_each_wearer_stands_apart_and_donnings_stand_in_order() -> None:
    sessions = [worn(40, id="d", donning=2), worn(30), worn(50, id="b", wearer="plover")]
    masks = [worn(1000), worn(900, id="b", wearer="plover"), worn(800, id="c", donning=2)]
    first, second = same_day(own_test(fit=sessions), mask_test(fit=masks))
    assert (first.wearer, second.wearer) == ("A", "B")
    assert [session.donning for session in first.own] == [1, 2]
    assert [(session.session, session.donning) for session in first.others] == [("am", 1), ("c", 2)]
    assert [session.session for session in second.others] == ["b"]


def test_the_tests_that_can_stand_beside_it_are_those_of_its_days() -> None:
    later = {"received": "2025-05-01", "performed": "2025-06-02", "issued": "2025-07-01"}
    known = published(
        catalogue(own_test(), mask_test(), mask_test(id="next", dates=later), mask_test(id="gone", withdrawn=GONE))
    )
    assert [test.id for test in same_day_tests("device", known)] == ["mask-day"]


def test_a_test_that_shares_no_session_cannot_stand_beside_it() -> None:
    known = published(
        catalogue(
            own_test(),
            mask_test(),
            mask_test(id="other-wearer", fit=[worn(1000, wearer="plover")]),
            mask_test(id="other-protocol", fit=[worn(1000, protocol="other")]),
            mask_test(id="other-counter", instruments=OTHER_COUNTER),
            mask_test(id="modified", configuration=MODIFIED),
            mask_test(id="also", fit=[worn(1000, id="b", wearer="plover"), worn(900)]),
        )
    )
    assert [test.id for test in same_day_tests("device", known)] == ["also", "mask-day"]
