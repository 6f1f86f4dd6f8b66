"""Which fit sessions of a device may stand together, and what is lowest and highest among figures."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from generator.model.air import Aerosol
from generator.model.fit_result import Basis, SessionResult
from generator.model.published import PublishedCatalogue, PublishedTest
from generator.model.reference import Principle
from generator.model.result import Figure
from generator.scoring.items import configuration_key
from generator.scoring.samples import counter_kind


class GroupKey(NamedTuple):
    """What sessions must share to stand together."""

    configuration: str
    protocol: str
    blower: str | None
    counter: str | None
    aerosol: Aerosol
    basis: Basis


Recorded = tuple[str, SessionResult]
"""A session with the id of its record."""


def group_key(session: SessionResult, test: PublishedTest, catalogue: PublishedCatalogue) -> GroupKey:
    """Return the key that sessions must share to stand together."""
    return GroupKey(
        configuration=configuration_key(test),
        protocol=session.protocol,
        blower=session.blower,
        counter=session_counter(session, test, catalogue),
        aerosol=test.aerosol,
        basis=session.basis,
    )


def session_counter(session: SessionResult, test: PublishedTest, catalogue: PublishedCatalogue) -> str | None:
    """Return the kind of counter that a session's factors are by, or None where no particles were counted."""
    particles = catalogue.protocols[session.protocol].principle is Principle.PARTICLES
    return counter_kind(test, catalogue) if particles else None


def wearers_of(sessions: Iterable[Recorded]) -> tuple[str, ...]:
    """Return who wore the device, each once."""
    letters = {session.wearer for _, session in sessions}
    return tuple(sorted(letters, key=lambda letter: (len(letter), letter)))


def donnings_of(sessions: Iterable[Recorded]) -> set[tuple[str, str, int]]:
    """Return the different donnings of sessions, each by record, wearer and number."""
    return {(record, session.wearer, session.donning) for record, session in sessions}


def extremes(figures: Iterable[tuple[str, Figure | None]]) -> tuple[tuple[str, Figure], tuple[str, Figure]] | None:
    """Return the lowest and the highest figure, each with its record, or None where none has a value."""
    scored = [
        (figure.value, record, figure.key, figure)
        for record, figure in figures
        if figure is not None and figure.value is not None
    ]
    if not scored:
        return None
    ordered = sorted(scored, key=lambda found: found[:3])
    return (ordered[0][1], ordered[0][3]), (ordered[-1][1], ordered[-1][3])
