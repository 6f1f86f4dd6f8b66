"""What the marks of a scale mean: only those that are drawn, and all of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from generator.presenting.views import SCALE_ENDS, Landmark, ScaleMark, ScaleRow

ON_FIT = SCALE_ENDS["fit"]
_BOUND = "An open arrow says “at least”."
_BETWEEN = "Two strokes joined by a thin line are bounds between which the value lies."
_PAST = "An arrow head at an end of the rule says that a value or an interval goes on past it."
_STROKES = "The short strokes below a line are single exercises."
NOT_HELD = "A vertical is dashed beside lines to which its level does not apply."


def scale_caption(
    opening: str,
    diamond: str,
    rows: Sequence[ScaleRow],
    landmarks: Iterable[Landmark] = (),
    ends: tuple[float, float] = ON_FIT,
) -> str:
    """Explain a scale: an opening, then its marks, then verticals of levels that do not apply to every line."""
    said = [opening, *marks_in_words([mark for row in rows for mark in row.marks], diamond, ends=ends)]
    if some_not_held(rows, landmarks):
        said.append(NOT_HELD)
    return " ".join(part for part in said if part)


def some_not_held(rows: Sequence[ScaleRow], landmarks: Iterable[Landmark]) -> bool:
    """Say whether a level of a scale does not apply to some line with marks."""
    levels = [landmark.low for landmark in landmarks if landmark.high is None]
    lines = [row.held_against for row in rows if row.marks and row.held_against is not None]
    return any(level not in held for level in levels for held in lines)


def marks_in_words(
    marks: Sequence[ScaleMark], diamond: str, bar: str = "its 95 % interval", ends: tuple[float, float] = ON_FIT
) -> tuple[str, ...]:
    """Return a sentence for each kind of mark that is drawn; a diamond and a bar are named by what they stand for."""
    return (*points_in_words(marks, diamond, bar, ends), *arrows_in_words(marks, ends))


def points_in_words(
    marks: Sequence[ScaleMark], diamond: str, bar: str, ends: tuple[float, float] = ON_FIT
) -> tuple[str, ...]:
    """Return a sentence for diamonds, bars and strokes, each where there is one."""
    low, high = ends
    points = [mark for mark in marks if not (mark.minor or mark.at_least)]
    said = []
    if any(low <= mark.value <= high for mark in points):
        said.append(f"A diamond is {diamond}.")
    if any(mark.low is not None and mark.high is not None for mark in points):
        said.append(f"A bar is {bar}.")
    if any(mark.minor for mark in marks):
        said.append(_STROKES)
    return tuple(said)


def arrows_in_words(marks: Sequence[ScaleMark], ends: tuple[float, float] = ON_FIT) -> tuple[str, ...]:
    """Return a sentence for bounds and for what goes on past an end of the rule, each where there is one."""
    bounds = [mark for mark in marks if mark.at_least]
    reach = [end for mark in marks if not (mark.minor or mark.at_least) for end in (mark.value, mark.low, mark.high)]
    said = []
    if any(mark.high is None for mark in bounds):
        said.append(_BOUND)
    if any(mark.high is not None for mark in bounds):
        said.append(_BETWEEN)
    if any(end is not None and not ends[0] <= end <= ends[1] for end in reach):
        said.append(_PAST)
    return tuple(said)
