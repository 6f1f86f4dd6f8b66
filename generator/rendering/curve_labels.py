"""Finds places for the labels in a panel of curves: beside what they name, on no other text and on no line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise, product

from generator.presenting.curve_views import Area, Curve, Level, Mark, Panel
from generator.rendering.curve_axes import Box, Frame, Point, crosses, edges_of, height_at, leaves, within
from generator.rendering.drawing import fitted, one_line, text_width

RISE = 10.0
"""How far letters rise above their baseline. [px]"""
FALL = 3.0
"""How far they hang below it. [px]"""
GAP = 4.0
"""Between a line and the label that names it. [px]"""
REACH = 4.6
"""Half the width of a diamond. [px]"""
HEAD = 6.0
"""The length of the arrow head that points past an edge. [px]"""
HALF = 4.0
"""Half its width. [px]"""
HEAD_BELOW = 6.0
"""How far below the upper edge one lies that points past the left or right edge. [px]"""
_STANDS_OFF = 12.0
"""From this far on a thin line leads from a curve to its label. [px]"""
CELLS = 24
"""So many places along a panel are tried for a label."""
_OFFSETS = (10.0, 20.0, 32.0, 46.0, 64.0)
"""How far off its mark a label may stand, up or down and aside, with a thin line that leads to it. [px]"""


@dataclass(frozen=True)
class Label:
    """A text, where it begins, its baseline, and the line that leads to it where it stands off. [px]"""

    key: str
    text: str
    x: float
    y: float
    leader: tuple[Point, Point] | None = None

    @property
    def box(self) -> Box:
        """What the letters take."""
        return self.x, self.y - RISE, self.x + text_width(self.text), self.y + FALL


def _is_curve(key: str) -> bool:
    return key.startswith("curve ")


@dataclass
class Room:
    """What is taken of a panel: texts that no other may meet, and lines that must not run through a text."""

    frame: Frame
    texts: list[Box] = field(default_factory=list)
    lines: dict[str, list[list[Point]]] = field(default_factory=dict)

    def is_free(self, box: Box) -> bool:
        """Whether a text may stand there: within the panel, on no other text and on no line."""
        left, top, right, bottom = box
        if left < self.frame.left + 2 or right > self.frame.right + 7:
            return False
        if top < self.frame.top + 1 or bottom > self.frame.bottom - 1:
            return False
        for taken in self.texts:
            if left < taken[2] + 5 and taken[0] - 5 < right and top < taken[3] + 1 and taken[1] - 1 < bottom:
                return False
        wider = left - GAP, top, right + GAP, bottom
        return not any(self.runs_through(key, wider if _is_curve(key) else box) for key in self.lines)

    def lets_pass(self, leader: tuple[Point, Point], owner: str) -> bool:
        """Whether a line to a label meets no text, and where it is that of a curve, its owner, no other curve."""
        if any(crosses(*leader, taken) for taken in self.texts):
            return False
        (left, one), (right, other) = leader
        box = min(left, right) - 1, min(one, other), max(left, right) + 1, max(one, other)
        others = (key for key in self.lines if key != owner and _is_curve(key))
        return not owner or not any(self.runs_through(key, box) for key in others)

    def runs_through(self, key: str, box: Box) -> bool:
        """Whether a line runs through a box."""
        return any(
            crosses(one, other, box)
            for piece in self.lines[key]
            for one, other in pairwise(piece)
            if min(one[0], other[0]) <= box[2] and max(one[0], other[0]) >= box[0]
        )

    def may_be_taken_for(self, key: str, box: Box) -> bool:
        """Whether a curve other than the one of `key` runs so close by that the text might name it."""
        near = (box[0], box[1] - 6, box[2], box[3] + 6)
        return any(self.runs_through(other, near) for other in self.lines if other != key and _is_curve(other))


@dataclass(frozen=True)
class _Place:
    cost: float
    x: float
    y: float
    leader: tuple[Point, Point] | None = None


def _centres(frame: Frame, width: float) -> Iterator[float]:
    """Yield where the middle of a text may lie, from right to left."""
    first, last = frame.left + 4 + width / 2, frame.right - width / 2
    for number in range(CELLS, -1, -1):
        yield first + (last - first) * number / CELLS


def _extent(points: Sequence[Point], low: float, high: float) -> tuple[float, float] | None:
    """Return the highest and the lowest place of a polyline between two places from left to right."""
    ends = [height for height in (height_at(points, low), height_at(points, high)) if height is not None]
    heights = [y for x, y in points if low <= x <= high] + ends
    return (min(heights), max(heights)) if heights else None


def _beside_curve(
    points: Sequence[Point], frame: Frame, width: float, above: bool = True, below: bool = True
) -> Iterator[_Place]:
    """Yield places above and below a line, the better the more level it is there, and at both sides of it."""
    for number, centre in enumerate(_centres(frame, width)):
        left, right = centre - width / 2, centre + width / 2
        extent = _extent(points, left, right)
        # The label of a line that ends under it would name nothing over half of its length.
        if extent is None or height_at(points, centre) is None:
            continue
        slant, middle = extent[1] - extent[0], (centre, height_at(points, centre) or 0.0)
        for wanted, baseline, edge, cost in (
            (above, extent[0] - GAP - FALL, extent[0] - GAP + 1, 0.0),
            (below, extent[1] + GAP + RISE, extent[1] + GAP - 1, 2.0),
        ):
            if wanted:
                # Along a steep line a label stands off, and a thin line leads to it.
                leader = (middle, (centre, edge)) if abs(middle[1] - edge) > _STANDS_OFF else None
                yield _Place(slant + cost + 0.2 * number, left, baseline, leader)
    for share in (0.75, 0.5, 0.25, 0.9, 0.6, 0.4, 0.1):
        x, y = points[round(share * (len(points) - 1))]
        for aside in (7, 12, 20):
            yield _Place(9 + share + aside / 10, x + aside, y + RISE / 2 - 1)
            yield _Place(9.5 + share + aside / 10, x - aside - width, y + RISE / 2 - 1)


def _in_area(
    upper: Sequence[Point], lower: Sequence[Point], frame: Frame, width: float, cost: float
) -> Iterator[_Place]:
    for number, centre in enumerate(_centres(frame, width)):
        above = _extent(upper, centre - width / 2, centre + width / 2)
        below = _extent(lower, centre - width / 2, centre + width / 2)
        if above is None or below is None or below[0] - above[1] < RISE + FALL + 2:
            continue
        yield _Place(cost + 0.2 * number, centre - width / 2, (above[1] + below[0]) / 2 + (RISE - FALL) / 2)


def _thick(edge: Sequence[Point], other: Sequence[Point]) -> list[list[Point]]:
    """Return the pieces of an edge along which an area is thick enough to be seen."""
    pieces: list[list[Point]] = []
    unbroken = False
    for x, y in edge:
        opposite = height_at(other, x)
        thick = opposite is not None and abs(opposite - y) > 2
        if thick and not unbroken:
            pieces.append([])
        if thick:
            pieces[-1].append((x, y))
        unbroken = thick
    return pieces


def _beside_area(area: Area, frame: Frame, width: float) -> Iterator[_Place]:
    """Yield places within a band, or around it; never on hatching where there is room beside it."""
    upper, lower = edges_of(area.points, frame)
    yield from _in_area(upper, lower, frame, width, 40 if area.warning else 0)
    for edge, other, is_upper in ((upper, lower, True), (lower, upper, False)):
        for line in _thick(edge, other):
            for place in _beside_curve(line, frame, width, above=is_upper, below=not is_upper):
                yield _Place(place.cost + 3, place.x, place.y)


def _beside_level(y: float, frame: Frame, width: float) -> Iterator[_Place]:
    for number, centre in enumerate(_centres(frame, width)):
        # At the right end, else at the left end, else between.
        cost = {0: 0.0, CELLS: 1.0}.get(number, 2 + 0.05 * number)
        yield _Place(cost, centre - width / 2, y - GAP)
        yield _Place(cost + 1.5, centre - width / 2, y + GAP + RISE - 1)


def _beside_mark(at: Point, width: float) -> Iterator[_Place]:
    """Yield places round a mark, then farther off: there at a slant only, so that none is taken for an interval."""
    x, y = at
    beside, above, below = y + RISE / 2 - 1.5, y - REACH - 3, y + REACH + 1 + RISE
    right, left = x + REACH + 4, x - REACH - 4 - width
    corners = ((right - 2, above + 1), (left + 2, above + 1), (right - 2, below - 1), (left + 2, below - 1))
    level = ((right, beside), (left, beside), (x - width / 2, above), (x - width / 2, below))
    for number, (start, baseline) in enumerate((level[0], corners[0], level[1], *corners[1:], *level[2:])):
        yield _Place(number, start, baseline)
    for aside, off in product(_OFFSETS, repeat=2):
        for number, (start, baseline) in enumerate(corners):
            place = start + (aside if start > x else -aside), baseline + (-off if baseline < y else off)
            end = (
                place[0] - 2 if start > x else place[0] + width + 2,
                place[1] + FALL if baseline < y else place[1] - RISE,
            )
            yield _Place(5 * (aside + off) + abs(aside - off) + number, *place, leader=(at, end))


def _best(places: Iterator[_Place], key: str, text: str, room: Room, owner: str) -> Label | None:
    """Return the label at the best free place, one that can be taken for no other curve's first of all."""
    ordered = sorted(places, key=lambda place: place.cost)
    unclear: Label | None = None
    for place in ordered:
        label = Label(key, text, place.x, place.y, place.leader)
        if not room.is_free(label.box) or (label.leader is not None and not room.lets_pass(label.leader, owner)):
            continue
        if not room.may_be_taken_for(owner, label.box):
            return label
        unclear = unclear or label
    return unclear


def mark_outline(mark: Mark, frame: Frame) -> list[list[Point]]:
    """Return a mark's diamond as a box and its interval's bars, held within the frame. [px]"""
    x, y = frame.held((frame.x(mark.x), frame.y(mark.y)))
    pieces = [
        [(x - REACH, y - REACH), (x + REACH, y + REACH)],
        [(x - REACH, y + REACH), (x + REACH, y - REACH)],
    ]
    across = [frame.held((frame.x(end), y)) for end in (mark.x_low, mark.x_high) if end is not None]
    upright = [frame.held((x, frame.y(end))) for end in (mark.y_low, mark.y_high) if end is not None]
    return pieces + [[end, (x, y)] for end in across + upright]


def _head(x: float, above: bool, frame: Frame) -> list[list[Point]]:
    """Return what an arrow head at the upper or lower edge takes, as lines across it. [px]"""
    edge, base = (frame.top, frame.top + HEAD) if above else (frame.bottom, frame.bottom - HEAD)
    return [[(x - HALF - 1, base), (x + HALF + 1, base)], [(x, base), (x, edge)]]


def lines_of(panel: Panel, frame: Frame) -> dict[str, list[list[Point]]]:
    """Return all that must not run through a text of a panel, by what it is. [px]"""
    lines = {f"curve {curve.key}": within(frame.at(curve.points), frame) for curve in panel.curves}
    for curve in panel.curves:
        heads = leaves(frame.at(curve.points), frame, apart=12)
        lines[f"heads {curve.key}"] = [piece for x, above in heads for piece in _head(x, above, frame)]
    for level in panel.levels:
        y = frame.held((0, frame.y(level.value)))[1]
        lines[f"level {level.key}"] = [[(frame.left, y), (frame.right, y)]]
        if not frame.has_y(frame.y(level.value)):
            lines[f"level {level.key}"] += _head(frame.right - 5, y == frame.top, frame)
    for event in panel.events:
        x = frame.x(event.value)
        lines[f"event {event.key}"] = [[(x, frame.top), (x, frame.bottom)]]
        if not frame.has_x(x):
            base = frame.right - HEAD if x > frame.right else frame.left + HEAD
            y = frame.top + HEAD_BELOW
            lines[f"event {event.key}"] = [[(base, y - HALF - 1), (base, y + HALF + 1)]]
    for mark in panel.marks:
        lines[f"mark {mark.key}"] = mark_outline(mark, frame)
    if frame.vertical.low < 0 < frame.vertical.high:
        lines["zero"] = [[(frame.left, frame.y(0)), (frame.right, frame.y(0))]]
    return lines


Named = Curve | Area | Level | Mark
"""What may be named above a panel, beside a sample."""


@dataclass(frozen=True)
class PanelLabels:
    """The labels that stand in a panel, and what is named above it for want of room in it."""

    placed: tuple[Label, ...]
    above: tuple[Named, ...]


def placed_in(panel: Panel, frame: Frame) -> PanelLabels:
    """Give every label of a panel a place: marks first, then levels, curves, areas.

    A mark's label for which there is no room is left out, since the table beside the chart holds it; that of a hollow
    one names its like, and stands above the panel.
    """
    room = Room(frame, lines=lines_of(panel, frame))
    placed: list[Label] = []
    above: list[Named] = []
    for mark in panel.marks:
        if not _place_mark(mark, frame, room, placed) and mark.hollow:
            above.append(mark)
    for level in panel.levels:
        y = frame.held((0, frame.y(level.value)))[1]
        text = one_line(level.text)
        if not _place(_beside_level(y, frame, text_width(text)), level.key, text, room, placed):
            above.append(level)
    for curve in panel.curves:
        text = "" if curve.named_by_mark else one_line(curve.label)
        pieces = within(frame.at(curve.points), frame)
        places = (place for piece in pieces for place in _beside_curve(piece, frame, text_width(text)))
        if curve.points and not _place(places, curve.key, text, room, placed, f"curve {curve.key}"):
            above.append(curve)
    for area in panel.areas:
        text = one_line(area.label)
        beside = _beside_area(area, frame, text_width(text))
        if area.points and not _place(beside, area.key, text, room, placed):
            above.append(area)
    return PanelLabels(tuple(placed), tuple(above))


def _place_mark(mark: Mark, frame: Frame, room: Room, placed: list[Label]) -> bool:
    """Put a mark's label where it fits best, in fewer words where all do not fit, and say whether there was room."""
    at, width = frame.held((frame.x(mark.x), frame.y(mark.y))), frame.right - frame.left - 8
    whole = one_line(mark.text)
    # What names others too is told in whole or not here.
    texts = [whole if mark.hollow else fitted(whole, width), *([mark.short] if mark.short else [])]
    return any(_place(_beside_mark(at, text_width(text)), mark.key, text, room, placed) for text in texts)


def _place(places: Iterator[_Place], key: str, text: str, room: Room, placed: list[Label], owner: str = "") -> bool:
    """Put a label where it fits best, and say whether there was room for it; no label needs none."""
    if not text:
        return True
    label = _best(places, key, text, room, owner)
    if label is None:
        return False
    room.texts.append(label.box)
    if label.leader is not None:
        room.lines[f"leader {key}"] = [list(label.leader)]
    placed.append(label)
    return True
