"""Charts of curves: data where the axes say, labels that meet nothing, edges that show what lies past them."""

from __future__ import annotations

import itertools
import math
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.presenting.curve_views import Area, Axis, Curve, CurveChart, Event, Level, Mark, Panel
from generator.rendering.curve_drawing import draw_curves
from generator.rendering.drawing import ACCENT, FAINT, LIMIT
from tests.rendering.charts import Drawing, box, meet, pieces_of
from tests.rendering.curve_charts import EXAMPLES, a_blower_curve, a_pressure_trace, a_run_down, breaths

WAYS = pytest.mark.parametrize("narrow", [False, True])
ROUNDING = 0.15
"""Coordinates are written to a tenth of a pixel, and a place read off ticks has the rounding of both. [px]"""
LONG = 0.3
"""So far may a line of many points lie off: the drawing library leaves out points within a ninth of a pixel. [px]"""
Point = tuple[float, float]


class Chart(Drawing):
    """A drawing of curves, with its two axes read off its own ticks."""

    def __init__(self, chart: CurveChart, narrow: bool = False) -> None:
        """Draw the chart."""
        self.chart, self.prefix = chart, f"{chart.id}-n" if narrow else chart.id
        self.markup = draw_curves(chart, narrow)
        super().__init__(self.markup)
        self.ids = [str(element.get("id")) for element in self.root.iter() if element.get("id")]

    def ticks(self, stem: str) -> dict[float, float]:
        """Return the places of the numbered ticks of an axis by their values. [px]"""
        place = 0 if "x-tick" in stem else 1
        found = [name for name in self.ids if name.startswith(f"{self.prefix}-{stem}-")]
        return {float(name.removeprefix(f"{self.prefix}-{stem}-")): self.points(name)[0][place] for name in found}

    def at(self, x: float, y: float, panel: int = 0) -> Point:
        """Return where a point belongs, by linear interpolation between the outermost ticks. [px]"""
        across, upright = self.ticks("x-tick"), self.ticks("y-tick" if panel == 0 else f"p{panel}-y-tick")
        return _between(across, x), _between(upright, y)

    def pieces(self, name: str) -> list[list[Point]]:
        """Return the unbroken lines of an element."""
        return pieces_of(self.path(f"{self.prefix}-{name}").attrib["d"])

    def style(self, name: str) -> dict[str, str]:
        return dict(self.path(f"{self.prefix}-{name}").attrib)

    def words(self) -> list[str]:
        return [written.text for written in self.texts()]


def _between(ticks: dict[float, float], value: float) -> float:
    low, high = min(ticks), max(ticks)
    return ticks[low] + (ticks[high] - ticks[low]) * (value - low) / (high - low)


def distance(point: Point, line: list[Point]) -> float:
    """Return how far a point lies from a polyline. [px]"""
    found = [math.dist(point, line[0])]
    for (left, top), (right, bottom) in itertools.pairwise(line):
        step = (right - left, bottom - top)
        length = step[0] ** 2 + step[1] ** 2
        share = ((point[0] - left) * step[0] + (point[1] - top) * step[1]) / length if length else 0
        share = min(max(share, 0), 1)
        found.append(math.dist(point, (left + share * step[0], top + share * step[1])))
    return min(found)


def one_panel(
    *curves: Curve,
    x: tuple[float, float] = (0, 10),
    y: tuple[float, float] = (0, 100),
    unit: str = "L/min",
    **more: Any,
) -> CurveChart:
    panel = Panel(more.pop("heading", ""), curves=curves, **more)
    return CurveChart("chart", "A chart", "What it shows", "", Axis("time", "h", *x), Axis("flow", unit, *y), (panel,))


@WAYS
@pytest.mark.parametrize("name", EXAMPLES)
def test_curves_lie_where_the_axes_say(name: str, narrow: bool) -> None:
    chart = EXAMPLES[name]()
    drawing = Chart(chart, narrow)
    for number, panel in enumerate(chart.panels):
        for curve in panel.curves:
            drawn = drawing.pieces(f"p{number}-{curve.key}")
            # source: linear interpolation between the drawing's own outermost ticks
            held = [(x, y) for x, y in curve.points if chart.y.low <= y <= chart.y.high and x <= chart.x.high]
            wanted = [drawing.at(x, y, number) for x, y in held]
            assert len(wanted) >= 2
            assert max(min(distance(point, piece) for piece in drawn) for point in wanted) <= LONG
            line = [drawing.at(x, y, number) for x, y in curve.points]
            assert max(distance(corner, line) for piece in drawn for corner in piece) <= LONG


@settings(max_examples=25, deadline=None)
@given(
    values=st.lists(st.floats(-50, 150), min_size=2, max_size=30),
    low=st.floats(-1000, 40),
    span=st.floats(1, 5000),
    narrow=st.booleans(),
)
def test_any_curve_is_whole_within_the_axes_and_absent_outside(
    values: list[float], low: float, span: float, narrow: bool
) -> None:
    points = tuple((10 * number / (len(values) - 1), value) for number, value in enumerate(values))
    chart = one_panel(Curve("a", "", points), y=(low, low + span))
    drawing = Chart(chart, narrow)
    left, right = sorted(place for place in drawing.ticks("x-tick").values())[:: len(drawing.ticks("x-tick")) - 1]
    axis = [point for points in _lines(drawing) for point in points if abs(points[0][0] - points[-1][0]) < 0.01]
    top, bottom = min(y for _, y in axis), max(y for _, y in axis)
    drawn = drawing.pieces("p0-a") if f"{drawing.prefix}-p0-a" in drawing.ids else []
    for piece in drawn:
        assert all(left - 0.2 <= x <= right + 1.2 and top - 0.2 <= y <= bottom + 0.2 for x, y in piece)
    for (first, one), (last, other) in itertools.pairwise(points):
        for share in (0.05, 0.35, 0.65, 0.95):
            x, y = first + share * (last - first), one + share * (other - one)
            place = left + (right - left) * x / 10, bottom - (bottom - top) * (y - low) / span
            nearest = min((distance(place, piece) for piece in drawn), default=math.inf)
            if top + 0.2 < place[1] < bottom - 0.2:
                # source: proportion along the two axes; a line steeper than any flow may be cut by 1/9 px in drawing
                assert nearest <= 0.4
            elif place[1] < top - 0.5 or place[1] > bottom + 0.5:
                assert nearest > 0.2


def _lines(drawing: Drawing) -> list[list[Point]]:
    """Return the two axes: the only lines of width 1 in ink."""
    paths = [path for path in drawing.root.iter("path") if path.get("stroke-width", "1") == "1"]
    found = [piece for path in paths for piece in pieces_of(path.attrib["d"])]
    return [line for line in found if len(line) == 2]


@WAYS
def test_panels_have_one_scale(narrow: bool) -> None:
    drawing = Chart(breaths(), narrow)
    spans = []
    for stem in ("y-tick", *(f"p{number}-y-tick" for number in range(1, 5))):
        ticks = drawing.ticks(stem)
        assert set(ticks) == {0, 100, 200, 300}
        spans.append(ticks[0] - ticks[300])
    assert max(spans) - min(spans) <= 2 * ROUNDING
    assert min(spans) > 60
    starts = [drawing.pieces(f"p{number}-supply")[0][0][0] for number in range(5)]
    assert max(starts) - min(starts) <= ROUNDING
    tops = [written.y for written in drawing.texts() if ": peak " in written.text]
    assert (len(tops), tops) == (5, sorted(tops))


@WAYS
@pytest.mark.parametrize("example", [breaths, a_pressure_trace, a_blower_curve])
def test_areas_have_the_corners_of_their_data(example: Any, narrow: bool) -> None:
    drawing = Chart(example(), narrow)
    seen = 0
    for number, panel in enumerate(drawing.chart.panels):
        for area in panel.areas:
            seen += 1
            (outline,) = drawing.pieces(f"p{number}-{area.key}")
            outline = [*outline, outline[0]]
            low_end, high_end = drawing.chart.y.low, drawing.chart.y.high
            for x, low, high in area.points:
                for value in (low, high):
                    # source: linear interpolation between the drawing's own ticks, held at the ends of the axis
                    wanted = drawing.at(x, min(max(value, low_end), high_end), number)
                    assert distance(wanted, outline) <= LONG
            assert drawing.style(f"p{number}-{area.key}")["fill"] == (LIMIT if area.warning else ACCENT)
            assert float(drawing.style(f"p{number}-{area.key}")["opacity"]) < 0.25
            assert (f"{drawing.prefix}-p{number}-{area.key}-hatching" in drawing.ids) == area.warning
    assert seen


@WAYS
@pytest.mark.parametrize("example", [breaths, a_pressure_trace])
def test_hatching_lies_within_its_area_and_on_no_text(example: Any, narrow: bool) -> None:
    drawing = Chart(example(), narrow)
    texts = [box(written) for written in drawing.texts()]
    strokes = 0
    for number, panel in enumerate(drawing.chart.panels):
        for area in panel.areas:
            edges = [drawing.at(x, value, number) for x, low, high in area.points for value in (low, high)]
            upper = sorted(point for point in edges)
            for one, other in drawing.pieces(f"p{number}-{area.key}-hatching"):
                strokes += 1
                assert one[0] + one[1] == pytest.approx(other[0] + other[1], abs=0.25)
                middle = (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
                near = [y for x, y in upper if abs(x - middle[0]) < (16 if not narrow else 9)]
                assert min(near) - 1 <= middle[1] <= max(near) + 1
                assert not any(left < middle[0] < right and top < middle[1] < end for left, top, right, end in texts)
    assert strokes > 15


@WAYS
def test_marks_stand_at_their_values_with_their_intervals(narrow: bool) -> None:
    mark = Mark("m", "50 at 5", 5, 50, 40, 65, 4, 7)
    drawing = Chart(one_panel(marks=(mark,)), narrow)
    corners = drawing.pieces("p0-m")[0]
    x, y = drawing.at(5, 50)
    assert drawing.middle(f"{drawing.prefix}-p0-m") == pytest.approx(x, abs=ROUNDING)
    assert (min(y for _, y in corners) + max(y for _, y in corners)) / 2 == pytest.approx(y, abs=ROUNDING)
    for side, end in (("x-low", (4, 50)), ("x-high", (7, 50)), ("y-low", (5, 40)), ("y-high", (5, 65))):
        ((start, reached),) = drawing.pieces(f"p0-m-{side}")
        # source: linear interpolation between the drawing's own ticks
        assert start == pytest.approx((x, y), abs=ROUNDING)
        assert reached == pytest.approx(drawing.at(*end), abs=ROUNDING)
    assert "50 at 5" in drawing.words()


def test_an_interval_with_one_end_is_open_at_the_other() -> None:
    drawing = Chart(one_panel(marks=(Mark("m", "", 5, 50, y_low=40),)))
    closed = Chart(one_panel(marks=(Mark("m", "", 5, 50, 40, 60),)))
    heads = [len(list(each.root.iter("path"))) for each in (drawing, closed)]
    assert heads[0] == heads[1] + 1
    assert "chart-p0-m-x-low" not in drawing.ids
    ((start, end),) = drawing.pieces("p0-m-y-high")
    # source: an open bar reaches 22 px, as on the scale of fit factors
    assert start[1] - end[1] == pytest.approx(22, abs=ROUNDING)


@pytest.mark.parametrize(
    ("x", "y", "way"), [(5, 130, "up"), (5, -30, "down"), (12, 50, "right"), (-2, 50, "left"), (5, 50, None)]
)
def test_a_mark_past_the_axis_is_an_arrow_head_that_points_on(x: float, y: float, way: str | None) -> None:
    drawing = Chart(one_panel(marks=(Mark("m", "", x, y),)))
    corners = list(dict.fromkeys(drawing.pieces("p0-m")[0]))
    assert len(corners) == (4 if way is None else 3)
    edge = drawing.at(min(max(x, 0), 10), min(max(y, 0), 100))
    aim = {"up": (0, -1), "down": (0, 1), "right": (1, 0), "left": (-1, 0), None: (0, 0)}[way]
    tip = max(corners, key=lambda corner: corner[0] * aim[0] + corner[1] * aim[1])
    if way is not None:
        assert tip == pytest.approx(edge, abs=ROUNDING)
        # source: an arrow head is 6 px long
        assert max(math.dist(tip, corner) for corner in corners) == pytest.approx(math.hypot(6, 4), abs=ROUNDING)


@WAYS
def test_levels_and_events_lie_at_their_values(narrow: bool) -> None:
    drawing = Chart(a_run_down(), narrow)
    ((start, end),) = drawing.pieces("p0-required")
    # source: linear interpolation between the drawing's own ticks
    assert start[1] == end[1] == pytest.approx(drawing.at(0, 170)[1], abs=ROUNDING)
    assert (start[0], end[0]) == pytest.approx((drawing.at(0, 0)[0], drawing.at(480, 0)[0]), abs=ROUNDING)
    assert drawing.style("p0-required")["stroke"] == LIMIT
    for key, time in (("alarm", 391), ("below", 415), ("end", 478)):
        line = [point for piece in drawing.pieces(f"p0-{key}") for point in piece]
        assert {x for x, _ in line} == {line[0][0]}
        assert line[0][0] == pytest.approx(drawing.at(time, 0)[0], abs=ROUNDING)
        assert max(y for _, y in line) == pytest.approx(drawing.at(0, 0)[1], abs=ROUNDING)
        assert drawing.style(f"p0-{key}")["stroke"] == "currentColor"


def test_a_level_has_a_band_where_it_has_an_interval() -> None:
    drawing = Chart(one_panel(levels=(Level("l", "limit", 50, 45, 58),)))
    ys = [y for _, y in drawing.pieces("p0-l-interval")[0]]
    assert (min(ys), max(ys)) == pytest.approx((drawing.at(0, 58)[1], drawing.at(0, 45)[1]), abs=ROUNDING)
    assert "chart-p0-l-interval" not in Chart(one_panel(levels=(Level("l", "limit", 50),))).ids


@WAYS
def test_levels_and_events_past_the_axis_are_arrow_heads_at_the_edge(narrow: bool) -> None:
    chart = one_panel(levels=(Level("l", "170 asked for", 170),), events=(Event("e", "alarm after 12 h", 12),))
    drawing = Chart(chart, narrow)
    assert {"170 asked for", "alarm after 12 h"} < set(drawing.words())
    level, event = (list(dict.fromkeys(drawing.pieces(f"p0-{key}")[0])) for key in "le")
    assert (len(level), len(event)) == (3, 3)
    # source: the tip of each lies at the end of its axis
    assert min(y for _, y in level) == pytest.approx(drawing.at(0, 100)[1], abs=ROUNDING)
    assert max(x for x, _ in event) == pytest.approx(drawing.at(10, 0)[0], abs=ROUNDING)


@WAYS
def test_a_curve_past_the_axis_is_cut_and_pointed_after(narrow: bool) -> None:
    curve = Curve("c", "a peak", ((0, 20), (4, 20), (5, 220), (6, 20), (10, 20)))
    drawing = Chart(one_panel(curve), narrow)
    first, second = drawing.pieces("p0-c")
    # source: by hand, the line of 200 an hour reaches 100 at 4.4 h and comes back at 5.6 h
    assert first[-1] == pytest.approx(drawing.at(4.4, 100), abs=ROUNDING)
    assert second[0] == pytest.approx(drawing.at(5.6, 100), abs=ROUNDING)
    tip = min(drawing.pieces("p0-c-past-0")[0], key=lambda corner: corner[1])
    assert tip == pytest.approx((drawing.at(5, 0)[0], drawing.at(0, 100)[1]), abs=ROUNDING)
    assert f"{drawing.prefix}-p0-c-past-1" not in drawing.ids
    gone = Chart(one_panel(replace(curve, points=((0, 20), (5, 120), (10, 220)))), narrow)
    tip = min(gone.pieces("p0-c-past-0")[0], key=lambda corner: corner[1])
    # source: by hand, 20 an hour from 20 reaches 100 at 4 h
    assert tip[0] == pytest.approx(gone.at(4, 0)[0], abs=ROUNDING)


def test_dashes_and_colours() -> None:
    points = ((0.0, 10.0), (10.0, 90.0))
    plain, dashed = Curve("a", "a", points), Curve("b", "b", ((0, 5), (10, 20)), dashed=True, accent=False)
    drawing = Chart(one_panel(plain, dashed))
    assert "stroke-dasharray" not in drawing.style("p0-a")
    assert re.fullmatch(r"5(\.0+)?,3(\.0+)?", drawing.style("p0-b")["stroke-dasharray"].replace(" ", ""))
    assert (drawing.style("p0-a")["stroke"], drawing.style("p0-b")["stroke"]) == (ACCENT, "currentColor")


@pytest.mark.parametrize(
    ("unit", "ends", "expected"),
    [
        # source: steps of 1, 2 or 5 times a power of ten, by hand; at least 24 px apart on 232 px
        ("L/min", (0, 250), ["0", "50", "100", "150", "200", "250"]),
        ("Pa", (-60, 240), ["−50", "0", "50", "100", "150", "200"]),
        ("V", (0.02, 0.11), ["0.02", "0.03", "0.04", "0.05", "0.06", "0.07", "0.08", "0.09", "0.10", "0.11"]),
        (
            "Pa",
            (9000, 12_500),
            ["9000", "9500", "10\u202f000", "10\u202f500", "11\u202f000", "11\u202f500", "12\u202f000"],
        ),
        # source: minutes and seconds in an hour
        ("min", (0, 480), ["0", "60", "120", "180", "240", "300", "360", "420", "480"]),
        ("min", (0, 200), ["0", "30", "60", "90", "120", "150", "180"]),
        ("s", (0, 4), ["0.0", "0.5", "1.0", "1.5", "2.0", "2.5", "3.0", "3.5", "4.0"]),
    ],
)
def test_ticks(unit: str, ends: tuple[float, float], expected: list[str]) -> None:
    drawing = Chart(one_panel(Curve("a", "", ((0, ends[0]), (10, ends[1]))), y=ends, unit=unit))
    upright = [written.text for written in drawing.texts() if written.anchor == "end"]
    assert upright[: len(expected)] == expected
    assert set(upright) - set(expected) <= {"12\u202f500"}
    assert f"flow, {unit}" in drawing.words()


def test_an_axis_of_no_length_is_drawn_too() -> None:
    drawing = Chart(one_panel(Curve("a", "still", ((3, 7), (3, 7))), x=(3, 3), y=(7, 7)))
    assert drawing.pieces("p0-a")
    assert "still" in drawing.words()


def test_a_line_at_zero_stands_where_the_axis_spans_it() -> None:
    drawing = Chart(a_pressure_trace())
    ((start, end),) = drawing.pieces("p0-y-zero")
    assert start[1] == end[1] == pytest.approx(drawing.at(0, 0)[1], abs=ROUNDING)
    assert "blower-p0-y-zero" not in Chart(a_blower_curve()).ids
    upright = Chart(one_panel(Curve("a", "", ((-5, 1), (5, 2))), x=(-5, 5)))
    ((one, other),) = upright.pieces("p0-x-zero")
    assert one[0] == other[0] == pytest.approx(upright.at(0, 0)[0], abs=ROUNDING)


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("name", EXAMPLES)
def test_texts_of_examples_meet_no_text_and_no_line(name: str, narrow: bool) -> None:
    drawing = Chart(EXAMPLES[name](), narrow)
    assert_legible(drawing)
    wanted = {text for panel in drawing.chart.panels for text in texts_of(panel)}
    assert wanted <= set(drawing.words())


def texts_of(panel: Panel) -> set[str]:
    named = {panel.heading, *(each.label for each in panel.curves), *(each.label for each in panel.areas)}
    named |= {each.text for each in panel.levels} | {each.text for each in panel.events}
    return (named | {each.text for each in panel.marks}) - {""}


def assert_legible(drawing: Chart) -> None:
    """Hold texts apart from the edge of the sheet, from each other and from the lines of what is drawn."""
    boxes = [(written.text, box(written)) for written in drawing.texts()]
    for text, (left, top, right, bottom) in boxes:
        assert left >= -0.5, text
        assert right <= drawing.width + 0.5, text
        assert top >= 0, text
        assert bottom <= drawing.height, text
    assert [(one[0], other[0]) for one, other in itertools.combinations(boxes, 2) if meet(one[1], other[1])] == []
    crossed = [
        (name, text)
        for name in drawing.ids
        if re.search(r"-p\d+-", name) and not name.endswith(("-hatching", "-interval"))
        for piece in drawing.pieces(name.removeprefix(f"{drawing.prefix}-"))
        if not is_area(drawing, name)
        for one, other in itertools.pairwise(piece)
        for text, inside in boxes
        if runs_through(one, other, inside)
    ]
    assert crossed == []


def is_area(drawing: Chart, name: str) -> bool:
    keys = {f"p{n}-{area.key}" for n, panel in enumerate(drawing.chart.panels) for area in panel.areas}
    return name.removeprefix(f"{drawing.prefix}-") in keys or "y-tick" in name


def runs_through(one: Point, other: Point, inside: tuple[float, float, float, float]) -> bool:
    """Whether a straight line has a point within a box, tried at every half pixel."""
    steps = max(math.ceil(2 * math.dist(one, other)), 1)
    shares = [number / steps for number in range(steps + 1)]
    places = [(one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])) for share in shares]
    return any(inside[0] < x < inside[2] and inside[1] < y < inside[3] for x, y in places)


WORDS = st.sampled_from(
    [
        "",
        "flow",
        "low battery alarm",
        "170 L/min: least flow for a loose-fitting facepiece",
        "W" * 80,
        "$x$",
        "a\nb",
        "□字",
    ]
)
PLACES = st.floats(-20, 120)


@st.composite
def nasty_panels(draw: st.DrawFn) -> Panel:
    """Return panels of much that lies close together or far off, with long names."""

    def some(of: st.SearchStrategy[Any], most: int) -> list[Any]:
        return draw(st.lists(of, max_size=most))

    curves = some(st.tuples(WORDS, st.lists(PLACES, min_size=1, max_size=12), st.booleans()), 4)
    areas = some(st.tuples(WORDS, st.lists(PLACES, min_size=2, max_size=8), st.floats(0, 60), st.booleans()), 2)
    return Panel(
        draw(WORDS),
        tuple(
            Curve(f"c{n}", text, tuple((10 * k / max(len(ys) - 1, 1), y) for k, y in enumerate(ys)), dashed, not dashed)
            for n, (text, ys, dashed) in enumerate(curves)
        ),
        tuple(
            Area(f"a{n}", text, tuple((10 * k / (len(ys) - 1), y, y + deep) for k, y in enumerate(ys)), warning)
            for n, (text, ys, deep, warning) in enumerate(areas)
        ),
        tuple(Level(f"l{n}", *each) for n, each in enumerate(some(st.tuples(WORDS, PLACES), 4))),
        tuple(Event(f"e{n}", *each) for n, each in enumerate(some(st.tuples(WORDS, st.floats(-1, 11)), 6))),
        tuple(
            Mark(f"m{n}", text, x, y, y - deep, y + deep, x - 0.3, x + 0.3)
            for n, (text, x, y, deep) in enumerate(
                some(st.tuples(WORDS, st.floats(-1, 11), PLACES, st.floats(0, 30)), 6)
            )
        ),
    )


@settings(max_examples=20, deadline=None)
@given(panels=st.lists(nasty_panels(), min_size=1, max_size=2), narrow=st.booleans())
def test_texts_of_anything_meet_no_text_and_no_line(panels: list[Panel], narrow: bool) -> None:
    chart = CurveChart("x", "t", "d", "", Axis("time", "min", 0, 10), Axis("flow", "L/min", 0, 100), tuple(panels))
    assert_legible(Chart(chart, narrow))


@WAYS
def test_what_has_no_room_in_a_panel_is_named_above_it_beside_a_sample(narrow: bool) -> None:
    zigzag = tuple((10 * number / 60, 98.0 if number % 2 else 2.0) for number in range(61))
    chart = one_panel(
        Curve("c", "a curve that fills the panel", zigzag),
        levels=(Level("l", "a level behind it", 50),),
        areas=(Area("a", "an area behind it", tuple((x, 0.0, y) for x, y in zigzag), warning=True),),
        heading="full",
    )
    drawing = Chart(chart, narrow)
    written = {each.text: each for each in drawing.texts()}
    top = drawing.at(0, 100)[1]
    for text in ("a curve that fills the panel", "a level behind it", "an area behind it"):
        assert written["full"].y < written[text].y < top
        sample = [y for x, y in drawing.all_points() if written[text].x - 30 < x < written[text].x - 5]
        assert any(abs(y - (written[text].y - 4)) < 0.2 for y in sample)
    assert_legible(drawing)


@WAYS
def test_a_label_that_stands_off_a_steep_line_is_led_to_it_and_crosses_no_other(narrow: bool) -> None:
    lines = [
        Curve(key, f"breathing in, filter {key}, blower off", ((0, 0), (9.5, high)), accent=key != "out")
        for key, high in (("loaded", 90.0), ("new", 70.0), ("out", 20.0))
    ]
    marks = tuple(
        Mark(f"m{x}-{n}", "", x, line.points[1][1] * x / 9.5) for x in (2, 4, 6, 8) for n, line in enumerate(lines)
    )
    drawing = Chart(one_panel(*lines, marks=marks), narrow)
    leaders = [
        piece
        for path in drawing.root.iter("path")
        if path.get("stroke") == FAINT
        for piece in pieces_of(path.attrib["d"])
        if len(piece) == 2 and abs(piece[0][0] - piece[1][0]) < 0.1 and math.dist(*piece) > 8
    ]
    assert leaders
    drawn = {key: drawing.pieces(f"p0-{key}")[0] for key in ("loaded", "new", "out")}
    for start, end in leaders:
        met = [key for key, line in drawn.items() if min(distance(start, line), distance(end, line)) < 1]
        assert len(met) == 1, (start, end)
        between = [(start[0], start[1] + (end[1] - start[1]) * share / 50) for share in range(51)]
        others = [line for key, line in drawn.items() if key not in met]
        assert min(distance(point, line) for point in between for line in others) > 1


@WAYS
def test_no_label_touches_a_steep_curve(narrow: bool) -> None:
    drawing = Chart(one_panel(Curve("c", "peak 88 L/min", ((0, 0), (2, 60), (3, 88), (4, 60), (6, 0)))), narrow)
    ((left, top, right, bottom),) = [box(written) for written in drawing.texts() if written.text == "peak 88 L/min"]
    near = (left - 3, top, right + 3, bottom)
    (piece,) = drawing.pieces("p0-c")
    assert not any(runs_through(one, other, near) for one, other in itertools.pairwise(piece))


@WAYS
def test_hollow_marks_are_outlines_that_one_text_names(narrow: bool) -> None:
    marks = tuple(
        Mark(f"m{n}", "blower on" if n == 2 else "", 3.0 + 2 * n, 40.0 + 10 * n, hollow=True) for n in range(3)
    )
    drawing = Chart(one_panel(marks=(*marks, Mark("full", "", 2, 80))), narrow)
    assert [drawing.style(f"p0-m{n}").get("fill", "none") for n in range(3)] == ["none"] * 3
    assert drawing.style("p0-full")["fill"] == ACCENT
    assert drawing.words().count("blower on") == 1
    # Where there is no room beside it, it stands above the panel beside a sample of its own.
    long = "a name that is wider than any room in a panel with this much in it, so that it stands above"
    zigzag = Curve("c", "", tuple((10 * n / 60, 98.0 if n % 2 else 2.0) for n in range(61)))
    crowded = Chart(one_panel(zigzag, marks=(replace(marks[2], text=long[:60]),)), narrow)
    (written,) = [each for each in crowded.texts() if each.text == long[:60]]
    assert written.y < crowded.at(0, 100)[1]
    assert_legible(crowded)


@WAYS
def test_a_mark_without_room_for_all_its_words_says_fewer(narrow: bool) -> None:
    wide = Mark("m", "own filter, loaded after long use: 210.3 L/min", 5, 50, short="210.3")
    teeth = 5 if narrow else 11
    zigzag = Curve("c", "", tuple((10 * n / teeth, 98.0 if n % 2 else 2.0) for n in range(teeth + 1)))
    words = Chart(one_panel(zigzag, marks=(wide,)), narrow).words()
    assert [text for text in words if "210.3" in text] == ["210.3"]


def test_a_level_at_zero_takes_the_place_of_the_line_there() -> None:
    level = Level("room", "pressure of the room", 0.0)
    drawing = Chart(one_panel(Curve("a", "inside", ((0, -5), (10, 5))), y=(-10, 10), levels=(level,)))
    assert "chart-p0-y-zero" not in drawing.ids
    assert drawing.style("p0-room")["stroke"] == LIMIT


@WAYS
def test_of_marks_without_room_some_keep_their_texts(narrow: bool) -> None:
    marks = tuple(Mark(f"m{n}", f"{n} L/min at setting {n}", 5 + n / 100, 50 + n / 10) for n in range(60))
    written = Chart(one_panel(marks=marks), narrow).words()
    assert 4 <= len([text for text in written if "setting" in text]) < 60


@WAYS
def test_five_panels_of_120_points_stay_small(narrow: bool) -> None:
    assert len(Chart(breaths(), narrow).markup) <= 40_000
    line = tuple((8 * n / 119, 150 + 100 * math.sin(n / 9) + 30 * math.sin(n * n)) for n in range(120))
    noisy = tuple(Panel(str(heading), (Curve("c", "curve", line),)) for heading in range(5))
    assert len(Chart(replace(breaths(), panels=noisy), narrow).markup) <= 40_000
    # A hatched band of two rough edges over each, which is three lines of 120 points and many short strokes.
    band = Area("a", "band", tuple((x, y - 20, y + 20) for x, y in line), warning=True)
    rough = tuple(replace(panel, areas=(band,)) for panel in noisy)
    assert len(Chart(replace(breaths(), panels=rough), narrow).markup) <= 55_000


def test_it_is_no_higher_than_a_sheet_of_paper_has_room_for() -> None:
    many = replace(breaths(), panels=breaths().panels[-1:] * 8)
    # source: sheet.css, 170 mm wide and at most 212 mm high: 700 px and 873 px
    assert Chart(breaths()).height <= 873
    assert Chart(many).height <= 1000


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("name", EXAMPLES)
def test_drawing_again_gives_the_same_bytes(name: str, narrow: bool) -> None:
    assert draw_curves(EXAMPLES[name](), narrow) == draw_curves(EXAMPLES[name](), narrow)


def test_ids_are_unique_and_those_of_the_two_drawings_differ() -> None:
    for example in EXAMPLES.values():
        wide, narrow = Chart(example()), Chart(example(), narrow=True)
        assert len(wide.ids) == len(set(wide.ids))
        assert len(narrow.ids) == len(set(narrow.ids))
        assert not set(wide.ids) & set(narrow.ids)


def test_it_says_what_it_is_and_follows_the_ink_of_the_page() -> None:
    drawing = Chart(a_run_down())
    assert drawing.root.get("aria-labelledby") == "run-down-title run-down-desc"
    assert [(child.tag, child.text) for child in list(drawing.root)[:2]] == [
        ("title", "A battery run down"),
        ("desc", "The flow falls slowly, then fast."),
    ]
    assert "#1c1a17" not in drawing.markup
    assert (drawing.root.get("class"), drawing.root.get("width")) == ("scale wide", "700")
    narrow = Chart(a_run_down(), narrow=True).root
    assert (narrow.get("class"), narrow.get("width")) == ("scale narrow", "350")


def test_a_hostile_text_stays_a_text() -> None:
    hostile = "</text><script>$x$"
    chart = one_panel(
        Curve("c", hostile, ((0, 80), (10, 80))),
        levels=(Level("l", hostile, 40),),
        events=(Event("e", hostile, 3),),
        marks=(Mark("m", hostile, 6, 20),),
        heading=hostile,
    )
    drawing = Chart(chart)
    assert drawing.words().count(hostile) == 5
    assert {element.tag for element in drawing.root.iter()} == {"svg", "title", "desc", "g", "path", "text"}


def test_a_single_point_is_a_stroke_that_can_be_seen() -> None:
    drawing = Chart(one_panel(Curve("c", "one reading", ((5, 50),))))
    ((start, end),) = drawing.pieces("p0-c")
    assert start == pytest.approx(drawing.at(5, 50), abs=ROUNDING)
    assert end[0] - start[0] == pytest.approx(1, abs=0.01)


def test_what_lies_past_the_axis_altogether_is_not_drawn() -> None:
    chart = one_panel(
        Curve("c", "gone", ((12, 50),)),
        Curve("none", "nothing", ()),
        areas=(Area("a", "gone too", ((12, 10, 20), (14, 10, 20)), warning=True),),
        events=(Event("e", "", 4),),
    )
    drawing = Chart(chart)
    assert [name for name in drawing.ids if name.startswith("chart-p0-")] == ["chart-p0-e"]
    assert "nothing" not in drawing.words()
    # An event without a name is a vertical from edge to edge.
    ((start, end),) = drawing.pieces("p0-e")
    assert (start[1], end[1]) == pytest.approx((drawing.at(0, 100)[1], drawing.at(0, 0)[1]), abs=ROUNDING)
