"""Draws one thing against another: curves, filled areas, named levels, points with their intervals."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.presenting.curve_views import Area, Curve, CurveChart, Level, Mark, Panel
from generator.rendering.curve_axes import (
    Box,
    Frame,
    Point,
    axis_title,
    edges_of,
    leaves,
    spread_out,
    ticks_of,
    within,
    without_needless,
)
from generator.rendering.curve_labels import (
    FALL,
    HEAD_BELOW,
    RISE,
    Named,
    PanelLabels,
    placed_in,
)
from generator.rendering.curve_marks import draw_diamond, draw_mark, draw_pointer
from generator.rendering.drawing import ACCENT, FAINT, LIMIT, LINE, TEXT_SIZE, Pen, fitted, one_line, text_width
from generator.rendering.event_labels import EventLabel, baseline, events_height, placed_events
from generator.rendering.hatching import hatched
from generator.rendering.svg_cleaning import INK

HIGHEST = 232
"""The height of the plot where there is one panel. [px]"""
LOWEST = 64
ROOM = 720
"""What the plots of a chart of many panels share in height, so that it stands on one sheet of paper. [px]"""
MOST_OF_FEW = 180
MOST_OF_MANY = 132
"""Where there are two or three panels, and where there are more. [px]"""
BETWEEN = 16
"""From one panel to the next. [px]"""
TICK = 8
FINE_TICK = 4
SAMPLE = 22
"""The length of the sample beside a name above a panel. [px]"""
DASHES = (5.0, 3.0)
_BREAK = (math.nan, math.nan)
"""Between two pieces of one line."""
BAND = 0.16
HATCHED = 0.14
"""How much of its colour an area has."""


@dataclass(frozen=True)
class _Layout:
    """One panel on the sheet: where it begins and its plot lies, and the labels in and above it. [px]"""

    panel: Panel
    top: float
    named: float
    """Where the names above it begin."""
    frame: Frame
    """The plot, as it lies on the sheet."""
    title: float
    """How much of the line above the plot the title of the axis takes."""
    labels: PanelLabels
    """Places in a plot that begins at 0."""
    events: tuple[EventLabel, ...]


def _room_upright(text: str) -> float:
    return LINE + 9


def _plot_height(panels: int) -> float:
    if panels < 2:
        return HIGHEST
    return min(max(ROOM / panels - 40, LOWEST), MOST_OF_FEW if panels < 4 else MOST_OF_MANY)


def _rows_above(names: Sequence[Named], width: float) -> list[list[tuple[float, Named]]]:
    """Put samples and names above a panel side by side, where each begins, in as many rows as they need."""
    rows: list[list[tuple[float, Named]]] = []
    end = width
    for named in names:
        wide = SAMPLE + 6 + text_width(_name(named))
        if not rows or end + 18 + wide > width:
            rows.append([])
            end = -18
        rows[-1].append((end + 18, named))
        end += 18 + wide
    return rows


def _name(named: Named) -> str:
    return one_line(named.text if isinstance(named, Level | Mark) else named.label)


def _layouts(chart: CurveChart, width: float) -> list[_Layout]:
    horizontal, vertical = spread_out(chart.x), spread_out(chart.y)
    height = _plot_height(len(chart.panels))
    ticks = ticks_of(vertical, height, _room_upright)
    left = min(max(text_width(tick.text) for tick in ticks) + TICK + 7, width * 0.28)
    shape = Frame(round(left), width - 12, 0, height, horizontal, vertical)
    layouts = []
    top = 0.0
    for number, panel in enumerate(chart.panels):
        title = text_width(fitted(axis_title(vertical), width)) if number == 0 else 0
        labels = placed_in(panel, shape)
        events = tuple(placed_events(panel.events, shape, width, title))
        named = top + (LINE + 4 if panel.heading else 0)
        rows = LINE * len(_rows_above(labels.above, width))
        plot = named + rows + (events_height(events, title) or 7)
        frame = replace(shape, top=plot, bottom=plot + height)
        layouts.append(_Layout(panel, top, named, frame, title, labels, events))
        top = frame.bottom + TICK + BETWEEN
    return layouts


def _colour(named: Named) -> str:
    if isinstance(named, Level) or (isinstance(named, Area) and named.warning):
        return LIMIT
    return ACCENT if isinstance(named, Area | Mark) or named.accent else INK


def _opacity(area: Area) -> float:
    return HATCHED if area.warning else BAND


def _stroke(pen: Pen, points: Sequence[Point], colour: str, width: float, name: str = "") -> None:
    pen.line(tuple(x for x, _ in points), tuple(y for _, y in points), colour, width, name)


def _draw_heading(pen: Pen, layout: _Layout, number: int, width: float) -> None:
    frame = layout.frame
    if number:
        pen.line((0, frame.right), (layout.top - 5, layout.top - 5), FAINT, 0.6)
    if layout.panel.heading:
        pen.text(0, layout.top + TEXT_SIZE, fitted(layout.panel.heading, width))
    if number == 0:
        pen.text(0, baseline(frame, 0), fitted(axis_title(frame.vertical), width))


def _draw_vertical_axis(pen: Pen, frame: Frame, levels: Sequence[Level], number: int) -> None:
    pen.line((frame.left, frame.left), (frame.top, frame.bottom), INK, 1)
    fine = []
    for tick in ticks_of(frame.vertical, frame.bottom - frame.top, _room_upright):
        y = frame.y(tick.value)
        if not tick.text:
            fine.append(((frame.left - FINE_TICK, y), (frame.left, y)))
            continue
        name = f"y-tick-{tick.value:g}" if number == 0 else f"p{number}-y-tick-{tick.value:g}"
        pen.line((frame.left - TICK, frame.left), (y, y), INK, 0.8, name)
        pen.text(frame.left - TICK - 3, y + 4, fitted(tick.text, frame.left - TICK - 3), "end")
    pen.lines(fine, INK, 0.5)
    if frame.vertical.low < 0 < frame.vertical.high and all(level.value for level in levels):
        pen.line((frame.left, frame.right), (frame.y(0), frame.y(0)), INK, 0.5, f"p{number}-y-zero")


def _draw_horizontal_axis(pen: Pen, frame: Frame, number: int, last: bool, width: float) -> None:
    """Draw the axis below a plot; its numbers, its finer ticks and its title stand once, below the last."""
    pen.line((frame.left, frame.right), (frame.bottom, frame.bottom), INK, 1)
    plain = []
    for tick in ticks_of(
        frame.horizontal, frame.right - frame.left, lambda text: max(text_width(text) + 14, width / 16)
    ):
        x, end = frame.x(tick.value), frame.bottom + (TICK if tick.text else FINE_TICK)
        if not (tick.text and last):
            plain += [((x, frame.bottom), (x, end))] if tick.text or last else []
            continue
        pen.line((x, x), (frame.bottom, end), INK, 0.8, f"x-tick-{tick.value:g}")
        half = text_width(tick.text) / 2
        pen.text(min(max(x, half), width - half), end + 1 + TEXT_SIZE, tick.text, "middle")
    pen.lines(plain, INK, 0.5)
    if last:
        title = fitted(axis_title(frame.horizontal), width - frame.left)
        pen.text(frame.left, frame.bottom + TICK + TEXT_SIZE + LINE + 2, title)
    if frame.horizontal.low < 0 < frame.horizontal.high:
        pen.line((frame.x(0), frame.x(0)), (frame.top, frame.bottom), INK, 0.5, f"p{number}-x-zero")


def _draw_area(pen: Pen, area: Area, frame: Frame, texts: Sequence[Box], name: str) -> None:
    upper, lower = edges_of(area.points, frame)
    if not upper:
        return
    colour = _colour(area)
    pen.tint([*without_needless(upper), *reversed(without_needless(lower))], colour, _opacity(area), name)
    if area.warning:
        pen.lines(hatched(upper, lower, texts), colour, 0.7, f"{name}-hatching")


def _draw_curve(pen: Pen, curve: Curve, frame: Frame, name: str) -> None:
    colour, points = _colour(curve), frame.at(curve.points)
    pieces = [without_needless(piece) for piece in within(points, frame)]
    # A single reading would be a line without length.
    lines = [piece if len(piece) > 1 else [piece[0], (piece[0][0] + 1, piece[0][1])] for piece in pieces]
    pen.lines(lines, colour, 1.6 if curve.accent else 1.2, name, DASHES if curve.dashed else None)
    for number, (x, above) in enumerate(leaves(points, frame, apart=12)):
        edge = frame.top if above else frame.bottom
        draw_pointer(pen, (round(x, 1), edge), (0, -1 if above else 1), colour, f"{name}-past-{number}")


def _draw_level(pen: Pen, level: Level, frame: Frame, name: str) -> None:
    y = frame.y(level.value)
    if level.low is not None and level.high is not None:
        _, top = frame.held((0, frame.y(level.high)))
        _, bottom = frame.held((0, frame.y(level.low)))
        corners = [(frame.left, top), (frame.right, top), (frame.right, bottom), (frame.left, bottom)]
        pen.tint(corners, LIMIT, BAND, f"{name}-interval")
    if frame.has_y(y):
        pen.line((frame.left, frame.right), (y, y), LIMIT, 0.9, name)
    else:
        above = y < frame.top
        draw_pointer(pen, (frame.right - 5, frame.top if above else frame.bottom), (0, -1 if above else 1), LIMIT, name)


def _start_of_vertical(label: EventLabel, frame: Frame) -> float:
    """Return where an event's vertical begins: beside its name at the name's upper edge, under it at its lower one."""
    if not label.lines:
        return frame.top
    beside = not label.left <= frame.x(label.event.value) <= label.right
    return baseline(frame, label.top) - RISE if beside else baseline(frame, label.row) + FALL + 1


def _rows_broken(label: EventLabel, layout: _Layout) -> list[int]:
    """Return the rows above a plot, from the top, at which an event's vertical would run through another's name."""
    x = layout.frame.x(label.event.value)
    names = [(row, each.left, each.right) for each in layout.events for row in range(each.row, each.top + 1)]
    taken = [*names, *([(0, 0.0, layout.title)] if layout.title else [])]
    broken = {row for row, start, end in taken if row < label.top and start - 3 < x < end + 3}
    return sorted(broken - set(range(label.row, label.top + 1)), reverse=True) if label.lines else []


def _draw_events(pen: Pen, layout: _Layout, number: int) -> None:
    frame = layout.frame
    for label in layout.events:
        x = frame.x(label.event.value)
        name = f"p{number}-{label.event.key}"
        for line, text in enumerate(label.lines):
            place, anchor = (label.right, "end") if label.is_left else (label.left, "start")
            pen.text(place, baseline(frame, label.top - line), text, anchor)
        if not frame.has_x(x):
            right = x > frame.right
            draw_pointer(
                pen, (frame.right if right else frame.left, frame.top + HEAD_BELOW), (1 if right else -1, 0), INK, name
            )
            continue
        corners = [(x, _start_of_vertical(label, frame))]
        for row in _rows_broken(label, layout):
            corners += [(x, baseline(frame, row) - RISE - 1), _BREAK, (x, baseline(frame, row) + FALL + 1)]
        corners.append((x, frame.bottom))
        _stroke(pen, corners, INK, 0.8, name)


def _draw_names_above(pen: Pen, layout: _Layout, width: float) -> None:
    """Name above a panel what there is no room for in it, each beside a sample of how it is drawn."""
    for row, names in enumerate(_rows_above(layout.labels.above, width)):
        baseline = layout.named + LINE * row + TEXT_SIZE
        for start, named in names:
            middle, end = baseline - 4, start + SAMPLE
            colour = _colour(named)
            if isinstance(named, Area):
                upper, lower = [(start, middle - 5), (end, middle - 5)], [(start, middle + 5), (end, middle + 5)]
                pen.tint([*upper, *reversed(lower)], colour, _opacity(named), "")
                pen.lines(hatched(upper, lower, ()) if named.warning else (), colour, 0.7)
            elif isinstance(named, Mark):
                draw_diamond(pen, ((start + end) / 2, middle), named.hollow, "")
            else:
                dashed = isinstance(named, Curve) and named.dashed
                width_of_line = 0.9 if isinstance(named, Level) else 1.4
                pen.line((start, end), (middle, middle), colour, width_of_line, "", DASHES if dashed else None)
            pen.text(end + 6, baseline, fitted(_name(named), width - end - 6), colour=colour)


def _draw_panel(pen: Pen, layout: _Layout, number: int) -> None:
    frame, panel = layout.frame, layout.panel
    boxes = [(left, top + frame.top, right, end + frame.top) for left, top, right, end in _boxes(layout.labels)]
    for area in panel.areas:
        _draw_area(pen, area, frame, boxes, f"p{number}-{area.key}")
    _draw_events(pen, layout, number)
    for level in panel.levels:
        _draw_level(pen, level, frame, f"p{number}-{level.key}")
    for curve in panel.curves:
        _draw_curve(pen, curve, frame, f"p{number}-{curve.key}")
    for mark in panel.marks:
        draw_mark(pen, mark, frame, f"p{number}-{mark.key}")
    hollow = (mark for mark in panel.marks if mark.hollow)
    named: tuple[Named, ...] = (*panel.curves, *panel.areas, *panel.levels, *hollow)
    colours = {each.key: _colour(each) for each in named}
    for label in layout.labels.placed:
        if label.leader is not None:
            _stroke(pen, [(x, y + frame.top) for x, y in label.leader], FAINT, 0.6)
        pen.text(label.x, label.y + frame.top, label.text, colour=colours.get(label.key, INK))


def _boxes(labels: PanelLabels) -> list[Box]:
    return [label.box for label in labels.placed]


def draw_curves(chart: CurveChart, narrow: bool = False) -> str:
    """Draw a chart of curves as inline SVG, wide or narrow.

    Ids in the drawing start with the chart's id, `-n` behind it where it is narrow. `<id>-x-tick-60` and
    `<id>-y-tick-20` are numbered ticks, those of y in the first panel and `<id>-p1-y-tick-20` in the second;
    `<id>-p0-y-zero` is the line at zero where the axis spans it. What a panel holds has the panel's number and its own
    key: `<id>-p0-<key>`, for an area with `-hatching` and for a level with `-interval` behind it where there is one,
    for a mark with `-x-low`, `-x-high`, `-y-low` and `-y-high` for the ends of its intervals. `<id>-p0-<key>-past-0`
    points to where a curve runs past the axis.
    """
    width = 350 if narrow else 700
    layouts = _layouts(chart, width)
    pen = Pen(width, layouts[-1].frame.bottom + TICK + TEXT_SIZE + LINE + 8)
    for number, layout in enumerate(layouts):
        _draw_heading(pen, layout, number, width)
        _draw_vertical_axis(pen, layout.frame, layout.panel.levels, number)
        _draw_horizontal_axis(pen, layout.frame, number, number == len(layouts) - 1, width)
        _draw_names_above(pen, layout, width)
        _draw_panel(pen, layout, number)
    return pen.inline_svg(chart.id, chart.title, chart.description, narrow=narrow)
