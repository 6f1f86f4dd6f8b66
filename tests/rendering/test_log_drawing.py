"""The drawing of a raw log: no spike is lost however long it is, zeros stand where a reader sees them, texts fit."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

from generator.presenting.views import LogChart, LogExercise, LogStretch
from generator.rendering.drawing import text_width
from generator.rendering.log_drawing import draw_log
from tests.rendering.charts import Drawing

NAMES = (
    "Normal breathing",
    "Deep breathing",
    "Turning the head side to side",
    "Moving the head up and down",
    "Talking",
    "Grimace",
    "Bending at the waist",
    "Normal breathing again",
)


def a_log(stretches: list[LogStretch], exercises: tuple[LogExercise, ...] = ()) -> LogChart:
    return LogChart("log-a", "A log", "What it shows", "", tuple(stretches), exercises, "data/logs/a.csv")


def stretch(air: str, start: float, values: list[float], step: float = 1) -> LogStretch:
    return LogStretch(air, tuple((start + number * step, value) for number, value in enumerate(values)))


def usual() -> LogChart:
    """Return eight exercises of a minute with outside air between them."""
    stretches, exercises = [], []
    for number, name in enumerate(NAMES):
        start = number * 80.0
        stretches += [stretch("ambient", start, [3000.0] * 15), stretch("purge", start + 15, [500.0, 50.0])]
        stretches.append(stretch("in-mask", start + 17, [3.0, 5.0, 4.0] * 20))
        exercises.append(LogExercise(name, start + 17, start + 76))
    return a_log([*stretches, stretch("ambient", 640, [3000.0] * 15)], tuple(exercises))


def heights(drawing: Drawing, air: str) -> list[float]:
    """Return the heights of all corners of the lines of one kind of air. [px]"""
    names = [str(element.get("id")) for element in drawing.root.iter() if element.get("id")]
    lines = [name for name in names if re.fullmatch(rf"log-a-(n-)?{air}-\d+", name)]
    return [y for name in lines for _, y in drawing.points(name)]


def height_of(drawing: Drawing, value: float, low: int, high: int) -> float:
    """Return where a concentration belongs between two ticks of the drawing itself."""
    bottom, top = (drawing.points(f"log-a-tick-{tick}")[0][1] for tick in (low, high))
    return bottom + (top - bottom) * math.log10(value / low) / math.log10(high / low)


@pytest.mark.parametrize("narrow", [False, True])
def test_eight_hours_at_one_reading_a_second_stay_small_and_lose_no_spike(narrow: bool) -> None:
    values = [30.0 + 10 * math.sin(second) for second in range(8 * 3600)]
    values[11_111], values[22_222] = 7_000.0, 2.0
    markup = draw_log(a_log([stretch("ambient", 0, [9000.0]), stretch("in-mask", 1, values)]), narrow)
    assert len(markup) < 60_000
    drawing = Drawing(markup.replace("log-a-n-", "log-a-"))
    inside = heights(drawing, "in-mask")
    # source: the places of the ticks in the drawing, on a logarithmic scale by definition
    assert min(inside) == pytest.approx(height_of(drawing, 7000, 1, 10_000), abs=0.2)
    assert max(inside) == pytest.approx(height_of(drawing, 2, 1, 10_000), abs=0.2)


def test_a_log_that_changes_its_air_every_second_stays_small() -> None:
    stretches = [
        stretch("ambient" if second % 2 else "in-mask", second, [3000.0 if second % 2 else 3.0])
        for second in range(8 * 3600)
    ]
    assert len(draw_log(a_log(stretches))) < 150_000


def test_readings_of_zero_stand_on_a_marked_line_below_the_scale() -> None:
    drawing = Drawing(draw_log(a_log([stretch("ambient", 0, [2000.0] * 9), stretch("in-mask", 9, [2.0, 0.0, 3.0])])))
    ((_, floor), _) = drawing.points("log-a-floor")
    lowest = drawing.points("log-a-tick-1")[0][1]
    assert floor > lowest + 5
    assert max(heights(drawing, "in-mask")) == pytest.approx(floor, abs=0.1)
    label = next(written for written in drawing.texts() if written.text == "0" and written.anchor == "end")
    assert abs(label.y - floor) < 7


def test_without_zeros_there_is_no_such_line() -> None:
    assert "log-a-floor" not in draw_log(usual())


def test_nothing_but_zeros_is_drawn_too() -> None:
    drawing = Drawing(draw_log(a_log([stretch("in-mask", 0, [0.0, 0.0])])))
    ((_, floor), _) = drawing.points("log-a-floor")
    assert heights(drawing, "in-mask") == pytest.approx([floor, floor], abs=0.1)


def test_a_single_reading_is_a_stroke_that_can_be_seen() -> None:
    drawing = Drawing(draw_log(a_log([stretch("ambient", 0, [2000.0])])))
    (start, _), (end, _) = drawing.points("log-a-ambient-0")
    assert end - start == pytest.approx(1, abs=0.01)


@pytest.mark.parametrize("narrow", [False, True])
def test_texts_are_of_12_px_inside_the_sheet_and_meet_no_other(narrow: bool) -> None:
    drawing = Drawing(draw_log(usual(), narrow))
    boxes = []
    for written in drawing.texts():
        assert written.size == 12
        width = text_width(written.text)
        start = {"start": written.x, "middle": written.x - width / 2, "end": written.x - width}[written.anchor]
        assert (start >= -1, start + width <= drawing.width + 1) == (True, True), written
        boxes.append((start, start + width, written.y))
    for number, (start, end, y) in enumerate(boxes):
        assert all(end <= a or b <= start or abs(y - other) >= 12 for a, b, other in boxes[number + 1 :])


@pytest.mark.parametrize("narrow", [False, True])
def test_every_exercise_is_named_in_full(narrow: bool) -> None:
    assert set(NAMES) <= {written.text for written in Drawing(draw_log(usual(), narrow)).texts()}


def test_an_exercise_as_long_as_the_log_is_named_below_its_bar() -> None:
    chart = a_log([stretch("in-mask", 0, [3.0, 4.0, 5.0])], (LogExercise("Turning the head side to side", 0, 2),))
    written = {each.text: each.y for each in Drawing(draw_log(chart, narrow=True)).texts()}
    # source: the height of a line of text in every drawing, 15 px
    assert written["Turning the head side to side"] - written["inside"] == 15


def test_the_air_is_told_by_place_before_colour() -> None:
    drawing = Drawing(draw_log(usual()))
    lanes = {written.text: written.y for written in drawing.texts() if written.text in ("outside", "purge", "inside")}
    assert lanes["outside"] < lanes["purge"] < lanes["inside"]


def test_a_line_breaks_where_other_air_was_drawn() -> None:
    drawing = draw_log(usual())
    assert [len(re.findall(rf'id="log-a-{air}-\d+"', drawing)) for air in ("ambient", "purge", "in-mask")] == [9, 8, 8]


@pytest.mark.parametrize(
    ("seconds", "caption", "ticks"),
    # source: seconds in a minute and an hour
    [(90, "time, s", [60]), (660, "time, min", [60, 600]), (28_800, "time, h", [3600, 28_800])],
)
def test_time_has_a_unit_a_reader_can_count_in(seconds: int, caption: str, ticks: list[int]) -> None:
    markup = draw_log(a_log([stretch("ambient", 0, [9.0] * (seconds + 1))]))
    assert caption in [written.text for written in Drawing(markup).texts()]
    assert all(f'id="log-a-time-{tick}"' in markup for tick in ticks)


def test_a_hostile_name_stays_a_text() -> None:
    chart = a_log([stretch("in-mask", 0, [3.0, 4.0])], (LogExercise("<b>$x$</b>", 0, 1),))
    root = ElementTree.fromstring(draw_log(chart))
    assert "<b>$x$</b>" in [element.text for element in root.iter()]


def test_it_follows_the_ink_of_the_page_and_says_what_it_is() -> None:
    markup = draw_log(usual())
    assert 'stroke="currentColor"' in markup
    assert "#1c1a17" not in markup
    assert '<title id="log-a-title">A log</title><desc id="log-a-desc">What it shows</desc>' in markup
    assert markup.count('class="scale wide"') == 1
    assert draw_log(usual(), narrow=True).count('class="scale narrow"') == 1
    assert draw_log(usual()) == markup
