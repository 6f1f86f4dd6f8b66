"""A low percentile over wearers with its lower bound, or the statement that there were not enough wearers to say."""

from __future__ import annotations

from dataclasses import dataclass

MOST_WEARERS = 1000
"""Where more wearers than this would be needed, no number is named."""


@dataclass(frozen=True)
class PercentileBound:
    """What may be said of nearly all donnings of new wearers like those tested."""

    estimate: float
    """Estimate of the percentile. [1]"""
    bound: float | None
    """Its one-sided lower bound; None where there were not enough wearers to say. [1]"""
    wearers: int
    """Wearers behind it. [count]"""
    wearers_needed: int | None
    """Wearers that would do; None where MOST_WEARERS of this spread would not. [count]"""
