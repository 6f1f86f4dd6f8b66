"""What scoring notices about how fit sessions were done: times, zero checks, probe, aerosol, humidity, hands, hair."""

from __future__ import annotations

from collections.abc import Collection

from generator.model.air import Aerosol
from generator.model.base import NotRecorded
from generator.model.published import PublishedCatalogue, PublishedSession, PublishedTest
from generator.model.reference import Principle
from generator.model.result import Finding
from generator.model.session import Outcome
from generator.scoring.fit_factors import concentration_from_count
from generator.scoring.logs import cut_log
from generator.scoring.same_readings import same_readings
from generator.scoring.samples import CountingAir, counting_air, session_samples
from generator.scoring.session_checks import times_unlike_the_protocol, zero_check_too_high

SALT_HUMIDITY = 0.50
"""Highest relative humidity for a salt aerosol (29 CFR 1910.134 Appendix A, Part I.C.2(a)(12))."""


def session_condition_findings(
    test: PublishedTest, counted: Collection[str], catalogue: PublishedCatalogue
) -> tuple[Finding, ...]:
    """Return what is noticed in the sessions that count: their times, their zero checks, readings that recur."""
    air = counting_air(test, catalogue)
    found = []
    for session in test.fit:
        if session.id in counted:
            where = f"fit[{session.id}]"
            times = _sampled_inside(session, catalogue)
            found += [
                times_unlike_the_protocol(where, times, catalogue.protocols[session.protocol]),
                _zero_too_high(where, session, air, test, catalogue),
                same_readings(where, session, air),
            ]
    return tuple(finding for finding in found if finding is not None)


def _sampled_inside(session: PublishedSession, catalogue: PublishedCatalogue) -> dict[str, float]:
    """Return for how many seconds each exercise that counts was sampled inside, as far as that is on record.

    A record gives one time for all exercises. The one that does not count is often shorter, and is not judged.
    """
    protocol = catalogue.protocols[session.protocol]
    if session.log is not None:
        cuts = cut_log(catalogue.logs[session.log.file], protocol)
        return {cut.step.id: cut.in_mask.seconds for cut in cuts if cut.step.counted and cut.in_mask is not None}
    if session.in_mask_time is None:
        return {}
    counting = {step.id for step in protocol.exercises if step.counted}
    seconds = session.in_mask_time.to("s")
    return {reading.exercise: seconds for reading in session.exercises if reading.exercise in counting}


def _zero_too_high(
    where: str,
    session: PublishedSession,
    air: CountingAir | None,
    test: PublishedTest,
    catalogue: PublishedCatalogue,
) -> Finding | None:
    check = session.zero_check
    if check is None:
        return None
    if check.concentration is not None:
        zero = check.concentration.to("/cm3")
    elif check.count is not None and air is not None:
        zero = concentration_from_count(check.count, air.flow, check.time.to("s"))
    else:
        return None
    samples = session_samples(session, test, catalogue)
    inside = [item.measured.in_mask.concentration for item in samples if item.measured is not None]
    return zero_check_too_high(where, zero, inside)


def record_condition_findings(test: PublishedTest, catalogue: PublishedCatalogue) -> tuple[Finding, ...]:
    """Return what is noticed once for all fit sessions of a record, whether they count or not."""
    if not test.fit:
        return ()
    completed = [session for session in test.fit if session.outcome is Outcome.COMPLETED]
    by_particles = [
        session for session in completed if catalogue.protocols[session.protocol].principle is Principle.PARTICLES
    ]
    found = [
        _adjusted(test),
        _zero_check_missing(by_particles),
        _probe_not_recorded(test, by_particles),
        _aerosol_unlike_protocol(test, by_particles, catalogue),
        _humid_salt(test, by_particles),
        _hair_under_seal(test, len(completed)),
    ]
    return tuple(finding for finding in found if finding is not None)


def _adjusted(test: PublishedTest) -> Finding | None:
    adjusted = [session.id for session in test.fit if session.adjusted is not None]
    if not adjusted:
        return None
    facts: dict[str, str | int | float] = {"sessions": ", ".join(adjusted), "count": len(adjusted), "of": len(test.fit)}
    return Finding(rule="adjusted-during-test", where="fit", facts=facts)


def _zero_check_missing(sessions: list[PublishedSession]) -> Finding | None:
    """Factors as given come from no concentration that a zero check could be held against."""
    measured = [
        session
        for session in sessions
        if session.log is not None or any(not reading.as_given for reading in session.exercises)
    ]
    without = [session for session in measured if session.zero_check is None]
    if not without:
        return None
    return Finding(rule="zero-check-missing", where="fit", facts={"sessions": len(without), "of": len(measured)})


def _probe_not_recorded(test: PublishedTest, sessions: list[PublishedSession]) -> Finding | None:
    if not sessions or test.probe is not None:
        return None
    return Finding(rule="probe-not-recorded", where="probe", facts={"sessions": len(sessions)})


def _aerosol_unlike_protocol(
    test: PublishedTest, sessions: list[PublishedSession], catalogue: PublishedCatalogue
) -> Finding | None:
    """Room air under a protocol with a sprayed aerosol cannot be, and loading refuses it; the reverse is done."""
    if test.aerosol is Aerosol.ROOM_AIR:
        return None
    unlike = [session for session in sessions if not catalogue.protocols[session.protocol].generated_aerosol]
    if not unlike:
        return None
    facts: dict[str, str | int | float] = {
        "aerosol": test.aerosol.value,
        "protocols": ", ".join(dict.fromkeys(session.protocol for session in unlike)),
        "sessions": len(unlike),
    }
    return Finding(rule="generated-aerosol-unlike-protocol", where="aerosol", facts=facts)


def _humid_salt(test: PublishedTest, sessions: list[PublishedSession]) -> Finding | None:
    if not sessions or test.aerosol is not Aerosol.SALT:
        return None
    where, humidity = "environment.humidity", test.environment.humidity
    if isinstance(humidity, NotRecorded):
        return Finding(rule="salt-humidity-not-recorded", where=where, facts={"sessions": len(sessions)})
    share = humidity.to("1")
    if share <= SALT_HUMIDITY:
        return None
    return Finding(rule="humid-salt-aerosol", where=where, facts={"humidity": share, "highest": SALT_HUMIDITY})


def _hair_under_seal(test: PublishedTest, completed: int) -> Finding | None:
    """The published record holds a number of sessions only for devices that have a seal."""
    if not test.sessions_with_hair_at_seal:
        return None
    facts: dict[str, str | int | float] = {"sessions": test.sessions_with_hair_at_seal, "of": completed}
    return Finding(rule="hair-under-seal", where="fit", facts=facts)
