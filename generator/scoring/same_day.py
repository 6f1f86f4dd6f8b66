"""What a device's wearers wore beside it on the same day: the wearer's own measure, without any difference."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.model.base import Day
from generator.model.configuration import State
from generator.model.fit_result import Basis, FitResult
from generator.model.meaning_result import SameDay, WornSession
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import RecordResult

_Key = tuple[Day, str, str, str, str, Basis]
"""Day, wearer, tester, protocol, particle counter, and how much of the protocol a factor stands for."""


def same_day_tests(device: str, catalogue: PublishedCatalogue) -> tuple[PublishedTest, ...]:
    """Return standing tests of other devices by the same tester on the day of one of a device's own."""
    days = {(test.dates.performed, test.tester) for test in catalogue.standing_tests_of(device)}
    return tuple(
        test
        for test in catalogue.device_tests.values()
        if test.device != device
        and (test.dates.performed, test.tester) in days
        and test.withdrawn is None
        and catalogue.devices[test.device].withdrawn is None
    )


def same_day_wear(
    device: str, records: Mapping[str, RecordResult], catalogue: PublishedCatalogue
) -> tuple[SameDay, ...]:
    """Return what each wearer of a device wore beside it on a day; `records` are the results of all records, by id.

    Shared by all of them are tester, day, protocol, particle counter, and whether the factors stand for the whole of
    the protocol. Only sessions that count are taken, and other devices only as supplied.
    """
    own: dict[_Key, list[WornSession]] = {}
    for test in catalogue.standing_tests_of(device):
        for key, session in _worn(test, records):
            own.setdefault(key, []).append(session)
    others: dict[_Key, list[WornSession]] = {}
    for test in same_day_tests(device, catalogue):
        if test.configuration.state is State.AS_SUPPLIED:
            for key, session in _worn(test, records):
                others.setdefault(key, []).append(session)
    return tuple(
        SameDay(
            wearer=wearer,
            day=day,
            tester=tester,
            protocol=protocol,
            counter=counter,
            own=_ordered(own[key]),
            others=_ordered(others[key]),
        )
        for key in sorted(own.keys() & others.keys())
        for day, wearer, tester, protocol, counter, _ in (key,)
    )


def _worn(test: PublishedTest, records: Mapping[str, RecordResult]) -> Iterator[tuple[_Key, WornSession]]:
    """Go through the sessions of a test that count and have an overall factor, each with what it must share."""
    counter = test.instruments.particle_counter
    fit = records[test.id].topics.get("fit")
    if counter is None or not isinstance(fit, FitResult):
        return
    for session in fit.sessions:
        if session.counted and session.overall is not None and session.overall.value is not None:
            key = (test.dates.performed, session.wearer, test.tester, session.protocol, counter, session.basis)
            yield (
                key,
                WornSession(
                    device=test.device,
                    record=test.id,
                    session=session.session,
                    donning=session.donning,
                    blower=session.blower,
                    state=test.configuration.state,
                    overall=session.overall,
                ),
            )


def _ordered(sessions: list[WornSession]) -> tuple[WornSession, ...]:
    return tuple(sorted(sessions, key=lambda session: (session.device, session.record, session.donning)))
