"""Which completed sessions of a record count towards its results, by the rule that was stated before the test."""

from __future__ import annotations

from collections.abc import Iterable

from generator.model.device_test import SessionChoice
from generator.model.published import PublishedSession, PublishedTest
from generator.model.session import Outcome


def counted_sessions(test: PublishedTest) -> frozenset[str]:
    """Return the ids of the sessions that count.

    Without a rule every completed session does. A rule that names the first one of each wearer means the wearer's
    first completed donning in each state of the device: blower and filter. All sessions of that donning go with it.
    """
    completed = [session for session in test.fit if session.outcome is Outcome.COMPLETED]
    every = frozenset(session.id for session in completed)
    if test.session_rule is None or test.session_rule.choice is SessionChoice.EVERY_COMPLETED:
        return every
    first = _of_first_donnings(completed)
    return first if test.session_rule.choice is SessionChoice.FIRST_OF_EACH_WEARER else every - first


def _of_first_donnings(completed: Iterable[PublishedSession]) -> frozenset[str]:
    by_state: dict[tuple[str, str | None, str], list[PublishedSession]] = {}
    for session in completed:
        by_state.setdefault((session.wearer, session.blower, session.filter), []).append(session)
    return frozenset(
        session.id
        for sessions in by_state.values()
        for session in sessions
        if session.donning == min(other.donning for other in sessions)
    )
