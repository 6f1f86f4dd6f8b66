"""Names of events above a panel: whole, beside their own verticals, and no vertical through a name."""

from __future__ import annotations

import itertools

import pytest

from generator.presenting.curve_views import Axis, Event
from generator.rendering.curve_axes import Frame
from generator.rendering.drawing import in_lines, text_width
from generator.rendering.event_labels import WIDEST, EventLabel, events_height, placed_events

FRAME = Frame(30, 688, 0, 100, Axis("time", "min", 0, 264), Axis("flow", "L/min", 0, 200))
NARROW = Frame(30, 338, 0, 100, Axis("time", "min", 0, 264), Axis("flow", "L/min", 0, 200))
RUN_DOWN = (
    Event("end", "end of the run time", 223),
    Event("alarm", "alarm: three short tones, repeated, and the lamp on the belt red", 248),
    Event("stop", "blower stopped", 262),
)
TITLE = 70.0


def by_key(events: tuple[Event, ...], frame: Frame = FRAME, width: float = 700) -> dict[str, EventLabel]:
    return {label.event.key: label for label in placed_events(events, frame, width, TITLE)}


@pytest.mark.parametrize(("frame", "width"), [(FRAME, 700.0), (NARROW, 350.0)])
def test_at_the_right_edge_names_stand_left_of_their_verticals(frame: Frame, width: float) -> None:
    labels = by_key(RUN_DOWN, frame, width)
    assert labels["alarm"].lines == ("alarm: three short tones, repeated, and", "the lamp on the belt red")
    for label in labels.values():
        assert label.is_left
        assert label.right == pytest.approx(frame.x(label.event.value) - 5)
    assert [labels[key].row for key in ("end", "alarm", "stop")] == [0, 1, 3]
    assert events_height(list(labels.values()), TITLE) == 4 * 15 + 9


def test_elsewhere_they_stand_right_of_them_the_last_one_lowest() -> None:
    labels = by_key((Event("a", "measured 184 L/min", 120), Event("b", "measured 208 L/min", 132)))
    assert [(label.is_left, label.row) for label in labels.values()] == [(False, 0), (False, 1)]
    assert labels["a"].left == pytest.approx(FRAME.x(120) + 5)


def test_names_far_apart_share_a_row() -> None:
    labels = by_key((Event("a", "one", 60), Event("b", "other", 180)))
    assert [label.row for label in labels.values()] == [0, 0]


@pytest.mark.parametrize(
    "events",
    [
        RUN_DOWN,
        RUN_DOWN[::-1],
        (Event("a", "first", 20), *RUN_DOWN),
        (Event("a", "early and long " * 3, 2), Event("b", "late", 3)),
    ],
)
@pytest.mark.parametrize(("frame", "width"), [(FRAME, 700.0), (NARROW, 350.0)])
def test_no_name_meets_another_or_leaves_the_sheet(events: tuple[Event, ...], frame: Frame, width: float) -> None:
    labels = list(by_key(events, frame, width).values())
    for one, other in itertools.combinations(labels, 2):
        apart = one.right <= other.left or other.right <= one.left
        assert apart or one.top < other.row or other.top < one.row
    for label in labels:
        assert label.left >= 0
        assert label.right <= width
        assert label.row > 0 or label.left > TITLE


def test_where_a_side_is_kept_no_vertical_runs_through_a_name() -> None:
    labels = list(by_key(RUN_DOWN).values())
    for one, other in itertools.permutations(labels, 2):
        rises = other.top >= one.row and one.left < FRAME.x(other.event.value) < one.right
        assert not rises


@pytest.mark.parametrize(
    ("text", "width", "most", "lines"),
    [
        ("one line", 200, 3, ["one line"]),
        ("two\nlines as a text", 52, 3, ["two lines", "as a text"]),
        ("a b c d e f", 20, 2, ["a b", "c…"]),
        ("", 100, 2, []),
    ],
)
def test_a_text_in_lines(text: str, width: float, most: int, lines: list[str]) -> None:
    # regression only: the widths are those of the face
    assert in_lines(text, width, most) == lines


def test_a_word_wider_than_a_line_is_cut() -> None:
    (line,) = in_lines("W" * 80, WIDEST, 3)
    assert line.endswith("…")
    assert text_width(line) <= WIDEST
