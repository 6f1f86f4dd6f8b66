"""What captions of scales say: of each mark that is drawn, and of none that is not."""

from __future__ import annotations

import pytest

from generator.presenting.scale_captions import marks_in_words, scale_caption
from generator.presenting.views import Landmark, ScaleMark, ScaleRow

POINT = ScaleMark("a", 150.0)
BAR = ScaleMark("b", 150.0, 100.0, 200.0)
BOUND = ScaleMark("c", 150.0, at_least=True)
BETWEEN = ScaleMark("d", 126.0, None, 240.0, at_least=True)
STROKE = ScaleMark("e", 90.0, minor=True)
PAST = ScaleMark("f", 140_000.0)
CUT = ScaleMark("g", 100.0, 0.5, 200_000.0)
DIAMOND, ITS_BAR = "A diamond is one session.", "A bar is its 95 % interval."
ON_PAST = "An arrow head at an end of the rule says that a value or an interval goes on past it."


@pytest.mark.parametrize(
    ("marks", "said"),
    [
        ([], ()),
        ([POINT], (DIAMOND,)),
        ([BAR, POINT], (DIAMOND, ITS_BAR)),
        ([POINT, STROKE], (DIAMOND, "The short strokes below a line are single exercises.")),
        ([BOUND], ("An open arrow says “at least”.",)),
        ([BETWEEN], ("Two strokes joined by a thin line are bounds between which the value lies.",)),
        ([PAST], (ON_PAST,)),
        ([CUT], (DIAMOND, ITS_BAR, ON_PAST)),
    ],
)
def test_each_mark_that_is_drawn_is_explained_and_no_other(marks: list[ScaleMark], said: tuple[str, ...]) -> None:
    assert marks_in_words(marks, "one session") == said


def test_a_dashed_vertical_is_explained_where_there_is_one() -> None:
    level, span = Landmark("level", "100: a level", 100.0), Landmark("span", "a span", 2.0, 4.0)
    held, not_held = ScaleRow("A", (POINT,), held_against=(100.0,)), ScaleRow("B", (POINT,), held_against=())
    attempt = ScaleRow("C", (), "aborted", held_against=())
    dashed = "A vertical is dashed beside lines to which its level does not apply."
    assert scale_caption("", "one session", [held, not_held], [span, level]) == f"{DIAMOND} {dashed}"
    assert scale_caption("Lines.", "one session", [held, attempt], [span, level]) == f"Lines. {DIAMOND}"
    assert scale_caption("", "one session", [not_held], [span]) == DIAMOND
    assert scale_caption("", "one session", [ScaleRow("A", (POINT,))], [level]) == DIAMOND
