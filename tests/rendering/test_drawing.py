"""Scales: marks where their values are, arrows past the ends, texts that neither meet nor leave the sheet."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.presenting.views import Landmark, ScaleChart, ScaleMark, ScaleRow
from generator.rendering.drawing import ACCENT, fitted, in_two_lines, text_width
from generator.rendering.scale_drawing import draw_scale
from generator.rendering.scale_rule import RULES
from tests.rendering.charts import LEVEL, SPANS, Drawing, a_chart, between_ticks, box, meet, pieces_of

MARK = "fit-scale-fit.am.overall"
ROUNDING = 0.051
"""Coordinates are written to a tenth of a pixel. [px]"""


def a_mark(value: float, **parts: object) -> ScaleMark:
    return ScaleMark("fit.am.overall", value, **parts)  # type: ignore[arg-type]


def drawn(mark: ScaleMark, narrow: bool = False, **parts: object) -> Drawing:
    return Drawing(draw_scale(a_chart(mark, **parts), narrow))  # type: ignore[arg-type]


@settings(max_examples=60, deadline=None)
@given(value=st.floats(min_value=1, max_value=100_000), narrow=st.booleans())
def test_a_mark_stands_where_the_ticks_say(value: float, narrow: bool) -> None:
    drawing = drawn(a_mark(value), narrow)
    prefix = "fit-scale-n" if narrow else "fit-scale"
    # source: interpolation of logarithms between the ends of the same drawing
    expected = between_ticks(drawing, value, 1, 100_000, prefix)
    assert drawing.middle(f"{prefix}-fit.am.overall") == pytest.approx(expected, abs=2 * ROUNDING)


@pytest.mark.parametrize(("low", "high"), [(1, 10), (10, 100), (100, 1000), (1000, 10_000), (10_000, 100_000)])
def test_decades_are_of_one_length(low: int, high: int) -> None:
    drawing = drawn(a_mark(5.0))
    fifth = (drawing.tick(100_000) - drawing.tick(1)) / 5
    assert drawing.tick(high) - drawing.tick(low) == pytest.approx(fifth, abs=2 * ROUNDING)


@pytest.mark.parametrize("value", [0.0, 17.2, 115.0, 170.0, 399.9, 400.0])
def test_flow_is_linear(value: float) -> None:
    drawing = drawn(a_mark(value), kind="flow", landmarks=())
    expected = drawing.tick(0) + value / 400 * (drawing.tick(400) - drawing.tick(0))
    assert drawing.middle(MARK) == pytest.approx(expected, abs=2 * ROUNDING)


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("small", [False, True])
@pytest.mark.parametrize(("value", "way"), [(0.4, -1), (100_001.0, 1), (2e9, 1)])
def test_past_an_end_an_arrow_points_on(value: float, way: int, small: bool, narrow: bool) -> None:
    if small and narrow:
        narrow = False
    prefix = "fit-scale-n" if narrow else "fit-scale"
    drawing = drawn(a_mark(value), narrow, small=small, landmarks=())
    (root_above, _), (tip, _), (root_below, _), *_ = drawing.points(f"{prefix}-fit.am.overall")
    end = drawing.tick(100_000 if way > 0 else 1, prefix)
    assert root_above == root_below == pytest.approx(end, abs=ROUNDING)
    assert (tip - end) * way > 3


@pytest.mark.parametrize("value", [20.0, 99_999.0, 3e6])
def test_at_least_is_an_open_arrow_to_the_right(value: float) -> None:
    drawing = drawn(a_mark(value, at_least=True, low=value))
    (x, _), (again, _) = drawing.points(MARK)
    assert x == again == pytest.approx(between_ticks(drawing, min(value, 100_000), 1, 100_000), abs=2 * ROUNDING)
    lines = [pieces_of(path.attrib["d"])[0] for path in drawing.root.iter("path") if path.get("stroke") == ACCENT]
    assert [len(line) for line in lines].count(3) == 1
    assert max(point[0] for point in drawing.all_points()) > x + 5


def test_two_bounds_are_two_strokes_with_a_line_between_and_no_arrow() -> None:
    drawing = drawn(a_mark(126.0, at_least=True, high=240.0))
    (x, _), (again, _) = drawing.points(MARK)
    assert x == again == pytest.approx(between_ticks(drawing, 126.0, 1, 100_000), abs=2 * ROUNDING)
    lines = [pieces_of(path.attrib["d"])[0] for path in drawing.root.iter("path") if path.get("stroke") == ACCENT]
    assert [len(line) for line in lines] == [2, 2, 2]
    assert max(x for line in lines for x, _ in line) == pytest.approx(
        between_ticks(drawing, 240.0, 1, 100_000), abs=2 * ROUNDING
    )


def test_a_bar_spans_the_interval() -> None:
    drawing = drawn(a_mark(200.0, low=100.0, high=1000.0), landmarks=())
    bars = [element for element in drawing.root.iter("path") if element.get("stroke-width") == "3.2"]
    assert len(bars) == 1
    (((left, _), (right, _)),) = pieces_of(bars[0].attrib["d"])
    assert left == pytest.approx(drawing.tick(100), abs=2 * ROUNDING)
    assert right == pytest.approx(drawing.tick(1000), abs=2 * ROUNDING)


def test_a_level_stands_at_its_value_and_a_span_at_its_ends() -> None:
    drawing = drawn(a_mark(5.0))
    assert drawing.middle("fit-scale-landmark-level") == pytest.approx(drawing.tick(100), abs=ROUNDING)
    span = [x for x, _ in drawing.points("fit-scale-landmark-hood")]
    assert (min(span), max(span)) == pytest.approx((drawing.tick(1000), drawing.tick(10_000)), abs=2 * ROUNDING)


LANDMARKS = [
    (*SPANS, LEVEL),
    (*SPANS, Landmark("level", "500: fit-test level, full facepiece", 500)),
    (*SPANS, LEVEL, Landmark("second", "500: fit-test level, full facepiece", 500)),
    (SPANS[0], Landmark("close", "a span close beside it", 5, 9), SPANS[1], LEVEL),
    (Landmark("flow", "170: flow at which such filters are tested", 170),),
]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("landmarks", LANDMARKS)
def test_the_labels_of_landmarks_meet_neither_each_other_nor_a_vertical(
    landmarks: tuple[Landmark, ...], narrow: bool
) -> None:
    kind = "flow" if landmarks[0].key == "flow" else "fit"
    drawing = Drawing(draw_scale(a_chart(kind=kind, rows=(), landmarks=landmarks), narrow))
    boxes = {written.text: box(written) for written in drawing.texts() if written.text in {m.text for m in landmarks}}
    assert set(boxes) == {mark.text for mark in landmarks}
    assert [pair for pair in itertools.combinations(boxes, 2) if meet(boxes[pair[0]], boxes[pair[1]])] == []
    for mark in landmarks:
        if mark.high is None:
            (x, top), (_, bottom) = drawing.points(f"fit-scale-{'n-' if narrow else ''}landmark-{mark.key}")
            vertical = (x - 0.5, min(top, bottom), x + 0.5, max(top, bottom))
            assert [text for text in boxes if meet(boxes[text], vertical)] == []


LONG = "C, donning 12, blower at the setting with a name as long as a record allows"
ROWS = (
    ScaleRow("A, donning 1", (ScaleMark("a", 1.0, 0.9, 1.3, text="1.0"),)),
    ScaleRow(LONG, (ScaleMark("b", 99_000.0, 80_000, 120_000, text="99\u202f000"),)),
    ScaleRow(LONG, (), "aborted " * 12),
    ScaleRow("B, donning 1", (ScaleMark("c", 1.2e5, 1.2e5, None, True, text="at least 120\u202f000"),)),
    ScaleRow("B, donning 2", (ScaleMark("d", 0.5, text="0.50"), ScaleMark("e", 3e5, minor=True))),
)


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("kind", ["fit", "flow"])
def test_no_text_and_no_line_leaves_the_sheet(kind: str, narrow: bool) -> None:
    long_level = Landmark("own", "300: a level of the reviewer's own with a name of many words", 300)
    drawing = Drawing(draw_scale(a_chart(kind=kind, rows=ROWS, landmarks=(*SPANS, long_level)), narrow))
    for written in drawing.texts():
        left, top, right, bottom = box(written)
        assert left >= 0, written
        assert right <= drawing.width + 0.5, written
        assert top >= 0, written
        assert bottom <= drawing.height, written
    assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in drawing.all_points())


@pytest.mark.parametrize("value", [0.1, 1.0, 5000.0, 90_000.0, 100_000.0, 3e5])
@pytest.mark.parametrize("at_least", [False, True])
def test_nothing_leaves_a_small_sheet(value: float, at_least: bool) -> None:
    drawing = drawn(a_mark(value, at_least=at_least), small=True, landmarks=())
    assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in drawing.all_points())
    assert drawing.texts() == []


def test_the_label_of_a_line_stays_left_of_it() -> None:
    drawing = Drawing(draw_scale(a_chart(rows=ROWS)))
    labels = [box(written) for written in drawing.texts() if written.x == 0]
    assert len(labels) == 7  # two of the five labels take two lines
    assert max(right for _, _, right, _ in labels) < drawing.tick(1)
    assert [pair for pair in itertools.combinations(labels, 2) if meet(*pair)] == []


@pytest.mark.parametrize("kind", sorted(RULES))
def test_drawing_again_gives_the_same_bytes(kind: str) -> None:
    chart = a_chart(kind=kind, rows=ROWS)
    assert draw_scale(chart) == draw_scale(chart)
    assert draw_scale(chart, narrow=True) == draw_scale(chart, narrow=True)


def test_notes_stand_where_marks_would() -> None:
    rows = (ScaleRow("A, donning 1", (), "voided"),)
    wide, narrow = (Drawing(draw_scale(a_chart(rows=rows, landmarks=()), way)) for way in (False, True))
    assert [written.text for written in wide.texts()][:2] == ["A, donning 1", "voided"]
    assert narrow.texts()[0].text == "A, donning 1: voided"


@pytest.mark.parametrize(
    ("label", "lines"),
    [
        ("A, donning 1", ["A, donning 1"]),
        ("C, donning 1, blower at a long setting name", ["C, donning 1,", "blower at a long setting n…"]),
        ("a setting without commas that is too long", ["a setting without…"]),
    ],
)
def test_a_long_label_takes_two_lines(label: str, lines: list[str]) -> None:
    # regression only: the widths are those of the face
    assert in_two_lines(label, 140 if "C" in label else 100) == lines


def test_a_text_that_fits_is_left_alone() -> None:
    assert fitted("short", 100) == "short"
    assert fitted("two\nlines", 100) == "two lines"
    assert text_width(fitted("x" * 100, 50)) <= 50
    assert fitted("x", 0) == "…"


def test_a_heading_opens_a_group_with_room_above_its_first_row() -> None:
    rows = (ScaleRow("A", (ScaleMark("one", 10),), heading="First"), ScaleRow("B", (ScaleMark("two", 10),)))
    plain = tuple(replace(row, heading="") for row in rows)
    marked, without = (draw_scale(ScaleChart("c", "fit", "t", "d", these, ())) for these in (rows, plain))
    assert ">First</text>" in marked
    found = [re.search(r'viewBox="0 0 [0-9.]+ ([0-9.]+)"', drawing) for drawing in (marked, without)]
    heights = [float(match[1]) for match in found if match is not None]
    # regression only: the room that a heading takes
    assert heights[0] - heights[1] == pytest.approx(27)


@pytest.mark.parametrize("name", ["\u05de\u05e1\u05db\u05d4", "\u9762\u7f69", "\U0010fffd"])
def test_a_name_in_a_script_that_the_face_lacks_is_kept_without_a_complaint(name: str) -> None:
    chart = ScaleChart("c", "fit", "t", "d", (ScaleRow(name, (), heading=name),), ())
    assert draw_scale(chart).count(f">{name}</text>") == 2


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize("value", [93.9, 147.0, 160.0, 175.0, 300.0])
def test_no_vertical_runs_through_a_value(value: float, narrow: bool) -> None:
    """A value stands on the side of the level on which its mark lies."""
    mark = a_mark(value, low=value - 1, high=value + 1, text=f"{value:g} L/min")
    drawing = drawn(mark, narrow, kind="flow", landmarks=(Landmark("level", "170", 170),))
    (label,) = (box(written) for written in drawing.texts() if written.text == mark.text)
    level = drawing.middle(f"fit-scale-{'n-' if narrow else ''}landmark-level")
    assert (label[2] < level) if value < 170 else (label[0] > level)


def test_a_row_of_two_lines_is_higher() -> None:
    """So that the second line of one label is farther from the first of the next than from its own."""
    long = "C, blower at both fans, other exercises, other counter"
    rows = tuple(ScaleRow(f"{long} {number}", (a_mark(5.0 + number),)) for number in range(3))
    lines = sorted(
        written.y for written in Drawing(draw_scale(a_chart(rows=rows, landmarks=()))).texts() if written.x == 0
    )
    steps = [below - above for above, below in itertools.pairwise(lines)]
    assert len(lines) == 6
    assert max(steps[0], steps[2], steps[4]) + 5 < min(steps[1], steps[3])
