"""Charts of one thing against another: curves, filled areas, named levels, points with their intervals."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Axis:
    """One axis, linear; all panels of a chart share it. Ticks are chosen by the drawing."""

    title: str
    unit: str
    low: float
    high: float


@dataclass(frozen=True)
class Curve:
    """A line through points, in order of x; `key` ends the id of its element, `label` stands beside it."""

    key: str
    label: str
    points: tuple[tuple[float, float], ...]
    dashed: bool = False
    accent: bool = True
    """Drawn in the accent colour; otherwise in ink."""
    named_by_mark: bool = False
    """Whether a mark on it names it, so that its label does not stand beside it."""


@dataclass(frozen=True)
class Area:
    """A filled area between two curves: (x, low, high), in order of x."""

    key: str
    label: str
    points: tuple[tuple[float, float, float], ...]
    warning: bool = False
    """Drawn in the colour of limits; otherwise in a light accent, as for a band of uncertainty."""


@dataclass(frozen=True)
class Level:
    """A named horizontal line, such as a required flow; from `low` to `high` a band shows how well it is known."""

    key: str
    text: str
    value: float
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class Event:
    """A named vertical line, such as an alarm."""

    key: str
    text: str
    value: float


@dataclass(frozen=True)
class Mark:
    """A measured point with its interval in y, and in x where it has one; one end without the other is open there."""

    key: str
    text: str
    x: float
    y: float
    y_low: float | None = None
    y_high: float | None = None
    x_low: float | None = None
    x_high: float | None = None
    short: str = ""
    """The text in fewer words, for where there is no room for all of it."""
    hollow: bool = False
    """Drawn as an outline; the text then names all that are drawn so, and is never left out."""


@dataclass(frozen=True)
class Panel:
    """One drawing of a chart; several stand under one another on the same axes, so that stacking is comparing."""

    heading: str
    curves: tuple[Curve, ...] = ()
    areas: tuple[Area, ...] = ()
    levels: tuple[Level, ...] = ()
    events: tuple[Event, ...] = ()
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True)
class CurveChart:
    """A chart of one or more panels. `description` says in words what is to be seen; a table has the data."""

    id: str
    title: str
    description: str
    caption: str
    x: Axis
    y: Axis
    panels: tuple[Panel, ...]
    table: str = ""
    """The id of the element of the page that has its numbers as text; without one, what is named gets a table."""
