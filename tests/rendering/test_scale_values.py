"""Values stand above their marks: together where they would meet, never beyond a level that their marks lie before."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.presenting.views import Landmark, ScaleMark, ScaleRow
from generator.rendering.drawing import ACCENT
from generator.rendering.scale_drawing import draw_scale
from tests.rendering.charts import LEVEL, SPANS, Drawing, a_chart, box, meet, pieces_of

HIGHER = Landmark("higher", "500: fit-test level, full facepiece", 500)


def row(*values: float | tuple[float, float], label: str = "A", **parts: object) -> ScaleRow:
    """Return a line of marks, each with its value as text; two values are bounds between which one lies."""
    marks = [
        ScaleMark(f"m{n}", value, text=f"{value:g}")
        if isinstance(value, float)
        else ScaleMark(f"m{n}", value[0], None, value[1], at_least=True, text=f"{value[0]:g} to {value[1]:g}")
        for n, value in enumerate(values)
    ]
    return ScaleRow(label, tuple(marks), **parts)  # type: ignore[arg-type]


def words(*rows: ScaleRow, narrow: bool = False) -> list[str]:
    """Return the texts of the lines of a scale, without those of landmarks and rule."""
    drawing = Drawing(draw_scale(a_chart(rows=rows, landmarks=(*SPANS, LEVEL, HIGHER)), narrow))
    return [written.text for written in drawing.texts()][4:-7]


@pytest.mark.parametrize(
    ("values", "wide", "narrow"),
    [
        ((150.0,), ["A", "150"], ["A", "150"]),
        # Close together: one text for both.
        ((47.0, 63.0), ["A", "47, 63"], ["A", "47, 63"]),
        # On either side of a level: a text each, on the side of its mark.
        ((94.0, 160.0), ["A", "94", "160"], ["A", "94", "160"]),
        ((310.0, 350.0), ["A", "310, 350"], ["A: 310, 350"]),
        # Far apart: a text each.
        ((12.0, 15.0, (126.0, 240.0)), ["A", "12, 15", "126 to 240"], ["A: 12, 15, 126 to 240"]),
        # More than fit between two levels.
        ((370.0, 420.0, 460.0, 480.0), ["A", "370 to 480"], ["A: 370, 420, 460, 480"]),
        ((150.0, 150.0), ["A", "150"], ["A", "150"]),
    ],
)
def test_values_of_a_line(values: tuple[float, ...], wide: list[str], narrow: list[str]) -> None:
    assert words(row(*values)) == wide
    assert words(row(*values), narrow=True) == narrow


def test_what_finds_no_room_above_a_line_stands_below_its_label() -> None:
    long = "C, blower at both fans, other exercises"
    text = "at least 1 of a long text"
    crowded = ScaleRow(long, (ScaleMark("a", 200.0, at_least=True, text=text),))
    assert words(crowded) == ["C, blower at both fans,", "other exercises", text]
    assert words(crowded, narrow=True) == [f"C, blower at both fans, other exercises: {text}"]


@pytest.mark.parametrize("narrow", [False, True])
@pytest.mark.parametrize(
    "mark", [ScaleMark("m", 1300.0, 12.0, 95_000.0, text="1300"), ScaleMark("m", 50.0, 3.0, 1000.0, text="50")]
)
def test_the_value_of_a_long_interval_stands_above_its_diamond(mark: ScaleMark, narrow: bool) -> None:
    drawing = Drawing(draw_scale(a_chart(mark, landmarks=()), narrow))
    left, _, right, bottom = next(box(written) for written in drawing.texts() if written.text == mark.text)
    prefix = "fit-scale-n" if narrow else "fit-scale"
    assert (left + right) / 2 == pytest.approx(drawing.middle(f"{prefix}-m"), abs=1)
    assert bottom <= min(y for _, y in drawing.points(f"{prefix}-m")) + 1


@settings(max_examples=40, deadline=None)
@given(
    values=st.lists(st.lists(st.floats(1, 100_000), min_size=1, max_size=5), min_size=1, max_size=3),
    narrow=st.booleans(),
)
def test_no_value_meets_another_or_a_vertical(values: list[list[float]], narrow: bool) -> None:
    rows = tuple(row(*line, label=f"wearer {number}") for number, line in enumerate(values))
    drawing = Drawing(draw_scale(a_chart(rows=rows, landmarks=(*SPANS, LEVEL, HIGHER)), narrow))
    boxes = [box(written) for written in drawing.texts()]
    assert [pair for pair in itertools.combinations(boxes, 2) if meet(*pair)] == []
    start = "fit-scale-n" if narrow else "fit-scale"
    for level in ("level", "higher"):
        for piece in pieces_of(drawing.path(f"{start}-landmark-{level}").attrib["d"]):
            (x, one), (_, other) = piece[0], piece[-1]
            vertical = (x - 0.5, min(one, other), x + 0.5, max(one, other))
            assert [found for found in boxes if meet(found, vertical)] == []


def test_a_vertical_is_dashed_beside_lines_to_which_its_level_does_not_apply() -> None:
    lines = [row(150.0, held_against=(100.0,)), row(150.0, held_against=()), row(150.0)]
    for narrow in (False, True):
        drawing = Drawing(draw_scale(a_chart(rows=tuple(lines), landmarks=(LEVEL,)), narrow))
        start = "fit-scale-n" if narrow else "fit-scale"
        whole = pieces_of(drawing.path(f"{start}-landmark-level").attrib["d"])
        (dashed,) = [path for path in drawing.root.iter("path") if path.get("stroke-dasharray")]
        (broken,) = pieces_of(dashed.attrib["d"])
        assert {x for x, _ in broken} == {whole[0][0][0]}
        top, bottom = min(y for _, y in broken), max(y for _, y in broken)
        # No piece of the whole vertical lies beside the line in the middle.
        assert [
            piece for piece in whole if min(y for _, y in piece) < bottom - 0.2 and max(y for _, y in piece) > top + 0.2
        ] == []


@pytest.mark.parametrize("small", [False, True])
def test_an_interval_past_an_end_of_the_rule_points_on(small: bool) -> None:
    cut, whole = ScaleMark("m", 100.0, 0.5, 200_000.0), ScaleMark("m", 100.0, 1.0, 100_000.0)
    drawing, plain = (Drawing(draw_scale(a_chart(mark, landmarks=(), small=small))) for mark in (cut, whole))
    reach = [x for x, _ in drawing.all_points()]
    assert [path.get("stroke") for path in drawing.root.iter("path") if path.get("fill") == ACCENT]
    for place, end in ((min(reach), drawing.tick(1)), (max(reach), drawing.tick(100_000))):
        assert 3 < abs(place - end) < 10
    assert all(plain.tick(1) - 0.1 <= x <= plain.tick(100_000) + 0.1 for x, _ in plain.all_points())
