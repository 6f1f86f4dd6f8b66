"""What a device's wearers wore beside it on the same day: the wearer's own measure, without any difference."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.model.base import Day
from generator.model.configuration import State
from generator.model.fit_result import Basis, FitResult
from generator.model.meaning_result import SameDay, WornSession
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.result import RecordResult

_Key = tuple[Day, str, str, str, str]
"""Day, wearer, tester, protocol and particle counter."""


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

    Shared by all of them are tester, day, protocol and particle counter. Only sessions that count and did the whole
    protocol are taken, and other devices only as supplied.
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
        for day, wearer, tester, protocol, counter in (key,)
    )


def _worn(test: PublishedTest, records: Mapping[str, RecordResult]) -> Iterator[tuple[_Key, WornSession]]:
    """Go through the sessions of a test that count and have an overall factor, each with what it must share."""
    counter = test.instruments.particle_counter
    fit = records[test.id].topics.get("fit")
    if counter is None or not isinstance(fit, FitResult):
        return
    for session in fit.sessions:
        whole = session.counted and session.basis is Basis.WHOLE_PROTOCOL
        if whole and session.overall is not None and session.overall.value is not None:
            worn = WornSession(
                device=test.device,
                record=test.id,
                session=session.session,
                donning=session.donning,
                blower=session.blower,
                state=test.configuration.state,
                overall=session.overall,
            )
            yield (test.dates.performed, session.wearer, test.tester, session.protocol, counter), worn


def _ordered(sessions: list[WornSession]) -> tuple[WornSession, ...]:
    return tuple(sorted(sessions, key=lambda session: (session.device, session.record, session.donning)))
