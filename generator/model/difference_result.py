"""What scoring says of two sets of fit factors: how many times one is the other, and whether they are told apart."""

from __future__ import annotations

from enum import StrEnum

from generator.model.base import Frozen
from generator.model.result import Figure, Working


class Apart(StrEnum):
    """What a comparison of two devices, or of before and after a change, says."""

    FIRST_HIGHER = "first_higher"
    SECOND_HIGHER = "second_higher"
    CANNOT_BE_TOLD_APART = "cannot_be_told_apart"


class People(StrEnum):
    """Whose fit factors are compared."""

    SAME_WEARERS = "same_wearers"
    OTHER_WEARERS = "other_wearers"


class Decision(Frozen):
    """Whether the two are told apart, by an interval and a test that must both say so."""

    apart: Apart
    """Which is higher, or that they cannot be told apart, which is not the same as equal."""
    level: float
    """The most that the adjusted probability may be."""
    method: str
    """Id of the method that gave it."""
    working: Working | None
    """How it comes about; null where nothing is decided."""


class FactorDifference(Frozen):
    """How many times the fit factors of one were those of the other, with what follows and what does not."""

    people: People | None
    """Whose fit factors are compared; None where no difference is stated."""
    wearers: tuple[str, ...]
    """The letters of those who wore both; with other wearers they are left out of the ratio."""
    first_only: tuple[str, ...]
    """The letters of those who wore only the first."""
    second_only: tuple[str, ...]
    """The letters of those who wore only the second."""
    ratio: Figure
    """First as a multiple of second; `not_scored` says why no difference is stated."""
    chance: Figure | None = None
    """How probable it is that chance alone gives a ratio as far from 1; None where no difference is stated."""
    least_chance: Figure | None = None
    """The smallest probability that so many pairs can give; None without pairs."""
    adjusted_chance: Figure | None = None
    """The same probability, adjusted for the number of differences that stand together."""
    better_for_new_wearer: Figure | None = None
    """How probable it is that the first gives a new wearer the higher factor; None without pairs."""
    decision: Decision | None = None
    """None where no difference is stated or the probability is not known."""
