"""Donnings stand where their values are, below one another, and what they say together stands below a line."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.presenting.views import ScaleMark
from generator.presenting.wearer_views import WearerChart, WearerRow
from generator.rendering.drawing import text_width
from generator.rendering.wearer_drawing import draw_wearers
from tests.rendering.charts import LEVEL, SPANS, Drawing, between_ticks, box, meet

ROUNDING = 0.051
"""Coordinates are written to a tenth of a pixel. [px]"""


def a_chart(
    *rows: WearerRow, mean: ScaleMark | None = None, bound: ScaleMark | None = None, landmarks: bool = True
) -> WearerChart:
    return WearerChart(
        id="wearers-1-scale",
        title="Wearers",
        description="What it shows",
        caption="How to read it",
        rows=rows,
        mean=mean,
        bound=bound,
        landmarks=(*SPANS, LEVEL) if landmarks else (),
    )


def a_row(letter: str, *values: float, at_least: bool = False) -> WearerRow:
    marks = tuple(
        ScaleMark(f"r-fit.{letter}{number}.overall", value, at_least=at_least)
        for number, value in enumerate(values, start=1)
    )
    return WearerRow(letter, ", ".join(f"{value:g}" for value in values), marks)


def prefix(narrow: bool) -> str:
    return "wearers-1-scale-n" if narrow else "wearers-1-scale"


@settings(max_examples=30, deadline=None)
@given(
    values=st.lists(st.floats(min_value=1, max_value=100_000), min_size=1, max_size=4),
    low=st.floats(min_value=1, max_value=99),
    narrow=st.booleans(),
)
def test_every_mark_stands_where_the_ticks_say(values: list[float], low: float, narrow: bool) -> None:
    mean, bound = ScaleMark("wearers.1.mean", 100.0, low, 1000.0, text="100"), ScaleMark("wearers.1.bound", low)
    drawing = Drawing(draw_wearers(a_chart(a_row("A", *values), a_row("B", 50.0), mean=mean, bound=bound), narrow))
    start = prefix(narrow)
    for number, value in enumerate(values, start=1):
        # source: interpolation of logarithms between the ends of the same drawing
        expected = between_ticks(drawing, value, 1, 100_000, start)
        assert drawing.middle(f"{start}-r-fit.A{number}.overall") == pytest.approx(expected, abs=2 * ROUNDING)
    assert drawing.middle(f"{start}-wearers.1.mean") == pytest.approx(drawing.tick(100, start), abs=2 * ROUNDING)
    # The bracket opens to the right: its back is the bound.
    back = min(x for x, _ in drawing.points(f"{start}-wearers.1.bound"))
    assert back == pytest.approx(between_ticks(drawing, low, 1, 100_000, start), abs=2 * ROUNDING)


@pytest.mark.parametrize("narrow", [False, True])
def test_donnings_do_not_lie_on_one_another(narrow: bool) -> None:
    drawing = Drawing(draw_wearers(a_chart(a_row("A", 100.0, 100.0, 100.0), a_row("B", 100.0)), narrow))
    shapes = [drawing.points(f"{prefix(narrow)}-r-fit.{name}.overall") for name in ("A1", "A2", "A3", "B1")]
    ends = [(min(y for _, y in points), max(y for _, y in points)) for points in shapes]
    for (_, bottom), (top, _) in itertools.pairwise(ends):
        assert top > bottom


@pytest.mark.parametrize("narrow", [False, True])
def test_what_they_say_together_stands_below_every_donning(narrow: bool) -> None:
    mean, bound = ScaleMark("wearers.1.mean", 300.0, 200.0, 450.0, text="300"), ScaleMark("wearers.1.bound", 40.0)
    drawing = Drawing(draw_wearers(a_chart(a_row("A", 90.0), a_row("B", 900.0), mean=mean, bound=bound), narrow))
    heights = [
        max(y for _, y in drawing.points(f"{prefix(narrow)}-{key}"))
        for key in ("r-fit.A1.overall", "r-fit.B1.overall", "wearers.1.mean", "wearers.1.bound")
    ]
    assert heights == sorted(heights)
    assert max(heights) < drawing.points(f"{prefix(narrow)}-tick-1")[0][1]


def test_at_least_is_an_open_arrow_that_stays_on_the_sheet() -> None:
    for narrow in (False, True):
        drawing = Drawing(draw_wearers(a_chart(a_row("A", 2e5, at_least=True)), narrow))
        (x, _), (again, _) = drawing.points(f"{prefix(narrow)}-r-fit.A1.overall")
        assert x == again == pytest.approx(drawing.tick(100_000, prefix(narrow)), abs=ROUNDING)
        assert max(x for x, _ in drawing.all_points()) <= drawing.width


@pytest.mark.parametrize("narrow", [False, True])
def test_texts_of_25_wearers_neither_meet_nor_leave_the_sheet(narrow: bool) -> None:
    rows = [a_row(chr(65 + number), 100.0 + number, 41_000.0, 150.0, 88_000.0, 77_000.0) for number in range(25)]
    mean = ScaleMark("wearers.1.mean", 9e4, 10.0, 2e5, text="90 000")
    bound = ScaleMark("wearers.1.bound", 99_000.0, text="at least 99 000")
    drawing = Drawing(draw_wearers(a_chart(*rows, mean=mean, bound=bound), narrow))
    boxes = [box(text) for text in drawing.texts()]
    for left, top, right, bottom in boxes:
        assert left >= 0
        assert right <= drawing.width + text_width("0")
        assert top >= 0
        assert bottom <= drawing.height
    assert not [pair for pair in itertools.combinations(boxes, 2) if meet(*pair)]
    # A phone's screen is about 800 px high: 25 wearers take less than two and a half.
    assert drawing.height < 2000
