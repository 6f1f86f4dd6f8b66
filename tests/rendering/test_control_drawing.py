"""Control charts: readings where their day and value are, shapes and labels beyond limits, nothing off the sheet."""

from __future__ import annotations

import itertools
import math
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.model.published import published
from generator.presenting.control_charts import control_chart
from generator.presenting.instrument_views import ControlChart
from generator.rendering.control_drawing import draw_control_chart
from generator.rendering.drawing import ACCENT, LIMIT
from generator.scoring.instruments import score_instrument
from tests.rendering.charts import Drawing, box, meet
from tests.scoring.builders import a_catalogue, a_check_standard, a_meter

ROUNDING = 0.051
"""Coordinates are written to a tenth of a pixel. [px]"""
WAYS = pytest.mark.parametrize("narrow", [False, True])


def a_chart(*readings: tuple[str, float], **changes: object) -> ControlChart:
    meter = a_meter(check_standards=[a_check_standard(*readings, **changes)])
    (check,) = score_instrument(meter, published(a_catalogue(meter=meter))).checks
    return control_chart("chart", meter.check_standards[0], check, "Control chart")


def drawn(*readings: tuple[str, float], narrow: bool = False, **changes: object) -> Drawing:
    return Drawing(draw_control_chart(a_chart(*readings, **changes), narrow))


def weekly(*values: float) -> list[tuple[str, float]]:
    return [((date(2025, 1, 6) + timedelta(days=7 * week)).isoformat(), value) for week, value in enumerate(values)]


def height(drawing: Drawing, identity: str) -> float:
    """Return the middle of a shape or a level line, from top to bottom."""
    ys = [y for _, y in drawing.points(identity)]
    return (min(ys) + max(ys)) / 2


@WAYS
def test_the_lines_stand_at_even_distances(narrow: bool) -> None:
    drawing, prefix = drawn(*weekly(50.0, 50.1), narrow=narrow), "chart-n" if narrow else "chart"
    # source: by definition, at 3, 2, 0, -2 and -3 standard deviations of 0.4 from the centre
    y = {name: height(drawing, f"{prefix}-{name}") for name in ("action_high", "warning_high", "centre")}
    y |= {name: height(drawing, f"{prefix}-{name}") for name in ("warning_low", "action_low")}
    deviation = y["warning_high"] - y["action_high"]
    assert deviation > 12
    for name, steps in (("centre", 3), ("warning_low", 5), ("action_low", 6)):
        assert y[name] - y["action_high"] == pytest.approx(steps * deviation, abs=8 * ROUNDING)


@settings(max_examples=50, deadline=None)
@given(value=st.floats(min_value=49.21, max_value=50.79), day=st.integers(0, 100), narrow=st.booleans())
def test_a_reading_stands_where_its_day_and_value_say(value: float, day: int, narrow: bool) -> None:
    first, last = date(2025, 1, 1), date(2025, 4, 11)
    middle = (first + timedelta(days=day)).isoformat()
    drawing = drawn((first.isoformat(), 50.0), (middle, value), (last.isoformat(), 50.0), narrow=narrow)
    prefix = "chart-n" if narrow else "chart"
    # source: interpolation between the first and the last reading, 100 days apart, and between the warning limits
    ends = drawing.middle(f"{prefix}-reading-1"), drawing.middle(f"{prefix}-reading-3")
    assert drawing.middle(f"{prefix}-reading-2") == pytest.approx(
        ends[0] + (ends[1] - ends[0]) * day / 100, abs=3 * ROUNDING
    )
    low, high = height(drawing, f"{prefix}-warning_low"), height(drawing, f"{prefix}-warning_high")
    expected = low + (high - low) * (value - 49.2) / (50.8 - 49.2)
    assert height(drawing, f"{prefix}-reading-2") == pytest.approx(expected, abs=3 * ROUNDING)


def test_one_reading_stands_in_the_middle() -> None:
    drawing = drawn(("2025-01-06", 50.0))
    (left, _), (right, _) = drawing.points("chart-centre")
    assert drawing.middle("chart-reading-1") == pytest.approx((left + right) / 2, abs=ROUNDING)
    assert height(drawing, "chart-reading-1") == pytest.approx(height(drawing, "chart-centre"), abs=ROUNDING)


def colours(drawing: Drawing, identity: str) -> tuple[str | None, str | None]:
    path = drawing.path(identity)
    return path.get("fill"), path.get("stroke")


@WAYS
def test_readings_are_told_apart_by_shape_and_label(narrow: bool) -> None:
    drawing = drawn(*weekly(50.1, 51.0, 51.6, 48.6), narrow=narrow)
    prefix = "chart-n" if narrow else "chart"
    marks = {number: drawing.points(f"{prefix}-reading-{number}") for number in (1, 2, 3, 4)}
    corners = {number: len(set(points)) for number, points in marks.items()}
    assert corners == {1: 4, 2: 4, 3: 3, 4: 3}
    widths = {number: max(x for x, _ in points) - min(x for x, _ in points) for number, points in marks.items()}
    assert widths[2] > 1.5 * widths[1]
    assert colours(drawing, f"{prefix}-reading-1") == (ACCENT, ACCENT)
    assert colours(drawing, f"{prefix}-reading-2") == ("none", LIMIT)
    assert colours(drawing, f"{prefix}-reading-3") == (LIMIT, LIMIT)
    # The one tip of a triangle points away from the centre: up above it, down below it.
    for number, outermost in ((3, min), (4, max)):
        ys = [y for _, y in set(marks[number])]
        assert ys.count(outermost(ys)) == 1
    written = [text.text for text in drawing.texts()]
    assert {"51.0", "51.6", "48.6"} < set(written)
    assert "50.1" not in written


@WAYS
def test_a_reading_past_the_edge_stands_at_it_and_says_so(narrow: bool) -> None:
    drawing = drawn(*weekly(50.0, 90.0, 50.0, 10.0, 50.0), narrow=narrow)
    prefix = "chart-n" if narrow else "chart"
    top = [y for _, y in drawing.points(f"{prefix}-reading-2")]
    bottom = [y for _, y in drawing.points(f"{prefix}-reading-4")]
    # source: the chart reaches six standard deviations to either side; its lines lie at three
    centre, action = height(drawing, f"{prefix}-centre"), height(drawing, f"{prefix}-action_high")
    edge = 2 * (centre - action)
    assert (min(top) + max(top)) / 2 == pytest.approx(centre - edge, abs=4 * ROUNDING)
    assert (min(bottom) + max(bottom)) / 2 == pytest.approx(centre + edge, abs=4 * ROUNDING)
    assert {"90, off the chart", "10, off the chart"} < {written.text for written in drawing.texts()}


MANY = [50 + 1.6 * math.sin(number) for number in range(120)]
LONG = {"centre": 123456.789, "standard_deviation": 100.001, "unit": "/cm3"}
SITUATIONS = [
    (weekly(50.0), {}),
    (weekly(50.0, 51.0, 51.6, 48.6, 90.0, 10.0), {}),
    (weekly(*(round(value, 3) for value in MANY)), {}),
    (weekly(123456.8, 123900.123456, 9e5, -9e5), LONG),
    ([("1991-01-01", 50.0), ("2059-12-31", 52.0)], {}),
    ([("2025-01-06", 52.0), ("2025-01-06", 51.9), ("2025-01-06", 51.0)], {}),
]


@WAYS
@pytest.mark.parametrize(("readings", "changes"), SITUATIONS)
def test_no_text_and_no_line_leaves_the_sheet_and_no_two_texts_meet(
    readings: list[tuple[str, float]], changes: dict[str, object], narrow: bool
) -> None:
    drawing = drawn(*readings, narrow=narrow, **changes)
    boxes = [(written.text, box(written)) for written in drawing.texts()]
    for text, (left, top, right, bottom) in boxes:
        assert left >= -0.5, text
        assert right <= drawing.width + 0.5, text
        assert top >= 0, text
        assert bottom <= drawing.height, text
    assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in drawing.all_points())
    assert [(one[0], other[0]) for one, other in itertools.combinations(boxes, 2) if meet(one[1], other[1])] == []


def test_where_there_is_no_room_the_worst_keep_their_labels() -> None:
    # Fifty readings of three days, nearly all beyond a warning limit, and one beyond an action limit.
    readings = [(f"2025-01-{6 + number % 3:02}", 51.0 + 0.001 * number) for number in range(50)]
    written = [text.text for text in drawn(*sorted(readings), ("2025-01-08", 51.5), narrow=True).texts()]
    assert "51.500" in written
    assert len([text for text in written if text.startswith("51.0") and len(text) == 6]) < 10


def test_the_drawing_has_a_title_and_says_what_it_shows() -> None:
    chart = a_chart(*weekly(50.0, 51.6))
    root = Drawing(draw_control_chart(chart)).root
    assert root.get("aria-labelledby") == "chart-title chart-desc"
    assert [(child.tag, child.text) for child in list(root)[:2]] == [
        ("title", "Control chart"),
        ("desc", chart.description),
    ]
    assert (root.get("class"), root.get("width")) == ("scale wide", "700")
    narrow = Drawing(draw_control_chart(chart, narrow=True)).root
    assert (narrow.get("class"), narrow.get("width")) == ("scale narrow", "350")


def test_ids_of_the_two_drawings_differ() -> None:
    chart = a_chart(*weekly(50.0, 51.6))
    wide, narrow = (
        {element.get("id") for element in Drawing(draw_control_chart(chart, way)).root.iter()} - {None}
        for way in (False, True)
    )
    assert not wide & narrow
    assert {"chart-centre", "chart-action_low", "chart-reading-2", "chart-path"} < wide


def test_drawing_again_gives_the_same_bytes() -> None:
    chart = a_chart(*weekly(50.0, 51.6))
    assert draw_control_chart(chart) == draw_control_chart(chart)
    assert draw_control_chart(chart, narrow=True) == draw_control_chart(chart, narrow=True)
