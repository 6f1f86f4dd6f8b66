"""What may be said of a device, as a reader sees it: statements with their limits, and what is not shown."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.views import Link


@dataclass(frozen=True)
class Statement:
    """What the data carry, in words that stand by themselves; the limits belong to it."""

    id: str
    text: str
    limits: str
    sources: tuple[Link, ...]
    """Where the figures in it come from."""
    compares: bool = False
    """Whether it rests on a comparison, which is worked out with every device at hand only."""


@dataclass(frozen=True)
class NotShown:
    """A statement that tempts and that the data do not carry.

    `text` is a whole sentence that denies it, so that no part of it can be cut out and used.
    """

    id: str
    text: str
    reason: str
    source: Link | None = None
    compares: bool = False
    """Whether the reason rests on comparisons with other devices."""


@dataclass(frozen=True)
class MayBeSaid:
    """The section of a device's page."""

    lead: str
    statements: tuple[Statement, ...]
    not_shown: tuple[NotShown, ...]
    stills: tuple[Link, ...] = ()
    """Stills for video, where the site was published with them."""
