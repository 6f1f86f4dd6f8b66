"""A still for video as data: what stands on a picture of 1920 by 1080 pixels."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.views import Landmark, ScaleRow

STILLS_FOLDER = "stills"
"""Where stills are published; a site that has this folder was published with them."""


@dataclass(frozen=True)
class ScaleEnd:
    """An end of what was measured, and how it is written."""

    value: float
    text: str


@dataclass(frozen=True)
class Still:
    """A picture that says of itself what it shows, of whom, when, and what it does not say."""

    path: str
    """Where it is published, without its ending."""
    kind: str
    """The rule to draw on: `fit` or `flow`."""
    name: str
    sentence: str
    conditions: str
    rows: tuple[ScaleRow, ...]
    """The marks of each wearer, or of each run with its value."""
    ends: tuple[ScaleEnd, ...]
    """The lowest and the highest factor, once where they are written alike; none for runs, which have their own."""
    landmarks: tuple[Landmark, ...]
    limits: str
    tested: str
    """By which records."""
    where: str
    """The publication and the address of the page."""
    invented: str | None

    @property
    def light_path(self) -> str:
        """Where the one for light backgrounds is published."""
        return f"{self.path}.png"

    @property
    def dark_path(self) -> str:
        """Where the one for dark backgrounds is published."""
        return f"{self.path}-dark.png"
