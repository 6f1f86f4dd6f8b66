"""What a device's wearers wore beside it on the same day: the wearer's own measure, without any difference."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.model.base import Day
from generator.model.configuration import State
from generator.model.fit_result import Basis, FitResult, SessionResult
from generator.model.meaning_result import SameDay, WornSession
from generator.model.published import PublishedCatalogue, PublishedSession, PublishedTest
from generator.model.result import RecordResult

_Key = tuple[Day, str, str, str, str]
"""Day, wearer, tester, protocol and particle counter."""


def same_day_tests(device: str, catalogue: PublishedCatalogue) -> tuple[PublishedTest, ...]:
    """Return standing tests of other devices as supplied with a session that may stand beside one of a device's own."""
    own = {key for test in catalogue.standing_tests_of(device) for key in _shared_by(test)}
    others = (
        test
        for day in {(key[0], key[2]) for key in own}
        for test in catalogue.standing_tests_by_day[day]
        if test.device != device
        and test.configuration.state is State.AS_SUPPLIED
        and catalogue.devices[test.device].withdrawn is None
        and not own.isdisjoint(_shared_by(test))
    )
    return tuple(sorted(others, key=lambda test: test.id))


def _shared_by(test: PublishedTest) -> Iterator[_Key]:
    """Go through what the sessions of a test would have to share with others, whether they count or not."""
    counter = test.instruments.particle_counter
    if counter is not None:
        for session in test.fit:
            yield _key(test, session, counter)


def _key(test: PublishedTest, session: PublishedSession | SessionResult, counter: str) -> _Key:
    return (test.dates.performed, session.wearer, test.tester, session.protocol, counter)


@dataclass(frozen=True)
class Worn:
    """The sessions of standing tests that may stand beside others, each with what it must share with them."""

    by_test: Mapping[str, tuple[tuple[_Key, WornSession], ...]]
    as_supplied: Mapping[_Key, tuple[WornSession, ...]]
    """Those of devices as supplied that were not withdrawn."""


def sessions_worn(records: Mapping[str, RecordResult], catalogue: PublishedCatalogue) -> Worn:
    """Return the sessions of all devices that may stand side by side; `records` are the results of all records."""
    by_test = {
        test.id: tuple(_worn(test, records)) for test in catalogue.device_tests.values() if test.withdrawn is None
    }
    as_supplied: dict[_Key, list[WornSession]] = {}
    for sessions in by_test.values():
        for key, session in sessions:
            if session.state is State.AS_SUPPLIED and catalogue.devices[session.device].withdrawn is None:
                as_supplied.setdefault(key, []).append(session)
    return Worn(by_test, {key: tuple(sessions) for key, sessions in as_supplied.items()})


def same_day_wear(device: str, worn: Worn, catalogue: PublishedCatalogue) -> tuple[SameDay, ...]:
    """Return what each wearer of a device wore beside it on a day.

    Shared by all of them are tester, day, protocol and particle counter. Only sessions that count and did the whole
    protocol are taken, and other devices only as supplied.
    """
    own: dict[_Key, list[WornSession]] = {}
    for test in catalogue.standing_tests_of(device):
        for key, session in worn.by_test[test.id]:
            own.setdefault(key, []).append(session)
    beside = {key: [each for each in worn.as_supplied.get(key, ()) if each.device != device] for key in own}
    others = {key: sessions for key, sessions in beside.items() if sessions}
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
            yield _key(test, session, counter), worn


def _ordered(sessions: list[WornSession]) -> tuple[WornSession, ...]:
    return tuple(sorted(sessions, key=lambda session: (session.device, session.record, session.donning)))
