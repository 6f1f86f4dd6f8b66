"""Draws stills for video: 1920 by 1080 pixels, on the rules that every page uses, light and dark."""

from __future__ import annotations

from generator.presenting.still_views import Still
from generator.presenting.views import Landmark, ScaleMark, ScaleRow
from generator.rendering.scale_rule import RULES, Rule
from generator.rendering.still_canvas import (
    BOTTOM,
    LEAST_TEXT,
    LEFT,
    LIGHT,
    RIGHT,
    SANS,
    SANS_BOLD,
    SERIF,
    TOP,
    Canvas,
    Palette,
    fitted,
    width_of,
    wrapped,
)

_ROOM = RIGHT - LEFT
_LINE = 36
"""From one line of the smallest text to the next. [px]"""
_RULE_ENDS = {"fit": (LEFT + 220, RIGHT - 250), "flow": (LEFT + 430, RIGHT - 210)}
"""Left of a rule stand its rows' labels, right of it what is written behind a mark. [px]"""
_RULE_HEIGHT = 92
_LEAST_MARK = 7
"""Half the height of a mark, however many there are: they may then touch. [px]"""
_GAP = 26


def still_png(still: Still, palette: Palette = LIGHT) -> bytes:
    """Return a still as PNG."""
    return drawn(still, palette).png()


def drawn(still: Still, palette: Palette = LIGHT) -> Canvas:
    """Draw a still: what it says on top, what it says not at the foot, the rule in between."""
    canvas = Canvas(palette)
    top = _head(canvas, still) + _GAP
    bottom = _foot(canvas, still) - _GAP
    _scale(canvas, still, top, bottom)
    return canvas


def _head(canvas: Canvas, still: Still) -> float:
    """Write device, sentence and conditions; return where they end."""
    palette, y = canvas.palette, float(TOP)
    if still.invented is not None:
        canvas.text(LEFT, y + 28, still.invented, colour=palette.limit)
        canvas.line((LEFT, RIGHT), (y + 44, y + 44), palette.limit, 2)
        y += 60
    size, lines = _largest(still.name, SERIF, (64, 56, 48, 42), most=1, or_two_at=42)
    for line in lines:
        y += size * 1.16
        canvas.text(LEFT, y, line, size, face=SERIF)
    y += 18
    size, lines = _largest(still.sentence, SANS, (42, 38, 36), most=3, or_two_at=34)
    for line in lines:
        y += size * 1.22
        canvas.text(LEFT, y, line, size)
    y += 8
    for line in wrapped(still.conditions, _ROOM, LEAST_TEXT, SANS, 2):
        y += _LINE
        canvas.text(LEFT, y, line, colour=palette.quiet)
    return y + 8


def _largest(text: str, face: str, sizes: tuple[int, ...], most: int, or_two_at: int) -> tuple[int, list[str]]:
    """Return the largest size at which a text takes no more lines than that, else one more line at the last size."""
    for size in sizes:
        lines = wrapped(text, _ROOM, size, face, most)
        if " ".join(lines) == text:
            return size, lines
    return or_two_at, wrapped(text, _ROOM, or_two_at, face, most + 1)


def _foot(canvas: Canvas, still: Still) -> float:
    """Write what limits it, where it comes from and where more stands; return where that begins."""
    y = float(BOTTOM - 8)
    for text, face, colour in (
        (still.where, SANS, canvas.palette.quiet),
        (still.tested, SANS, canvas.palette.quiet),
        (still.limits, SANS_BOLD, canvas.palette.ink),
    ):
        canvas.text(LEFT, y, fitted(text, _ROOM, LEAST_TEXT, face), colour=colour, face=face)
        y -= _LINE + 2
    canvas.line((LEFT, RIGHT), (y, y), canvas.palette.faint, 1.5)
    return y


def _scale(canvas: Canvas, still: Still, top: float, bottom: float) -> None:
    """Draw landmarks, marks and rule between two heights."""
    rule, ends = RULES[still.kind], _RULE_ENDS[still.kind]
    foot = bottom - _RULE_HEIGHT
    marks = _landmarks(canvas, still.landmarks, rule, ends, top, foot)
    _rule(canvas, rule, ends, foot)
    if still.ends:
        _bracket(canvas, still, rule, ends, marks + 32)
        _donnings(canvas, still.rows, rule, ends, marks + 48, foot - 14)
    else:
        _runs(canvas, still.rows, rule, ends, marks, foot - 10)


def _x(value: float, rule: Rule, ends: tuple[int, int]) -> float:
    return ends[0] + (ends[1] - ends[0]) * rule.share(value)


def _landmarks(
    canvas: Canvas, landmarks: tuple[Landmark, ...], rule: Rule, ends: tuple[int, int], top: float, foot: float
) -> float:
    """Write each landmark's label, spans side by side and levels each below the last; return where they end."""
    palette, y = canvas.palette, top
    spans = [landmark for landmark in landmarks if landmark.high is not None]
    levels = sorted((landmark for landmark in landmarks if landmark.high is None), key=lambda each: each.low)
    end = 0.0
    for number, landmark in enumerate(spans):
        start = _x(landmark.low, rule, ends)
        x = min(start, RIGHT - width_of(landmark.text, LEAST_TEXT, SANS))
        if number == 0 or x < end + 24:
            y += _LINE + (10 if number else 0)
        end = x + width_of(landmark.text, LEAST_TEXT, SANS)
        canvas.text(x, y - 4, landmark.text, colour=palette.quiet)
        high = _x(landmark.high or landmark.low, rule, ends)
        canvas.line((start, start, high, high), (y + 13, y + 7, y + 7, y + 13), palette.quiet, 2)
    y += 14 if spans else 0
    for landmark in levels:
        y += _LINE
        x = _x(landmark.low, rule, ends)
        text = fitted(landmark.text, RIGHT - x - 14, LEAST_TEXT, SANS)
        canvas.text(x + 14, y - 6, text, colour=palette.limit)
        canvas.line((x, x), (y - 30, foot), palette.limit, 2.5)
    return y


def _rule(canvas: Canvas, rule: Rule, ends: tuple[int, int], y: float) -> None:
    """Draw the rule with its ticks, their numbers and its caption."""
    palette = canvas.palette
    canvas.line(ends, (y, y), palette.ink, 2.5)
    for value, length, label in rule.ticks:
        x = _x(value, rule, ends)
        canvas.line((x, x), (y, y + 2 * length), palette.ink, 2.2 if length > 8 else 1.3)
        if label:
            canvas.text(x, y + 50, label, anchor="center")
    canvas.text(ends[0], y + _RULE_HEIGHT - 6, rule.caption, colour=palette.quiet)


def _bracket(canvas: Canvas, still: Still, rule: Rule, ends: tuple[int, int], y: float) -> None:
    """Span what was measured, and write its ends beside it."""
    low, high = (_x(still.ends[place].value, rule, ends) for place in (0, -1))
    ink = canvas.palette.ink
    canvas.line((low, low, high, high), (y + 8, y - 8, y - 8, y + 8), ink, 2.5)
    first, last = still.ends[0].text, still.ends[-1].text
    if len(still.ends) > 1:
        x = max(low - 12, LEFT + width_of(first, 34, SANS_BOLD))
        canvas.text(x, y + 2, first, 34, face=SANS_BOLD, anchor="right")
    canvas.text(min(high + 12, RIGHT - width_of(last, 34, SANS_BOLD)), y + 2, last, 34, face=SANS_BOLD)


def _donnings(
    canvas: Canvas, rows: tuple[ScaleRow, ...], rule: Rule, ends: tuple[int, int], top: float, bottom: float
) -> None:
    """Draw each donning on a lane of its own, a wearer's together, with the letter where there is room for it."""
    lanes = sum(len(row.marks) for row in rows)
    lane = min((bottom - top) / max(lanes, 1), 44.0)
    lettered = all(len(row.marks) * lane >= LEAST_TEXT for row in rows)
    y = (top + bottom - lane * lanes) / 2
    for row in rows:
        height = lane * len(row.marks)
        if lettered:
            label = fitted(f"Wearer {row.label}", ends[0] - LEFT - 12, LEAST_TEXT, SANS)
            canvas.text(LEFT, y + height / 2 + 10, label, colour=canvas.palette.quiet)
        for number, mark in enumerate(row.marks):
            _mark(canvas, mark, rule, ends, y + lane * (number + 0.5), min(max(lane * 0.42, _LEAST_MARK), 13))
        y += height


def _runs(
    canvas: Canvas, rows: tuple[ScaleRow, ...], rule: Rule, ends: tuple[int, int], top: float, bottom: float
) -> None:
    """Draw each run on a line of its own, its state before it and its value behind."""
    lane = min((bottom - top) / len(rows), 72.0)
    y = (top + bottom - lane * len(rows)) / 2
    for row in rows:
        y += lane
        middle = y - lane / 2
        label = fitted(row.label, ends[0] - LEFT - 20, LEAST_TEXT, SANS)
        canvas.text(LEFT, middle + 10, label)
        canvas.line(ends, (middle, middle), canvas.palette.faint, 0.8)
        for mark in row.marks:
            _mark(canvas, mark, rule, ends, middle, min(lane * 0.3, 14))
            canvas.text(RIGHT, middle + 11, mark.text, 32, face=SANS_BOLD, anchor="right")


def _mark(canvas: Canvas, mark: ScaleMark, rule: Rule, ends: tuple[int, int], y: float, size: float) -> None:
    """Draw a value with its interval, or an arrow where it is a bound or lies past the rule."""
    accent, x = canvas.palette.accent, _x(mark.value, rule, ends)
    if mark.at_least:
        tip = _x(mark.high, rule, ends) if mark.high is not None else x + 60
        canvas.line((x, x), (y - size, y + size), accent, 4)
        canvas.line((x, tip), (y, y), accent, 3)
        end = [(tip, y - size), (tip, y + size)]
        if mark.high is None:
            end = [(tip - 12, y - 9), (tip, y), (tip - 12, y + 9)]
        canvas.line([corner[0] for corner in end], [corner[1] for corner in end], accent, 3)
        return
    if not rule.low <= mark.value <= rule.high:
        tip = x + (18 if mark.value > rule.high else -18)
        canvas.shape([(x, y - size), (tip, y), (x, y + size)], accent)
        return
    if mark.low is not None and mark.high is not None:
        low, high = _x(mark.low, rule, ends), _x(mark.high, rule, ends)
        canvas.line((low, high), (y, y), accent, max(size * 0.4, 2))
        for edge, way, past in ((low, -1, mark.low < rule.low), (high, 1, mark.high > rule.high)):
            if past:
                # An interval that goes on past the end of the rule points on there.
                canvas.shape([(edge, y - size), (edge + way * size * 1.4, y), (edge, y + size)], accent)
            else:
                canvas.line((edge, edge), (y - size, y + size), accent, max(size * 0.25, 1.5))
    # A little lower than the interval's ends, so that a narrow one can be told from none.
    half = size * 0.7
    canvas.shape([(x - half, y), (x, y - half), (x + half, y), (x, y + half)], accent)
