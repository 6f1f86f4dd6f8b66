"""What a reader sees of wearers and donnings, as data."""

from __future__ import annotations

from dataclasses import dataclass

from generator.presenting.views import Landmark, ScaleMark, Table, WorkingView


@dataclass(frozen=True)
class WearerRow:
    """The donnings of one wearer on a scale, below one another; `text` names their values where there is room."""

    letter: str
    text: str
    marks: tuple[ScaleMark, ...]


@dataclass(frozen=True)
class WearerChart:
    """Donnings wearer by wearer on the fit factor scale, and below a line what they say together."""

    id: str
    title: str
    description: str
    caption: str
    rows: tuple[WearerRow, ...]
    mean: ScaleMark | None
    """Geometric mean with its interval."""
    bound: ScaleMark | None
    """Lower bound of nearly all donnings of new wearers."""
    landmarks: tuple[Landmark, ...]
    table: str = ""
    """The id of the element of the page that has its numbers as text."""


@dataclass(frozen=True)
class WearerGroup:
    """What the donnings of one group say; without a heading where there is only one group."""

    anchor: str
    heading: str | None
    sentences: tuple[str, ...]
    chart: WearerChart | None
    workings: tuple[WorkingView, ...]


@dataclass(frozen=True)
class WearersView:
    """What donnings say of wearers, group by group; then once what holds for all, and the figures in a table."""

    groups: tuple[WearerGroup, ...]
    sentences: tuple[str, ...]
    table: Table | None
