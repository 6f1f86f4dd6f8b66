"""Garbage in cycles is looked for when there is some, and the collector stands afterwards as it stood before."""

from __future__ import annotations

import gc
import weakref
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager

import pytest

from generator.garbage import left_alone, left_to_the_system, looked_for_afterwards, made_to_stay, seldom_looked_for

Meanwhile = Callable[[], AbstractContextManager[None]]


class Cycle:
    """Something that holds itself."""

    def __init__(self) -> None:
        self.itself = self


def left_in_a_cycle() -> weakref.ref[Cycle]:
    """Leave a cycle behind, and tell whether it is still there."""
    return weakref.ref(Cycle())


@pytest.fixture(autouse=True)
def collector() -> Iterator[None]:
    """Begin with a collector that looks at nothing by itself, and leave it as it was."""
    thresholds = gc.get_threshold()
    gc.collect()
    gc.set_threshold(1_000_000_000)
    try:
        yield
    finally:
        gc.set_threshold(*thresholds)
        gc.enable()


def test_what_was_left_meanwhile_is_gone() -> None:
    with looked_for_afterwards():
        left = left_in_a_cycle()
        assert left() is not None
    assert left() is None


def test_what_was_left_is_gone_after_a_failure_too() -> None:
    left = []

    def fails() -> None:
        left.append(left_in_a_cycle())
        raise LookupError("as planned")

    with pytest.raises(LookupError, match="as planned"), looked_for_afterwards():
        fails()
    assert [each() for each in left] == [None]


def test_what_is_of_before_is_not_gone_through() -> None:
    before = left_in_a_cycle()
    gc.freeze()
    try:
        with looked_for_afterwards():
            pass
        assert before() is not None
    finally:
        gc.unfreeze()


def test_what_was_made_to_stay_is_not_gone_through_after_what_follows() -> None:
    with made_to_stay():
        before = left_in_a_cycle()
    with looked_for_afterwards():
        left = left_in_a_cycle()
    assert (before() is not None, left()) == (True, None)
    gc.collect()
    assert before() is None


def test_what_was_made_to_stay_is_looked_through_with_the_old_alone() -> None:
    with made_to_stay():
        left = left_in_a_cycle()
    gc.collect(1)
    assert left() is not None
    gc.collect()
    assert left() is None


def test_what_is_left_to_the_system_is_not_gone_through_when_the_process_ends() -> None:
    left = left_in_a_cycle()
    left_to_the_system()
    try:
        gc.collect()  # as the language does when a process ends
        assert left() is not None
    finally:
        gc.unfreeze()


def test_where_it_is_left_alone_nothing_is_looked_for() -> None:
    gc.set_threshold(1)
    with left_alone():
        left = left_in_a_cycle()
        made: list[list[int]] = [[] for _ in range(1000)]
        assert (left() is not None, len(made)) == (True, 1000)


@pytest.mark.parametrize("meanwhile", [left_alone, made_to_stay, looked_for_afterwards])
@pytest.mark.parametrize("enabled", [True, False])
def test_the_collector_is_left_as_it_was(meanwhile: Meanwhile, enabled: bool) -> None:
    if not enabled:
        gc.disable()
    with meanwhile():
        assert not gc.isenabled()
        with meanwhile():
            assert not gc.isenabled()
        assert not gc.isenabled()
    assert gc.isenabled() is enabled


def test_seldom_is_seldomer_than_by_default() -> None:
    gc.set_threshold(700, 10, 10)
    seldom_looked_for()
    assert all(seldom > usual for seldom, usual in zip(gc.get_threshold(), (700, 10, 10), strict=True))
