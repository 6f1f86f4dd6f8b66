"""Fit sessions as they are compared: who wore what under which conditions, and what the factor is."""

from __future__ import annotations

from collections.abc import Iterable

from generator.model.comparison_result import ComparedSession, FitConditions
from generator.model.fit_result import FitResult, SessionResult
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.session import BLOWER_OFF, Session
from generator.scoring.fit_groups import session_counter


def counted_sessions(test: PublishedTest, fit: FitResult, catalogue: PublishedCatalogue) -> Iterable[ComparedSession]:
    """Yield the sessions of a record that count and have a factor, in its order."""
    for session, recorded in zip(fit.sessions, test.fit, strict=True):
        compared = compared_session(session, recorded, test, catalogue)
        if compared is not None:
            yield compared


def compared_session(
    session: SessionResult, recorded: Session, test: PublishedTest, catalogue: PublishedCatalogue
) -> ComparedSession | None:
    """Return a session as it is compared, or None where it does not count or has no factor."""
    if not session.counted or session.overall is None or session.overall.value is None:
        return None
    counter = session_counter(session, test, catalogue)
    return ComparedSession(
        record=test.id,
        session=session.session,
        wearer=session.wearer,
        donning=session.donning,
        conditions=FitConditions(
            protocol=session.protocol,
            counter=counter,
            blower=_blower_class(session.blower),
            aerosol=test.aerosol,
            basis=session.basis,
        )
        if counter is not None
        else None,
        blower=session.blower,
        basis=session.basis,
        as_given=recorded.overall_only or any(reading.as_given for reading in recorded.exercises),
        overall=session.overall,
    )


def _blower_class(blower: str | None) -> str:
    if blower is None:
        return "none"
    return BLOWER_OFF if blower == BLOWER_OFF else "running"
