"""What a reader sees of amendments and withdrawals. Templates print these and compute nothing."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.design_views import Correction
from generator.presenting.page_parts import PageHead
from generator.presenting.views import Link


@dataclass(frozen=True)
class EarlierFigure:
    """A figure that an amendment touched: what it is, what was published before, what stands today."""

    key: str
    name: str
    of: str
    """What it is about, such as a session; nothing where the name says it."""
    was: str
    today: str
    link: Link | None
    """Where it stands; None where the record has it no more."""


@dataclass(frozen=True)
class CorrectionNotice:
    """The newest amendment of a record, told above everything else on its page."""

    heading: str
    text: str
    earlier: tuple[EarlierFigure, ...]
    more: Link | None
    """Where the figures stand for which the box has no room."""
    others: Link | None
    """Where earlier amendments stand."""


@dataclass(frozen=True)
class ListedCorrection:
    """A correction in the list of the whole catalogue, with the device that it is about."""

    device: Link
    correction: Correction


@dataclass(frozen=True)
class CorrectionsPage:
    """Every amendment and withdrawal, newest first."""

    head: PageHead
    corrections: tuple[ListedCorrection, ...]
