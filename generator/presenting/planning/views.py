"""What a plan says to someone who is about to test: sessions, statements, sizes, instruments."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class SessionView:
    """A session to be done, in words."""

    heading: str
    """What is done."""
    sentences: tuple[str, ...]
    """What it is for, what it newly allows to say, how long it takes."""


@dataclass(frozen=True)
class StatementView:
    """Something that could be said, and how far the records carry it."""

    title: str
    text: str


@dataclass(frozen=True)
class StatementGroup:
    """Statements that stand alike."""

    heading: str
    statements: tuple[StatementView, ...]


@dataclass(frozen=True)
class PlanView:
    """The whole plan of a device."""

    title: str
    lead: tuple[str, ...]
    sessions: tuple[SessionView, ...]
    order: str
    """The rule that the sessions are ordered by."""
    groups: tuple[StatementGroup, ...]
    assumptions: tuple[str, ...]
    """What the numbers of wearers take for granted."""
    instruments: tuple[str, ...]
    day: str | None
    """The heading of the instruments: on which day they are looked at."""
